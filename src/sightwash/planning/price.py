"""Price: the cost stack, the margin, sensible rounding, tax, and what a bad night does to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.money import ZERO, round_up_to, share, to_cents
from sightwash.basis.sources import Why
from sightwash.basis.units import GALLON, POUND
from sightwash.planning.hours import Hours
from sightwash.planning.mixes import Mixes
from sightwash.planning.water import WaterPlan
from sightwash.science.lognormal import lognormal_of_moments, lognormal_share_below
from sightwash.science.margins import markup_of_margin
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

HOUR: Final = Decimal(3600)
RATE_STEP: Final = Decimal("0.0001")
CONTINGENCY: Final = "contingency"


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
    """One price first; cost, margin, tax, the scope's shares, and the chance of losing money behind it.

    ``margin`` is a share of the price, ``markup`` the same money as a share of the cost. ``expected_cost`` is
    the cost without its contingency; ``by_hours`` the part of it that grows with the hours, overhead included.
    """

    currency: str
    costs: tuple[CostLine, ...]
    cost: Decimal
    expected_cost: Decimal
    by_hours: Decimal
    margin: str
    markup: str
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


def plan_price(
    rates: Rates,
    rig: Rig,
    hours: Hours,
    mixes: Mixes,
    water: WaterPlan,
    names: dict[str, str],
    access: Decimal = ZERO,
    disposal: Decimal = ZERO,
) -> Price:
    """Return the price of the base visit; lines sum to totals to the cent.

    ``access`` is what ladders, lifts and their hire cost a visit; ``disposal`` what containing and taking away the
    wash water costs.
    """
    _require_wage(rates)
    costs = (*_hour_costs(rates, hours), *_other_costs(rates, rig, mixes, water), *_given(access, disposal))
    direct = _total(costs)
    by_hours = _total(line for line in costs if line.with_hours)
    extra = (*_overhead(rates, direct), *_contingency(rates, direct, by_hours, hours))
    cost = direct + _total(extra)
    expected = cost - _total(line for line in extra if line.id == CONTINGENCY)
    loaded = by_hours * (1 + _exact(rates.overhead))
    price, minimum = _price_of(rates, cost)
    taxes = tuple(TaxLine(tax.name, _percent(tax.rate), to_cents(price * _exact(tax.rate))) for tax in rates.taxes)
    low, high = (
        _price_of(rates, cost + loaded * (_exact(level / hours.labour_mean) - 1))[0] if hours.labour_mean > 0 else price
        for level in (hours.labour_p10, hours.labour_p95)
    )
    return Price(
        rates.currency, (*costs, *extra), cost, expected, to_cents(loaded), f"{rates.margin:.0%}",
        f"{markup_of_margin(float(rates.margin)):.1%}", price - cost, minimum, price, taxes,
        price + sum((tax.amount for tax in taxes), ZERO), _scope(hours, price, names), low, high,
        chance_of_loss(price, expected, loaded, hours), _price_whys(rates, minimum),
    )  # fmt: skip


def _percent(share: float) -> str:
    """Return a share as percent with as many places as it has, four at most."""
    return f"{share * 100.0:.4f}".rstrip("0").rstrip(".") + " %"


def _price_whys(rates: Rates, minimum: bool) -> tuple[Why, ...]:
    rule = f"price = cost / (1 - {rates.margin:.0%}), rounded up to {rates.rounding}"
    whys = [Why(rule, ("markup-margin", "user-document"))]
    if minimum:
        whys.append(Why(f"raised to the minimum charge of {rates.minimum_charge}", ("user-document",)))
    return tuple(whys)


def _require_wage(rates: Rates) -> None:
    if rates.labour.wage <= 0:
        words = "an hour of work costs nothing"
        fix = "write what an hour costs"
        raise InputError(Problem("no-wage", words, key="labour.wage", expected="a wage above 0", fix=fix))


def _total(lines: Iterable[CostLine]) -> Decimal:
    return sum((line.amount for line in lines), ZERO)


def chance_of_loss(price: Decimal, cost: Decimal, by_hours: Decimal, hours: Hours) -> float:
    """Return the chance that the cost comes out above a price, hours alone being uncertain.

    ``cost`` is the expected cost, a contingency left out: what is set aside and not needed is not lost.
    """
    if by_hours <= 0 or hours.labour_sd <= 0:
        return 0.0 if price >= cost else 1.0
    break_even = hours.labour_mean * float(1 + (price - cost) / by_hours)
    if break_even <= 0:
        return 1.0
    curve = lognormal_of_moments(hours.labour_mean, hours.labour_sd)
    return 1.0 - lognormal_share_below(curve.mu, curve.sigma, break_even)


def _exact(number: float) -> Decimal:
    return Decimal(repr(float(number)))


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
    """Return a line whose amount is its own shown quantity times its own shown rate."""
    shown, shown_rate = quantity.quantize(Decimal("0.01")), _shown_rate(rate)
    return CostLine(
        name, words, f"{shown} {unit}", shown_rate, to_cents(shown * shown_rate), hourly, Why(rule, ("user-document",))
    )


def _shown_rate(rate: Decimal) -> Decimal:
    """Return a rate in whole cents, or in hundredths of a cent where it is not."""
    cents = to_cents(rate)
    return cents if cents == rate else rate.quantize(RATE_STEP)


def _given(access: Decimal, disposal: Decimal) -> Iterator[CostLine]:
    for name, words, amount in (
        ("access", "ladders, lifts and their hire", access),
        ("disposal", "containing and taking away wash water", disposal),
    ):
        if amount < 0:
            fix = "write what it costs, or leave it out"
            raise InputError(Problem("negative-cost", f"{amount} is below 0", key=name, expected="0 or more", fix=fix))
        if amount > 0:
            yield _line(name, words, Decimal(1), "visit", to_cents(amount), False, "as in the rates")


def _overhead(rates: Rates, direct: Decimal) -> Iterator[CostLine]:
    if rates.overhead > 0:
        amount = to_cents(direct * _exact(rates.overhead))
        why = Why("as in the rates", ("user-document",))
        yield CostLine("overhead", "overhead on direct cost", f"{rates.overhead:.1%}", direct, amount, False, why)


def _contingency(rates: Rates, direct: Decimal, by_hours: Decimal, hours: Hours) -> Iterator[CostLine]:
    """Yield what covers the hours that two nights in ten exceed, or the firm's own share if that is more."""
    stated = to_cents(direct * _exact(rates.contingency))
    more = max(hours.labour_p80 / hours.labour_mean - 1.0, 0.0) if hours.labour_mean > 0 else 0.0
    spread = to_cents(by_hours * _exact(more))
    if stated > 0 and stated >= spread:
        why = Why("as in the rates; the spread of the hours asks for less", ("user-document",))
        yield CostLine(CONTINGENCY, "contingency", f"{rates.contingency:.1%}", direct, stated, False, why)
    elif spread > 0:
        why = Why("hours between the mean and the level that 8 nights in 10 keep below", ("contingency-spread",))
        yield CostLine(CONTINGENCY, "contingency: hours up to P80", f"{more:.1%}", by_hours, spread, False, why)


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
