"""Price: the cost stack, the margin, sensible rounding, tax, and what a bad night does to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from sightwash.basis.money import ZERO, round_up_to, share, to_cents
from sightwash.basis.sources import Why
from sightwash.basis.units import GALLON, POUND
from sightwash.planning.hours import Hours
from sightwash.planning.mixes import Mixes
from sightwash.planning.water import WaterPlan
from sightwash.science.lognormal import lognormal_of_moments, lognormal_share_below
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

HOUR: Final = Decimal(3600)


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of cost: quantity times rate."""

    id: str
    words: str
    quantity: str
    rate: Decimal
    amount: Decimal
    with_hours: bool
    why: Why


@dataclass(frozen=True, slots=True)
class TaxLine:
    """One tax on the price."""

    name: str
    rate: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class ScopePrice:
    """What one part of the scope carries of the price before tax."""

    part: str
    words: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """One price first; cost, margin, tax, the scope's shares, and the chance of losing money behind it."""

    currency: str
    costs: tuple[CostLine, ...]
    cost: Decimal
    margin: str
    margin_amount: Decimal
    minimum_applied: bool
    price: Decimal
    taxes: tuple[TaxLine, ...]
    total: Decimal
    scope: tuple[ScopePrice, ...]
    price_low: Decimal
    price_high: Decimal
    chance_of_loss: float
    why: tuple[Why, ...]


def plan_price(rates: Rates, rig: Rig, hours: Hours, mixes: Mixes, water: WaterPlan, names: dict[str, str]) -> Price:
    """Return the price of the base visit; lines sum to totals to the cent."""
    costs = (*_hour_costs(rates, hours), *_other_costs(rates, rig, mixes, water))
    direct = sum((line.amount for line in costs), ZERO)
    extra = tuple(_share_lines(rates, direct))
    cost = direct + sum((line.amount for line in extra), ZERO)
    price, minimum = _price_of(rates, cost)
    taxes = tuple(
        TaxLine(tax.name, f"{tax.rate:.4%}".rstrip("0").rstrip("."), to_cents(price * _exact(tax.rate)))
        for tax in rates.taxes
    )
    by_hours = sum((line.amount for line in costs if line.with_hours), ZERO)
    low, high = (
        _price_of(rates, cost + by_hours * (_exact(level / hours.labour_mean) - 1) * _loading(rates))[0]
        for level in (hours.labour_p10, hours.labour_p95)
    )
    rule = f"price = cost / (1 - {rates.margin:.0%}), rounded up to {rates.rounding}"
    whys = [Why(rule, ("markup-margin", "user-document"))]
    if minimum:
        whys.append(Why(f"raised to the minimum charge of {rates.minimum_charge}", ("user-document",)))
    return Price(
        rates.currency,
        (*costs, *extra),
        cost,
        f"{rates.margin:.0%}",
        price - cost,
        minimum,
        price,
        taxes,
        price + sum((tax.amount for tax in taxes), ZERO),
        _scope(hours, price, names),
        low,
        high,
        chance_of_loss(price, cost, by_hours * _loading(rates), hours),
        tuple(whys),
    )


def chance_of_loss(price: Decimal, cost: Decimal, by_hours: Decimal, hours: Hours) -> float:
    """Return the chance that the cost comes out above a price, hours alone being uncertain."""
    if by_hours <= 0 or hours.labour_sd <= 0:
        return 0.0 if price >= cost else 1.0
    break_even = hours.labour_mean * float(1 + (price - cost) / by_hours)
    if break_even <= 0:
        return 1.0
    curve = lognormal_of_moments(hours.labour_mean, hours.labour_sd)
    return 1.0 - lognormal_share_below(curve.mu, curve.sigma, break_even)


def _exact(number: float) -> Decimal:
    return Decimal(repr(float(number)))


def _loading(rates: Rates) -> Decimal:
    """Return how much cost a unit of direct cost carries with overhead and contingency."""
    return 1 + _exact(rates.overhead) + _exact(rates.contingency)


def _price_of(rates: Rates, cost: Decimal) -> tuple[Decimal, bool]:
    wanted = cost / (1 - _exact(rates.margin))
    minimum = wanted < rates.minimum_charge
    step = rates.rounding if rates.rounding > 0 else Decimal("0.01")
    return round_up_to(max(wanted, rates.minimum_charge), step), minimum


def _hour_costs(rates: Rates, hours: Hours) -> tuple[CostLine, ...]:
    wage = rates.labour.wage * (1 + _exact(rates.labour.burden))
    people = Decimal(hours.people)
    labour = _exact(hours.labour_mean) / HOUR
    machine = _exact(hours.machine_mean) / HOUR
    drive = _exact(float(rates.travel.time)) / HOUR * people
    return (
        _line("labour", "labour with payroll burden", labour, "h", wage, True, "mean hours of all tasks"),
        _line("machine", "machine with the pump running", machine, "h", rates.machine_hour, True, "hours of wet work"),
        _line("drive-time", "drive, whole crew", drive, "h", wage, False, "as in the rates"),
    )


def _other_costs(rates: Rates, rig: Rig, mixes: Mixes, water: WaterPlan) -> tuple[CostLine, ...]:
    materials = rates.materials
    surfactant = sum(mix.surfactant for mix in mixes.mixes)
    gallons = {
        "bleach": ("bleach", mixes.stock, materials.bleach),
        "surfactant": ("surfactant", surfactant, materials.surfactant),
        "water": ("water", water.total, materials.water),
    }
    lines = [
        _line(name, words, _exact(litres / GALLON), "gal", rate, False, "from the mix and water plans")
        for name, (words, litres, rate) in gallons.items()
        if rate is not None and litres > 0
    ]
    if materials.neutraliser is not None and water.neutraliser_mass > 0:
        pounds = _exact(water.neutraliser_mass / POUND)
        lines.append(_line("neutraliser", water.neutraliser, pounds, "lb", materials.neutraliser, False, "to carry"))
    miles = _exact(rates.travel.miles)
    lines.append(_line("travel", f"travel of {rig.name}", miles, "mi", rates.travel.a_mile, False, "out and back"))
    return tuple(lines)


def _line(name: str, words: str, quantity: Decimal, unit: str, rate: Decimal, hourly: bool, rule: str) -> CostLine:
    shown = quantity.quantize(Decimal("0.01"))
    amount = to_cents(shown * rate)
    return CostLine(name, words, f"{shown} {unit}", to_cents(rate), amount, hourly, Why(rule, ("user-document",)))


def _share_lines(rates: Rates, direct: Decimal) -> Sequence[CostLine]:
    shares = (
        ("overhead", rates.overhead, "overhead on direct cost"),
        ("contingency", rates.contingency, "contingency"),
    )
    return [
        CostLine(
            name,
            words,
            f"{value:.1%}",
            direct,
            to_cents(direct * _exact(value)),
            False,
            Why("as in the rates", ("user-document",)),
        )
        for name, value, words in shares
        if value > 0
    ]


def _scope(hours: Hours, price: Decimal, names: dict[str, str]) -> tuple[ScopePrice, ...]:
    """Share the price over the parts of the scope by their labour; work around the visit is spread over them."""
    labour: dict[str, float] = {}
    for task in hours.tasks:
        if task.part != "around":
            labour[task.part] = labour.get(task.part, 0.0) + task.mean * task.workers
    if not labour:
        return (ScopePrice("visit", "the visit", price),)
    amounts = share(price, list(labour.values()))
    return tuple(ScopePrice(part, names.get(part, part), amount) for part, amount in zip(labour, amounts, strict=True))
