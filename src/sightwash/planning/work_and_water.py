"""Hours and water together: the water follows from the hours, and the stops to fill the tank are hours again."""

from __future__ import annotations

from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.hours import Hours, plan_hours
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.mixes import Mixes
from sightwash.planning.standing import Standing
from sightwash.planning.takeoff import WallTakeoff
from sightwash.planning.tips import TipPoint
from sightwash.planning.water import WaterPlan, plan_water
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig


def plan_work_and_water(
    site: Site,
    rig: Rig,
    rates: Rates,
    takeoffs: tuple[WallTakeoff, ...],
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    mixes: Mixes,
    tips: tuple[TipPoint, ...],
    dark: bool,
) -> tuple[Hours, WaterPlan]:
    """Return the hours, stops to fill the tank among them, and the water of a visit."""
    hours = plan_hours(site, takeoffs, methods, ground, standings, rig, rates, dark)
    water = plan_water(site, rig, hours, methods, mixes, tips)
    if water.refills:
        hours = plan_hours(site, takeoffs, methods, ground, standings, rig, rates, dark, fills=water.refills)
    return hours, water
