"""Storage of hypochlorite: what the rate law implies, and what it refuses.

Closed forms: a solution that loses strength at second order; numerical integration of the reactions
3 OCl- -> ClO3- + 2 Cl- and 2 OCl- -> O2 + 2 Cl- shows that ionic strength does not change.
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science.hypochlorite import aged_salt_factor, decay_constant, ionic_strength
from sightwash.science.storage import (
    half_life,
    strength_after,
    strength_after_history,
    strength_band,
    time_until,
)

DAY = 86400.0
STRENGTHS = st.floats(50_000.0, 130_000.0)
DEGREES = st.floats(15.0, 55.0)
AGES = st.floats(0.0, 400 * DAY)


@given(STRENGTHS, DEGREES, DEGREES, AGES)
def test_more_heat_never_slows_the_loss(strength: float, one: float, other: float, age: float) -> None:
    cool, hot = sorted((one, other))
    assert strength_after(strength, hot, age) <= strength_after(strength, cool, age)


@given(STRENGTHS, DEGREES, AGES, AGES)
def test_more_time_never_strengthens(strength: float, degrees: float, one: float, other: float) -> None:
    early, late = sorted((one, other))
    assert strength_after(strength, degrees, late) <= strength_after(strength, degrees, early) <= strength


@given(STRENGTHS, DEGREES)
def test_half_is_left_after_a_half_life(strength: float, degrees: float) -> None:
    time = half_life(strength, degrees)
    assert strength_after(strength, degrees, time) == pytest.approx(strength / 2.0, rel=1e-12)
    assert time_until(strength, strength / 2.0, degrees) == pytest.approx(time, rel=1e-12)


@given(STRENGTHS, DEGREES, st.floats(0.2, 1.0))
def test_time_until_a_strength_is_the_inverse(strength: float, degrees: float, share: float) -> None:
    time = time_until(strength, share * strength, degrees)
    assert strength_after(strength, degrees, time) == pytest.approx(share * strength, rel=1e-12)


@given(STRENGTHS, st.lists(st.tuples(DEGREES, st.floats(0.0, 60 * DAY)), min_size=1, max_size=6))
def test_order_of_spells_does_not_matter(strength: float, spells: list[tuple[float, float]]) -> None:
    degrees, durations = zip(*spells, strict=True)
    forward = strength_after_history(strength, degrees, durations)
    backward = strength_after_history(strength, degrees[::-1], durations[::-1])
    assert forward == pytest.approx(backward, rel=1e-12)


@given(DEGREES, st.floats(0.0, 60 * DAY), st.floats(0.0, 60 * DAY))
def test_two_spells_of_one_temperature_are_one(degrees: float, one: float, other: float) -> None:
    whole = strength_after(125_000.0, degrees, one + other)
    assert strength_after_history(125_000.0, [degrees, degrees], [one, other]) == pytest.approx(whole, rel=1e-12)


@given(st.floats(15.0, 35.0), st.floats(0.0, 20 * DAY), st.floats(0.0, 20 * DAY))
def test_measured_stock_carries_its_salt_on(degrees: float, first: float, then: float) -> None:
    """Measuring half-way and going on with the aged salt factor gives what one run gives."""
    measured = strength_after(125_000.0, degrees, first)
    factor = aged_salt_factor(125_000.0, measured)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutsidePublishedRange)
        end = strength_after(measured, degrees, then, salt_factor=min(factor, 10.0))
    assert end == pytest.approx(strength_after(125_000.0, degrees, first + then), rel=1e-9)


def test_closed_form_against_stepping_the_reactions() -> None:
    """Many small steps with ionic strength worked out anew from the ions at each step."""
    hypochlorite, chloride, chlorate, hydroxide = 1.763, 1.763, 0.0, 0.10
    step = 0.02 * DAY
    start = hypochlorite
    for _ in range(3000):
        mu = 0.5 * (hypochlorite + chloride + chlorate + hydroxide) * 2.0
        lost = hypochlorite - hypochlorite / (1.0 + decay_constant(30.0, mu) * hypochlorite * step)
        share = 8.7 * 3.0 / (8.7 * 3.0 + 2.0)  # chlorate forms 8.7 times as fast as oxygen
        hypochlorite -= lost
        chlorate += lost * share / 3.0
        chloride += lost * share * 2.0 / 3.0 + lost * (1.0 - share)
    assert hypochlorite < 0.65 * start
    strength = start * 70.906 * 1000.0
    assert strength_after(strength, 30.0, 60 * DAY) == pytest.approx(hypochlorite * 70.906 * 1000.0, rel=1e-9)


@given(STRENGTHS, DEGREES, st.floats(0.0, 120 * DAY))
def test_band_is_in_order_and_says_its_choices(strength: float, degrees: float, age: float) -> None:
    band = strength_band(strength, [degrees], [age])
    assert 0.0 < band.low <= band.likely <= band.high <= strength
    assert [choice.split(":")[0] for choice in band.choices] == ["low", "likely", "high", "all"]


def test_no_history_leaves_the_stock_as_it_was() -> None:
    assert strength_after_history(125_000.0, [], []) == 125_000.0


@pytest.mark.parametrize("degrees", [14.9, 55.1])
def test_beyond_the_measured_temperatures_warns(degrees: float) -> None:
    with pytest.warns(OutsidePublishedRange, match="15 to 55 degC"):
        strength_after(125_000.0, degrees, DAY)
    with pytest.warns(OutsidePublishedRange, match="15 to 55 degC"):
        decay_constant(degrees, 3.0)


def test_warning_points_at_the_caller() -> None:
    with pytest.warns(OutsidePublishedRange) as caught:
        half_life(125_000.0, 10.0)
    assert caught[0].filename == __file__


@pytest.mark.parametrize(
    "call", [lambda: half_life(40_000.0, 25.0), lambda: half_life(160_000.0, 25.0, salt_factor=3.1)]
)
def test_beyond_the_measured_strengths_warns(call) -> None:
    with pytest.warns(OutsidePublishedRange):
        call()


def refusals() -> Iterator[tuple[str, object]]:
    yield "strength", lambda: strength_after(200_001.0, 25.0, DAY)
    yield "strength", lambda: strength_after(0.0, 25.0, DAY)
    yield "age", lambda: strength_after(125_000.0, 25.0, -1.0)
    yield "age", lambda: strength_after(125_000.0, 25.0, math.nan)
    yield "temperature", lambda: strength_after(125_000.0, 101.0, DAY)
    yield "temperature", lambda: half_life(125_000.0, -40.0)
    yield "temperature", lambda: decay_constant(math.inf, 3.0)
    yield "multiplier", lambda: half_life(125_000.0, 25.0, multiplier=0.0)
    yield "target", lambda: time_until(100_000.0, 125_000.0, 25.0)
    yield "target", lambda: time_until(100_000.0, 0.0, 25.0)
    yield "durations", lambda: strength_after_history(125_000.0, [25.0, 30.0], [DAY])
    yield "durations", lambda: strength_after_history(125_000.0, np.array([25.0]), np.array([-DAY]))
    yield "present", lambda: aged_salt_factor(100_000.0, 125_000.0)
    yield "salt_factor", lambda: ionic_strength(125_000.0, salt_factor=0.5)
    yield "caustic", lambda: ionic_strength(125_000.0, caustic=-0.1)
    yield "salty_salt_factor", lambda: strength_band(125_000.0, [25.0], [DAY], salty_salt_factor=1.5)
    yield "reserve", lambda: strength_band(125_000.0, [25.0], [DAY], reserve=0.9)


@pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
@pytest.mark.parametrize(("parameter", "call"), list(refusals()))
def test_refused(parameter: str, call) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
