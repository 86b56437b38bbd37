"""Markup and margin (closed forms)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.margins import margin_of_markup, markup_of_margin


@given(st.floats(-0.9, 0.95), st.floats(1.0, 1e5))
def test_price_is_the_same_both_ways(margin, cost):
    markup = markup_of_margin(margin)
    assert cost * (1 + markup) == pytest.approx(cost / (1 - margin), rel=1e-9)
    assert margin_of_markup(markup) == pytest.approx(margin, abs=1e-9)


def test_usual_table():
    """Common practice, no source; closed form: margin 20, 25, 30, 35, 40, 50 % is markup 25 ... 100 %."""
    found = [round(100 * markup_of_margin(margin), 2) for margin in (0.20, 0.25, 0.30, 0.35, 0.40, 0.50)]
    assert found == [25.0, 33.33, 42.86, 53.85, 66.67, 100.0]


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: markup_of_margin(1.0), "margin"),
        (lambda: markup_of_margin(math.nan), "margin"),
        (lambda: margin_of_markup(-1.0), "markup"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
