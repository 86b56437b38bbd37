"""Drift: how far fine drops go downwind from the thrown water, and what lies there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import LENGTH, show
from sightwash.planning.missed import paced
from sightwash.planning.standing import Standing
from sightwash.planning.weather import Air
from sightwash.planning.work_hours import WorkHour
from sightwash.science.drops import distance_to_clear
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

DROPS: Final = ((0.0002, "fines"), (0.0005, "small drops"), (0.001, "drops"))
"""Drop sizes that are reckoned [m]: 0.2 mm fines go farthest, most of the water is coarser."""
SURE_TO_WET: Final = 0.0005
SPREAD: Final = 0.1
"""How far drops spread sideways, as a share of their drift [-]; a judgement."""
LEAST_SPREAD: Final = 0.5


@dataclass(frozen=True, slots=True)
class Drift:
    """Drift from one wall by one size of drop: its distance [m] and the ids of what lies within it downwind."""

    wall: str
    drop: float
    name: str
    height: float
    wind: float
    distance: float
    reaches: tuple[str, ...]
    words: str
    why: Why


def plan_drift(
    site: Site,
    walls: tuple[PlacedWall, ...],
    standing: tuple[Standing, ...],
    air: Air,
    hours: Sequence[WorkHour] = (),
) -> tuple[Drift, ...]:
    """Return the drift from every wall that water is thrown at, fines first.

    The strongest gust stated for the working ``hours`` goes before the steady wind: drops fall within one gust.
    """
    air = replace(air, wind=max([air.wind, *(hour.gust for hour in hours if hour.gust is not None)]))
    by_id = {wall.wall.id: wall for wall in walls}
    things = tuple(_things(site, walls))
    outlines = np.array([shape for _, _, shape in things], object)
    found: list[Drift] = []
    for plan in standing:
        if not plan.spots:
            continue
        height = max(spot.needed for spot in plan.spots)
        for drop, name in DROPS:
            distance = float(distance_to_clear(drop, height, air.wind))
            reached: tuple[str, ...] = ()
            if by_id[plan.wall].measured_place:
                near = shapely.dwithin(outlines, *_swept(by_id[plan.wall], plan, distance, site, air)).tolist()
                reached = tuple(
                    thing for (owner, thing, _), hit in zip(things, near, strict=True) if hit and owner != plan.wall
                )
            found.append(_drift(plan.wall, drop, name, height, air, distance, reached, site.units))
    return tuple(found)


def _drift(
    wall: str, drop: float, name: str, height: float, air: Air, distance: float, reached: tuple[str, ...], system: str
) -> Drift:
    far = show(paced(distance, system), LENGTH, system)
    what = f"{wall}: {name} of {drop * 1000:g} mm from {show(height, LENGTH, system)} up drift {far}"
    act = "cover it, move it or wait" if drop >= SURE_TO_WET else "watch it; stop when you see or smell it there"
    words = f"{what}; downwind: {', '.join(reached)}: {act}" if reached else f"{what}; nothing noted lies there"
    rule = "wind, or the gust where one is given, times height over fall speed as measured; evaporation left out"
    return Drift(
        wall,
        drop,
        name,
        height,
        air.wind,
        distance,
        reached,
        words,
        Why(rule, ("gunn-kinzer-1949", "drift-quick-rule")),
    )


def _swept(placed: PlacedWall, plan: Standing, distance: float, site: Site, air: Air) -> tuple[BaseGeometry, float]:
    """Return the ground over which drops from the wall and from the jets before it go, and how far beside it [m].

    It is swept along the wind, or lies all round where the wind's bearing is unknown.
    """
    wet = np.array([placed.start, placed.end, *(spot.place for spot in plan.spots)])
    if air.wind_from is None:
        return shapely.MultiPoint(wet).convex_hull, max(distance, LEAST_SPREAD)
    toward = math.radians(air.wind_from + 180.0 - site.place.north)
    shift = np.array([math.sin(toward), math.cos(toward)]) * distance
    hull = shapely.MultiPoint(np.vstack([wet, wet + shift])).convex_hull
    return hull, max(SPREAD * distance, LEAST_SPREAD)


def _things(site: Site, walls: tuple[PlacedWall, ...]) -> Iterator[tuple[str | None, str, BaseGeometry]]:
    """Yield what must stay dry: the wall that it is on, its name and its outline in the plan."""
    for neighbour in site.neighbours:
        yield None, neighbour.id, shapely.Polygon(neighbour.outline)
    for area in site.parked:
        if area.present:
            yield None, area.id, shapely.Polygon(area.outline)
    for plant in site.planting:
        yield None, plant.id, shapely.Polygon(plant.outline)
    for placed in walls:
        if not placed.measured_place:
            continue
        for door in placed.wall.doors:
            ends = [placed.point(s, 0.0)[:2] for s in (door.left, door.left + door.width)]
            yield placed.wall.id, f"{placed.wall.id} {door.id}", shapely.LineString(ends)
        for fixture in placed.wall.fixtures:
            if fixture.kind in ("intake", "vent"):
                at = shapely.Point(placed.point(fixture.left, fixture.out)[:2])
                yield placed.wall.id, f"{placed.wall.id} {fixture.id}", at
