"""Every planar face of a site as a target of sight: walls, what stands out of them, other solids, the ground.

A facet has a frame (``science.facets``) and an outline in the frame's ``(s, z)``; its normal points to where it can be
seen from. On a wall and on the faces of its projections ``s`` runs along the wall from its left end.
"""

from __future__ import annotations

from collections.abc import Iterator
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

    def places(self, flat: Array) -> Array:
        """Return site points of points in the facet's coordinates."""
        origin, along, up, _ = self.frame
        found: Array = origin + flat[:, :1] * along + flat[:, 1:] * up
        return found


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """Something upright over an outline."""

    owner: str
    kind: str
    outline: shapely.Polygon
    bottom: float
    top: float


def facets(site: Site, walls: tuple[PlacedWall, ...]) -> tuple[Facet, ...]:
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
    for block in _blocks(site):
        found += (_top(block), *_sides(block))
    return (*found, *_fences(site))


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
    section = shapely.Polygon([inner_bottom, outer_bottom, outer_top, inner_top])
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
    block = _Block(building.id, "building", outline, building.level, building.level + height)
    yield _top(block)
    for side in _sides(block):
        free = side.outline
        for placed in own:
            free = free.difference(_on_side(placed, side))
        parts = _pieces(free)
        if parts:
            yield replace(side, outline=shapely.MultiPolygon(parts))


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


def _blocks(site: Site) -> Iterator[_Block]:
    """Yield what stands on the ground and hides, as ``shapes.solids`` takes it."""
    for plant in site.planting:
        if plant.hides:
            yield from _block(plant.id, plant.kind, shapely.Polygon(plant.outline), plant.level, plant.height)
    for area in site.parked:
        if area.present:
            yield from _block(area.id, "parked", shapely.Polygon(area.outline), area.level, area.height)
    for neighbour in site.neighbours:
        yield from _block(neighbour.id, "neighbour", shapely.Polygon(neighbour.outline), 0.0, neighbour.height)
    for post in site.posts:
        x, y, half = *post.at, post.size / 2
        outline = (
            shapely.Point(x, y).buffer(half, quad_segs=2)
            if post.round
            else shapely.box(x - half, y - half, x + half, y + half)
        )
        yield from _block(post.id, "post", outline, 0.0, post.height)


def _block(owner: str, kind: str, outline: shapely.Polygon, level: float, height: float) -> Iterator[_Block]:
    if height > 0.0:
        yield _Block(owner, kind, shapely.orient_polygons(outline), level, level + height)


def _top(block: _Block) -> Facet:
    frame = make_frame((0.0, 0.0, block.top), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    return Facet(f"{block.owner}-top", block.owner, block.kind, "top", None, frame, block.outline)


def _sides(block: _Block) -> Iterator[Facet]:
    """Yield the upright faces of a block, which faces outward where its rings keep it on their left."""
    number = 0
    for ring in (block.outline.exterior, *block.outline.interiors):
        for start, end in pairwise(shapely.get_coordinates(ring)):
            length = float(np.hypot(*(end - start)))
            if length < THIN:
                continue
            number += 1
            frame = make_frame((*start, block.bottom), (*(end - start), 0.0))
            outline = shapely.box(0.0, 0.0, length, block.top - block.bottom)
            yield Facet(f"{block.owner}-side-{number}", block.owner, block.kind, "side", None, frame, outline)


def _fences(site: Site) -> Iterator[Facet]:
    """Yield both faces of every straight piece of the fences that hide."""
    for fence in site.fences:
        if not fence.opaque or fence.height <= 0.0:
            continue
        pieces = [(a, b) for a, b in pairwise(fence.path) if a != b]
        for number, (a, b) in enumerate(pieces, 1):
            length = float(np.hypot(b[0] - a[0], b[1] - a[1]))
            outline = shapely.box(0.0, 0.0, length, float(fence.height))
            for face, start, end in (("front", a, b), ("back", b, a)):
                frame = make_frame((*start, fence.level), (end[0] - start[0], end[1] - start[1], 0.0))
                yield Facet(f"{fence.id}-{number}-{face}", fence.id, "fence", face, None, frame, outline)
