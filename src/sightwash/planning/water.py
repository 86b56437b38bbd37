"""Water: what the visit uses, what the tanks hold, and the chlorine that is put on."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.hours import Hours, Task
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.mixes import Mixes
from sightwash.planning.tables import UNKNOWN_GROUND, ground_materials
from sightwash.planning.tips import CLEANER, TRIM, TipPoint, choose_tip
from sightwash.science.dechlorination import neutraliser_to_carry, neutralisers
from sightwash.site.ground import Drain
from sightwash.site.model import Site
from sightwash.site.rig import Rig

TRIGGER: Final = {
    "wall-rinse": 0.6,
    "band-power-rinse": 0.6,
    "glass-rinse": 0.6,
    "trim": 0.8,
    "cleaner-small": 0.85,
    "cleaner-large": 0.85,
    "wand-ground": 0.8,
    "gum-wand": 0.5,
    "plants": 0.6,
}
"""Share of a task's time with water running [-]; a judgement, replaced by a meter reading."""
NEUTRALISER: Final = "sodium-thiosulfate"


@dataclass(frozen=True, slots=True)
class WaterUse:
    """Water of one work [L] at a flow [L/s]."""

    work: str
    volume: float
    flow: float
    why: Why


@dataclass(frozen=True, slots=True)
class WaterPlan:
    """Water used [L], mix water [L], tank fills, chlorine put on [kg], neutraliser to carry [kg], drains."""

    uses: tuple[WaterUse, ...]
    tips: tuple[TipPoint, ...]
    mix_water: float
    total: float
    carried: float
    refills: int
    chlorine: float
    neutraliser: str
    neutraliser_mass: float
    drains: tuple[str, ...]
    discharge: str | None
    agreed: bool
    why: tuple[Why, ...]


def ground_tips(rig: Rig, ground: tuple[GroundTakeoff, ...]) -> tuple[TipPoint, ...]:
    """Return the tips for the ground: trim at reduced pressure, and the surface cleaner's.

    None goes above what the most delicate washed surface bears.
    """
    rows = ground_materials()
    bears = [rows[surface.material or UNKNOWN_GROUND].highest_pressure for surface in ground if surface.washed]
    highest_pressure = min(bears, default=rows[UNKNOWN_GROUND].highest_pressure)
    trim = choose_tip(rig, "trim", TRIM, min(TRIM[1], highest_pressure))
    cleaner = choose_tip(rig, "cleaner", CLEANER, highest_pressure) if rig.surface_cleaners else None
    return tuple(tip for tip in (trim, cleaner) if tip is not None)


def plan_water(
    site: Site, rig: Rig, hours: Hours, methods: tuple[SurfaceMethod, ...], mixes: Mixes, ground: tuple[TipPoint, ...]
) -> WaterPlan:
    """Return the water of the visit and where it may go; no agreed place is said plainly."""
    uses = tuple(_uses(hours, _tips_by_work(methods, ground), float(rig.machine.flow)))
    mix_water = sum(mix.water for mix in mixes.mixes)
    total = sum(use.volume for use in uses) + mix_water
    carried = float(sum(tank.volume for tank in rig.tanks if tank.holds == "water"))
    chlorine = sum(mix.chlorine for mix in mixes.mixes)
    ratio = neutralisers()[NEUTRALISER].field_ratio
    whys = (
        Why("enough for all chlorine put on, an upper bound: dose to a measured residual", ("awwa-field-guide",)),
        Why("discharge is a local matter: the owner's and the utility's own words decide", ("discharge-msgp",)),
    )
    return WaterPlan(
        uses,
        ground,
        mix_water,
        total,
        carried,
        fill_stops(site, hours, uses, carried),
        chlorine,
        NEUTRALISER,
        neutraliser_to_carry(chlorine, ratio) if chlorine > 0 and ratio else 0.0,
        tuple(_drain_words(drain) for drain in site.drains),
        site.local.discharge,
        site.local.discharge is not None,
        whys,
    )


def fill_stops(site: Site, hours: Hours, uses: tuple[WaterUse, ...], carried: float) -> int:
    """Return how often the machine stops for the tank to be filled: not where a tap, or tank and tap, keep up."""
    flows = {use.work: use.flow for use in uses}
    runs = [(task.usual * TRIGGER[task.work], flows[task.work]) for task in hours.tasks if _from_the_tank(task, flows)]
    return fills(sum(seconds * (flow - tap_flow(site)) for seconds, flow in runs) - carried, carried)


def tap_flow(site: Site) -> float:
    """Return what the strongest tap of a site gives [L/s]; 0 where none is known."""
    return max((float(tap.flow) for tap in site.taps if tap.flow is not None), default=0.0)


def fills(short: float, carried: float) -> int:
    """Return how often a tank is filled for what its first filling is short of [L]; 0 where there is no tank."""
    return math.ceil(short / carried) if short > 0 and carried > 0 else 0


def _from_the_tank(task: Task, flows: dict[str, float]) -> bool:
    return task.wet and task.work in flows


def _tips_by_work(methods: tuple[SurfaceMethod, ...], ground: tuple[TipPoint, ...]) -> dict[str, TipPoint | None]:
    by_use = {tip.use: tip for tip in ground}
    rinse = next((m.rinse for m in methods if m.rinse is not None), None)
    power = next((m.power_rinse for m in methods if m.power_rinse is not None), None)
    trim, cleaner = by_use.get("trim"), by_use.get("cleaner")
    return {
        "wall-rinse": rinse, "glass-rinse": rinse, "plants": rinse, "band-power-rinse": power, "trim": trim,
        "wand-ground": trim, "gum-wand": trim, "cleaner-small": cleaner, "cleaner-large": cleaner,
    }  # fmt: skip


def _uses(hours: Hours, tips: dict[str, TipPoint | None], machine_flow: float) -> Iterator[WaterUse]:
    seconds: dict[str, float] = {}
    for task in hours.tasks:
        if task.work in TRIGGER:
            seconds[task.work] = seconds.get(task.work, 0.0) + task.usual
    for work, time in seconds.items():
        tip = tips[work]
        flow = tip.flow if tip is not None else machine_flow
        rule = f"usual time, {TRIGGER[work]:.0%} of it with water running"
        yield WaterUse(work, time * TRIGGER[work] * flow, flow, Why(rule, ("user-document",)))


def _drain_words(drain: Drain) -> str:
    if drain.leads_to in ("storm", "unknown"):
        return f"{drain.id} leads to {drain.leads_to}: cover it before the first water"
    return f"{drain.id} leads to {drain.leads_to}: only with leave in writing"
