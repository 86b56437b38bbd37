"""Volumes of rain and wash water: worked by hand in US units, and properties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science import volumes

GAL = 3.785411784
FT2 = 0.3048**2


def test_an_inch_on_a_square_foot():
    # Closed form: 144 in3 over 231 in3/gal.
    assert volumes.rain_volume(0.0254, FT2) / GAL == pytest.approx(144 / 231, rel=1e-12)


def test_a_millimetre_on_a_square_metre_is_a_litre():
    # Closed form: definition of the litre.
    assert volumes.rain_volume(0.001, 1.0) == pytest.approx(1.0)


def test_a_wash_against_a_half_inch_storm():
    # Worked by hand: 5.5 gal/min for 90 min is 495 gal, 0.132 in on 6000 ft2, 28 % of 1777 gal off 0.5 in of rain.
    wash = volumes.wash_volume(5.5 * GAL / 60, 90 * 60)
    assert wash / GAL == pytest.approx(495.0)
    assert volumes.wash_depth(wash, 6000 * FT2) / 0.0254 == pytest.approx(0.132, abs=5e-4)
    storm = volumes.rain_volume(0.5 * 0.0254, 6000 * FT2, 0.95)
    assert storm / GAL == pytest.approx(1777, abs=0.5)
    assert wash / storm == pytest.approx(0.28, abs=0.005)


def test_a_gallon_weighs_8_33_pounds():
    # Closed form: 998.2 kg/m3 x 3.785 L; 8.345 lb at the density of 4 degC, 1000 kg/m3.
    assert volumes.water_mass(GAL, 998.2) / 0.45359237 == pytest.approx(8.33, abs=0.005)
    assert volumes.water_mass(GAL, 1000.0) / 0.45359237 == pytest.approx(8.345, abs=0.001)


@given(st.floats(0, 0.2), st.floats(0.1, 1e5))
def test_depth_and_volume_are_inverses(depth, area):
    assert volumes.wash_depth(volumes.rain_volume(depth, area), area) == pytest.approx(depth, abs=1e-12)


def test_arrays_give_what_single_numbers_give():
    depth = np.array([0.0, 0.01, 0.05])
    assert volumes.rain_volume(depth, 10.0) == pytest.approx([volumes.rain_volume(float(d), 10.0) for d in depth])


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: volumes.rain_volume(bad, 1.0),
        lambda: volumes.rain_volume(0.01, bad),
        lambda: volumes.rain_volume(0.01, 1.0, bad),
        lambda: volumes.wash_volume(bad, 1.0),
        lambda: volumes.wash_volume(0.3, bad),
        lambda: volumes.wash_depth(1.0, bad),
        lambda: volumes.water_mass(bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
