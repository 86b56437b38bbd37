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
from sightwash.planning.sight import bodies_before
from sightwash.science.facets import make_frame
from sightwash.science.solid_angle import polygon_solid_angle
from sightwash.science.visibility import hidden_shapes, partition, solids_before
from sightwash.site.facets import Facet, facets, parapets, wall_facet
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
MARK: Final = 0.1
"""Half the width of the square by which a fixture counts as seen [m]."""
SAMPLES: Final = 41
"""Places along a path that are compared for the largest view."""
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

    def before(self, facet: Facet, eye: Array) -> list[Array]:
        """Return the solids that may reach into the pyramid between an eye and a facet's bounds."""
        if not self.points:
            return []
        left, bottom, right, top = facet.outline.bounds
        base = facet.places(np.array([(left, bottom), (right, bottom), (right, top), (left, top)])) - eye
        (ax, ay, az), (bx, by, bz) = base.T, np.roll(base, -1, axis=0).T
        sides = np.column_stack((ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx))
        sides *= np.sign(sides @ base.mean(axis=0))[:, None]
        normal = facet.frame.normal
        away = float(base[0] @ normal)
        inside = (self.corners - eye) @ np.vstack((sides, normal, -normal)).T
        reach = np.maximum.reduceat(inside, self.starts)
        limits = np.array([*(TOUCH * np.linalg.norm(sides, axis=1)), away + BEHIND, TOUCH])
        around = np.vstack((base, np.zeros(3))) + eye
        boxed = (self.low < around.max(axis=0) - TOUCH) & (self.high > around.min(axis=0) + TOUCH)
        return [self.points[k] for k in np.flatnonzero((reach >= limits).all(axis=1) & boxed.all(axis=1))]


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


def largest_view(placed: PlacedWall, solids: Sequence[Solid], points: Array) -> tuple[Place, float]:
    """Return the place on an eye's path from which a wall's seen part looks largest, and its solid angle there [sr].

    The path's corners, SAMPLES places between its ends and the place nearest to the wall's middle are compared; the
    first of equals counts.
    """
    places = _samples(points, placed.point(placed.length / 2, 0.0))
    facet = wall_facet(placed)
    hidden = hidden_shapes(placed.outline, facet.frame, bodies_before(placed, solids), places)
    covered = solids_before(placed.outline, facet.frame, bodies_before(placed, solids), places)[0].covered
    sizes = [
        solid_angle_of(facet.places, region_of(placed.outline.difference(shape).difference(covered)), place)
        for shape, place in zip(hidden, places, strict=True)
    ]
    best = int(np.argmax(np.round(sizes, 12)))
    return place_of(places[best]), sizes[best]


def _samples(points: Array, middle: Array) -> Array:
    """Return places along a path in order: its corners, even steps, and the nearest to a point."""
    steps = np.hypot(*np.diff(points[:, :2], axis=0).T) if len(points) > 1 else np.zeros(0)
    stations = np.concatenate([[0.0], np.cumsum(steps)])
    if stations[-1] <= 0.0:
        return points[:1]
    path = shapely.LineString(points[:, :2])
    near = float(path.project(shapely.Point(middle[:2])))
    wanted = np.unique([*stations, *np.linspace(0.0, stations[-1], SAMPLES), near])
    return np.column_stack([np.interp(wanted, stations, points[:, axis]) for axis in range(3)])


def solid_angle_of(places: Callable[[Array], Array], region: Region, eye: Array) -> float:
    """Return the solid angle of a region of a facet at an eye [sr]; ``places`` gives site points of (s, z)."""
    total = 0.0
    for shell, *holes in region:
        total += polygon_solid_angle(places(np.array(shell)), eye)
        total -= sum(polygon_solid_angle(places(np.array(hole)), eye) for hole in holes)
    return total


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


def seen_shape(facet: Facet, bodies: _Bodies, eye: Array) -> BaseGeometry | None:
    """Return what an eye sees of a facet in its (s, z); None where the facet looks away or all is hidden."""
    if float((eye - facet.frame.origin) @ facet.frame.normal) <= IN_PLANE:
        return None
    near = bodies.before(facet, eye)
    seen = partition(facet.outline, facet.frame, near, eye).seen if near else facet.outline
    return seen if seen.area > SLIVER else None


def _seen_faces(targets: Sequence[Facet], bodies: _Bodies, eye: Array) -> Iterator[SeenFace]:
    for facet in targets:
        seen = seen_shape(facet, bodies, eye)
        if seen is None:
            continue
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
    seen = seen_shape(band, bodies, eye)
    if seen is None:
        return
    for part in shapely.get_parts(seen.intersection(shapely.LineString([(0.0, 0.0), (length, 0.0)]))).tolist():
        ends = shapely.get_coordinates(part)
        if len(ends) > 1:
            yield SeenLine(owner, kind, tuple(place_of(point) for point in band.places(ends[[0, -1]])))


def _fixtures(walls: tuple[PlacedWall, ...], bodies: _Bodies, eye: Array) -> Iterator[SeenFixture]:
    """Yield the pieces of fixtures that the eye sees; all pieces of one fixture lie in one plane."""
    for placed in walls:
        for item in placed.wall.fixtures if placed.measured_place else ():
            places = [float(item.left + number * (item.spacing or 0.0)) for number in range(item.count)]
            places = [s for s in dict.fromkeys(places) if s <= placed.length + MARK]
            squares = [shapely.box(s - MARK, item.height - MARK, s + MARK, item.height + MARK) for s in places]
            frame = make_frame(placed.point(0.0, item.out), placed.along)
            whole = shapely.union_all(squares)
            seen = seen_shape(Facet(item.id, item.id, item.kind, "fixture", placed.wall.id, frame, whole), bodies, eye)
            for s, square in zip(places, squares, strict=True):
                if seen is not None and seen.intersection(square).area > SLIVER:
                    place = place_of(placed.point(s, item.out, item.height))
                    yield SeenFixture(item.id, item.kind, placed.wall.id, place)
