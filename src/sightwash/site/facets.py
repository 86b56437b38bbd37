"""Every planar face of a site as a target of sight: walls, what stands out of them, other solids, the ground.

A facet has a frame (``science.facets``) and an outline in the frame's ``(s, z)``; its normal points to where it can be
seen from. On a wall and on the faces of its projections ``s`` runs along the wall from its left end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.science.facets import Frame, make_frame
from sightwash.site.model import Building, Site
from sightwash.site.shapes import PlacedWall, Solid, building_heights, convex_parts, polygons, projection_section
from sightwash.site.walls import Projection

Array = NDArray[np.float64]
THIN: Final = 0.002
"""A face of a projection narrower than this is an edge [m]."""
FLAT: Final = 1e-6
"""Points nearer than this to a plane lie in it [m]."""
SAME: Final = 1e-9
LEVEL: Final = 0.7
EAST: Final = (1.0, 0.0, 0.0)
NORTH: Final = (0.0, 1.0, 0.0)
UP: Final = (0.0, 0.0, 1.0)
LOW: Final = 0.01
"""What stands up less than this above a roof is not a parapet [m]."""
ON_EDGE: Final = 0.3
"""A wall this near to a side of its building is that side [m]."""


@dataclass(frozen=True, slots=True, eq=False)
class Facet:
    """One planar face: whose it is, which face of it, where it stands and its outline in (s, z) [m].

    ``kind`` is the owner's kind (wall, canopy, building, hedge, parked, post, ground ...); ``wall`` is the wall that it
    is, or that its owner is fixed to.
    """

    id: str
    owner: str
    kind: str
    face: str
    wall: str | None
    frame: Frame
    outline: BaseGeometry

    @property
    def corners(self) -> Array:
        """Site points of the corners of the outline's bounds."""
        left, bottom, right, top = self.outline.bounds
        return self.places(np.array([(left, bottom), (right, bottom), (right, top), (left, top)]))

    def places(self, flat: Array) -> Array:
        """Return site points of points in the facet's coordinates."""
        origin, along, up, _ = self.frame
        found: Array = origin + flat[:, :1] * along + flat[:, 1:] * up
        return found


def facets(site: Site, walls: tuple[PlacedWall, ...], solids: Sequence[Solid]) -> tuple[Facet, ...]:
    """Return every facet of what has a place in the plan: walls, projections, other solids; not the ground."""
    measured = tuple(placed for placed in walls if placed.measured_place)
    heights = building_heights(site)
    found: list[Facet] = []
    for placed in measured:
        found.append(wall_facet(placed))
        found += _backs(site, placed, heights)
        found += (facet for item in placed.wall.projections for facet in projection_facets(placed, item))
    for building in site.buildings:
        found += _building(building, heights[building.id], measured)
    counts: dict[str, int] = {}
    for solid in solids:
        if solid.wall is None and solid.kind != "building":
            counts[solid.owner] = counts.get(solid.owner, 0) + 1
            found += solid_facets(solid, counts[solid.owner])
    return tuple(found)


def wall_facet(placed: PlacedWall) -> Facet:
    """Return the face of a wall that people stand before."""
    name = placed.wall.id
    return Facet(name, name, "wall", "front", name, make_frame(placed.origin, placed.along), placed.outline)


def projection_facets(placed: PlacedWall, item: Projection) -> Iterator[Facet]:
    """Yield the faces of a projection: top, front, underside, back if it stands off, and both ends."""
    inner_bottom, outer_bottom, outer_top, inner_top = projection_section(item)
    yield from _lengthwise(placed, item, "top", outer_top, inner_top)
    yield from _lengthwise(placed, item, "front", outer_bottom, outer_top)
    yield from _lengthwise(placed, item, "underside", inner_bottom, outer_bottom)
    if item.gap > THIN:
        yield from _lengthwise(placed, item, "back", inner_top, inner_bottom)
    section = shapely.MultiPoint([inner_bottom, outer_bottom, outer_top, inner_top]).convex_hull
    for face, s, sign in (("left end", item.left, 1.0), ("right end", item.left + item.width, -1.0)):
        frame = make_frame(placed.point(s, 0.0), sign * placed.outward)
        yield _part(placed, item, face, frame, _mirrored(section) if sign < 0.0 else section)


def _lengthwise(
    placed: PlacedWall, item: Projection, face: str, lower: tuple[float, float], upper: tuple[float, float]
) -> Iterator[Facet]:
    """Yield the face that runs along the wall from one corner of the section to another, if it has any width."""
    width = float(np.hypot(upper[0] - lower[0], upper[1] - lower[1]))
    if width < THIN:
        return
    start, end = placed.point(0.0, *lower), placed.point(0.0, *upper)
    outline = shapely.box(item.left, 0.0, item.left + item.width, width)
    yield _part(placed, item, face, make_frame(start, placed.along, end - start), outline)


def _part(placed: PlacedWall, item: Projection, face: str, frame: Frame, outline: BaseGeometry) -> Facet:
    return Facet(f"{item.id}-{face.replace(' ', '-')}", item.id, item.kind, face, placed.wall.id, frame, outline)


def parapets(site: Site, walls: tuple[PlacedWall, ...]) -> tuple[Solid, ...]:
    """Return the parts of walls that stand up above their building's roof, as thin solids."""
    heights = building_heights(site)
    return tuple(
        Solid(placed.wall.id, "parapet", placed.wall.id, np.array([placed.point(s, 0.0, z) for s, z in ring]))
        for placed in walls
        if placed.wall.building is not None
        for part in _pieces(_free_standing(site, placed, heights))
        for convex in convex_parts(part)
        for ring in (shapely.get_coordinates(convex.exterior)[:-1],)
    )


