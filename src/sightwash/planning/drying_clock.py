"""The drying clock: every wall by the hour, the order of walls, the walk, go or no-go, water for the plants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Final

from sightwash.planning.go_no_go import GoNoGo, plan_go_no_go
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.plant_soaks import PlantSoak, plan_plant_soaks
from sightwash.planning.tables import UNKNOWN_WALL
from sightwash.planning.takeoff import WallTakeoff
from sightwash.planning.walk_drying import LOOK_AHEAD, WalkDrying, plan_walk_drying
from sightwash.planning.wall_clock import WallClock, plan_wall_clock
from sightwash.planning.wall_order import WallTurn, plan_wall_order
from sightwash.planning.work_hours import WorkHour, site_clock, work_hours, work_window
from sightwash.site.conditions import Conditions
from sightwash.site.hourly_weather import HourlyWeather
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.shapes import PlacedWall, Solid

WARM_UP: Final = timedelta(hours=6)
"""How long before the work the sun's heat in a wall is followed."""


@dataclass(frozen=True, slots=True)
class DryingClock:
    """The window hour by hour, each wall's clock, the order of walls, the walk, the verdict, the plants."""

    weather: str
    notes: tuple[str, ...]
    hours: tuple[WorkHour, ...]
    walls: tuple[WallClock, ...]
    order: tuple[WallTurn, ...]
    walk: WalkDrying | None
    verdict: GoNoGo
    plants: tuple[PlantSoak, ...]


def plan_drying_clock(
    site: Site,
    walls: Sequence[PlacedWall],
    bodies: Sequence[Solid],
    takeoffs: Sequence[WallTakeoff],
    methods: tuple[SurfaceMethod, ...],
    rates: Rates,
    conditions: Conditions,
    on: date,
    weather: HourlyWeather | None = None,
) -> DryingClock:
    """Return the drying clock of a visit; ``weather`` goes before what the conditions say."""
    start, end = work_window(conditions, on, site_clock(site.place))
    hours = work_hours(site.place, conditions, start, end, weather)
    before = work_hours(site.place, conditions, _shifted(start, -WARM_UP), start, weather)
    north = float(site.place.north)
    worked = [pair for pair in zip(walls, takeoffs, strict=True) if pair[0].wall.excluded is None]
    clocks = (plan_wall_clock(placed, bodies, off, methods, rates, north, before, hours) for placed, off in worked)
    found = tuple(clock for clock in clocks if clock is not None)
    order = plan_wall_order(found, start, end)
    coldest = conditions.weather.coldest_before_dry
    expected = None if coldest is None else float(coldest)
    walk = None
    if any(surface.wash for surface in site.surfaces):
        after = work_hours(site.place, conditions, end, _shifted(end, LOOK_AHEAD), weather)
        walk = plan_walk_drying(end, after, expected)
    materials = frozenset(placed.wall.material or UNKNOWN_WALL for placed, _ in worked)
    verdict = plan_go_no_go(hours, walk, expected, materials)
    soaks = plan_plant_soaks(site, walls, order, methods)
    form, notes = ("as typed", ()) if weather is None else (weather.form, weather.notes)
    return DryingClock(form, notes, hours, found, order, walk, verdict, soaks)


def _shifted(moment: datetime, by: timedelta) -> datetime:
    return (moment.astimezone(UTC) + by).astimezone(moment.tzinfo)
