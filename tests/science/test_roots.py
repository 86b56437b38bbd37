"""The bracketed root, against an independent solver and closed forms."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sightwash.basis.errors import NumericalFailure
from sightwash.science._roots import bracketed_root

FUNCTIONS = [
    lambda x: math.cos(x) - x,
    lambda x: x**9 - 0.3,
    lambda x: math.expm1(20 * (x - 0.7)),
    lambda x: math.copysign(abs(x - 0.4) ** 0.3, x - 0.4),
    lambda x: x - 0.2,
]


@pytest.mark.parametrize("function", FUNCTIONS)
def test_roots_are_those_of_scipy(function):
    # Independent program: scipy.optimize.brentq.
    expected = brentq(function, 0.0, 1.0, xtol=1e-14, rtol=1e-14)
    assert bracketed_root(function, 0.0, 1.0) == pytest.approx(expected, abs=1e-12)
    assert bracketed_root(function, 1.0, 0.0) == pytest.approx(expected, abs=1e-12)


@given(st.floats(1e-6, 1e6))
def test_square_roots(value):
    assert bracketed_root(lambda x: x * x - value, 0.0, 1.0 + value) == pytest.approx(math.sqrt(value), rel=1e-12)


def test_a_root_at_an_end_is_found():
    assert bracketed_root(lambda x: x, 0.0, 1.0) == pytest.approx(0.0, abs=1e-300)
    assert bracketed_root(lambda x: x - 1.0, 0.0, 1.0) == pytest.approx(1.0)


def test_no_change_of_sign_is_said():
    with pytest.raises(NumericalFailure, match="sign"):
        bracketed_root(lambda x: x + 1.0, 0.0, 1.0)
