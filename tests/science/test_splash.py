"""Splash on walls: closed forms and properties. The law's height is a judgement and has no other check."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science import splash
from sightwash.science.tables import figures


@given(st.floats(0.0, 2.0), st.floats(0.02, 1.0))
def test_share_and_height_are_inverses(height, scale):
    share = splash.splash_share_above(height, scale)
    if share > 1e-9:
        assert splash.splash_height(share, scale) == pytest.approx(height, abs=1e-9)


def test_78_and_95_percent_land_below_the_heights_of_building_rules():
    # Closed form: 1 - exp(-1.5) = 0.777 and 1 - exp(-3) = 0.950.
    assert 1 - splash.splash_share_above(0.15) == pytest.approx(0.777, abs=5e-4)
    assert 1 - splash.splash_share_above(0.30) == pytest.approx(0.950, abs=5e-4)


@pytest.mark.parametrize(("height", "speed"), [(0.15, 1.7), (0.30, 2.4), (0.60, 3.4)])
def test_launch_speeds(height, speed):
    # Closed form: sqrt(2 g h).
    assert splash.splash_launch_speed(height) == pytest.approx(speed, abs=0.05)
    assert splash.splash_launch_speed(np.array([height])) == pytest.approx([math.sqrt(2 * 9.81 * height)], rel=1e-3)


def test_every_clearance_is_in_metres_and_a_few_inches_to_a_foot():
    for rule, row in figures("splash_clearances").items():
        assert row.unit == "m"
        assert 0.05 <= splash.published_clearance(rule) <= 0.305


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    for function in (splash.splash_share_above, splash.splash_height, splash.splash_launch_speed):
        with pytest.raises(OutOfRange):
            function(bad)
    with pytest.raises(OutOfRange):
        splash.splash_share_above(0.1, bad)


def test_an_unknown_rule_is_refused_with_the_known_ones():
    with pytest.raises(OutOfRange, match="siding-ground"):
        splash.published_clearance("roof")
