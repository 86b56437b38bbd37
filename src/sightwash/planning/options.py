"""Options: once, twice or four times a year, with or without gum, canopy tops and marking, each planned and priced."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.money import ZERO, to_cents
from sightwash.basis.sources import Why
from sightwash.planning.bleach import plan_bleach
from sightwash.planning.extras import plan_add_ons
from sightwash.planning.ground import GroundTakeoff, gum_anew
from sightwash.planning.hours import Hours
from sightwash.planning.methods import plan_methods
from sightwash.planning.mixes import plan_mixes
from sightwash.planning.price import Price, plan_price
from sightwash.planning.repeat_visits import repeat_site
from sightwash.planning.standing import Standing
from sightwash.planning.takeoff import WallTakeoff, plan_wall_takeoff
from sightwash.planning.water import ground_tips
from sightwash.planning.weather import plan_air
from sightwash.planning.work_and_water import plan_work_and_water
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import placed_walls

VISITS_A_YEAR: Final = (1, 2, 4)
LEDGES: Final = ("canopy", "awning", "ledge", "other")
MARKING: Final = ("repaint-", "restripe-")
FREQUENCIES: Final = {1: "once", 2: "twice a year", 4: "four times a year"}


@dataclass(frozen=True, slots=True)
class Scope:
    """What an option holds beyond the walls: gum, canopy tops with the strip above them, marking."""

    gum: bool = True
    canopy_tops: bool = True
    marking: bool = False


SCOPES: Final = (
    Scope(),
    Scope(gum=False),
    Scope(canopy_tops=False),
    Scope(marking=True),
)


@dataclass(frozen=True, slots=True)
class Option:
    """One option with its own scope line; prices before tax.

    ``visits`` sum to ``year``. A repeat visit is planned anew on what has grown back by then; with one visit a year
    there is none.
    """

    id: str
    words: str
    visits_a_year: int
    scope: Scope
    first: Decimal
    repeat: Decimal | None
    marking: Decimal
    visits: tuple[Decimal, ...]
    year: Decimal
    first_hours: float
    repeat_hours: float | None
    chance_of_loss: float
    repeat_chance_of_loss: float | None
    why: tuple[Why, ...]


@dataclass(frozen=True, slots=True)
class _Visit:
    """Hours and price of one planned visit."""

    hours: Hours
    price: Price


def plan_options(
    site: Site,
    rig: Rig,
    rates: Rates,
    conditions: Conditions,
    on: date,
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    scopes: tuple[Scope, ...] = SCOPES,
    visits_a_year: tuple[int, ...] = VISITS_A_YEAR,
    dark: bool = False,
) -> tuple[Option, ...]:
    """Return every option: each scope at each number of visits a year.

    The ground's shapes and the places to stand are the plan's; dirt and gum are taken as they will be by then.
    """
    return tuple(_options(site, rig, rates, conditions, on, ground, standings, scopes, visits_a_year, dark))


def _options(
    site: Site,
    rig: Rig,
    rates: Rates,
    conditions: Conditions,
    on: date,
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    scopes: tuple[Scope, ...],
    visits_a_year: tuple[int, ...],
    dark: bool,
) -> Iterator[Option]:
    sites = {count: site if count == 1 else repeat_site(site, _interval(count)) for count in {1, *visits_a_year}}
    for scope in scopes:
        marking = _marking(site, rates) if scope.marking else ZERO
        planned = {
            count: _visit(each, rig, rates, conditions, on, ground, standings, scope, dark)
            for count, each in sites.items()
        }
        for count in visits_a_year:
            yield _option(site, scope, count, planned[1], planned[count] if count > 1 else None, marking)


def _interval(count: int) -> float:
    """Return the months between two visits."""
    if count < 1:
        words = f"{count} visits a year"
        raise InputError(Problem("too-few", words, key="visits_a_year", expected="1 or more", fix="write `1`"))
    return 12.0 / count


def _marking(site: Site, rates: Rates) -> Decimal:
    """Return the price of all faded marks, as the add-ons have it."""
    return sum((each.price for each in plan_add_ons(site, (), rates) if each.id.startswith(MARKING)), ZERO)


def _visit(
    site: Site,
    rig: Rig,
    rates: Rates,
    conditions: Conditions,
    on: date,
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    scope: Scope,
    dark: bool,
) -> _Visit:
    """Return a visit planned as ``plan_visit`` does, with the places to stand taken as they are."""
    scoped = site if scope.gum else replace(site, gum=())
    walls, air = placed_walls(scoped), plan_air(conditions)
    takeoffs = tuple(plan_wall_takeoff(wall) for wall in walls)
    ground = gum_anew(ground, scoped, walls)
    tops = {name for takeoff in takeoffs for name in _tops(takeoff)}
    methods = tuple(
        method
        for wall, takeoff in zip(walls, takeoffs, strict=True)
        for method in plan_methods(wall, takeoff, rig, air)
        if scope.canopy_tops or method.target not in tops
    )
    mixes = plan_mixes(methods, plan_bleach(rig.bleach, on), rig.injector)
    tips = ground_tips(rig, ground)
    hours, water = plan_work_and_water(scoped, rig, rates, takeoffs, methods, ground, standings, mixes, tips, dark)
    return _Visit(hours, plan_price(rates, rig, hours, mixes, water, {}, rates.access, rates.disposal))


def _tops(takeoff: WallTakeoff) -> Iterator[str]:
    """Yield the tops of canopies, awnings and ledges, and the splash strips above them."""
    yield from (face.id for face in takeoff.faces if face.face == "top" and face.kind in LEDGES)
    yield from (patch.id for patch in takeoff.patches if patch.soiling == "splash")


def _option(site: Site, scope: Scope, count: int, first: _Visit, repeat: _Visit | None, marking: Decimal) -> Option:
    later = first if repeat is None else repeat
    visits = (first.price.price + marking, *(later.price.price for _ in range(count - 1)))
    name = f"{count}-a-year{'' if scope.gum else '-no-gum'}{'' if scope.canopy_tops else '-no-tops'}"
    return Option(
        f"{name}{'-marking' if scope.marking else ''}", _scope_line(site, scope, count), count, scope,
        first.price.price, None if repeat is None else repeat.price.price, marking, visits,
        to_cents(sum(visits, ZERO)), first.hours.labour_mean,
        None if repeat is None else repeat.hours.labour_mean, first.price.chance_of_loss,
        None if repeat is None else repeat.price.chance_of_loss, _whys(count, repeat is not None),
    )  # fmt: skip


def _scope_line(site: Site, scope: Scope, count: int) -> str:
    """Return what is in the option and what is not, for the offer."""
    walls = [wall.name or wall.id for wall in site.walls if wall.excluded is None]
    floors = [surface.name or surface.id for surface in site.surfaces if surface.wash]
    tops = any(item.kind in ("canopy", "awning", "ledge") for wall in site.walls for item in wall.projections)
    inside = [f"walls ({', '.join(walls)})"] if walls else []
    inside += [f"ground ({', '.join(floors)})"] if floors else []
    outside: list[str] = []
    for has, wanted, words in (
        (bool(site.gum), scope.gum, "gum"),
        (tops, scope.canopy_tops, "canopy tops and the strip above them"),
        (bool(site.markings or site.stalls), scope.marking, "repainting of faded marks (once)"),
    ):
        if has:
            (inside if wanted else outside).append(words)
    without = f"; without {', '.join(outside)}" if outside else ""
    return f"{FREQUENCIES.get(count, f'{count} times a year')}: {', '.join(inside) or 'nothing'}{without}"


def _whys(count: int, repeated: bool) -> tuple[Why, ...]:
    whys = [Why("planned and priced like the base visit", ("user-document",))]
    if repeated:
        rule = (
            f"every {12 / count:g} months: degrees of dirt and gum as grown back by then, methods, hours and materials "
            "planned anew; no flat discount"
        )
        whys.append(Why(rule, ("practice-regrowth", "avrami-algae", "practice-options")))
    return tuple(whys)
