"""The ways in which a rig can make one mix: batch tank, proportioner, downstream injector; and what it cannot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sightwash.basis.errors import OutOfRange
from sightwash.basis.sources import Why
from sightwash.basis.units import FLOW, GALLON, PRESSURE, VOLUME, show
from sightwash.planning.bleach import BleachToday
from sightwash.planning.methods import SURFACTANT_DOSE, SurfaceMethod
from sightwash.planning.mixes import Mix
from sightwash.planning.pouring import Pour, pours
from sightwash.planning.tables import PERCENT
from sightwash.planning.tips import TipPoint
from sightwash.science.batch import batch
from sightwash.science.dilution import blended_strength, stock_fraction, water_parts
from sightwash.science.injection import achievable_strength, stock_needed
from sightwash.science.injector_draw import draw_band
from sightwash.site.rig import Injector, Proportioner, Rig

BUCKET: Final = 5 * GALLON
"""Vessel taken where the rig has no tank for mix [L]."""
NEAR: Final = 0.05
"""An injector within this share of the target needs no cut stock [-]."""
WATER, STOCK, SURFACTANT = "water", "bleach", "surfactant"


@dataclass(frozen=True, slots=True)
class Way:
    """One way to make a mix: what to pour, strength at the wall low, likely, high [mg/L], what is left [L], or why not.

    ``each`` is poured ``times`` times, then ``last`` once.
    """

    by: str
    possible: bool
    strength: float
    low: float
    high: float
    vessel: float
    times: int
    each: tuple[Pour, ...]
    last: tuple[Pour, ...]
    left: float
    words: str
    cannot: str | None
    why: Why


def mix_ways(mix: Mix, bleach: BleachToday, methods: tuple[SurfaceMethod, ...], rig: Rig, system: str) -> Iterator[Way]:
    """Yield every way that the rig has, the batch tank first."""
    yield _batch_way(mix, bleach, rig, system)
    if rig.proportioner is not None:
        yield _proportioner_way(mix, bleach, rig.proportioner, system)
    if rig.injector is not None:
        tips = {m.treat.tip: m.treat for m in methods if m.target in mix.targets and m.treat is not None}
        yield _injector_way(mix, bleach, rig.injector, tuple(tips.values()), system)


def _impossible(by: str, cannot: str, sources: tuple[str, ...]) -> Way:
    return Way(by, False, 0.0, 0.0, 0.0, 0.0, 0, (), (), 0.0, "", cannot, Why(cannot, sources))


def _poured_strength(parts: tuple[Pour, ...], stock: float) -> float:
    """Return the strength of what was poured, at the marks of the measures."""
    strengths = [stock if part.what.startswith(STOCK) else 0.0 for part in parts]
    return blended_strength(strengths, [part.volume for part in parts])


def _band(strength: float, bleach: BleachToday) -> tuple[float, float]:
    return strength * bleach.low / bleach.likely, strength * bleach.high / bleach.likely


def _batch(volume: float, stock: float, target: float, dose: float, system: str) -> tuple[Pour, ...]:
    """Return what to pour for one vessel; where stock leaves no room for surfactant, it takes the stock's."""
    room = 1.0 - stock_fraction(stock, target)
    parts = batch(volume, stock, target, min(dose, room))
    surfactant = volume * min(dose, 1.0)
    liquor = parts.stock if dose <= room else volume - surfactant
    return pours(((WATER, parts.water), (STOCK, liquor), (SURFACTANT, surfactant)), system)


def _batch_way(mix: Mix, bleach: BleachToday, rig: Rig, system: str) -> Way:
    tanks = [float(tank.volume) for tank in rig.tanks if tank.holds == "mix"]
    vessel = max(tanks, default=BUCKET)
    times = int(mix.volume / vessel + 1e-9)
    rest = mix.volume - times * vessel
    each = _batch(vessel, bleach.likely, mix.strength, SURFACTANT_DOSE, system) if times else ()
    last = _batch(rest, bleach.likely, mix.strength, SURFACTANT_DOSE, system) if rest > 1e-6 else ()
    strength = _poured_strength(each or last, bleach.likely)
    made = times * sum(part.volume for part in each) + sum(part.volume for part in last)
    where = f"the {show(vessel, VOLUME, system)} tank" if tanks else "a clean plastic bucket of 5 gal: no mix tank"
    words = f"in {where}: water first, then bleach, surfactant last; stir; mark the tank with its strength"
    why = Why(f"{water_parts(bleach.likely, mix.strength):.3g} parts water to 1 part of bleach", ("mass-balance",))
    low, high = _band(strength, bleach)
    left = max(made - mix.volume, 0.0)
    return Way("batch tank", True, strength, low, high, vessel, times, each, last, left, words, None, why)


