"""Path of the surface cleaner over each surface: passes from the doors outward, round posts, out on dry ground."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import convert
from sightwash.planning.door_time import DoorTime, plan_door_times
from sightwash.planning.ground import GroundTakeoff, cleaner_room, door_swings, door_zones, shape_near, standing_shapes
from sightwash.planning.hose_side import HoseSide, plan_hose_side, rig_place
from sightwash.planning.production import rate_in_use
from sightwash.planning.push import Push, plan_push
from sightwash.planning.regions import Region, areas_of, region_of, shape_of
from sightwash.planning.trim_cost import TrimCost, plan_trim_cost
from sightwash.science.ground_time import overlapped_path
from sightwash.science.passes import shortest_path
from sightwash.science.sweep import LaidPath, head_ground, lay_path
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig, SurfaceCleaner
from sightwash.site.shapes import PlacedWall

LEAST_OVERLAP: Final = 0.8
"""Share of the cleaner's overlap that still does where it saves a pass [-]; a judgement."""
LARGE_CLEANER: Final = 0.52
"""Diameter above which a cleaner works at the large cleaner's rate [m]."""
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class PathLeg:
    """One piece of a path and its corners: a pass, edge, turn, swing, loop, move or carry."""

    kind: str
    line: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class GroundPath:
    """The path over one surface: its legs, what it comes to, and how it treats doors, hose and water.

    ``along`` and ``onward`` are compass bearings of the passes and of how they follow each other; ``bound`` is the
    length below which no path covers the area, ``aim`` that with the overlap; ``over`` is the length beyond the aim.
    """

    id: str
    surface: str
    name: str
    cleaner: str
    along: float
    onward: float
    legs: tuple[PathLeg, ...]
    passes: int
    turns: int
    pitch: float
    overlap: float
    length: float
    moved: float
    bound: float
    aim: float
    over: float
    area: float
    missed: Region
    missed_area: float
    time: float
    start: Point
    finish: Point
    push: Push
    hose: HoseSide
    doors: tuple[DoorTime, ...]
    trim: TrimCost | None
    notes: tuple[str, ...]
    why: Why


def plan_ground_paths(
    site: Site, walls: tuple[PlacedWall, ...], ground: tuple[GroundTakeoff, ...], rig: Rig, rates: Rates
) -> tuple[GroundPath, ...]:
    """Return the path over every surface that the first surface cleaner of the rig can clean."""
    if not rig.surface_cleaners:
        return ()
    standing = shapely.STRtree([*standing_shapes(site, walls).geometries, *door_swings(walls).geometries])
    paths = (plan_ground_path(site, walls, takeoff, standing, rig, rates) for takeoff in ground)
    return tuple(path for path in paths if path is not None)


def plan_ground_path(
    site: Site, walls: tuple[PlacedWall, ...], takeoff: GroundTakeoff, standing: shapely.STRtree, rig: Rig, rates: Rates
) -> GroundPath | None:
    """Return the path of the rig's first cleaner over one surface; None where it cleans nothing of it."""
    target = _cleaned(takeoff)
    if target is None:
        return None
    surface = next(surface for surface in site.surfaces if surface.id == takeoff.surface)
    zones = door_zones(walls, margin=0.0)
    doors = {name: zone for name, zone in zones.items() if zone.intersection(target).area > 0.01}
    push = plan_push(site, walls, surface, target, tuple(doors))
    cleaner = rig.surface_cleaners[0]
    laid = _laid(takeoff, target, standing, cleaner, push, _way_out(site, target, push))
    return _path(site, walls, takeoff, target, doors, push, laid, rig, rates) if laid.lines else None


