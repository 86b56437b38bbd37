"""The whole job in one call: ``plan_visit``."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, Literal

from shapely.geometry.base import BaseGeometry

from sightwash import __version__
from sightwash.basis.errors import NoFeasiblePlan
from sightwash.planning.access import AccessCheck, plan_access_check
from sightwash.planning.bleach import BleachToday, plan_bleach
from sightwash.planning.cautions import Caution, plan_cautions
from sightwash.planning.door_rules import DoorRule, FixtureRule, plan_door_rules, plan_fixture_rules
from sightwash.planning.drift import Drift, plan_drift
from sightwash.planning.drying_clock import DryingClock, plan_drying_clock
from sightwash.planning.extras import AddOn, Exclusion, plan_add_ons, plan_exclusions
from sightwash.planning.face_sight import FaceSight, plan_face_sight
from sightwash.planning.ground import GroundTakeoff, plan_ground_takeoff
from sightwash.planning.ground_path import GroundPath, plan_ground_paths
from sightwash.planning.gum import GumSpot, plan_gum
from sightwash.planning.hours import Hours
from sightwash.planning.marking import MarkingPlan, plan_marking
from sightwash.planning.methods import SurfaceMethod, plan_methods
from sightwash.planning.missed import MissedStrip, SoiledAndMissed, plan_missed, soiled_and_missed
from sightwash.planning.mix_tickets import MixTickets, plan_mix_tickets
from sightwash.planning.mixes import Mixes, plan_mixes
from sightwash.planning.paint_gates import PaintGates, plan_paint_gates
from sightwash.planning.price import Price, plan_price
from sightwash.planning.sight import WallSight, plan_sight, with_parapets
from sightwash.planning.standing import Standing, no_standing_area, plan_standing
from sightwash.planning.takeoff import WallTakeoff, plan_wall_takeoff
from sightwash.planning.tips import TipPoint
from sightwash.planning.wash_water import WashWater, plan_wash_water
from sightwash.planning.water import WaterPlan, ground_tips
from sightwash.planning.weather import Air, plan_air
from sightwash.planning.work_and_water import plan_work_and_water
from sightwash.planning.work_hours import site_clock, window_air, work_hours, work_window
from sightwash.site.conditions import Conditions
from sightwash.site.gaps import Gap, document_gaps
from sightwash.site.hourly_weather import HourlyWeather
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall, Solid, placed_walls, solids

Effort = Literal["quick", "proven"]
Progress = Callable[[str, float], None]
SCHEMA_VERSION: Final = 1
MOST_NODES: Final = {"quick": 200, "proven": 50_000}
"""Branch-and-bound nodes allowed for each wall's standing plan."""


