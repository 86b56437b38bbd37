"""The stock to load on the trailer: what all mixes need at the careful strength, a reserve, and how it may travel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import MASS, VOLUME, show
from sightwash.planning.bleach import BleachToday
from sightwash.planning.mixes import Mix
from sightwash.planning.pouring import measured, measured_words
from sightwash.science.dilution import stock_fraction
from sightwash.science.hazards import carried_stock_limit, fewest_packages, hypochlorite_mass
from sightwash.science.tables import figures

RESERVE: Final = 0.15
"""Share of stock loaded above the need [-]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class StockLoad:
    """Stock to load [L] and its carriage: what goes as materials of trade [L], packages, hypochlorite [kg].

    ``needed`` is at the likely strength, ``careful`` at the low one; ``after`` is what is left in the drum.
    """

    needed: float
    careful: float
    reserve: float
    load: float
    load_words: str
    on_hand: float | None
    short_of: float
    after: float | None
    carried_limit: float
    within_limit: bool
    packages: int
    hypochlorite: float
    reportable: bool
    words: tuple[str, ...]
    why: Why


def plan_stock_load(
    mixes: tuple[Mix, ...], bleach: BleachToday, system: str = "us", reserve: float = RESERVE
) -> StockLoad:
    """Return the stock to load for all mixes; a mix above the careful strength takes neat stock."""
    needed = sum(mix.stock for mix in mixes)
    careful = sum(mix.volume * stock_fraction(max(bleach.low, mix.strength), mix.strength) for mix in mixes)
    load = measured(careful * (1.0 + reserve), system)
    limit = carried_stock_limit(bleach.specific_gravity)
    mass = hypochlorite_mass(bleach.likely, load)
    reportable = mass >= figures("carriage_limits")["reportable-quantity"].value
    on_hand = bleach.volume
    why = Why(
        f"at the careful end of today's band, and {reserve:.0%} more",
        ("adam-gordon-1999", "practice-reserve", "cfr-49-173-6", "phmsa-10-0265"),
    )
    return StockLoad(
        needed, careful, reserve, load, measured_words(load, system), on_hand,
        0.0 if on_hand is None else max(load - on_hand, 0.0), None if on_hand is None else max(on_hand - needed, 0.0),
        limit, load <= limit, fewest_packages(load), mass, reportable,
        tuple(_carriage_words(load, on_hand or 0.0, limit, mass, system)), why,
    )  # fmt: skip


def _carriage_words(load: float, on_hand: float, limit: float, mass: float, system: str) -> Iterator[str]:
    package = figures("carriage_limits")["package-capacity"].value
    exception = f"{show(limit, VOLUME, system)} of this stock on truck and trailer together"
    yield (
        f"Small-load exception (US, materials of trade): {exception}, if nothing else of the kind rides along, in "
        f"vessels of at most {show(package, VOLUME, system)}."
    )
    if load > limit:
        yield "This load is above it: the full carriage rules apply. Ask before loading."
    elif load > package:
        count = fewest_packages(load)
        yield f"{count} vessels or more; one drum or tank of {show(load, VOLUME, system)} is outside the exception."
    if load <= limit < on_hand:
        yield f"All of the {show(on_hand, VOLUME, system)} on hand would be above it: carry what the visit needs."
    yield "Upright, vented caps, tied down, apart from acids and fuels; label and safety sheet on board."
    if mass >= figures("carriage_limits")["reportable-quantity"].value:
        yield (
            f"It holds {show(mass, MASS, system)} of hypochlorite: a spill of it may have to be told to the "
            "authorities at once (100 lb is a figure to check)."
        )
    yield "Rules date and differ by place: the carrier's own advice comes first."