def _path(
    site: Site,
    walls: tuple[PlacedWall, ...],
    takeoff: GroundTakeoff,
    target: BaseGeometry,
    doors: dict[str, shapely.Polygon],
    push: Push,
    laid: LaidPath,
    rig: Rig,
    rates: Rates,
) -> GroundPath:
    cleaner = rig.surface_cleaners[0]
    diameter, area = float(cleaner.diameter), float(target.area)
    rate = _area_rate(rates, "cleaner-large" if diameter > LARGE_CLEANER else "cleaner-small")
    legs = tuple(_legs(laid))
    hose = plan_hose_side(site, rig, laid, target, diameter / 2, push.heading)
    trim = plan_trim_cost(takeoff, walls, tuple(doors), float(rig.trim_strip), cleaner, rates, rate)
    return GroundPath(
        f"path-{takeoff.surface}", takeoff.surface, takeoff.name, cleaner.id,
        (push.onward + 90.0) % 180.0, push.onward, legs, laid.passes, laid.turns, laid.pitch,
        1.0 - laid.pitch / diameter if laid.pitch else 0.0, laid.length, laid.moved,
        *_bounds(area, laid.length, cleaner), area - float(laid.missed.area), region_of(laid.missed),
        float(laid.missed.area), area / rate, legs[0].line[0], legs[-1].line[-1], push, hose,
        plan_door_times(walls, doors, laid, area / rate), trim, tuple(_notes(takeoff, laid, cleaner)),
        Why(
            "passes along the long side, from the doors outward, spread evenly with the cleaner's overlap; round "
            "posts as they come; time from area and production rate at a steady pace",
            ("back-and-forth", "boustrophedon-cells", "practice-ground-path"),
        ),
    )  # fmt: skip


def _cleaned(takeoff: GroundTakeoff) -> BaseGeometry | None:
    """Return what the cleaner cleans of a surface; None for nothing."""
    regions = [part.region for part in takeoff.parts if part.how == "cleaner" and part.area > 0.01]
    return shapely.MultiPolygon(areas_of(shape_of(regions[0]))) if regions else None


def _way_out(site: Site, target: BaseGeometry, push: Push) -> Point:
    """Return where the path should end near: the nearest place of the rig, else the far side from the doors."""
    place = rig_place(site, target, push.heading)
    if place is not None:
        return float(place.at[0]), float(place.at[1])
    middle, size = target.centroid, math.sqrt(target.area)
    angle = math.radians(push.heading)
    return float(middle.x + size * math.cos(angle)), float(middle.y + size * math.sin(angle))


def _laid(
    takeoff: GroundTakeoff,
    target: BaseGeometry,
    standing: shapely.STRtree,
    cleaner: SurfaceCleaner,
    push: Push,
    finish: Point,
) -> LaidPath:
    radius, gap = cleaner.diameter / 2, float(cleaner.edge_gap)
    ground = shapely.MultiPolygon(areas_of(shape_of(takeoff.region)))
    room = head_ground(cleaner_room(ground, shape_near(standing, ground), radius), radius, gap)
    on_it = shapely.MultiPolygon(areas_of(room.intersection(ground)))
    overlap = LEAST_OVERLAP * float(cleaner.overlap)
    shape = shapely.MultiPolygon(areas_of(target))
    laid = lay_path(on_it, shape, radius, push.heading, overlap, finish)
    if laid.missed.area > 0.01 * target.area or not laid.lines:
        return lay_path(room, shape, radius, push.heading, overlap, finish)
    return laid


def _bounds(area: float, length: float, cleaner: SurfaceCleaner) -> tuple[float, float, float]:
    """Return the lower bound, the length with the overlap asked for, and the share by which a path is longer."""
    width = float(cleaner.diameter)
    aim = overlapped_path(area, width, float(cleaner.overlap))
    return shortest_path(area, width), aim, length / aim - 1.0 if aim > 0.0 else 0.0


def _area_rate(rates: Rates, work: str) -> float:
    found = rate_in_use(rates, work)
    return convert(found.usual, found.unit, "m2/s")


def _legs(laid: LaidPath) -> Iterator[PathLeg]:
    for line, kind in zip(laid.lines, laid.kinds, strict=True):
        yield PathLeg(kind, tuple((round(x, 6), round(y, 6)) for x, y in np.asarray(line.coords).tolist()))


def _notes(takeoff: GroundTakeoff, laid: LaidPath, cleaner: SurfaceCleaner) -> Iterator[str]:
    if laid.missed.area > 0.01:
        yield "the path leaves some of what the cleaner could reach: by wand"
    overlap = 1.0 - laid.pitch / cleaner.diameter
    if laid.pitch and overlap > cleaner.overlap + 0.05:
        yield f"passes are whole: they overlap by {overlap:.0%} where {cleaner.overlap:.0%} would do"
    carries = sum(kind == "carry" for kind in laid.kinds)
    if carries:
        yield f"the cleaner is carried {carries} times over ground that it cannot cross"
    if laid.passes == 1 and takeoff.area < 2.0 * cleaner.diameter * laid.length:
        yield "one pass: hardly wider than the cleaner"
