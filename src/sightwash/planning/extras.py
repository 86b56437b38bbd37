"""Add-ons offered beside the base price, and what is not included, in plain words."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from sightwash.basis.money import round_up_to
from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, GALLON, convert
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.tables import starting_rates
from sightwash.science.paint import paint_volume
from sightwash.science.stalls import row_line_length, stall_line_length
from sightwash.site.model import Site
from sightwash.site.rates import Rates

FADED: Final = ("worn", "faded")
LINE_WIDTH: Final = 4 * 0.0254
LETTER_STROKE: Final = 3.0
"""Painted line that a letter needs, as a multiple of its height [-]; a judgement."""


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
    """Return what is worth offering after the wash: faded fire lanes and stalls, gum, pads left out."""
    return (*_kerbs(site, rates), *_stalls(site, rates), *_gum(ground, rates), *_pads(ground, rates))


def add_on_price(rates: Rates, hours: float, materials: Decimal) -> Decimal:
    """Return a price from working hours and materials by the firm's own burden, overhead and margin."""
    wage = rates.labour.wage * (1 + Decimal(repr(float(rates.labour.burden))))
    cost = (wage * Decimal(repr(hours)) + materials) * (1 + Decimal(repr(float(rates.overhead))))
    return round_up_to(cost / (1 - Decimal(repr(float(rates.margin)))), rates.rounding or Decimal("0.01"))


def _usual(rates: Rates, work: str) -> float:
    """Return the usual rate of a work in its starting unit."""
    start = starting_rates()[work]
    own = next((rate for rate in rates.production if rate.work == work), None)
    if own is None or own.unit == start.unit or own.unit == "min":
        return own.usual if own and own.unit == start.unit else start.usual
    return convert(own.usual, own.unit, start.unit)


def _paint(rates: Rates, length: float, width: float) -> Decimal:
    litres = paint_volume(length, width)
    return (rates.materials.marking_paint or Decimal(0)) * Decimal(repr(litres / GALLON))


def _kerbs(site: Site, rates: Rates) -> Iterator[AddOn]:
    for mark in site.markings:
        if mark.state not in FADED:
            continue
        length = sum(math.dist(a, b) for a, b in zip(mark.path, mark.path[1:], strict=False))
        width = float(mark.width or LINE_WIDTH)
        if mark.kind == "letters":
            length = LETTER_STROKE * float(mark.letter_height or 0.15) * len((mark.text or "").replace(" ", ""))
        work = "paint-kerb" if mark.kind in ("kerb", "letters") else "stripe-line"
        hours = length / FOOT / _usual(rates, work)
        lane = " of the fire lane, colour and words by the local text" if mark.fire_lane else ""
        yield AddOn(
            f"repaint-{mark.id}",
            f"repaint {mark.state} {mark.kind}{lane}",
            length,
            "m",
            hours,
            add_on_price(rates, hours, _paint(rates, length, width)),
            Why("faded marks seen on the walk; painted after the wash, when dry", ("practice-add-ons", "ufgs-02763a")),
        )


def _stalls(site: Site, rates: Rates) -> Iterator[AddOn]:
    for row in site.stalls:
        if row.state not in FADED or row.count == 0:
            continue
        length = row_line_length(row.count, stall_line_length(float(row.width), float(row.length), float(row.angle)))
        hours = length / FOOT / _usual(rates, "stripe-line")
        yield AddOn(
            f"restripe-{row.id}",
            f"restripe {row.count} {row.state} stalls as they are",
            length,
            "m",
            hours,
            add_on_price(rates, hours, _paint(rates, length, LINE_WIDTH)),
            Why("line length from stall width, length and angle", ("practice-add-ons", "ufgs-02763a")),
        )


def _gum(ground: tuple[GroundTakeoff, ...], rates: Rates) -> Iterator[AddOn]:
    for surface in ground:
        if surface.washed:
            continue
        for gum in surface.gum:
            hours = gum.open_spots / _usual(rates, "gum-wand") + gum.door_spots / _usual(rates, "gum-hand")
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
            hours = surface.area / FOOT**2 / _usual(rates, "wand-ground") * 2
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
    site: Site, ground: tuple[GroundTakeoff, ...], methods: tuple[SurfaceMethod, ...]
) -> tuple[Exclusion, ...]:
    """Return what is not in the price; a line stands only where the site has such a thing."""
    return tuple(_exclusions(site, ground, methods))


def _exclusions(
    site: Site, ground: tuple[GroundTakeoff, ...], methods: tuple[SurfaceMethod, ...]
) -> Iterator[Exclusion]:
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
    for method in methods:
        if method.agent == "special":
            yield Exclusion(
                f"special-{method.target}",
                f"{method.target}: {method.words}",
                Why(method.watch, ("practice-special-cleaners",)),
            )
    for surface in ground:
        if not surface.washed:
            yield Exclusion(f"ground-{surface.surface}", f"{surface.name} is not washed", Why("as noted", user))
        doors = [gum for gum in surface.gum if gum.door_spots and surface.washed]
        if doors:
            spots = sum(gum.door_spots for gum in doors)
            yield Exclusion(
                f"gum-doors-{surface.surface}",
                f"gum at doors on {surface.name} beyond {spots} spots by hand; more is charged",
                Why("gum lies before doors", ("practice-doors", "practice-gum")),
            )