@dataclass(frozen=True, slots=True)
class VisitPlan:
    """A planned visit: every line with its why. Inner units (see ``basis.units``)."""

    schema_version: int
    sightwash: str
    site: str
    name: str
    units: str
    on: date
    effort: str
    gaps: tuple[Gap, ...]
    air: Air
    sight: tuple[WallSight, ...]
    faces: tuple[FaceSight, ...]
    missed: tuple[MissedStrip, ...]
    soiled_and_missed: tuple[SoiledAndMissed, ...]
    walls: tuple[WallTakeoff, ...]
    ground: tuple[GroundTakeoff, ...]
    bleach: BleachToday | None
    methods: tuple[SurfaceMethod, ...]
    standing: tuple[Standing, ...]
    drift: tuple[Drift, ...]
    doors: tuple[DoorRule, ...]
    fixtures: tuple[FixtureRule, ...]
    mixes: Mixes
    hours: Hours
    water: WaterPlan
    tickets: MixTickets
    drying: DryingClock
    wash_water: WashWater
    ground_paths: tuple[GroundPath, ...]
    gum_spots: tuple[GumSpot, ...]
    marking: MarkingPlan
    access: AccessCheck | None
    paint_gates: PaintGates
    price: Price
    add_ons: tuple[AddOn, ...]
    exclusions: tuple[Exclusion, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    """The site laid out for planning: walls in their places, solids, and where nobody may stand."""

    walls: tuple[PlacedWall, ...]
    bodies: tuple[Solid, ...]
    forbidden: BaseGeometry


def plan_visit(
    site: Site,
    rig: Rig,
    rates: Rates,
    conditions: Conditions,
    on: date,
    effort: Effort = "quick",
    progress: Progress = lambda _step, _share: None,
    weather: HourlyWeather | None = None,
) -> VisitPlan:
    """Return the plan of one visit, in the trade's own order of work.

    Raises NoFeasiblePlan when nothing can be planned (no wall and no ground with a size), InputError
    when a document contradicts the date. What is missing is a gap of the plan, not an error.
    """
    laid, air = _lay_out(site), _air(site, conditions, on, weather)
    gaps = (*document_gaps(site), *document_gaps(rig), *document_gaps(rates), *document_gaps(conditions))
    progress("what each eye sees", 0.0)
    sight = tuple(plan_sight(wall, laid.bodies, site.eyes, site.crew_eye) for wall in laid.walls)
    missed = tuple(sorted(_missed(laid, sight, site, rig), key=lambda strip: -strip.score))
    progress("take-off", 0.5)
    takeoffs, ground = _taken_off(laid, site, rig)
    progress("methods and standing spots", 0.6)
    methods = tuple(_methods(laid, takeoffs, rig, air))
    standing = tuple(_standing(laid, sight, methods, missed, site, rig, rates, air, MOST_NODES[effort]))
    progress("mixes, hours, price", 0.9)
    bleach, tips = plan_bleach(rig.bleach, on), ground_tips(rig, ground)
    mixes = plan_mixes(methods, bleach, rig.injector)
    hours, water = plan_work_and_water(site, rig, rates, takeoffs, methods, ground, standing, mixes, tips, air.dark)
    price = plan_price(rates, rig, hours, mixes, water, _names(site), rates.access, rates.disposal)
    drying = plan_drying_clock(site, laid.walls, laid.bodies, takeoffs, methods, rates, conditions, on, weather)
    gum, gates = plan_gum(site, laid.walls, ground, rig, rates), plan_paint_gates(air, conditions.weather, _dry(drying))
    return VisitPlan(
        SCHEMA_VERSION, __version__, site.id, site.name, site.units, on, effort, gaps, air, sight,
        plan_face_sight(site, laid.walls, laid.bodies, site.eyes, site.crew_eye), missed, _soiled(sight, takeoffs),
        takeoffs, ground, bleach, methods, standing, plan_drift(site, laid.walls, standing, air, drying.hours),
        plan_door_rules(laid.walls, conditions), plan_fixture_rules(laid.walls), mixes, hours, water,
        plan_mix_tickets(site, rig, methods, mixes, bleach), drying,
        plan_wash_water(site, laid.walls, rig, takeoffs, methods, hours, water),
        plan_ground_paths(site, laid.walls, ground, rig, rates), gum, plan_marking(site, rates, gates),
        plan_access_check(site), gates, price, plan_add_ons(site, ground, rates),
        plan_exclusions(site, ground, methods, gum),
        plan_cautions(site, conditions, air, mixes, (*tips, *_tips_in_use(methods)), standing, gaps),
    )  # fmt: skip


def _dry(drying: DryingClock) -> datetime | None:
    """Return when the walk is dry at the latest; None where that is not known."""
    return drying.walk.late if drying.walk else None


def _air(site: Site, conditions: Conditions, on: date, weather: HourlyWeather | None) -> Air:
    """Return the air to reckon with: as typed, or the worst of the working hours of a weather file."""
    if weather is None:
        return plan_air(conditions)
    start, end = work_window(conditions, on, site_clock(site.place))
    return window_air(work_hours(site.place, conditions, start, end, weather))


def _lay_out(site: Site) -> _Laid:
    walls = placed_walls(site)
    return _Laid(walls, with_parapets(site, walls, solids(site, walls)), no_standing_area(site))


def _missed(laid: _Laid, sight: tuple[WallSight, ...], site: Site, rig: Rig) -> Iterator[MissedStrip]:
    for wall, seen in zip(laid.walls, sight, strict=True):
        if wall.wall.excluded is None:
            yield from plan_missed(
                wall, seen, site.eyes, site.crew_eye, rig, laid.forbidden, site.units, site.overhead_lines
            )


def _methods(laid: _Laid, takeoffs: tuple[WallTakeoff, ...], rig: Rig, air: Air) -> Iterator[SurfaceMethod]:
    for wall, takeoff in zip(laid.walls, takeoffs, strict=True):
        yield from plan_methods(wall, takeoff, rig, air)


def _tips_in_use(methods: tuple[SurfaceMethod, ...]) -> Iterator[TipPoint]:
    return (tip for m in methods for tip in (m.treat, m.rinse, m.power_rinse) if tip is not None)


def _soiled(sight: tuple[WallSight, ...], takeoffs: tuple[WallTakeoff, ...]) -> tuple[SoiledAndMissed, ...]:
    patches = {takeoff.wall: takeoff.patches for takeoff in takeoffs}
    return tuple(line for seen in sight for line in soiled_and_missed(seen, patches[seen.wall]))


def _standing(
    laid: _Laid,
    sight: tuple[WallSight, ...],
    methods: tuple[SurfaceMethod, ...],
    missed: tuple[MissedStrip, ...],
    site: Site,
    rig: Rig,
    rates: Rates,
    air: Air,
    most_nodes: int,
) -> Iterator[Standing]:
    for wall, seen in zip(laid.walls, sight, strict=True):
        if wall.wall.excluded is None:
            own = tuple(method for method in methods if method.wall == wall.wall.id)
            strips = tuple(strip for strip in missed if strip.wall == wall.wall.id)
            yield plan_standing(
                site, wall, own, strips, rig, rates, air, laid.bodies, laid.forbidden, seen.views, most_nodes
            )


def _taken_off(laid: _Laid, site: Site, rig: Rig) -> tuple[tuple[WallTakeoff, ...], tuple[GroundTakeoff, ...]]:
    """Return the take-off of walls and ground; NoFeasiblePlan where neither has a size."""
    takeoffs = tuple(plan_wall_takeoff(wall) for wall in laid.walls)
    ground = plan_ground_takeoff(site, laid.walls, rig.surface_cleaners[0] if rig.surface_cleaners else None)
    if not takeoffs and not ground:
        raise NoFeasiblePlan(
            "there is nothing to plan: no wall has a length and a height, and no ground has a size",
            ("walls: " + (", ".join(wall.id for wall in site.walls) or "none"), "surfaces: none with a size"),
        )
    return takeoffs, ground


def _names(site: Site) -> dict[str, str]:
    return {
        **{wall.id: wall.name or wall.id for wall in site.walls},
        **{surface.id: surface.name or surface.id for surface in site.surfaces},
    }
