"""Robust means: limits that Huber's estimate is known to have (closed forms)."""

from __future__ import annotations

import math
from statistics import fmean, median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.robust import huber_mean, huber_weight, median_deviation

VALUES = st.lists(st.floats(-100, 100), min_size=1, max_size=12)


@given(VALUES)
def test_with_a_wide_bend_it_is_the_mean(values: list[float]) -> None:
    assert huber_mean(values, 1000.0, 10.0) == pytest.approx(fmean(values), abs=1e-6)


@given(VALUES, st.floats(-500, 500))
def test_it_moves_with_the_numbers(values: list[float], shift: float) -> None:
    moved = huber_mean([value + shift for value in values], 1.0)
    assert moved == pytest.approx(huber_mean(values, 1.0) + shift, abs=1e-5)


@given(st.lists(st.floats(-1, 1), min_size=5, max_size=12), st.floats(50, 1e6))
def test_one_wild_number_cannot_carry_it_away(values: list[float], wild: float) -> None:
    """The sum of the clipped residuals is zero, so that one wild number weighs k s at most."""
    found = huber_mean([*values, wild], 1.0, 1.345)
    assert found <= max(values) + 1.345
    assert sum(max(-1.345, min(1.345, value - found)) for value in [*values, wild]) == pytest.approx(0.0, abs=1e-6)


@given(st.lists(st.floats(-10, 10), min_size=3, max_size=12))
def test_median_deviation_is_half_of_the_numbers(values: list[float]) -> None:
    limit = median_deviation(values) * 0.6744897501960817
    inside = sum(abs(value - median(values)) <= limit + 1e-12 for value in values)
    assert 2 * inside >= len(values)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: huber_mean([], 1.0), "values"),
        (lambda: huber_mean([math.inf], 1.0), "values"),
        (lambda: huber_mean([1.0], 0.0), "scale"),
        (lambda: huber_weight(1.0, 1.0, 0.0), "bend"),
        (lambda: median_deviation([]), "values"),
    ],
)
def test_refusals(call, parameter) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
