"""Strength terms: each way there and back (closed form), and numbers that no solution can have refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.hypochlorite import molarity, strength_from_molarity
from sightwash.science.strength import (
    grams_per_litre,
    strength_from_grams_per_litre,
    strength_from_trade_percent,
    strength_from_weight_percent_chlorine,
    strength_from_weight_percent_hypochlorite,
    trade_percent,
    weight_percent_chlorine,
    weight_percent_hypochlorite,
)

STRENGTHS = st.floats(0.0, 199_000.0)
GRAVITIES = st.floats(0.98, 1.35)


@given(STRENGTHS, GRAVITIES)
def test_every_term_comes_back(strength: float, gravity: float) -> None:
    back = (
        strength_from_trade_percent(trade_percent(strength)),
        strength_from_grams_per_litre(grams_per_litre(strength)),
        strength_from_molarity(molarity(strength)),
        strength_from_weight_percent_chlorine(weight_percent_chlorine(strength, gravity), gravity),
        strength_from_weight_percent_hypochlorite(weight_percent_hypochlorite(strength, gravity), gravity),
    )
    assert back == pytest.approx([strength] * 5, rel=1e-12, abs=1e-9)


def test_one_label_is_three_strengths() -> None:
    """At a specific gravity of 1.16, 12.5 % is 125, 145 or 138 g/L by hand: a 16 % spread."""
    trade = strength_from_trade_percent(12.5)
    chlorine = strength_from_weight_percent_chlorine(12.5, 1.16)
    hypochlorite = strength_from_weight_percent_hypochlorite(12.5, 1.16)
    assert [round(value / 1000.0) for value in (trade, chlorine, hypochlorite)] == [125, 145, 138]


@pytest.mark.parametrize("bad", [-1.0, 200_001.0, math.nan, math.inf])
def test_strength_that_no_solution_has(bad: float) -> None:
    for term in (trade_percent, grams_per_litre, molarity):
        with pytest.raises(OutOfRange, match="available chlorine"):
            term(bad)


@pytest.mark.parametrize("gravity", [0.9, 1.5, 0.0, math.nan])
def test_gravity_that_no_solution_has(gravity: float) -> None:
    for term in (weight_percent_chlorine, weight_percent_hypochlorite):
        with pytest.raises(OutOfRange, match="specific_gravity"):
            term(100_000.0, gravity)
    for term in (strength_from_weight_percent_chlorine, strength_from_weight_percent_hypochlorite):
        with pytest.raises(OutOfRange, match="specific_gravity"):
            term(10.0, gravity)


def test_percent_that_no_solution_has() -> None:
    with pytest.raises(OutOfRange, match="trade percent"):
        strength_from_trade_percent(25.0)
    with pytest.raises(OutOfRange, match="weight percent of available chlorine"):
        strength_from_weight_percent_chlorine(18.0, 1.20)
    with pytest.raises(OutOfRange, match="weight percent of sodium hypochlorite"):
        strength_from_weight_percent_hypochlorite(18.0, 1.20)
    with pytest.raises(OutOfRange, match="g/L"):
        strength_from_grams_per_litre(201.0)
    with pytest.raises(OutOfRange, match="mol/L"):
        strength_from_molarity(3.0)
