"""Mixes: what to pour for each strength, by batch or by injector, and what the rig cannot reach."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.bleach import BleachToday
from sightwash.planning.methods import SURFACTANT_DOSE, SurfaceMethod
from sightwash.planning.tables import PERCENT
from sightwash.science.batch import batch
from sightwash.science.dilution import chlorine_mass, water_parts
from sightwash.science.injection import strength_in_total_flow
from sightwash.site.rig import Injector

WASTE: Final = 0.10
"""Share of mix added for waste and leftover [-]; common practice."""


@dataclass(frozen=True, slots=True)
class Mix:
    """One mix: strength [mg/L], volumes [L], chlorine [kg], and how it is made."""

    id: str
    strength: float
    volume: float
    stock: float
    water: float
    surfactant: float
    water_parts: float
    stock_strength: float
    chlorine: float
    by: str
    strength_low: float
    strength_high: float
    targets: tuple[str, ...]
    why: tuple[Why, ...]


@dataclass(frozen=True, slots=True)
class Mixes:
    """All mixes, the stock they need [L], and what cannot be made with this rig."""

    mixes: tuple[Mix, ...]
    stock: float
    short_of: float
    cannot: tuple[str, ...]


def plan_mixes(methods: tuple[SurfaceMethod, ...], bleach: BleachToday | None, injector: Injector | None) -> Mixes:
    """Return the mixes for all methods; weakest first. Without bleach nothing is mixed and it is said."""
    volumes: dict[float, float] = defaultdict(float)
    targets: dict[float, list[str]] = defaultdict(list)
    for method in methods:
        if method.strength > 0:
            key = round(method.strength / 100) * 100.0
            volumes[key] += method.mix_volume * (1 + WASTE)
            targets[key].append(method.target)
    if bleach is None:
        lacking = (
            (f"no bleach on the rig: {len(volumes)} strengths are wanted and none can be mixed",) if volumes else ()
        )
        return Mixes((), 0.0, 0.0, lacking)
    made: list[Mix] = []
    cannot: list[str] = []
    for strength in sorted(volumes):
        if strength > bleach.likely:
            cannot.append(f"{strength / PERCENT:.2f} % is above the stock's {bleach.likely / PERCENT:.1f} %")
            continue
        made.append(_mix(strength, volumes[strength], tuple(targets[strength]), bleach, injector))
    stock = sum(mix.stock for mix in made)
    short = max(stock - bleach.volume, 0.0) if bleach.volume is not None else 0.0
    return Mixes(tuple(made), stock, short, tuple(cannot))


def _mix(
    strength: float, volume: float, targets: tuple[str, ...], bleach: BleachToday, injector: Injector | None
) -> Mix:
    poured = batch(volume, bleach.likely, strength, SURFACTANT_DOSE)
    share = poured.stock / volume
    why = [Why(f"stock taken at {bleach.likely / PERCENT:.2f} % today", bleach.why.sources)]
    by = "batch tank"
    if injector is not None:
        reach = strength_in_total_flow(bleach.likely, injector.draw, injector.total)
        if reach >= strength:
            by = "injector with cut stock" if reach > 1.05 * strength else "injector"
            why.append(
                Why(f"the injector's bucket test gives up to {reach / PERCENT:.2f} % at the wall", ("user-document",))
            )
        else:
            rule = f"the injector can reach only {reach / PERCENT:.2f} %: batch tank"
            why.append(Why(rule, ("user-document",)))
    why.append(Why("1 fl oz of surfactant a gallon; 10 % more for waste", ("practice-surfactant",)))
    return Mix(
        f"mix-{strength / PERCENT:.2f}".replace(".", "-"),
        strength,
        volume,
        poured.stock,
        poured.water,
        poured.additive,
        water_parts(bleach.likely, strength),
        bleach.likely,
        chlorine_mass(strength, volume),
        by,
        bleach.low * share,
        bleach.high * share,
        targets,
        tuple(why),
    )
