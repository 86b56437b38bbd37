"""Water of a night: whether the tap keeps up, and how often the tank must be filled while the machine stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sightwash.basis.sources import Why
from sightwash.basis.units import FLOW, VOLUME, show
from sightwash.planning.night_pieces import Piece
from sightwash.planning.production import rate_in_use
from sightwash.planning.water import WaterPlan, fills, tap_flow
from sightwash.science.spread import three_point_spread
from sightwash.site.model import Site
from sightwash.site.rates import Rates


@dataclass(frozen=True, slots=True)
class Refills:
    """Fills of the tank that stop the machine, the time of each [s], what the tank holds [L], and why."""

    count: int
    seconds: float
    tank: float
    why: Why


def plan_refills(site: Site, rates: Rates, water: WaterPlan, pieces: Sequence[Piece]) -> Refills:
    """Return the fills that stop the machine: none where a tap, or tank and tap together, give what it uses."""
    used = sum(piece.litres for piece in pieces if piece.machine)
    running = sum(piece.seconds for piece in pieces if piece.machine and piece.litres > 0)
    tap = tap_flow(site)
    rate = rate_in_use(rates, "tank-refill")
    seconds = three_point_spread(*sorted(60.0 * each for each in (rate.low, rate.usual, rate.high))).mean
    short = used - tap * running - water.carried
    given = f"the machine uses {show(used, VOLUME, site.units)}"
    if short <= 0:
        flow = f", a tap gives {show(tap, FLOW, site.units)}" if tap > 0 else ""
        held = f", the tank holds {show(water.carried, VOLUME, site.units)}"
        return Refills(0, seconds, water.carried, Why(f"{given}{flow}{held}: no stop to fill", ("user-document",)))
    if water.carried <= 0:
        words = f"{given}; no tank and no tap that gives so much is noted: settle the water before the night"
        return Refills(0, seconds, 0.0, Why(words, ("user-document",)))
    count = fills(short, water.carried)
    words = f"{given}; {count} fills of {show(water.carried, VOLUME, site.units)}, {seconds / 60:.0f} min each"
    return Refills(count, seconds, water.carried, Why(words, (rate.source,)))
