"""Regrowth, discounts and three points (closed forms)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.discounts import margin_after_discount, work_to_make_up
from sightwash.science.regrowth import regrown_share
from sightwash.science.three_points import deviation_of_ends, ends_of_lognormal


@given(st.floats(0.1, 50), st.floats(0.5, 4))
def test_one_time_constant_brings_back_63_percent(months: float, shape: float) -> None:
    assert regrown_share(months, months, shape) == pytest.approx(1 - math.exp(-1))
    assert regrown_share(0.0, months, shape) == 0.0


@given(st.floats(0, 20), st.floats(0, 20), st.floats(1, 30), st.floats(0.5, 3))
def test_more_time_more_dirt(early: float, late: float, constant: float, shape: float) -> None:
    low, high = sorted((early, late))
    assert regrown_share(low, constant, shape) <= regrown_share(high, constant, shape) + 1e-12


@given(st.floats(0.05, 0.9), st.floats(0.0, 0.8), st.floats(100, 1e5))
def test_discount_by_the_cent(margin: float, share: float, price: float) -> None:
    """Cost, price and profit written out: what is given comes out of the profit alone."""
    discount = margin * share
    cost = price * (1 - margin)
    left = price * (1 - discount)
    assert margin_after_discount(margin, discount) == pytest.approx((left - cost) / left, abs=1e-9)
    more = work_to_make_up(margin, discount)
    assert (1 + more) * (left - cost) == pytest.approx(price - cost, rel=1e-6)


def test_usual_discount_table() -> None:
    """Common practice, no source; closed form: at a margin of 30 %, 10 % off wants half as much work again."""
    assert work_to_make_up(0.30, 0.10) == pytest.approx(0.5)
    assert work_to_make_up(0.40, 0.10) == pytest.approx(1 / 3)


@given(st.floats(-3, 5), st.floats(0, 0.5))
def test_ends_and_deviation_go_both_ways(mu: float, sigma: float) -> None:
    low, usual, high = ends_of_lognormal(mu, sigma)
    assert low * high == pytest.approx(usual**2)
    assert deviation_of_ends(low, high) == pytest.approx(sigma, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: regrown_share(-1.0, 6.0), "elapsed"),
        (lambda: regrown_share(1.0, 0.0), "time_constant"),
        (lambda: regrown_share(1.0, 1.0, 0.0), "shape"),
        (lambda: margin_after_discount(1.0, 0.1), "margin"),
        (lambda: margin_after_discount(0.3, 1.0), "discount"),
        (lambda: work_to_make_up(0.3, 0.3), "discount"),
        (lambda: work_to_make_up(0.0, 0.0), "margin"),
        (lambda: ends_of_lognormal(0.0, -1.0), "sigma"),
        (lambda: deviation_of_ends(2.0, 1.0), "high"),
        (lambda: deviation_of_ends(0.0, 1.0), "low"),
    ],
)
def test_refusals(call, parameter) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
