"""What one eye sees of everything: the exact seen polygon of every facet, hidden surfaces removed.

Faces that look away from the eye are left out; the rest is what no solid's shadow takes, so that the polygons of one
eye do not overlap in its picture and need no order of drawing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.planning.regions import SLIVER, Region, region_of
from sightwash.science.facets import make_frame
from sightwash.science.visibility import partition
from sightwash.site.facets import Facet, facets, parapets
from sightwash.site.ground_facets import earth_facet, ground_facets
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]
Place = tuple[float, float, float]
IN_PLANE: Final = 1e-6
"""An eye nearer than this to a facet's plane sees nothing of it [m]."""
TOUCH: Final = 1e-9
"""A solid that reaches less far than this into the space between eye and facet hides nothing of it [m]."""
BEHIND: Final = 1e-7
"""A solid that reaches less far out than this before a facet's plane hides nothing of it [m]."""
BATCH: Final = 64
"""Facets that are looked at together, so that memory stays small [-]."""
MARK: Final = 0.1
"""Half the width of the square by which a fixture counts as seen [m]."""
BAND: Final = 0.05
"""Half the height of the band by which a wire or a rail counts as seen [m]."""


@dataclass(frozen=True, slots=True)
class SeenFace:
    """The part of one facet that the eye sees: rings in the facet's (s, z), and the facet's frame [m, m2]."""

    facet: str
    owner: str
    kind: str
    face: str
    wall: str | None
    origin: Place
    along: Place
    up: Place
    region: Region
    area: float

    def points(self, flat: Array) -> Array:
        """Return site points of points in the facet's coordinates [m]."""
        origin, along, up = np.array(self.origin), np.array(self.along), np.array(self.up)
        found: Array = origin + flat[:, :1] * along + flat[:, 1:] * up
        return found

    def places(self, region: Region) -> tuple[tuple[tuple[Place, ...], ...], ...]:
        """Return a region of the facet as rings of site points [m]."""
        return tuple(
            tuple(tuple(place_of(point) for point in self.points(np.array(ring))) for ring in rings) for rings in region
        )


@dataclass(frozen=True, slots=True)
class SeenLine:
    """A seen stretch of a wire or of the top rail of a fence that one sees through [m]."""

    owner: str
    kind: str
    points: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class SeenFixture:
    """One piece of a fixture that the eye sees, with the wall that it is on [m]."""

    owner: str
    kind: str
    wall: str
    place: Place


