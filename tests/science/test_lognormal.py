"""The lognormal distribution against scipy.stats.lognorm (independent program)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm

from sightwash.basis.errors import OutOfRange
from sightwash.science.lognormal import (
    lognormal_of_guesses,
    lognormal_of_moments,
    lognormal_quantile,
    lognormal_share_below,
    lognormal_spread,
)


@given(st.floats(0.1, 100.0), st.floats(0.02, 1.5), st.floats(0.01, 0.99))
def test_against_scipy(mean, spread, share):
    shape = lognormal_of_moments(mean, mean * spread)
    program = lognorm(s=shape.sigma, scale=math.exp(shape.mu))
    assert program.mean() == pytest.approx(mean, rel=1e-9)
    assert program.std() == pytest.approx(mean * spread, rel=1e-6)
    assert lognormal_quantile(*shape, share) == pytest.approx(program.ppf(share), rel=1e-9)
    value = mean * (0.3 + share)
    assert lognormal_share_below(*shape, value) == pytest.approx(program.cdf(value), abs=1e-9)
    assert lognormal_spread(*shape) == pytest.approx((program.mean(), program.std()), rel=1e-6)


def test_eight_hours_give_or_take_two():
    """Check 38 of the reference (computed there): median 7.7611, 80 % quantile 9.5482."""
    shape = lognormal_of_moments(8.0, 2.0)
    assert math.exp(shape.mu) == pytest.approx(7.7611, abs=1e-4)
    assert lognormal_quantile(*shape, 0.8) == pytest.approx(9.5482, abs=1e-4)


@given(st.floats(1.0, 20.0), st.floats(1.01, 4.0), st.floats(0.02, 0.4))
def test_guesses_in_one_ratio_are_met_exactly(usual, ratio, below):
    """Independent program: scipy.stats.lognorm at the guesses' own shares."""
    shape = lognormal_of_guesses(usual / ratio, usual, usual * ratio, below)
    program = lognorm(s=shape.sigma, scale=math.exp(shape.mu))
    assert program.ppf([below, 0.5, 1 - below]) == pytest.approx([usual / ratio, usual, usual * ratio], rel=1e-7)


def test_edges():
    certain = lognormal_of_moments(5.0, 0.0)
    assert lognormal_share_below(*certain, 4.9) == 0.0
    assert lognormal_share_below(*certain, 5.1) == 1.0
    assert lognormal_share_below(0.0, 1.0, -1.0) == 0.0
    assert lognormal_of_guesses(3.0, 3.0, 3.0).sigma == 0.0


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: lognormal_of_moments(0.0, 1.0), "mean"),
        (lambda: lognormal_of_moments(1.0, -1.0), "sd"),
        (lambda: lognormal_of_guesses(0.0, 1.0, 2.0), "low"),
        (lambda: lognormal_of_guesses(2.0, 1.0, 2.0), "usual"),
        (lambda: lognormal_of_guesses(1.0, 3.0, 2.0), "high"),
        (lambda: lognormal_of_guesses(1.0, 2.0, 3.0, 0.5), "below_low"),
        (lambda: lognormal_quantile(0.0, 1.0, 1.0), "share"),
        (lambda: lognormal_quantile(math.nan, 1.0, 0.5), "mu"),
        (lambda: lognormal_share_below(0.0, -1.0, 1.0), "sigma"),
        (lambda: lognormal_share_below(0.0, 1.0, math.inf), "value"),
        (lambda: lognormal_spread(0.0, -1.0), "sigma"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
