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
from sightwash.science.solid_angle import polygon_solid_angles
from sightwash.science.visibility import hidden_shapes, solids_before
from sightwash.site.eyes import Eye
from sightwash.site.facets import wall_facet
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]
SAMPLES: Final = 41
"""Places along a path that are compared for the largest view."""
TOGETHER: Final = 6
"""Places that are looked at together, those first from where the wall would look largest if nothing hid it [-]."""
EQUAL: Final = 1e-11
"""Solid angles nearer together than this are one [sr]."""
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
    covered = solids_before(placed.outline, facet.frame, bodies, places)[0].covered
    most = solid_angles_of(facet.places, [region_of(placed.outline)] * len(places), places)
    found: dict[int, tuple[float, Region]] = {}
    for some in np.array_split(np.argsort(-most, kind="stable"), max(len(places) // TOGETHER, 1)):
        if found and float(most[some[0]]) < max(size for size, _ in found.values()) - EQUAL:
            break
        hidden = hidden_shapes(placed.outline, facet.frame, bodies, places[some])
        seen = [region_of(placed.outline.difference(shape).difference(covered)) for shape in hidden]
        sizes = solid_angles_of(facet.places, seen, places[some])
        found |= {int(k): (float(size), region) for k, size, region in zip(some, sizes, seen, strict=True)}
    best = max(found, key=lambda k: (round(found[k][0], 12), -k))
    size, region = found[best]
    return SightFan(eye.id, placed.wall.id, place_of(places[best]), spans_of(region), region, size)


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


def solid_angles_of(places: Callable[[Array], Array], regions: Sequence[Region], eyes: Array) -> Array:
    """Return the solid angle of regions of a facet, each at its own eye [sr]; ``places`` maps (s, z) to site points."""
    rings = [(k, hole, ring) for k, region in enumerate(regions) for part in region for hole, ring in enumerate(part)]
    if not rings:
        return np.zeros(len(regions))
    owners = np.array([k for k, _, _ in rings])
    signs = np.array([-1.0 if hole else 1.0 for _, hole, _ in rings])
    counts = [len(ring) for _, _, ring in rings]
    points = places(np.array([corner for _, _, ring in rings for corner in ring]))
    sizes = polygon_solid_angles(np.split(points, np.cumsum(counts)[:-1]), eyes[owners])
    return np.bincount(owners, signs * sizes, len(regions)).astype(np.float64)