@dataclass(frozen=True, slots=True)
class EyeScene:
    """All that one eye sees: faces of solids, surfaces, the level ground between them, wires and fixtures."""

    eye: Place
    faces: tuple[SeenFace, ...]
    ground: tuple[SeenFace, ...]
    earth: SeenFace | None
    lines: tuple[SeenLine, ...]
    fixtures: tuple[SeenFixture, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Bodies:
    """The solids, all their corners in one array, where each one's corners begin, and the upright boxes round them."""

    points: tuple[Array, ...]
    corners: Array
    starts: NDArray[np.intp]
    low: Array
    high: Array

    def before(self, targets: Sequence[Facet], eye: Array) -> list[list[Array]]:
        """Return for each facet the solids that may reach into the pyramid between an eye and the facet's bounds."""
        if not self.points or not targets:
            return [[] for _ in targets]
        base = np.array([facet.corners for facet in targets]) - eye
        normals = np.array([facet.frame.normal for facet in targets])
        sides = np.cross(base, np.roll(base, -1, axis=1))
        sides *= np.sign((sides * base.mean(axis=1)[:, None, :]).sum(axis=2))[..., None]
        planes = np.concatenate((sides, normals[:, None, :], -normals[:, None, :]), axis=1)
        inside = (self.corners - eye) @ planes.reshape(-1, 3).T
        reach = np.maximum.reduceat(inside, self.starts).reshape(len(self.points), len(targets), 6)
        limits = np.column_stack((TOUCH * np.linalg.norm(sides, axis=2), normals[:, :2]))
        limits[:, 4], limits[:, 5] = (base[:, 0] * normals).sum(axis=1) + BEHIND, TOUCH
        least, most = np.minimum(base.min(axis=1), 0.0) + eye, np.maximum(base.max(axis=1), 0.0) + eye
        boxed = (self.low[:, None] < most - TOUCH) & (self.high[:, None] > least + TOUCH)
        near = (reach >= limits).all(axis=2) & boxed.all(axis=2)
        return [[self.points[k] for k in np.flatnonzero(column)] for column in near.T]


SeenPart = Callable[[Facet, Sequence[Array], Array], BaseGeometry]
"""The seen part of a facet, in its (s, z), from the solids before it and the eye."""


def exact_part(facet: Facet, near: Sequence[Array], eye: Array) -> BaseGeometry:
    """Return the part of a facet that an eye sees past the solids before it."""
    return partition(facet.outline, facet.frame, near, eye).seen


def plan_eye_faces(
    site: Site, walls: tuple[PlacedWall, ...], solids: Sequence[Solid], eye: Place, seen_part: SeenPart = exact_part
) -> tuple[tuple[SeenFace, ...], tuple[SeenFace, ...]]:
    """Return what one eye sees of the faces of solids and of the ground, and of nothing else."""
    upright, ground, standing = _targets(site, walls, tuple(solids))
    bodies, place = _bodies([*solids, *standing], walls), np.array(eye, float)
    return tuple(_seen_faces(upright, bodies, place, seen_part)), tuple(_seen_faces(ground, bodies, place, seen_part))


def plan_eye_scene(site: Site, walls: tuple[PlacedWall, ...], solids: Sequence[Solid], eye: Place) -> EyeScene:
    """Return what one eye sees of all that has a place in the plan."""
    upright, ground, standing = _targets(site, walls, tuple(solids))
    bodies = _bodies([*solids, *standing], walls)
    place = np.array(eye, float)
    earth = earth_facet(site, walls, eye)
    return EyeScene(
        place_of(place),
        tuple(_seen_faces(upright, bodies, place)),
        tuple(_seen_faces(ground, bodies, place)),
        next(_seen_faces([earth] if earth else [], bodies, place), None),
        tuple(_lines(site, bodies, place)),
        tuple(_fixtures(walls, bodies, place)),
    )


@lru_cache(maxsize=8)
def _targets(
    site: Site, walls: tuple[PlacedWall, ...], solids: tuple[Solid, ...]
) -> tuple[tuple[Facet, ...], tuple[Facet, ...], tuple[Solid, ...]]:
    """Return what does not change as the eye moves: facets of solids and of the ground, and the parapets."""
    return facets(site, walls, solids), ground_facets(site, walls), parapets(site, walls)


def place_of(point: Array) -> Place:
    """Return a site point as three plain numbers."""
    x, y, z = (float(value) for value in point)
    return x, y, z


def _bodies(solids: Sequence[Solid], walls: tuple[PlacedWall, ...]) -> _Bodies:
    """Return the solids that have a place in the plan, for one eye."""
    unmeasured = {placed.wall.id for placed in walls if not placed.measured_place}
    points = tuple(solid.points for solid in solids if solid.wall not in unmeasured)
    if not points:
        return _Bodies((), np.empty((0, 3)), np.empty(0, np.intp), np.empty((0, 3)), np.empty((0, 3)))
    counts = np.array([len(corners) for corners in points], np.intp)
    corners, starts = np.concatenate(points), np.cumsum(counts) - counts
    low, high = np.minimum.reduceat(corners, starts), np.maximum.reduceat(corners, starts)
    return _Bodies(points, corners, starts, low, high)


def seen_shapes(
    targets: Sequence[Facet], bodies: _Bodies, eye: Array, seen_part: SeenPart = exact_part
) -> Iterator[tuple[Facet, BaseGeometry]]:
    """Yield the facets of which an eye sees some, each with the seen part in its (s, z)."""
    facing = [facet for facet in targets if float((eye - facet.frame.origin) @ facet.frame.normal) > IN_PLANE]
    for start in range(0, len(facing), BATCH):
        batch = facing[start : start + BATCH]
        for facet, near in zip(batch, bodies.before(batch, eye), strict=True):
            seen = seen_part(facet, near, eye) if near else facet.outline
            if seen.area > SLIVER:
                yield facet, seen


def _seen_faces(
    targets: Sequence[Facet], bodies: _Bodies, eye: Array, seen_part: SeenPart = exact_part
) -> Iterator[SeenFace]:
    for facet, seen in seen_shapes(targets, bodies, eye, seen_part):
        region = region_of(seen)
        if region:
            origin, along, up, _ = facet.frame
            axes = place_of(origin), place_of(along), place_of(up)
            named = facet.id, facet.owner, facet.kind, facet.face, facet.wall
            yield SeenFace(*named, *axes, region, float(seen.area))


def _lines(site: Site, bodies: _Bodies, eye: Array) -> Iterator[SeenLine]:
    """Yield the seen stretches of overhead lines, drawn straight, and of fences that one sees through."""
    for wire in site.overhead_lines:
        yield from _line(wire.id, "overhead", np.array(wire.start), np.array(wire.end), bodies, eye)
    for fence in site.fences:
        if not fence.opaque:
            rail = np.array([(x, y, fence.level + fence.height) for x, y in fence.path])
            for start, end in pairwise(rail):
                yield from _line(fence.id, "fence", start, end, bodies, eye)


def _line(owner: str, kind: str, start: Array, end: Array, bodies: _Bodies, eye: Array) -> Iterator[SeenLine]:
    """Yield the seen parts of a straight line, by a thin band in an upright plane that turns its face to the eye."""
    if float(np.hypot(*(end - start)[:2])) < BAND:
        return
    frame = make_frame(start, end - start)
    if float((eye - start) @ frame.normal) < 0.0:
        start, end = end, start
        frame = make_frame(start, end - start)
    length = float(np.linalg.norm(end - start))
    band = Facet(owner, owner, kind, "line", None, frame, shapely.box(0.0, -BAND, length, BAND))
    for _, seen in seen_shapes([band], bodies, eye):
        for part in shapely.get_parts(seen.intersection(shapely.LineString([(0.0, 0.0), (length, 0.0)]))).tolist():
            ends = shapely.get_coordinates(part)
            if len(ends) > 1:
                yield SeenLine(owner, kind, tuple(place_of(point) for point in band.places(ends[[0, -1]])))


def _fixtures(walls: tuple[PlacedWall, ...], bodies: _Bodies, eye: Array) -> Iterator[SeenFixture]:
    """Yield the pieces of fixtures that the eye sees; all pieces of one fixture lie in one plane."""
    places: dict[str, tuple[PlacedWall, float, list[float]]] = {}
    targets: list[Facet] = []
    for placed in walls:
        for item in placed.wall.fixtures if placed.measured_place else ():
            row = [float(item.left + number * (item.spacing or 0.0)) for number in range(item.count)]
            row = [s for s in dict.fromkeys(row) if s <= placed.length + MARK]
            places[item.id] = placed, float(item.out), row
            whole = shapely.union_all([_square(s, item.height) for s in row])
            frame = make_frame(placed.point(0.0, item.out), placed.along)
            if row:
                targets.append(Facet(item.id, item.id, item.kind, "fixture", placed.wall.id, frame, whole))
    for facet, seen in seen_shapes(targets, bodies, eye):
        placed, out, row = places[facet.id]
        height = float(facet.outline.bounds[1]) + MARK
        for s in row:
            if seen.intersection(_square(s, height)).area > SLIVER:
                yield SeenFixture(facet.id, facet.kind, placed.wall.id, place_of(placed.point(s, out, height)))


def _square(s: float, height: float) -> shapely.Polygon:
    return shapely.box(s - MARK, height - MARK, s + MARK, height + MARK)
