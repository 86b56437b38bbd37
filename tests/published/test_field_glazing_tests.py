"""The Construction Specifier, Testing glazing in the field: 6.0 psf (290 Pa) is a 50 mph wind and 1.2 in of water."""

import pytest

from sightwash.basis.units import convert
from sightwash.science.door_tests import water_head_of_pressure, wind_speed_of_pressure


def test_six_pounds_a_square_foot():
    pressure = convert(6.0, "psf", "Pa")
    assert pressure == pytest.approx(290, abs=5)
    assert round(convert(water_head_of_pressure(pressure), "m", "in"), 1) == 1.2
    assert convert(wind_speed_of_pressure(pressure), "m/s", "mph") == pytest.approx(50, abs=2)
