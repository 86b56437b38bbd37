"""Places that a crew member could stand at before one wall: to throw from, to look from, to set a ladder at."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.units import FOOT
from sightwash.planning.methods import ARM_REACH
from sightwash.planning.tables import starting_rates
from sightwash.science.clearances import unqualified_line_clearance
from sightwash.science.segments import segment_distances
from sightwash.science.ways import shortest_ways
from sightwash.site.eyes import Eye
from sightwash.site.ground import OverheadLine
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
SPOT_OUTS: Final = tuple(feet * FOOT for feet in (6, 9, 12, 15, 20, 25, 30))
SPOT_STEP: Final = 4 * FOOT
LOOK_OUTS: Final = tuple(feet * FOOT for feet in (19, 25, 35, 45, 60, 80, 110, 150, 200, 250, 300, 400))
LOOK_STEP: Final = 32 * FOOT
LADDER_STEP: Final = 4 * FOOT
LADDER_FROM_EDGE: Final = 3 * FOOT
DOOR_MARGIN: Final = 1.0 * FOOT
DOOR_SIDE: Final = 1.5 * FOOT
ROAD_EDGE: Final = 6.0
"""Nobody is sent nearer to the line of a road than this [m]."""
ROAD_FROM: Final = 0.1
"""The way to a place is taken from so far before the wall [m]."""
DRIVE_PAST: Final = 360.0
"""Time for a drive past as a passenger [s]; a judgement."""
LOW_VOLTAGE: Final = 480.0
AIM_SLACK: Final = 0.3
"""Added to the clearance from a line for sway and aim [m]."""
WALKING: Final = 1.2
"""Walking speed of a person with a light or a hose [m/s]."""
LOOKING: Final = 60.0
"""Time to look at what one place shows [s]."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One place: kind (``spot``, ``look``, ``ladder``, ``eye``), its plan point, height of a step, its time [s].

    ``eye`` is the id of the public eye whose own view is taken: a drive past or a walk along its path.
    """

    kind: str
    s: float
    out: float
    place: tuple[float, float]
    step: float
    seconds: float
    eye: str | None = None


def usual_minutes(rates: Rates, work: str) -> float:
    """Return the usual time of a work that is counted in minutes each [s]."""
    own = next((rate for rate in rates.production if rate.work == work and rate.unit == "min"), None)
    return 60.0 * (own.usual if own else starting_rates()[work].usual)


def candidates(
    site: Site, placed: PlacedWall, rig: Rig, rates: Rates, forbidden: BaseGeometry, hose: float, looking: bool
) -> tuple[Candidate, ...]:
    """Return every allowed place before a wall: not forbidden, not over a road, not near a line, within the hose.

    ``looking`` asks for places to look from as well as places to throw from and to set a ladder at. Of a wall that
    is only drawn in a row nothing is known of the ground before it, so nothing is ruled out.
    """
    found = [*_spots(placed, rates), *(_looks(placed) if looking else ()), *_ladders(placed, rig, rates)]
    if not found or not placed.measured_place:
        return tuple(found)
    points = shapely.points([candidate.place for candidate in found])
    feet = [_plan(placed, candidate.s, ROAD_FROM) for candidate in found]
    ways = shapely.linestrings([[foot, candidate.place] for foot, candidate in zip(feet, found, strict=True)])
    shapely.prepare(forbidden)
    blocked = np.asarray(shapely.intersects(forbidden, points), bool)
    for road in roads_of(site.eyes):
        blocked |= shapely.distance(ways, road) < ROAD_EDGE
    blocked |= _beyond_hose(site, found, hose)
    worked = np.array([candidate.kind != "look" for candidate in found], bool)
    blocked[worked] |= near_lines(site.overhead_lines, placed, [c for c in found if c.kind != "look"], rig)
    return tuple(candidate for candidate, bad in zip(found, blocked.tolist(), strict=True) if not bad)


def _spots(placed: PlacedWall, rates: Rates) -> Iterator[Candidate]:
    moved = usual_minutes(rates, "hose-move")
    for s in _beside_doors(placed, SPOT_STEP):
        for out in SPOT_OUTS:
            yield Candidate("spot", s, out, _plan(placed, s, out), 0.0, moved + 2 * abs(out - SPOT_OUTS[2]) / WALKING)


def _looks(placed: PlacedWall) -> Iterator[Candidate]:
    for out in LOOK_OUTS:
        for s in _places(placed.length, LOOK_STEP):
            yield Candidate("look", s, out, _plan(placed, s, out), 0.0, LOOKING + 2 * out / WALKING)


def eye_candidates(
    placed: PlacedWall, eyes: Sequence[Eye], forbidden: BaseGeometry | None = None
) -> tuple[Candidate, ...]:
    """Return the public's own places to look from where a crew may go; a road is driven past, never stood in."""
    found = []
    for eye in eyes:
        if eye.kind in ("crew", "window"):
            continue
        middle = shapely.Point(*placed.point(placed.length / 2, 0.0)[:2])
        path = shapely.LineString(eye.path) if len(eye.path) > 1 else shapely.Point(eye.path[0])
        if eye.kind != "road" and forbidden is not None and path.intersects(forbidden):
            continue
        near = shapely.get_coordinates(shapely.shortest_line(path, middle))[0]
        s, out = placed.local((float(near[0]), float(near[1])))
        walk = DRIVE_PAST if eye.kind == "road" else LOOKING + (2 * abs(out) + path.length) / WALKING
        found.append(Candidate("eye", s, out, (float(near[0]), float(near[1])), 0.0, walk, eye.id))
    return tuple(found)


