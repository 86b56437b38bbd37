"""Prices, chances and options: money to the cent, margin and markup apart.

Sources: cost over one less the margin (closed form); lognormal quantiles from SciPy (independent program); margin
against markup: 32 % of the price is 47.06 % of the cost (closed form); repeat visits: judgements stated in
data/regrowth.csv.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sightwash.basis.errors import InputError
from sightwash.basis.sources import Why
from sightwash.planning.ground import gum_anew, plan_ground_takeoff
from sightwash.planning.hours import Hours, Task
from sightwash.planning.mixes import Mixes
from sightwash.planning.options import Option, Scope, plan_options
from sightwash.planning.price import Price, chance_of_loss, plan_price
from sightwash.planning.price_risk import discount_costs, money_shares, price_chance, price_chances
from sightwash.planning.repeat_visits import degree_after, grown_back, repeat_site
from sightwash.planning.water import WaterPlan
from sightwash.site.model import Site
from sightwash.site.rates import Labour, Materials, Rates, Tax, Travel
from sightwash.site.rig import Machine, Rig
from sightwash.site.shapes import placed_walls
from sightwash.site.site_file import read_document

DEMO = Path(__file__).parents[2] / "examples" / "demo"
RIG = Rig("rig", 1, "g", "Trailer", Machine(0.35, 2e7))
WATER = WaterPlan((), (), 0.0, 400.0, 1200.0, 0, 0.0, "none", 0.0, (), None, False, ())
NO_MIX = Mixes((), 0.0, 0.0, ())
WHY = Why("given")


def hours(labour: float, sd: float, machine: float = 0.0) -> Hours:
    """Return hours with a lognormal labour of this mean and deviation [h]."""
    sigma = np.sqrt(np.log1p((sd / labour) ** 2))
    middle = labour * np.exp(-(sigma**2) / 2)
    at = [float(middle * np.exp(sigma * stats.norm.ppf(q))) * 3600 for q in (0.1, 0.5, 0.8, 0.95)]
    task = Task("t", "wall-treat", "treat", "front", 1, "ft2", (1, 1, 1), "ft2/h", 1, 1, 1, labour * 3600, sd * 3600,
                1, True, True, 1.0, WHY)  # fmt: skip
    other = replace(task, part="side", mean=labour * 1800)
    return Hours((task, other), labour * 3600, sd * 3600, *at, *at, machine * 3600, *at, 2, 0.5, 1, 1, WHY)


def rates(**changes: object) -> Rates:
    base = Rates("rates", 1, "r", "Rates", Labour(Decimal("24"), 0.22), machine_hour=Decimal("28"), overhead=0.18,
                 margin=0.32, rounding=Decimal("0.01"), materials=Materials(water=Decimal("0.01")),
                 travel=Travel(34.0, Decimal("1.10"), 4200.0))  # fmt: skip
    return replace(base, **changes)


def priced(worked: Hours, **changes: object) -> Price:
    return plan_price(rates(**changes), RIG, worked, NO_MIX, WATER, {"front": "Front"})


def test_cost_stack_written_out() -> None:
    """10 h x 29.28 + 6 h x 28 + drive 2 x 1.1667 h x 29.28 + water 105.67 gal x 0.01 + 34 mi x 1.10, by hand."""
    found = priced(hours(10.0, 0.0, 6.0))
    by_id = {line.id: line.amount for line in found.costs}
    assert by_id["labour"] == Decimal("292.80")
    assert by_id["machine"] == Decimal("168.00")
    assert by_id["drive-time"] == Decimal("68.22")
    assert by_id["water"] == Decimal("1.06")
    assert by_id["travel"] == Decimal("37.40")
    assert by_id["overhead"] == Decimal("102.15")
    assert "contingency" not in by_id
    assert found.cost == Decimal("669.63")
    assert found.price == Decimal("984.75")
    assert (found.margin, found.markup) == ("32%", "47.1%")


def test_contingency_covers_the_hours_up_to_eight_nights_in_ten() -> None:
    """Mean 8 h, sd 2 h: P80 is 9.5482 h (reference, check 38; SciPy), so 19.35 % of what grows with the hours."""
    found = priced(hours(8.0, 2.0, 5.0))
    by_hours = sum(line.amount for line in found.costs if line.with_hours)
    (line,) = [line for line in found.costs if line.id == "contingency"]
    assert float(line.amount) == pytest.approx(float(by_hours) * (9.5482 / 8 - 1), abs=0.01)
    assert found.expected_cost == found.cost - line.amount


def test_a_firms_own_contingency_is_a_floor() -> None:
    found = priced(hours(8.0, 2.0, 5.0), contingency=0.5)
    (line,) = [line for line in found.costs if line.id == "contingency"]
    direct = sum(each.amount for each in found.costs if each.id not in ("overhead", "contingency"))
    assert line.amount == (direct * Decimal("0.5")).quantize(Decimal("0.01"))


def test_access_and_disposal_are_lines_of_their_own() -> None:
    worked = hours(10.0, 0.0)
    plain = plan_price(rates(), RIG, worked, NO_MIX, WATER, {})
    more = plan_price(rates(), RIG, worked, NO_MIX, WATER, {}, Decimal("80"), Decimal("35.50"))
    assert more.expected_cost - plain.expected_cost == pytest.approx(
        Decimal("115.50") * Decimal("1.18"), abs=Decimal("0.02")
    )
    with pytest.raises(InputError):
        plan_price(rates(), RIG, worked, NO_MIX, WATER, {}, Decimal(-1))


@pytest.mark.parametrize("offered", ["500", "700", "760", "900", "1200"])
def test_chance_of_loss_is_that_of_the_hours(offered: str) -> None:
    """Cost = fixed + by-hours x hours / mean: loss where the hours pass the price (SciPy's lognormal)."""
    worked = hours(10.0, 2.5, 0.0)
    cost, by_hours = Decimal("700"), Decimal("400")
    even = 10.0 * (1 + (float(offered) - 700) / 400)
    sigma = np.sqrt(np.log1p(0.25**2))
    exact = 1.0 if even <= 0 else float(stats.lognorm.sf(even, sigma, scale=10 * np.exp(-(sigma**2) / 2)))
    assert chance_of_loss(Decimal(offered), cost, by_hours, worked) == pytest.approx(exact, abs=1e-9)


MONEY = st.decimals(Decimal("0.01"), Decimal("500"), places=2)


@settings(max_examples=60)
@given(
    st.floats(0.5, 60), st.floats(0.01, 0.5), st.floats(0, 40), MONEY, MONEY, st.floats(0, 0.9), st.floats(0, 1),
    st.sampled_from(["0.01", "0.05", "1", "5", "25"]), st.lists(st.floats(0, 0.25), max_size=3),
)  # fmt: skip
def test_lines_sum_to_totals_to_the_cent(
    labour: float, spread: float, machine: float, wage: Decimal, hour: Decimal, margin: float, overhead: float,
    step: str, taxes: list[float],
) -> None:  # fmt: skip
    worked = hours(labour, labour * spread, machine)
    found = priced(
        worked, labour=Labour(wage, 0.22), machine_hour=hour, margin=margin, overhead=overhead, rounding=Decimal(step),
        taxes=tuple(Tax(f"t{k}", rate) for k, rate in enumerate(taxes)),
    )  # fmt: skip
    cent = Decimal("0.01")
    assert sum(line.amount for line in found.costs) == found.cost
    assert found.cost + found.margin_amount == found.price
    assert found.price + sum((tax.amount for tax in found.taxes), Decimal(0)) == found.total
    assert sum(part.amount for part in found.scope) == found.price
    assert sum(part.amount for part in money_shares(found)) == found.price
    assert found.price % Decimal(step) == 0
    assert found.price >= found.cost
    assert all(line.amount == line.amount.quantize(cent) for line in found.costs)
    for line in found.costs:
        if line.id not in ("overhead", "contingency"):
            quantity = Decimal(line.quantity.split()[0])
            assert abs(quantity * line.rate - line.amount) <= cent / 2
    for each in discount_costs(found, worked):
        assert each.price + each.given == found.price
        assert each.profit == each.price - found.expected_cost


def test_margin_and_markup_are_kept_apart() -> None:
    worked = hours(10.0, 0.0, 6.0)
    at = price_chance(priced(worked), worked, Decimal("1000"))
    assert at.margin == pytest.approx(1 - float(priced(worked).expected_cost) / 1000)
    assert at.markup == pytest.approx(1000 / float(priced(worked).expected_cost) - 1)
    assert at.markup == pytest.approx(at.margin / (1 - at.margin))


def test_higher_prices_lose_less_often() -> None:
    worked = hours(10.0, 2.0, 6.0)
    found = price_chances(priced(worked), worked)
    chances = [each.chance_of_loss for each in found]
    assert chances == sorted(chances, reverse=True)
    assert priced(worked).price in [each.price for each in found]
    assert chances[0] > 0.5 > chances[-1]


def test_a_discount_comes_out_of_the_profit_alone() -> None:
    worked = hours(10.0, 0.0, 6.0)
    found = priced(worked)
    (ten,) = discount_costs(found, worked, (0.10,))
    profit = found.price - found.expected_cost
    assert ten.given == (found.price / 10).quantize(Decimal("0.01"))
    assert ten.profit_lost == pytest.approx(float(ten.given / profit))
    assert ten.more_work is not None
    assert (1 + ten.more_work) * float(ten.profit) == pytest.approx(float(profit), rel=1e-3)
    (deep,) = discount_costs(found, worked, (0.5,))
    assert deep.more_work is None


def test_bad_input_is_refused_by_name() -> None:
    worked = hours(10.0, 1.0)
    for call, code in (
        (lambda: priced(worked, labour=Labour(Decimal(0))), "no-wage"),
        (lambda: discount_costs(priced(worked), worked, (1.0,)), "bad-discount"),
        (lambda: price_chance(priced(worked), worked, Decimal(0)), "no-price"),
        (lambda: grown_back("algae", 0.0), "no-interval"),
    ):
        with pytest.raises(InputError) as refusal:
            call()
        assert refusal.value.problems[0].code == code


@cache
def options() -> tuple[Option, ...]:
    site, rig, given_rates, conditions = (
        read_document(DEMO / f"{kind}.yaml", kind) for kind in ("site", "rig", "rates", "conditions")
    )
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    ground = plan_ground_takeoff(site, placed_walls(site), rig.surface_cleaners[0])
    return plan_options(site, rig, given_rates, conditions, date(2026, 7, 11), ground, ())  # type: ignore[arg-type]


def test_gum_counted_anew_is_what_a_whole_take_off_counts() -> None:
    site, rig = (read_document(DEMO / f"{kind}.yaml", kind) for kind in ("site", "rig"))
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    walls, cleaner = placed_walls(site), rig.surface_cleaners[0]
    found = plan_ground_takeoff(site, walls, cleaner)
    for other in (replace(site, gum=()), repeat_site(site, 6.0)):
        assert gum_anew(found, other, walls) == plan_ground_takeoff(other, walls, cleaner)
        assert gum_anew(found, other, walls) != found


def test_visits_sum_to_the_year_and_each_option_has_its_own_scope_line() -> None:
    found = options()
    assert len({option.id for option in found}) == len({option.words for option in found}) == len(found) == 12
    for option in found:
        assert sum(option.visits) == option.year
        assert len(option.visits) == option.visits_a_year
        assert option.visits[0] == option.first + option.marking


def test_a_repeat_visit_takes_less_work_and_is_not_a_flat_discount() -> None:
    found = {option.id: option for option in options()}
    shares = set()
    for name in ("2-a-year", "4-a-year", "2-a-year-no-gum", "4-a-year-no-tops"):
        option = found[name]
        assert option.repeat is not None
        assert option.repeat_hours is not None
        assert option.repeat_hours < option.first_hours
        shares.add(round(float(option.repeat / option.first), 3))
    assert len(shares) > 2
    twice, four = found["2-a-year"], found["4-a-year"]
    assert four.repeat is not None
    assert twice.repeat is not None
    assert four.repeat <= twice.repeat < twice.first


def test_less_scope_costs_less_and_says_so() -> None:
    found = {option.id: option for option in options()}
    assert found["1-a-year-no-gum"].first < found["1-a-year"].first
    assert found["1-a-year-no-tops"].first < found["1-a-year"].first
    assert found["1-a-year-marking"].year == found["1-a-year"].year + found["1-a-year-marking"].marking
    assert "without gum" in found["1-a-year-no-gum"].words
    assert "without canopy tops" in found["1-a-year-no-tops"].words
    assert found["1-a-year"].scope == Scope()


def test_what_grows_back_by_hand() -> None:
    """1 - exp(-(6/18)^2) is 0.1052, of heavy algae a light film; 1 - exp(-6/9) is 0.4866, of heavy splash moderate."""
    assert grown_back("algae", 6.0) == pytest.approx(0.1052, abs=5e-5)
    assert grown_back("splash", 6.0) == pytest.approx(0.4866, abs=5e-5)
    assert degree_after("algae", "heavy", 6.0) == "light"
    assert degree_after("splash", "heavy", 6.0) == "moderate"
    assert degree_after("algae", "heavy", 60.0) == "heavy"


@given(
    st.sampled_from(["algae", "soot", "splash", "grime"]),
    st.sampled_from(["light", "moderate", "heavy"]),
    st.floats(0.5, 60),
)
def test_nothing_grows_back_worse_than_it_was(kind: str, degree: str, months: float) -> None:
    order = ["light", "moderate", "heavy"]
    assert order.index(degree_after(kind, degree, months)) <= order.index(degree)  # type: ignore[arg-type]


def test_repeat_site_keeps_all_but_dirt_and_gum() -> None:
    site = read_document(DEMO / "site.yaml", "site")
    assert isinstance(site, Site)
    later = repeat_site(site, 6.0)
    assert replace(later, walls=site.walls, gum=site.gum) == site
    assert len(later.gum[0].at) < len(site.gum[0].at)
    assert later.gum[0].density is not None
    assert later.gum[0].density < (site.gum[0].density or 0.0)


@pytest.mark.parametrize(
    ("rate", "said"), [("0.07225", "7.225 %"), ("0.1", "10 %"), ("0.05", "5 %"), ("0", "0 %"), ("0.065", "6.5 %")]
)
def test_a_tax_rate_has_no_more_places_than_it_needs(rate: str, said: str) -> None:
    """A share is so many hundredths: closed form."""
    found = priced(hours(10.0, 0.0, 6.0), taxes=(Tax("sales", float(rate)),))
    assert found.taxes[0].rate == said