def _proportioner_way(mix: Mix, bleach: BleachToday, panel: Proportioner, system: str) -> Way:
    most = achievable_strength(bleach.likely, float(panel.highest_share))
    sources = ("user-document", "mass-balance")
    if most < mix.strength:
        cannot = (
            f"the proportioner takes at most {panel.highest_share:.0%} of stock: "
            f"{most / PERCENT:.2f} % from today's {bleach.likely / PERCENT:.2f} %, not {mix.strength / PERCENT:.2f} %"
        )
        return _impossible("proportioner", cannot, sources)
    share = stock_fraction(bleach.likely, mix.strength)
    mark = round(2 * panel.marks * share / panel.highest_share) / 2 if panel.marks else 0.0
    marked = (mark * panel.highest_share / panel.marks if panel.marks else share) or share
    strength = achievable_strength(bleach.likely, marked)
    words = f"stock valve at {mark:g} of {panel.marks}" if panel.marks else f"stock valve at {share:.0%} of the mix"
    words += "; even marks are assumed: check by what goes out of the drum in a minute"
    if panel.flow is not None:
        words += f", {show(panel.flow * marked, FLOW, system)} at full flow"
    amounts = pours(
        ((WATER, mix.volume * (1.0 - marked)), (STOCK, mix.volume * marked), (SURFACTANT, mix.surfactant)), system
    )
    why = Why(f"{share:.1%} of the mix is stock", sources)
    low, high = _band(strength, bleach)
    return Way("proportioner", True, strength, low, high, mix.volume, 0, (), amounts, 0.0, words, None, why)


def _injector_way(mix: Mix, bleach: BleachToday, injector: Injector, tips: tuple[TipPoint, ...], system: str) -> Way:
    by, sources = "downstream injector", ("user-document", "mass-balance")
    blocked = _blocked(injector, tips, system)
    if blocked is not None:
        return _impossible(by, blocked, sources)
    share = injector.draw / injector.total
    reach = achievable_strength(bleach.likely, share)
    if reach < mix.strength:
        return _impossible(by, _too_weak(mix.strength, bleach.likely, injector), sources)
    cut = bleach.likely if reach <= mix.strength * (1.0 + NEAR) else _cut(mix.strength, injector)
    jug = mix.volume * share
    last = _batch(jug, bleach.likely, cut, SURFACTANT_DOSE / share, system)
    strength = achievable_strength(_poured_strength(last, bleach.likely), share)
    bands = [draw_band(injector.draw, injector.total, tip.flow) for tip in tips]
    least = min((band.least for band in bands), default=share) / share
    most = max((band.most for band in bands), default=share) / share
    low, high = _band(strength, bleach)
    words = f"{show(jug, VOLUME, system)} in the jug, drawn {1.0 / share - 1.0:.3g} parts of water to 1 part"
    if cut < bleach.likely:
        words += f"; cut to {cut / PERCENT:.2f} % first"
    words += _flow_words(injector, tips, most / least, system)
    why = Why(f"bucket test: {share:.1%} of the flow at the nozzle is drawn", sources)
    return Way(by, True, strength, low * least, high * most, jug, 0, (), last, 0.0, words, None, why)


def _cut(strength: float, injector: Injector) -> float:
    return stock_needed(strength, injector.draw, injector.total)


def _too_weak(strength: float, stock: float, injector: Injector) -> str:
    share = injector.draw / injector.total
    reach = achievable_strength(stock, share)
    words = (
        f"a {stock / PERCENT:.3g} % stock through a {1.0 / share - 1.0:.3g}:1 injector cannot make "
        f"{strength / PERCENT:.3g} %: {reach / PERCENT:.2f} % at most"
    )
    try:
        needed = _cut(strength, injector)
    except OutOfRange:
        return f"{words}; no stock is strong enough"
    return f"{words}; it would take stock of {needed / PERCENT:.1f} %"


def _blocked(injector: Injector, tips: tuple[TipPoint, ...], system: str) -> str | None:
    """Return why the injector does not draw with the tips of a mix; None where it does."""
    limit = injector.highest_pressure
    if limit is None:
        return None
    over = [tip for tip in tips if tip.pump_pressure > limit]
    if not over:
        return None
    worst = max(over, key=lambda tip: tip.pump_pressure)
    return (
        f"with tip {worst.tip} the pressure at the injector is {show(worst.pump_pressure, PRESSURE, system)}: "
        f"above {show(limit, PRESSURE, system)} it does not draw"
    )


def _flow_words(injector: Injector, tips: tuple[TipPoint, ...], spread: float, system: str) -> str:
    limit = injector.highest_pressure
    words = ""
    for tip in tips:
        words += (
            f"; tip {tip.tip}: {show(tip.flow, FLOW, system)} through this hose, "
            f"{show(tip.pump_pressure, PRESSURE, system)} at the injector"
        )
    if tips and limit is not None:
        words += f" (it draws up to {show(limit, PRESSURE, system)})"
    elif limit is None:
        words += "; the pressure at which it stops drawing is not known: look whether it draws"
    if spread > 1.0 + NEAR:
        words += f"; the test was at {show(injector.total, FLOW, system)}: test again with this tip"
    return words
