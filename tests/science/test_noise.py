"""Noise at a distance (closed forms)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.noise import combined_level, distance_of_level, level_at_distance

LEVELS = st.floats(30.0, 120.0)


@given(LEVELS, st.floats(0.5, 20.0), st.floats(0.5, 500.0))
def test_distance_and_level_are_each_others_inverse(level, reading, distance):
    found = level_at_distance(level, reading, distance)
    assert distance_of_level(level, reading, found) == pytest.approx(distance, rel=1e-9)


def test_reference_levels():
    """Reference 5.5 (computed there): 85 dBA at 25 ft is 72.96, 66.94 and 60.92 at 100, 200 and 400 ft."""
    assert [round(level_at_distance(85.0, 25.0, d), 2) for d in (100.0, 200.0, 400.0)] == [72.96, 66.94, 60.92]


@given(LEVELS, st.integers(1, 10))
def test_equal_machines_add_ten_log_of_their_number(level, count):
    assert combined_level([level] * count) == pytest.approx(level + 10 * math.log10(count))


@given(st.lists(LEVELS, min_size=1, max_size=6))
def test_together_is_at_least_the_loudest(levels):
    assert max(levels) <= combined_level(levels) <= max(levels) + 10 * math.log10(len(levels)) + 1e-9


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: level_at_distance(math.inf, 1.0, 1.0), "level"),
        (lambda: level_at_distance(80.0, 0.0, 1.0), "reading_distance"),
        (lambda: level_at_distance(80.0, 1.0, 0.0), "distance"),
        (lambda: distance_of_level(80.0, 1.0, math.nan), "limit"),
        (lambda: combined_level([]), "levels"),
        (lambda: combined_level([math.nan]), "levels"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
