"""Ladder triangle and line clearances: closed forms and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.clearances import (
    ladder_angle,
    ladder_foot_distance,
    ladder_length,
    line_clearance,
    unqualified_line_clearance,
)


@given(st.floats(0.5, 12.0), st.floats(0.1, 0.5))
def test_ladder_wall_and_ground_make_a_right_triangle(height, setback):
    length, foot = ladder_length(height, 0.0, setback), ladder_foot_distance(height, setback)
    assert length**2 == pytest.approx(height**2 + foot**2, rel=1e-12)
    assert foot == pytest.approx(setback * length, rel=1e-12)
    assert math.tan(math.radians(ladder_angle(setback))) == pytest.approx(height / foot, rel=1e-9)


def test_ten_foot_contact():
    """Reference 5.1 (computed there): length 10.33 ft, foot 2.58 ft, 13.43 ft with rails 3 ft above."""
    assert round(ladder_length(10.0), 2) == 10.33
    assert round(ladder_foot_distance(10.0), 2) == 2.58
    assert round(ladder_length(10.0, 3.0), 2) == 13.43


@given(st.floats(1.0, 1e6), st.floats(1.0, 1e6))
def test_a_higher_voltage_is_never_nearer(one, other):
    low, high = sorted((one, other))
    assert line_clearance(low) <= line_clearance(high)
    assert unqualified_line_clearance(low) <= unqualified_line_clearance(high)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: ladder_angle(1.0), "setback"),
        (lambda: ladder_length(0.0), "contact_height"),
        (lambda: ladder_length(3.0, -1.0), "above_contact"),
        (lambda: ladder_foot_distance(3.0, 0.0), "setback"),
        (lambda: line_clearance(0.0), "voltage"),
        (lambda: line_clearance(1000001.0), "voltage"),
        (lambda: unqualified_line_clearance(math.nan), "voltage"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
