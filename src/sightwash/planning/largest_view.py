"""From where on its path an eye sees a wall largest, and which stretches of the wall it sees from there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.planning.eye_view import Place, place_of
from sightwash.planning.regions import Region, region_of
from sightwash.planning.sight import bodies_before, eye_points
from sightwash.science.solid_angle import polygon_solid_angle
from sightwash.science.visibility import hidden_shapes, solids_before
from sightwash.site.eyes import Eye
from sightwash.site.facets import wall_facet
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]
SAMPLES: Final = 41
"""Places along a path that are compared for the largest view."""
GAP: Final = 0.01
"""Stretches nearer together than this along a wall are one [m]."""


@dataclass(frozen=True, slots=True)
class SightFan:
    """What one eye sees of one wall from the place where that looks largest [m, sr].

    ``spans`` are the stretches along the wall that it sees at some height, ``seen`` the region itself in (s, z).
    """

    eye: str
    wall: str
    place: Place
    spans: tuple[tuple[float, float], ...]
    seen: Region
    solid_angle: float


def plan_sight_fans(
    walls: tuple[PlacedWall, ...], solids: Sequence[Solid], eyes: Sequence[Eye]
) -> tuple[SightFan, ...]:
    """Return the fan of every public eye onto every wall that has a place in the plan and of which it sees some."""
    fans = (
        largest_view(placed, solids, eye)
        for eye in eyes
        if eye.kind != "crew"
        for placed in walls
        if placed.measured_place
    )
    return tuple(fan for fan in fans if fan.spans)


def largest_view(placed: PlacedWall, solids: Sequence[Solid], eye: Eye) -> SightFan:
    """Return the fan from the place of an eye where a wall's seen part looks largest.

    The corners of the eye's path, SAMPLES places between its ends and the place nearest to the wall's middle are
    compared; the first of equals counts.
    """
    places = _samples(eye_points(eye), placed.point(placed.length / 2, 0.0))
    facet, bodies = wall_facet(placed), bodies_before(placed, solids)
    hidden = hidden_shapes(placed.outline, facet.frame, bodies, places)
    covered = solids_before(placed.outline, facet.frame, bodies, places)[0].covered
    seen = [region_of(placed.outline.difference(shape).difference(covered)) for shape in hidden]
    sizes = [solid_angle_of(facet.places, region, place) for region, place in zip(seen, places, strict=True)]
    best = int(np.argmax(np.round(sizes, 12)))
    return SightFan(eye.id, placed.wall.id, place_of(places[best]), spans_of(seen[best]), seen[best], sizes[best])


def spans_of(region: Region) -> tuple[tuple[float, float], ...]:
    """Return the stretches of s over which a region lies, at whatever height, from left to right.

    >>> spans_of((((( 0.0, 0.0), (2.0, 0.0), (2.0, 1.0)),), (((1.0, 3.0), (5.0, 3.0), (5.0, 4.0)),)))
    ((0.0, 5.0),)
    """
    ends = sorted((min(s for s, _ in rings[0]), max(s for s, _ in rings[0])) for rings in region)
    found: list[tuple[float, float]] = []
    for left, right in ends:
        if found and left <= found[-1][1] + GAP:
            found[-1] = (found[-1][0], max(found[-1][1], right))
        else:
            found.append((left, right))
    return tuple(found)


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
