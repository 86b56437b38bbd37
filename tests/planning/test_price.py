"""Price: money that adds up to the cent, margins against markups, and what a slow night does.

- Markup m for a margin g is g / (1 - g): 20 % is 25 %, 25 % 33.33 %, 30 % 42.86 %, 35 % 53.85 %, 40 % 66.67 %, 50 %
  100 % (closed form, as every table of the two prints it).
- Sums of money are Python's Decimal by hand.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.planning.price import chance_of_loss
from sightwash.planning.visit import VisitPlan

CENT = Decimal("0.01")
WALK = {"surfaces": [{"id": "walk", "along": "front", "width": 8}]}
SHORT = {"start": "10:00", "end": "11:00"}
"""A short window: the clock of the night is not asked about here."""
RIG = {
    "bleach": {"strength": "12.5 trade %", "dated": "2026-07-01"},
    "tips": [{"id": "soap", "size": 40, "fan": 25, "use": "soap"}],
}


def priced(make: Any, **rates: Any) -> Any:
    return make.visit(site=WALK, rig=RIG, rates=rates, conditions=SHORT).price


@pytest.mark.parametrize(
    ("margin", "markup"), [(20, "25.00"), (25, "33.33"), (30, "42.86"), (35, "53.85"), (40, "66.67"), (50, "100.00")]
)
def test_a_margin_is_no_markup(make: Any, margin: int, markup: str) -> None:
    price = priced(make, margin=f"{margin} %", rounding="0.01", labour={"wage": "240"})
    over_cost = (price.price / price.cost - 1) * 100
    assert over_cost.quantize(CENT, ROUND_HALF_UP) == Decimal(markup)
    assert price.margin_amount == price.price - price.cost


@pytest.mark.parametrize("step", ["0.01", "1", "5", "25"])
def test_the_price_is_rounded_up_to_its_step(make: Any, step: str) -> None:
    price, exact = priced(make, rounding=step), priced(make, rounding="0.01")
    assert price.price % Decimal(step) == 0
    assert exact.price <= price.price < exact.price + Decimal(step)


def test_the_minimum_charge(make: Any) -> None:
    price = priced(make, minimum_charge="5000")
    assert price.price == Decimal("5000.00")
    assert price.minimum_applied
    assert any("minimum" in why.rule for why in price.why)
    assert not priced(make, minimum_charge="1").minimum_applied


def test_the_lines_of_cost_by_hand(make: Any) -> None:
    """34 miles at 1.10 are 37.40; two people for 70 min at 24.00 and 22 % are 2.33 h at 29.28."""
    price = priced(
        make, labour={"wage": "24.00", "burden": "22 %"}, travel={"miles": 34, "a_mile": "1.10", "time": "70 min"}
    )
    lines = {line.id: line for line in price.costs}
    assert lines["travel"].amount == Decimal("37.40")
    assert lines["drive-time"].rate == Decimal("29.28")
    assert lines["drive-time"].amount == (Decimal("2.33") * Decimal("29.28")).quantize(CENT, ROUND_HALF_UP)


def test_taxes_are_on_the_price(make: Any) -> None:
    taxes = [{"name": "State", "rate": "4.225 %"}, {"name": "City", "rate": "3 %"}]
    price = priced(make, taxes=taxes)
    state, city = price.taxes
    assert state.amount == (price.price * Decimal("0.04225")).quantize(CENT, ROUND_HALF_UP)
    assert city.amount == (price.price * Decimal("0.03")).quantize(CENT, ROUND_HALF_UP)
    assert price.total == price.price + state.amount + city.amount


def moneys(value: Any, path: str = "price") -> list[tuple[str, Any]]:
    """Return every amount of money in a price: the fields that say they are Decimal."""
    found = []
    for field in fields(value):
        item, here = getattr(value, field.name), f"{path}.{field.name}"
        if field.type == "Decimal":
            found.append((here, item))
        elif isinstance(item, tuple):
            found += [pair for part in item if is_dataclass(part) for pair in moneys(part, here)]
    return found


money = st.decimals("0.00", "500.00", places=2).map(str)
percent = st.integers(0, 60).map(lambda n: f"{n} %")


@settings(max_examples=40)
@given(
    wage=st.decimals("0.01", "300.00", places=2).map(str),
    burden=percent,
    machine=money,
    overhead=percent,
    contingency=percent,
    margin=st.integers(0, 90).map(lambda n: f"{n} %"),
    minimum=st.sampled_from(["0", "450", "12345.67"]),
    rounding=st.sampled_from(["0.01", "0.05", "1", "5", "100"]),
    tax=st.integers(0, 20).map(lambda n: f"{n}.225 %"),
    miles=st.integers(0, 400),
    bleach=money,
)
def test_money_adds_up(make: Any, **v: Any) -> None:
    price = priced(
        make,
        labour={"wage": v["wage"], "burden": v["burden"]},
        machine_hour=v["machine"],
        materials={"bleach": v["bleach"], "surfactant": "22", "neutraliser": "2.60", "water": "0.01"},
        travel={"miles": v["miles"], "a_mile": "1.10", "time": "45 min"},
        overhead=v["overhead"],
        contingency=v["contingency"],
        margin=v["margin"],
        minimum_charge=v["minimum"],
        rounding=v["rounding"],
        taxes=[{"name": "Sales", "rate": v["tax"]}],
    )
    assert sum(line.amount for line in price.costs) == price.cost
    assert sum(part.amount for part in price.scope) == price.price
    assert price.price + sum(tax.amount for tax in price.taxes) == price.total
    assert price.cost + price.margin_amount == price.price
    assert price.price >= Decimal(v["minimum"])
    share = Decimal(v["margin"].removesuffix(" %")) / 100
    assert price.price * (1 - share) >= price.cost - Decimal("1e-9")
    assert price.price % Decimal(v["rounding"]) == 0
    assert price.price_low <= price.price <= price.price_high
    assert 0.0 <= price.chance_of_loss <= 1.0
    for name, amount in moneys(price):
        assert type(amount) is Decimal, name
        assert amount == amount.quantize(CENT) or name.endswith(".rate"), name


def test_no_float_is_money(demo_plan: VisitPlan) -> None:
    """Every field of the price is a Decimal, a text, a flag or parts of such; one share alone is a float."""
    found = moneys(demo_plan.price)
    assert len(found) > 30
    assert all(type(amount) is Decimal for _, amount in found)
    floats = [f.name for f in fields(demo_plan.price) if isinstance(getattr(demo_plan.price, f.name), float)]
    assert floats == ["chance_of_loss"]


def test_a_higher_price_loses_less_often(demo_plan: VisitPlan) -> None:
    price, hours = demo_plan.price, demo_plan.hours
    by_hours = sum((line.amount for line in price.costs if line.with_hours), Decimal(0))
    chances = [chance_of_loss(price.cost * k / 10, price.cost, by_hours, hours) for k in range(5, 20)]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] > 0.9
    assert chances[-1] < 0.01
    at_cost = chance_of_loss(price.cost, price.cost, by_hours, hours)
    assert 0.4 < at_cost < 0.5, "at the mean cost a right-skewed night loses a little less than half of the time"


def test_a_wider_margin_loses_less_often(make: Any) -> None:
    chances = [priced(make, margin=f"{m} %", rounding="0.01").chance_of_loss for m in (0, 10, 20, 30, 50)]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] > chances[-1]


def test_work_without_a_wage_is_refused(make: Any) -> None:
    with pytest.raises(InputError) as caught:
        priced(make, labour={"wage": "0"})
    assert caught.value.problems[0].key == "labour.wage"


def test_the_scope_of_the_demo(demo_plan: VisitPlan) -> None:
    """Every wall that is worked on and every surface that is washed carries its share; what is left out none."""
    parts = {line.part for line in demo_plan.price.scope}
    assert parts == {
        "row-front", "row-east", "row-west", "pad-front", "pad-west", "pad-east", "front-walk", "pad-walk",
    }  # fmt: skip
    assert all(line.amount > 0 for line in demo_plan.price.scope)
    assert all(line.words for line in demo_plan.price.scope)


def test_add_ons_are_priced_beside(demo_plan: VisitPlan) -> None:
    """Kerb of 160 ft and 17 stalls 9 x 18: 18 lines of 18 ft are 324 ft (closed form)."""
    add_ons = {add_on.id: add_on for add_on in demo_plan.add_ons}
    assert add_ons["repaint-fire-kerb"].quantity / 0.3048 == pytest.approx(160)
    assert add_ons["restripe-row-stalls"].quantity / 0.3048 == pytest.approx(18 * 18)
    assert all(type(add_on.price) is Decimal and add_on.price > 0 for add_on in demo_plan.add_ons)
    assert demo_plan.price.price == sum(part.amount for part in demo_plan.price.scope)
