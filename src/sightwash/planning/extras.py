"""Add-ons offered beside the base price, and what is not included, in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import convert
from sightwash.planning.add_on_price import add_on_price
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.gum import GumSpot, seconds_each
from sightwash.planning.marking import MarkingPlan, plan_marking
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.production import rate_in_use
from sightwash.site.model import Site
from sightwash.site.rates import Rates

FADED: Final = ("worn", "faded")
CHARGED: Final = {"scraper": "by hand", "low-water machine": "by low-water machine"}
"""Ways to take gum that cost more than the wash, and how the agreement calls them."""


@dataclass(frozen=True, slots=True)
class AddOn:
    """Something offered beside the base price."""

    id: str
    words: str
    quantity: float
    unit: str
    hours: float
    price: Decimal
    why: Why


@dataclass(frozen=True, slots=True)
class Exclusion:
    """Something that is not in the price, in words for the agreement."""

    id: str
    words: str
    why: Why


def plan_add_ons(site: Site, ground: tuple[GroundTakeoff, ...], rates: Rates) -> tuple[AddOn, ...]:
    """Return what is worth offering after the wash: faded marks and stalls, gum and pads left out.

    Marks come from the take-off of marking; one that has to be measured first has no price and is not offered yet.
    """
    return (*_marks(plan_marking(site, rates)), *_gum(ground, rates), *_pads(ground, rates))


def _marks(marking: MarkingPlan) -> Iterator[AddOn]:
    for line in (*marking.lines, *(row.line for row in marking.stalls)):
        if line.state in FADED and line.price is not None:
            name = f"{'restripe' if line.kind == 'stalls' else 'repaint'}-{line.id}"
            yield AddOn(name, line.words, line.length, "m", line.time / 3600.0, line.price, line.why)


def _gum(ground: tuple[GroundTakeoff, ...], rates: Rates) -> Iterator[AddOn]:
    for surface in ground:
        if surface.washed:
            continue
        for gum in surface.gum:
            open_time = gum.open_spots * seconds_each(rates, "gum-wand")
            hours = (open_time + gum.door_spots * seconds_each(rates, "gum-hand")) / 3600.0
            yield AddOn(
                f"gum-{gum.id}",
                f"gum on {surface.name}",
                gum.open_spots + gum.door_spots,
                "1",
                hours,
                add_on_price(rates, hours, Decimal(0)),
                gum.why,
            )


def _pads(ground: tuple[GroundTakeoff, ...], rates: Rates) -> Iterator[AddOn]:
    for surface in ground:
        if surface.use == "dumpster pad" and not surface.washed:
            rate = rate_in_use(rates, "wand-ground")
            hours = 2.0 * surface.area / convert(rate.usual, rate.unit, "m2/s") / 3600.0
            yield AddOn(
                f"pad-{surface.surface}",
                f"degrease and wash {surface.name}, contained",
                surface.area,
                "m2",
                hours,
                add_on_price(rates, hours, Decimal(0)),
                Why("left out of the base; twice over by wand, wash water contained", ("practice-special-cleaners",)),
            )


def plan_exclusions(
    site: Site, ground: tuple[GroundTakeoff, ...], methods: tuple[SurfaceMethod, ...], gum: tuple[GumSpot, ...]
) -> tuple[Exclusion, ...]:
    """Return what is not in the price; a line stands only where the site has such a thing."""
    return (*_wall_exclusions(site), *_special(methods), *_ground_exclusions(ground, gum))


def _wall_exclusions(site: Site) -> Iterator[Exclusion]:
    user = ("user-document",)
    for wall in site.walls:
        name = wall.name or wall.id
        if wall.excluded is not None:
            yield Exclusion(f"not-{wall.id}", f"{name} is not included: {wall.excluded}", Why("as noted", user))
        if any(p.kind in ("blade sign", "flat sign") for p in wall.projections) and wall.excluded is None:
            yield Exclusion(
                f"signs-{wall.id}",
                f"faces of signs on {name}: rinsed with drift only, not cleaned",
                Why("signs stand on this wall", ("practice-agreement",)),
            )
        if wall.doors and wall.excluded is None:
            yield Exclusion(
                f"doors-{wall.id}", f"insides of doors and frames on {name}", Why("doors", ("practice-doors",))
            )


def _special(methods: tuple[SurfaceMethod, ...]) -> Iterator[Exclusion]:
    for method in methods:
        if method.agent == "special":
            yield Exclusion(
                f"special-{method.target}",
                f"{method.target}: {method.words}",
                Why(method.watch, ("practice-special-cleaners",)),
            )


def _ground_exclusions(ground: tuple[GroundTakeoff, ...], gum: tuple[GumSpot, ...]) -> Iterator[Exclusion]:
    """Yield ground that is not washed, and gum that is left, scraped or taken by a machine of its own; else nothing."""
    for surface in ground:
        name = surface.name
        if not surface.washed:
            words = f"{name} is not washed"
            yield Exclusion(f"ground-{surface.surface}", words, Why("as noted", ("user-document",)))
        own = [spot for spot in gum if spot.surface == surface.surface]
        left = sum(spot.spots for spot in own if spot.how == "leave")
        if left:
            why = Why("gum lies on ground that is not washed", ("practice-gum", "practice-agreement"))
            yield Exclusion(f"gum-left-{surface.surface}", f"gum on {name}, about {left:.0f} spots, is left", why)
        dear = [spot for spot in own if spot.how in CHARGED]
        if dear:
            ways = " and ".join(
                f"{sum(spot.spots for spot in dear if spot.how == how):.0f} spots {words}"
                for how, words in CHARGED.items()
                if any(spot.how == how for spot in dear)
            )
            why = Why("gum lies before doors where no jet may point at it", ("practice-doors", "practice-gum"))
            yield Exclusion(
                f"gum-doors-{surface.surface}", f"gum at doors on {name} beyond {ways}; more is charged", why
            )
