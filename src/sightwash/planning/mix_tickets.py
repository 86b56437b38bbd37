"""One ticket a mix: what it is for, what to pour in what order, what is left, and what may hurt, all in one place."""

from __future__ import annotations

from dataclasses import dataclass

from sightwash.basis.sources import Why
from sightwash.planning.bleach import BleachToday
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.mix_warnings import (
    Incompatibility,
    MixCaution,
    WrongSurface,
    incompatibilities,
    strength_cautions,
    wrong_surfaces,
)
from sightwash.planning.mix_ways import Way, mix_ways
from sightwash.planning.mixes import WASTE, Mix, Mixes
from sightwash.planning.stock_load import StockLoad, plan_stock_load
from sightwash.planning.tables import PERCENT
from sightwash.site.model import Site
from sightwash.site.rig import Rig


@dataclass(frozen=True, slots=True)
class Demand:
    """What one surface asks of a mix: area [m2], what a litre covers [m2/L], treatments, volume [L]."""

    target: str
    area: float
    coverage: float
    passes: int
    volume: float


@dataclass(frozen=True, slots=True)
class MixTicket:
    """One mix for the crew: strength at the wall [mg/L], volume with waste [L], the chosen way first."""

    id: str
    strength: float
    volume: float
    waste: float
    demand: tuple[Demand, ...]
    chosen: str
    ways: tuple[Way, ...]
    cannot: tuple[str, ...]
    cautions: tuple[MixCaution, ...]
    stock_cautions: tuple[MixCaution, ...]
    leftover: str
    why: tuple[Why, ...]


@dataclass(frozen=True, slots=True)
class MixTickets:
    """All tickets, the stock to load, what must not meet bleach and where bleach is wrong."""

    tickets: tuple[MixTicket, ...]
    load: StockLoad | None
    cannot: tuple[str, ...]
    incompatible: tuple[Incompatibility, ...]
    wrong_surfaces: tuple[WrongSurface, ...]


def plan_mix_tickets(
    site: Site, rig: Rig, methods: tuple[SurfaceMethod, ...], mixes: Mixes, bleach: BleachToday | None
) -> MixTickets:
    """Return a ticket for every mix. Without bleach there is none, and what is missing is said."""
    tickets = tuple(_ticket(mix, bleach, methods, rig, site.units) for mix in mixes.mixes if bleach is not None)
    load = plan_stock_load(mixes.mixes, bleach, site.units) if bleach is not None and mixes.mixes else None
    cannot = (*mixes.cannot, *(words for ticket in tickets for words in ticket.cannot))
    return MixTickets(tickets, load, cannot, incompatibilities(site, methods, rig), wrong_surfaces(site))


def _ticket(mix: Mix, bleach: BleachToday, methods: tuple[SurfaceMethod, ...], rig: Rig, system: str) -> MixTicket:
    ways = tuple(mix_ways(mix, bleach, methods, rig, system))
    possible = [way for way in ways if way.possible]
    wanted = "downstream injector" if mix.by.startswith("injector") else "batch tank"
    chosen = next((way for way in possible if way.by == wanted), possible[0])
    ordered = (chosen, *(way for way in ways if way is not chosen))
    return MixTicket(
        mix.id,
        mix.strength,
        mix.volume,
        WASTE,
        tuple(_demand(method) for method in methods if method.target in mix.targets and method.strength > 0),
        chosen.by,
        ordered,
        tuple(way.cannot for way in ways if way.cannot is not None),
        strength_cautions(mix.strength, "mix"),
        strength_cautions(bleach.likely, "stock"),
        f"what is left of the {mix.strength / PERCENT:.2f} % mix: on the worst band, or weakened and kept for the next "
        "wall tonight; it is not kept to another day and never goes to a drain unneutralised",
        mix.why,
    )


def _demand(method: SurfaceMethod) -> Demand:
    covered = method.area * method.passes / method.mix_volume if method.mix_volume > 0 else 0.0
    return Demand(method.target, method.area, covered, method.passes, method.mix_volume)
