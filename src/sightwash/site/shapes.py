"""The site as the sight engine knows it: planar wall facets and convex solids.

Canopies, signs, columns, hedges, fences, parked rows and other buildings become convex solids
(vertex arrays in site metres); a building with a re-entrant outline becomes several.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.site.model import Building, Site
from sightwash.site.wall_checks import top_at
from sightwash.site.wall_checks import wall_top as wall_top
from sightwash.site.walls import Projection, Wall

Array = NDArray[np.float64]
PLAN_GAP = 3.0


@dataclass(frozen=True, slots=True)
class PlacedWall:
    """A wall with its place: ends in the plan, elevation of its (s, 0) line, outline in (s, z)."""

    wall: Wall
    start: tuple[float, float]
    end: tuple[float, float]
    length: float
    datum: float
    outline: shapely.Polygon
    measured_place: bool

    @property
    def along(self) -> Array:
        """Unit vector along the wall, left to right as seen from outside."""
        return np.array([self.end[0] - self.start[0], self.end[1] - self.start[1], 0.0]) / self.length

    @property
    def outward(self) -> Array:
        """Unit vector that points away from the wall, to where people stand."""
        along = self.along
        return np.array([along[1], -along[0], 0.0])

    @property
    def origin(self) -> Array:
        """The point s = 0, z = 0 in site metres."""
        return np.array([self.start[0], self.start[1], self.datum])

    def point(self, s: float, out: float, z: float = 0.0) -> Array:
        """Return the site point at ``s`` along, ``out`` from and ``z`` up the wall."""
        (x, y), (to_x, to_y) = self.start, self.end
        along, across = (to_x - x) / self.length, (to_y - y) / self.length
        return np.array([x + s * along + out * across, y + s * across - out * along, self.datum + z])

    def local(self, xy: tuple[float, float]) -> tuple[float, float]:
        """Return (s, out) of a plan point."""
        offset = np.array([xy[0] - self.start[0], xy[1] - self.start[1], 0.0])
        return float(offset @ self.along), float(offset @ self.outward)

    def ground_at(self, s: float) -> float:
        """Return the ground's height above the (s, 0) line at ``s``."""
        return (self.wall.base[1] - self.wall.base[0]) * s / self.length


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """One convex obstacle; ``owner`` is the id of the element that it is (part of)."""

    owner: str
    kind: str
    wall: str | None
    points: Array


def placed_walls(site: Site) -> tuple[PlacedWall, ...]:
    """Return every wall whose length and height are known, in the site's order.

    A wall without ends in the plan is laid in a row along the x axis, facing south.
    """
    placed: list[PlacedWall] = []
    lowest = min((y for b in site.buildings for _, y in b.outline), default=0.0)
    cursor = 0.0
    for wall in site.walls:
        measured = wall.start is not None and wall.end is not None
        if wall.start is not None and wall.end is not None:
            start, end = wall.start, wall.end
        elif wall.length is not None:
            row = lowest - 200.0 if site.buildings else 0.0
            start, end = (cursor, row), (cursor + wall.length, row)
            cursor += wall.length + PLAN_GAP
        else:
            continue
        top = wall_top(wall, math.dist(start, end))
        if top:
            placed.append(_placed(wall, start, end, top, measured))
    return tuple(placed)


def _placed(
    wall: Wall,
    start: tuple[float, float],
    end: tuple[float, float],
    top: tuple[tuple[float, float], ...],
    measured: bool,
) -> PlacedWall:
    length = math.dist(start, end)
    rise = wall.base[1] - wall.base[0]
    outline = shapely.Polygon([(0.0, 0.0), (length, rise), *reversed(top)])
    return PlacedWall(wall, start, end, length, float(wall.base[0]), shapely.orient_polygons(outline), measured)


def solids(site: Site, walls: tuple[PlacedWall, ...]) -> tuple[Solid, ...]:
    """Return every convex obstacle of the site."""
    found: list[Solid] = []
    for placed in walls:
        found += (projection_solid(placed, item) for item in placed.wall.projections)
        if placed.wall.building is None:
            found.append(_plate(placed))
    heights = building_heights(site)
    for building in site.buildings:
        found += _building_solids(building, heights[building.id])
    found += _standing(site)
    return tuple(found)


def building_heights(site: Site) -> dict[str, float]:
    """Return each building's height above its level: as written, else that of its highest wall, else 0."""
    heights: dict[str, float] = {}
    for building in site.buildings:
        tops = [
            wall.base[0] + max((p.height for p in wall.profile), default=wall.height or 0.0) - building.level
            for wall in site.walls
            if wall.building == building.id
        ]
        heights[building.id] = float(building.height) if building.height is not None else max(tops, default=0.0)
    return heights


