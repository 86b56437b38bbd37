"""Equivalents of a door's test pressure (closed forms)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import convert
from sightwash.science.door_tests import water_head_of_pressure, water_speed_of_pressure, wind_speed_of_pressure


def test_usual_test_pressure():
    """Check 35 of the reference: 6.24 psf is 298.77 Pa, 49.37 mph, 30.5 mm of water, 0.774 m/s of water."""
    pressure = convert(6.24, "psf", "Pa")
    assert pressure == pytest.approx(298.77, rel=1e-3)
    assert convert(wind_speed_of_pressure(pressure), "m/s", "mph") == pytest.approx(49.37, rel=1e-3)
    assert water_head_of_pressure(pressure) == pytest.approx(0.0305, rel=1e-3)
    assert water_speed_of_pressure(pressure) == pytest.approx(0.774, rel=1e-3)


@given(st.floats(0.0, 1e5))
def test_a_falling_head_gives_the_speed(pressure):
    """Closed form (Torricelli): v2 = 2 g h."""
    head, speed = water_head_of_pressure(pressure), water_speed_of_pressure(pressure)
    assert speed**2 == pytest.approx(2 * 9.80665 * head, rel=1e-12)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: wind_speed_of_pressure(-1.0), "pressure"),
        (lambda: wind_speed_of_pressure(1.0, 0.0), "wind_factor"),
        (lambda: water_head_of_pressure(math.nan), "pressure"),
        (lambda: water_head_of_pressure(1.0, 0.0), "density"),
        (lambda: water_head_of_pressure(1.0, 1.0, 0.0), "gravity"),
        (lambda: water_speed_of_pressure(-1.0), "pressure"),
        (lambda: water_speed_of_pressure(1.0, -1.0), "density"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
