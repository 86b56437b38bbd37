"""Hours: tasks, totals and refusals.

Sources: the three-point rule (published, see tests/published/test_pert_three_point.py); moments of correlated
lognormals by NumPy's own multivariate normal (independent program); feet, square feet and minutes by NIST Special
Publication 811 (published).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.basis.sources import Why
from sightwash.planning.ground import GroundPart, GroundTakeoff
from sightwash.planning.hour_needs import Kind, Need
from sightwash.planning.hours import Hours, plan_hours, rate_of
from sightwash.planning.takeoff import WallTakeoff
from sightwash.site.model import Site
from sightwash.site.rates import Labour, ProductionRate, Rates
from sightwash.site.rig import Crew, Machine, Rig

SITE = Site("site", 1, "s", "Site")
RATES = Rates("rates", 1, "r", "Rates", Labour(wage=Decimal(24)))
RIG = Rig("rig", 1, "g", "Rig", Machine(0.35, 2e7), crew=Crew(people=2))
FOOT = 0.3048


def walk(square_feet: float) -> GroundTakeoff:
    """Return a walk that is all swept."""
    part = GroundPart("walk-wand", "walk", "concrete", "wand", (), square_feet * FOOT**2, 0.0, Why("given"))
    return GroundTakeoff("walk", "Walk", "walk", "concrete", (), square_feet * FOOT**2, True, (part,), (), ())


def hours(square_feet: float = 800.0, rates: Rates = RATES, people: int = 2, dark: bool = False) -> Hours:
    rig = replace(RIG, crew=Crew(people=people))
    takeoffs: tuple[WallTakeoff, ...] = ()
    return plan_hours(SITE, takeoffs, (), (walk(square_feet),), (), rig, rates, dark)


def with_rate(*rates: ProductionRate) -> Rates:
    return replace(RATES, production=rates)


def test_time_is_quantity_over_rate_by_the_three_point_rule() -> None:
    """800 ft2 at 200, 400 and 700 ft2 an hour: 4, 2 and 1.142857 h; mean (a + 4 m + b)/6, sd (b - a)/6."""
    task = next(t for t in hours().tasks if t.work == "wand-ground")
    assert (task.high, task.usual, task.low) == pytest.approx((4 * 3600, 2 * 3600, 800 / 700 * 3600))
    assert task.mean == pytest.approx((800 / 700 + 8 + 4) / 6 * 3600)
    assert task.sd == pytest.approx((4 - 800 / 700) / 6 * 3600)
    assert task.starting_rate
    assert "yours to replace" in task.why.rule


def test_own_rate_in_metric_gives_the_same_time() -> None:
    own = with_rate(ProductionRate("wand-ground", 200 * FOOT**2, 400 * FOOT**2, 700 * FOOT**2, "m2/h"))
    task = next(t for t in hours(rates=own).tasks if t.work == "wand-ground")
    assert (task.high, task.usual, task.low) == pytest.approx((4 * 3600, 2 * 3600, 800 / 700 * 3600))
    assert not task.starting_rate


def test_a_rate_in_minutes_is_minutes_each() -> None:
    own = with_rate(ProductionRate("set-up", 10, 20, 40, "min"))
    task = next(t for t in hours(rates=own).tasks if t.work == "set-up")
    assert (task.low, task.usual, task.high) == (600, 1200, 2400)
    assert task.workers == 2


def test_labour_follows_numpys_own_correlated_draws() -> None:
    found = hours()
    mean = np.array([t.mean * t.workers for t in found.tasks])
    spread = np.array([t.sd * t.workers for t in found.tasks])
    sigma = np.sqrt(np.log1p((spread / mean) ** 2))
    covariance = 0.5 * np.outer(sigma, sigma) + 0.5 * np.diag(sigma**2)
    drawn = np.exp(np.random.default_rng(11).multivariate_normal(np.log(mean) - sigma**2 / 2, covariance, 200_000)).sum(
        1
    )
    assert found.labour_mean == pytest.approx(drawn.mean(), rel=0.005)
    assert found.labour_sd == pytest.approx(drawn.std(), rel=0.02)
    ours = (found.labour_p10, found.labour_p50, found.labour_p80, found.labour_p95)
    assert ours == pytest.approx(np.quantile(drawn, [0.1, 0.5, 0.8, 0.95]), rel=0.015)


def test_certain_tasks_have_no_spread() -> None:
    sure = with_rate(
        *(ProductionRate(work, 30, 30, 30, "min") for work in ("set-up", "break-down", "walk-round")),
        ProductionRate("wand-ground", 400, 400, 400, "ft2/h"),
    )
    found = hours(rates=sure)
    # 2 x 0.5 + 2 x 0.5 + 0.5 + 2 hours
    for level in (found.labour_p10, found.labour_p50, found.labour_p80, found.labour_p95, found.labour_mean):
        assert level == pytest.approx(4.5 * 3600)
    assert found.machine_p95 == pytest.approx(2 * 3600)
    # the whole crew for an hour, then the machine's two hours, longer than half of the rest
    assert found.elapsed_p50 == pytest.approx(3 * 3600)


@settings(max_examples=20)
@given(st.floats(50, 20_000), st.integers(1, 5))
def test_levels_rise_and_elapsed_is_no_less_than_a_fair_share(square_feet: float, people: int) -> None:
    found = hours(square_feet, people=people)
    for name in ("labour", "elapsed", "machine"):
        levels = [getattr(found, f"{name}_{level}") for level in ("p10", "p50", "p80", "p95")]
        assert levels == sorted(levels)
    assert found.elapsed_p50 >= found.labour_p50 / people * 0.999
    assert found.elapsed_p50 >= found.machine_p50 * 0.999


def test_by_lamp_a_starting_rate_is_slower_and_an_own_one_is_not() -> None:
    own = with_rate(ProductionRate("wand-ground", 200, 400, 700, "ft2/h"))
    times = {
        (name, dark): next(t for t in hours(rates=rates, dark=dark).tasks if t.work == "wand-ground").usual
        for name, rates in (("start", RATES), ("own", own))
        for dark in (False, True)
    }
    assert times["start", True] == pytest.approx(1.1 * times["start", False])
    assert times["own", True] == times["own", False]


def test_same_seed_same_hours() -> None:
    assert hours() == hours()


@pytest.mark.parametrize(
    ("rate", "code", "key"),
    [
        (ProductionRate("wand-ground", 500, 400, 700, "ft2/h"), "rate-order", "production[0].low"),
        (ProductionRate("wand-ground", 0, 400, 700, "ft2/h"), "rate-order", "production[0].low"),
        (ProductionRate("wand-ground", 1, 2, 3, "min"), "wrong-unit", "production[0].unit"),
        (ProductionRate("wand-grond", 1, 2, 3, "ft2/h"), "unknown-work", "production[0].work"),
    ],
)
def test_rates_that_cannot_be_meant_are_refused(rate: ProductionRate, code: str, key: str) -> None:
    with pytest.raises(InputError) as refusal:
        hours(rates=with_rate(rate))
    (problem,) = refusal.value.problems
    assert (problem.code, problem.key) == (code, key)
    assert problem.fix


def test_a_rate_for_the_surface_counts_before_the_general_one_and_only_there() -> None:
    """800 ft2 of concrete at 800 ft2 an hour take an hour; a rate for asphalt or brick changes nothing."""
    general = ProductionRate("wand-ground", 400, 400, 400, "ft2/h")
    concrete = ProductionRate("wand-ground", 800, 800, 800, "ft2/h", "concrete")
    asphalt = ProductionRate("wand-ground", 100, 100, 100, "ft2/h", "asphalt")
    plain = next(t for t in hours(rates=with_rate(general, asphalt)).tasks if t.work == "wand-ground")
    own = next(t for t in hours(rates=with_rate(general, asphalt, concrete)).tasks if t.work == "wand-ground")
    assert plain.usual == pytest.approx(2 * 3600)
    assert own.usual == pytest.approx(3600)


def test_the_closest_rate_is_used_and_times_of_several_kinds_add() -> None:
    """Half of 1,000 ft2 at 500 and half at 1,000 ft2 an hour: 1 h and 0.5 h, so 1.5 h in all."""
    rates = with_rate(
        ProductionRate("wall-treat", 250, 250, 250, "ft2/h"),
        ProductionRate("wall-treat", 500, 500, 500, "ft2/h", "stucco"),
        ProductionRate("wall-treat", 1000 * FOOT**2, 1000 * FOOT**2, 1000 * FOOT**2, "m2/h", "stucco", "soot"),
    )
    kinds = (Kind("stucco", "algae", 0.5), Kind("stucco", "soot", 0.5))
    rate = rate_of(rates, Need("wall-treat", "front", 1000 * FOOT**2, "area", kinds=kinds))
    assert 1000 / rate.usual == pytest.approx(1.5)
    assert rate.own
