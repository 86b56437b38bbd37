"""Time in view: the reference's tables, and a vehicle stepped along a road."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import convert
from sightwash.science.time_in_view import time_abeam, time_in_cone


def feet(value):
    return convert(value, "ft", "m")


def mph(value):
    return convert(value, "mph", "m/s")


def test_passing_three_hundred_feet():
    """Check 15 and reference 1.5 (computed there)."""
    found = [time_abeam(feet(300), mph(speed)) for speed in (35, 45, 25)]
    assert found == pytest.approx([5.84416, 4.545, 8.182], abs=1e-3)
    assert found[0] == pytest.approx(5.84416, abs=1e-4)


@pytest.mark.parametrize(
    ("offset", "cone", "seen_from", "speed", "seconds"),
    [(60, 20, 500, 35, 6.529), (60, 10, 500, 35, 3.111), (100, 20, 600, 45, 4.928), (60, 30, 500, 35, 7.716)],
)
def test_forward_cone(offset, cone, seen_from, speed, seconds):
    """Check 16 and reference 1.5 (computed there)."""
    assert time_in_cone(feet(offset), cone, feet(seen_from), mph(speed)) == pytest.approx(seconds, abs=1e-3)


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 60), st.floats(5, 60), st.floats(10, 300), st.floats(5, 30))
def test_cone_time_is_that_of_a_vehicle_stepped_along(offset, cone, seen_from, speed):
    """Brute force: count the steps at which the place is ahead, in sight and inside the cone."""
    step = 0.002
    inside = 0
    for i in range(int(seen_from / speed / step)):
        ahead = seen_from - i * step * speed
        inside += math.degrees(math.atan2(offset, ahead)) <= cone
    assert time_in_cone(offset, cone, seen_from, speed) == pytest.approx(inside * step, abs=2 * step)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: time_abeam(-1.0, 1.0), "frontage"),
        (lambda: time_abeam(1.0, 0.0), "speed"),
        (lambda: time_in_cone(-1.0, 20.0, 1.0, 1.0), "offset"),
        (lambda: time_in_cone(1.0, 90.0, 1.0, 1.0), "half_angle"),
        (lambda: time_in_cone(1.0, 20.0, math.nan, 1.0), "seen_from"),
        (lambda: time_in_cone(1.0, 20.0, 1.0, 0.0), "speed"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