def roads_of(eyes: Sequence[Eye]) -> tuple[shapely.LineString, ...]:
    """Return the lines of the roads that the public looks from."""
    return tuple(shapely.LineString(eye.path) for eye in eyes if eye.kind == "road" and len(eye.path) > 1)


def over_a_road(placed: PlacedWall, s: float, out: float, roads: Sequence[shapely.LineString]) -> bool:
    """Return whether the way from a wall straight out to a place meets or crosses a road."""
    way = shapely.LineString([_plan(placed, s, ROAD_FROM), _plan(placed, s, out)])
    return any(way.distance(road) < ROAD_EDGE for road in roads)


def _ladders(placed: PlacedWall, rig: Rig, rates: Rates) -> Iterator[Candidate]:
    depths = sorted(
        {float(p.gap + p.depth) for p in placed.wall.projections if p.kind in ("canopy", "awning", "ledge")}
    )
    setting = usual_minutes(rates, "ladder-set")
    for ladder in rig.ladders:
        for depth in depths:
            out = math.ceil((depth + LADDER_FROM_EDGE) / FOOT) * FOOT
            for s in _beside_doors(placed, LADDER_STEP):
                yield Candidate("ladder", s, out, _plan(placed, s, out), float(ladder.step_height), setting + LOOKING)


def _places(length: float, step: float) -> list[float]:
    count = max(math.ceil(length / step - 1e-9), 1)
    return [(k + 0.5) * length / count for k in range(count)]


def _beside_doors(placed: PlacedWall, step: float) -> list[float]:
    """Return places along a wall at even steps and close beside its doors, none of them before a door."""
    sides = [side for d in placed.wall.doors for side in (d.left - DOOR_SIDE, d.left + d.width + DOOR_SIDE)]
    places = [*_places(placed.length, step), *(s for s in sides if 0.0 <= s <= placed.length)]
    return sorted({s for s in places if not _before_door(placed, s)})


def _plan(placed: PlacedWall, s: float, out: float) -> tuple[float, float]:
    (x, y), (to_x, to_y) = placed.start, placed.end
    along = (to_x - x) / placed.length, (to_y - y) / placed.length
    return x + s * along[0] + out * along[1], y + s * along[1] - out * along[0]


def site_points(placed: PlacedWall, s: Array, out: Array, z: Array) -> Array:
    """Return the site points at ``s`` along, ``out`` from and ``z`` up a wall, one a row."""
    along, outward = placed.along, placed.outward
    up = np.array([0.0, 0.0, 1.0])
    return np.asarray(placed.origin + s[:, None] * along + out[:, None] * outward + z[:, None] * up, float)


def _before_door(placed: PlacedWall, s: float) -> bool:
    """Return whether a place is square before a door."""
    return any(d.left - DOOR_MARGIN <= s <= d.left + d.width + DOOR_MARGIN for d in placed.wall.doors)


def _beyond_hose(site: Site, found: Sequence[Candidate], hose: float) -> Flags:
    """Return which places to throw from or set a ladder at no hose reaches, laid round the buildings."""
    worked = np.array([candidate.kind != "look" for candidate in found], bool)
    if not site.rig_places or not worked.any():
        return np.zeros(len(found), bool)
    places = np.array([candidate.place for candidate in found])[worked]
    ground = shapely.MultiPoint(places).convex_hull
    near = [rig.at for rig in site.rig_places if ground.distance(shapely.Point(rig.at)) <= hose]
    lengths = np.full(len(places), np.inf)
    if near:
        outlines = [shapely.Polygon(b.outline, b.holes) for b in site.buildings]
        between = shapely.union_all([outline for outline in outlines if outline.distance(ground) <= hose])
        lengths = shortest_ways(near, [(float(x), float(y)) for x, y in places], between)
    beyond = np.zeros(len(found), bool)
    beyond[worked] = lengths > hose
    return beyond


def line_clearance(kilovolts: float | None) -> float:
    """Return how far a person and the longest thing held keep from a line [m]; unknown voltage counts as low."""
    return unqualified_line_clearance(1000.0 * (kilovolts or 0.0) or LOW_VOLTAGE)


def line_points(line: OverheadLine, count: int = 65) -> Array:
    """Return points along an overhead line as it sags [m]."""
    share = np.linspace(0.0, 1.0, count)
    along = np.linspace(line.start, line.end, count)
    along[:, 2] -= float(line.sag) * 4.0 * share * (1.0 - share)
    return along


def near_lines(lines: Sequence[OverheadLine], placed: PlacedWall, places: Sequence[Candidate], rig: Rig) -> Flags:
    """Return at which places a person with the wand held upright comes too near an overhead line."""
    near = np.zeros(len(places), bool)
    if not lines or not places:
        return near
    s, out, step = (np.array([getattr(place, name) for place in places], float) for name in ("s", "out", "step"))
    ground = np.array([placed.ground_at(place.s) for place in places], float)
    feet = site_points(placed, s, out, ground)
    tops = site_points(placed, s, out, ground + step + ARM_REACH + float(rig.wand_length))
    low, high = feet[:, :2].min(axis=0), feet[:, :2].max(axis=0)
    for line in lines:
        least = line_clearance(line.kilovolts) + AIM_SLACK
        ends = np.array([line.start[:2], line.end[:2]], float)
        if (ends.max(axis=0) < low - least).any() or (ends.min(axis=0) > high + least).any():
            continue
        beside = segment_distances(feet[:, :2], feet[:, :2], line.start[:2], line.end[:2])
        under = np.flatnonzero(beside < least)
        if len(under):
            wire = line_points(line)
            near[under] |= (
                segment_distances(feet[under, None], tops[under, None], wire[:-1], wire[1:]).min(axis=1) < least
            )
    return near