def projection_section(item: Projection) -> tuple[tuple[float, float], ...]:
    """Return a projection's cross-section as (out, z) corners: inner bottom, outer bottom, outer top, inner top."""
    inner, outer = float(item.gap), float(item.gap + item.depth)
    bottom, top = float(item.bottom), float(item.bottom + item.height)
    return (inner, bottom), (outer, bottom), (outer, top - item.outer_drop), (inner, top)


def projection_solid(placed: PlacedWall, item: Projection) -> Solid:
    """Return a projection as a convex solid, also where it overhangs the wall's end."""
    ends = (float(item.left), float(item.left + item.width))
    points = [placed.point(s, out, z) for s in ends for out, z in projection_section(item)]
    return Solid(item.id, item.kind, placed.wall.id, np.array(points))


def _plate(placed: PlacedWall) -> Solid:
    """Return a wall without a building as a thin plate."""
    ring = shapely.get_coordinates(placed.outline.convex_hull)[:-1]
    return Solid(placed.wall.id, "wall", placed.wall.id, np.array([placed.point(s, 0.0, z) for s, z in ring]))


def _building_solids(building: Building, height: float) -> Iterator[Solid]:
    if height <= 0.0:
        return
    outline = shapely.Polygon(building.outline, building.holes)
    for part in convex_parts(outline):
        yield Solid(building.id, "building", None, prism(part, building.level, building.level + height))


def convex_parts(outline: shapely.Polygon) -> list[shapely.Polygon]:
    """Split an outline into convex polygons that only touch, triangles merged while they stay convex."""
    if outline.convex_hull.area - outline.area <= 1e-9 * outline.area:
        return [outline]
    parts = polygons(shapely.constrained_delaunay_triangles(outline))
    merged: list[shapely.Polygon] = []
    for part in parts:
        for index, other in enumerate(merged):
            both = shapely.union(other, part)
            if isinstance(both, shapely.Polygon) and both.convex_hull.area - both.area <= 1e-9 * both.area:
                merged[index] = both
                break
        else:
            merged.append(part)
    return merged


def polygons(shape: shapely.Geometry) -> list[shapely.Polygon]:
    """Return the polygons of a geometry with area, largest first."""
    parts = [part for part in shapely.get_parts(shape, return_index=False) if isinstance(part, shapely.Polygon)]
    return sorted(parts, key=lambda part: -part.area)


def prism(outline: shapely.Polygon, bottom: float, top: float) -> Array:
    """Return the vertices of an upright prism over a convex outline."""
    ring = shapely.get_coordinates(outline.exterior)[:-1]
    levels = np.array([bottom, top])
    return np.column_stack([np.tile(ring, (2, 1)), np.repeat(levels, len(ring))])


def _standing(site: Site) -> Iterator[Solid]:
    """Yield what stands on the ground and hides: hedges, parked rows, fences, neighbours, posts."""
    for plant in site.planting:
        if plant.height > plant.clear_below and plant.hides:
            low, high = plant.level + plant.clear_below, plant.level + plant.height
            for part in convex_parts(shapely.Polygon(plant.outline)):
                yield Solid(plant.id, plant.kind, None, prism(part, low, high))
    for area in site.parked:
        if area.present and area.height > 0.0:
            for part in convex_parts(shapely.Polygon(area.outline)):
                yield Solid(area.id, "parked", None, prism(part, area.level, area.level + area.height))
    for neighbour in site.neighbours:
        if neighbour.height > 0.0:
            for part in convex_parts(shapely.Polygon(neighbour.outline)):
                yield Solid(neighbour.id, "neighbour", None, prism(part, 0.0, neighbour.height))
    for fence in site.fences:
        if fence.opaque:
            levels = (fence.level, fence.level + fence.height)
            for a, b in pairwise(fence.path):
                if a != b and fence.height > 0.0:
                    yield Solid(fence.id, "fence", None, np.array([(*p, z) for p in (a, b) for z in levels]))
    for post in site.posts:
        if post.height <= 0.0:
            continue
        around = shapely.Point(post.at).buffer(post.size / 2, quad_segs=2)
        x, y, half = *post.at, post.size / 2
        square = shapely.box(x - half, y - half, x + half, y + half)
        yield Solid(post.id, "post", None, prism(around if post.round else square, 0.0, post.height))


def lowest_top(placed: PlacedWall, left: float, right: float) -> float:
    """Return the lowest top of the wall between two places along it."""
    top = top_at(placed.wall, left, right)
    return float(placed.outline.bounds[3]) if top is None else top
