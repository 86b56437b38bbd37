"""Risk of a price: the chance of losing money at it, what a discount costs, where the money goes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.money import round_up_to, to_cents
from sightwash.basis.sources import Why
from sightwash.planning.hours import Hours
from sightwash.planning.price import Price, chance_of_loss
from sightwash.science.discounts import margin_after_discount, work_to_make_up

DISCOUNTS: Final = (0.05, 0.10, 0.15, 0.20)
STEPS: Final = 20
CENT: Final = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class PriceChance:
    """A price before tax, what it leaves of the expected cost, and the chance that it does not cover the cost."""

    price: Decimal
    profit: Decimal
    margin: float
    markup: float
    chance_of_loss: float


@dataclass(frozen=True, slots=True)
class DiscountCost:
    """A discount: the price it leaves, the profit it takes, as a share too, and what must be done to make up for it.

    ``more_work`` is further work at the reduced price as a share of the work at the full price; None where the
    discount leaves no profit to make up with.
    """

    discount: float
    price: Decimal
    given: Decimal
    profit: Decimal
    profit_lost: float | None
    margin: float
    more_work: float | None
    chance_of_loss: float
    why: Why


@dataclass(frozen=True, slots=True)
class MoneyShare:
    """One part of the price: what it goes to, the amount, and its share."""

    id: str
    words: str
    amount: Decimal
    share: float


def price_chances(price: Price, hours: Hours, step: Decimal = Decimal(25)) -> tuple[PriceChance, ...]:
    """Return prices from below the expected cost to above the offered price, each with its chance of loss."""
    low = price.expected_cost * Decimal("0.85")
    high = max(price.price, price.expected_cost) * Decimal("1.05")
    size = round_up_to(max((high - low) / STEPS, CENT), step)
    first = round_up_to(low, size)
    wanted = sorted({*(first + number * size for number in range(STEPS + 1)), price.price})
    return tuple(price_chance(price, hours, each) for each in wanted if each > 0)


def price_chance(price: Price, hours: Hours, offered: Decimal) -> PriceChance:
    """Return what another price than the planned one would leave."""
    if not offered > 0:
        words = f"a price of {offered}"
        raise InputError(Problem("no-price", words, key="price", expected="above 0", fix="write the price"))
    profit = offered - price.expected_cost
    return PriceChance(
        to_cents(offered),
        to_cents(profit),
        float(profit / offered),
        float(profit / price.expected_cost) if price.expected_cost > 0 else 0.0,
        chance_of_loss(offered, price.expected_cost, price.by_hours, hours),
    )


def discount_costs(price: Price, hours: Hours, discounts: Sequence[float] = DISCOUNTS) -> tuple[DiscountCost, ...]:
    """Return what each discount on the planned price costs."""
    return tuple(_discounts(price, hours, discounts))


def _discounts(price: Price, hours: Hours, discounts: Sequence[float]) -> Iterator[DiscountCost]:
    margin = float((price.price - price.expected_cost) / price.price) if price.price > 0 else 0.0
    whole = price.price - price.expected_cost
    for discount in discounts:
        if not 0 <= discount < 1:
            words = f"a discount of {discount:g}"
            fix = "write a share such as `0.1`"
            raise InputError(Problem("bad-discount", words, key="discount", expected="0 to below 1", fix=fix))
        given = to_cents(price.price * Decimal(repr(discount)))
        left = price.price - given
        yield DiscountCost(
            discount,
            left,
            given,
            left - price.expected_cost,
            float(given / whole) if whole > 0 else None,
            margin_after_discount(margin, discount),
            work_to_make_up(margin, discount) if margin > discount else None,
            chance_of_loss(left, price.expected_cost, price.by_hours, hours),
            Why("the cost stays, the discount comes out of the profit alone", ("discount-margin",)),
        )


def money_shares(price: Price) -> tuple[MoneyShare, ...]:
    """Return where the price goes; the parts sum to it to the cent."""
    parts = [(line.id, line.words, line.amount) for line in price.costs if line.amount]
    parts.append(("margin", f"margin of {price.margin} and rounding", price.margin_amount))
    whole = price.price
    return tuple(
        MoneyShare(name, words, amount, float(amount / whole) if whole > 0 else 0.0) for name, words, amount in parts
    )
