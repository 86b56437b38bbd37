"""Tips: the working point of each tip on hand through the hoses, and the choice for a wanted pressure."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import PSI
from sightwash.science.impact import reaction_force
from sightwash.science.pump import working_point
from sightwash.science.tips import nozzle_flow
from sightwash.site.rig import Rig, Tip

ASSUMED_HOSE: Final = ((60.96,), (0.009525,))
RISE: Final = 2.0
"""Height of the tip above the pump that pressures are worked out at [m]."""
LOWEST_SPEED: Final = 0.5
"""Engine speed share below which a machine is not run [-]; common practice."""
SOFT: Final = (40 * PSI, 100 * PSI)
POWER_RINSE: Final = (200 * PSI, 300 * PSI)
TRIM: Final = (1000 * PSI, 1200 * PSI)
CLEANER: Final = (1500 * PSI, 3500 * PSI)


@dataclass(frozen=True, slots=True)
class TipPoint:
    """A tip in use: flow [L/s] and pressures [Pa] at an engine speed, its reaction [N]."""

    tip: str
    use: str
    size: float
    fan: float
    engine_speed: float
    flow: float
    tip_pressure: float
    pump_pressure: float
    hose_loss: float
    bypass_flow: float
    reaction: float
    within: bool
    why: Why


def tip_point(rig: Rig, tip: Tip, use: str, engine_speed: float, rise: float, within: bool, rule: str) -> TipPoint:
    """Return the working point of a tip at an engine speed."""
    lengths, bores = hose_runs(rig)
    size = tip.size * max(tip.count, 1) if use == "cleaner" else tip.size
    point = working_point(
        rig.machine.flow, unloader_pressure(rig), size, lengths, bores, rise=rise, speed_fraction=engine_speed
    )
    return TipPoint(
        tip.id,
        use,
        size,
        float(tip.fan),
        engine_speed,
        point.tip_flow,
        point.tip_pressure,
        point.pump_pressure,
        point.hose_loss,
        point.bypass_flow,
        float(reaction_force(point.tip_flow, point.tip_pressure)),
        within,
        Why(rule, ("churchill-1977", "spray-tip-practice")),
    )


def unloader_pressure(rig: Rig) -> float:
    """Return where the unloader opens [Pa]; without a setting, the machine's rated pressure."""
    return float(rig.machine.unloader or rig.machine.pressure)


def hose_runs(rig: Rig) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return lengths and bores of the hose runs [m]; a plain default where none is given."""
    if not rig.hoses:
        return ASSUMED_HOSE
    return tuple(float(hose.length) for hose in rig.hoses), tuple(float(hose.bore) for hose in rig.hoses)


@lru_cache(maxsize=512)
def choose_tip(rig: Rig, use: str, wanted: tuple[float, float], highest: float, throw: bool = False) -> TipPoint | None:
    """Return the tip and engine speed for a wanted pressure at the tip, never above ``highest``.

    ``throw`` asks for a plain jet, since a fan breaks up before it gets far; else a fan is wanted. A tip
    marked for the use goes before others; full engine speed goes before reduced. Where no tip comes within
    the band, the one that comes nearest from below is returned with ``within`` False.
    """
    low, high = min(wanted[0], highest), min(wanted[1], highest)
    best: tuple[tuple[float, ...], Tip, float, bool] | None = None
    for tip in rig.tips:
        speed, pressure = _speed_for(rig, tip, use, high)
        if pressure > high * 1.001:
            continue
        within = pressure >= low * 0.999
        shape = 0.0 if (tip.fan < 1.0) == throw else 1.0
        rank = (0.0 if within else 1.0, shape, _fitness(tip, use), 1.0 - speed, high - pressure)
        if best is None or rank < best[0]:
            best = (rank, tip, speed, within)
    if best is None:
        return None
    _, tip, speed, within = best
    band = f"{low / PSI:.0f} to {high / PSI:.0f} psi"
    slowed = f" at {speed:.0%} engine speed" if speed < 0.999 else " at full engine speed"
    rule = f"{band} wanted at the tip for {use}; tip {tip.id}{slowed}"
    return tip_point(rig, tip, use, speed, RISE, within, rule if within else f"{rule}: no tip on hand comes nearer")


_MEANT: Final = {"treat": ("soap",), "soft rinse": ("soap", "rinse"), "power rinse": ("long throw", "rinse")}


def _fitness(tip: Tip, use: str) -> float:
    """Return how well a tip's own mark fits a use: 0 is best."""
    order = _MEANT.get(use, (use,))
    return float(order.index(tip.use)) if tip.use in order else float(len(order))


def _speed_for(rig: Rig, tip: Tip, use: str, high: float) -> tuple[float, float]:
    """Return the highest engine speed at which a tip stays at or below a pressure, and that pressure."""
    full = tip_point(rig, tip, use, 1.0, RISE, True, "")
    top = float(rig.machine.engine_speed)
    if top < 1.0:
        full = tip_point(rig, tip, use, top, RISE, True, "")
    if full.tip_pressure <= high:
        return top, full.tip_pressure
    wanted_flow = float(nozzle_flow(full.size, high))
    speed = max(wanted_flow / rig.machine.flow, LOWEST_SPEED)
    point = tip_point(rig, tip, use, min(speed, top), RISE, True, "")
    return min(speed, top), point.tip_pressure