def _free_standing(site: Site, placed: PlacedWall, heights: dict[str, float]) -> BaseGeometry:
    """Return the part of a wall's outline with no building behind it."""
    building = next((b for b in site.buildings if b.id == placed.wall.building), None)
    if building is None:
        return placed.outline
    left, _, right, top = placed.outline.bounds
    roof = building.level + heights[building.id] - placed.datum
    if top - roof <= LOW:
        return shapely.Polygon()
    return placed.outline.intersection(shapely.box(left, roof, right, top))


def _backs(site: Site, placed: PlacedWall, heights: dict[str, float]) -> Iterator[Facet]:
    """Yield the back of a wall where it stands free: a parapet's, or a whole wall's without a building."""
    parts = _pieces(_free_standing(site, placed, heights))
    if parts:
        name, frame = placed.wall.id, make_frame(placed.origin, -placed.along)
        yield Facet(f"{name}-back", name, "wall", "back", name, frame, _mirrored(shapely.MultiPolygon(parts)))


def _pieces(shape: BaseGeometry) -> list[shapely.Polygon]:
    """Return the polygons of a shape that are more than an edge."""
    return [part for part in polygons(shape) if part.area > THIN]


def _mirrored(shape: BaseGeometry) -> BaseGeometry:
    """Return a shape seen from behind: left and right change places."""
    found = shapely.transform(shape, lambda corners: corners * (-1.0, 1.0))
    assert isinstance(found, BaseGeometry)
    return found


def _building(building: Building, height: float, walls: tuple[PlacedWall, ...]) -> Iterator[Facet]:
    """Yield a building's roof, and its sides without what the walls on them take up."""
    if height <= 0.0:
        return
    own = [placed for placed in walls if placed.wall.building == building.id]
    outline = shapely.orient_polygons(shapely.Polygon(building.outline, building.holes))
    frame = make_frame((0.0, 0.0, building.level + height), EAST, NORTH)
    yield Facet(f"{building.id}-top", building.id, "building", "top", None, frame, outline)
    for side in _sides(building, outline, height):
        free = side.outline
        for placed in own:
            free = free.difference(_on_side(placed, side))
        parts = _pieces(free)
        if parts:
            yield replace(side, outline=shapely.MultiPolygon(parts))


def _sides(building: Building, outline: shapely.Polygon, height: float) -> Iterator[Facet]:
    """Yield the upright faces over an outline whose rings keep it on their left."""
    number = 0
    for ring in (outline.exterior, *outline.interiors):
        for start, end in pairwise(shapely.get_coordinates(ring)):
            length = float(np.hypot(*(end - start)))
            if length < THIN:
                continue
            number += 1
            frame = make_frame((*start, building.level), (*(end - start), 0.0))
            name = f"{building.id}-side-{number}"
            yield Facet(name, building.id, "building", "side", None, frame, shapely.box(0.0, 0.0, length, height))


def _on_side(placed: PlacedWall, side: Facet) -> BaseGeometry:
    """Return a wall's outline in the coordinates of a building's side, empty where it does not lie on it."""
    origin, along, up, normal = side.frame
    offsets = np.array([placed.point(s, 0.0) for s in (0.0, placed.length)]) - origin
    if float(placed.along @ along) < 0.0 or bool((np.abs(offsets @ normal) > ON_EDGE).any()):
        return shapely.Polygon()
    shift, lift = float(offsets[0] @ along), float(offsets[0] @ up)
    moved = shapely.transform(placed.outline, lambda corners: corners + np.array([shift, lift]))
    assert isinstance(moved, BaseGeometry)
    return moved


def solid_facets(solid: Solid, part: int = 1) -> Iterator[Facet]:
    """Yield the faces of any convex solid; a flat one has two. ``part`` tells the pieces of one owner apart."""
    points = solid.points
    for number, normal in enumerate(_normals(points), 1):
        reach = points @ normal
        corners = points[reach >= reach.max() - FLAT]
        level = abs(float(normal[2])) > LEVEL
        face = "side" if not level else "top" if normal[2] > 0.0 else "underside"
        up = np.array(NORTH) * np.sign(normal[2]) if level else np.array(UP)
        frame = make_frame(corners[0], np.cross(up, normal), up)
        flat = np.column_stack(((corners - frame.origin) @ frame.along, (corners - frame.origin) @ frame.up))
        outline = shapely.MultiPoint(flat).convex_hull
        name = f"{solid.owner}-{part}-{number}"
        if isinstance(outline, shapely.Polygon) and outline.area > THIN**2:
            yield Facet(name, solid.owner, solid.kind, face, None, frame, outline)


def _normals(points: Array) -> Array:
    """Return the outward unit normals of a convex solid's faces, each once, sorted; both of a flat one's."""
    from scipy.spatial import ConvexHull  # takes a third of a second to load, and flat faces do without

    offsets = points - points.mean(axis=0)
    _, sizes, axes = np.linalg.svd(offsets, full_matrices=False)
    if sizes[2] < FLAT:
        return np.array([axes[2], -axes[2]])
    normals = np.round(ConvexHull(points).equations[:, :3], 9)
    kept: list[Array] = []
    for normal in normals[np.lexsort(normals.T)]:
        if not any(float(normal @ other) > 1.0 - SAME for other in kept):
            kept.append(normal / np.linalg.norm(normal))
    return np.array(kept)
