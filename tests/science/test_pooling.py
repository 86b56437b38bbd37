"""Learning from few jobs: between guess and data, numeric Bayes (numpy), groups."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.pooling import between_variance, pooled_mean, shrunk_mean

NUMBERS = st.floats(-500, 500)
ERRORS = st.floats(0.5, 100)


@given(NUMBERS, ERRORS, NUMBERS, ERRORS, st.integers(0, 50))
def test_shrinkage_lies_between_guess_and_data_and_never_less_sure(guess, guess_sd, data, data_sd, count):
    found = shrunk_mean(guess, guess_sd, data, data_sd, count)
    assert min(guess, data) - 1e-9 <= found.mean <= max(guess, data) + 1e-9
    assert found.sd <= guess_sd + 1e-12
    if count == 0:
        assert found == pytest.approx((guess, guess_sd))


@given(NUMBERS, ERRORS, NUMBERS, ERRORS, st.integers(1, 20))
def test_more_jobs_move_nearer_the_data(guess, guess_sd, data, data_sd, count):
    few, more = (shrunk_mean(guess, guess_sd, data, data_sd, n) for n in (count, count + 1))
    assert abs(more.mean - data) <= abs(few.mean - data) + 1e-9
    assert more.sd < few.sd


def test_four_jobs():
    """Check 39 of the reference: 400 +- 80, four jobs at 320, sd 100: 342.472 +- 42.400; and Bayes' rule on a grid."""
    found = shrunk_mean(400.0, 80.0, 320.0, 100.0, 4)
    assert found == pytest.approx((342.472, 42.400), abs=1e-3)
    rates = np.linspace(0.0, 800.0, 80001)
    weight = np.exp(-((rates - 400.0) ** 2) / (2 * 80.0**2) - 4 * (rates - 320.0) ** 2 / (2 * 100.0**2))
    mean = np.average(rates, weights=weight)
    assert found.mean == pytest.approx(mean, abs=1e-6)
    assert found.sd == pytest.approx(math.sqrt(np.average((rates - mean) ** 2, weights=weight)), abs=1e-6)


@given(st.lists(st.tuples(NUMBERS, ERRORS), min_size=2, max_size=8))
def test_pooling_is_a_weighted_mean_and_widens_with_the_variance_between(groups):
    values, errors = [g[0] for g in groups], [g[1] for g in groups]
    variance = between_variance(values, errors)
    alone, apart = pooled_mean(values, errors), pooled_mean(values, errors, variance)
    assert variance >= 0.0
    assert min(values) - 1e-9 <= apart.mean <= max(values) + 1e-9
    assert alone.sd <= apart.sd + 1e-12


@given(NUMBERS, ERRORS, st.integers(2, 8))
def test_equal_groups_have_no_variance_between(value, error, count):
    assert between_variance([value] * count, [error] * count) == 0.0
    assert pooled_mean([value] * count, [error] * count).sd == pytest.approx(error / math.sqrt(count))


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: shrunk_mean(math.nan, 1.0, 1.0, 1.0, 1), "prior_mean"),
        (lambda: shrunk_mean(1.0, 0.0, 1.0, 1.0, 1), "prior_sd"),
        (lambda: shrunk_mean(1.0, 1.0, math.inf, 1.0, 1), "data_mean"),
        (lambda: shrunk_mean(1.0, 1.0, 1.0, 0.0, 1), "data_sd"),
        (lambda: shrunk_mean(1.0, 1.0, 1.0, 1.0, -1), "count"),
        (lambda: between_variance([1.0], [1.0]), "errors"),
        (lambda: between_variance([1.0, 2.0], [1.0, 0.0]), "errors"),
        (lambda: pooled_mean([], []), "errors"),
        (lambda: pooled_mean([math.nan], [1.0]), "values"),
        (lambda: pooled_mean([1.0], [1.0], -1.0), "variance_between"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
