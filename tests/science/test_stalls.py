"""Stall geometry against a parallelogram drawn with shapely, and the reference's table."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box
from shapely.affinity import rotate

from sightwash.basis.errors import OutOfRange
from sightwash.science.stalls import (
    interlock_depth,
    row_line_length,
    stall_curb_length,
    stall_depth,
    stall_line_length,
)


@given(st.floats(2.0, 4.0), st.floats(4.0, 8.0), st.floats(20.0, 90.0))
def test_depth_is_the_height_of_the_turned_rectangle(width, length, angle):
    """Independent program: the bounds of a rectangle turned by shapely."""
    low, high = rotate(box(0, 0, length, width), angle).bounds[1::2]
    assert stall_depth(width, length, angle) == pytest.approx(high - low, rel=1e-9)
    rise = width * math.cos(math.radians(angle))
    assert interlock_depth(width, length, angle) == pytest.approx(high - low - rise / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("angle", "curb", "depth", "interlock", "line"),
    [
        (30.0, 18.000, 16.794, 12.897, 33.588),
        (45.0, 12.728, 19.092, 15.910, 27.000),
        (60.0, 10.392, 20.088, 17.838, 23.196),
        (75.0, 9.317, 19.716, 18.551, 20.412),
        (90.0, 9.000, 18.000, 18.000, 18.000),
    ],
)
def test_nine_by_eighteen_stall(angle, curb, depth, interlock, line):
    """Checks 26 and 27 of the reference (computed there): 9 x 18 ft stall."""
    assert stall_curb_length(9.0, angle) == pytest.approx(curb, abs=1e-3)
    assert stall_depth(9.0, 18.0, angle) == pytest.approx(depth, abs=1e-3)
    assert interlock_depth(9.0, 18.0, angle) == pytest.approx(interlock, abs=1e-3)
    assert stall_line_length(9.0, 18.0, angle) == pytest.approx(line, abs=1e-3)


def test_row_of_stalls():
    assert row_line_length(20, 18.0) == pytest.approx(21 * 18.0)
    assert row_line_length(20, 18.0, 180.0) == pytest.approx(558.0)
    assert row_line_length(0, 18.0, 180.0) == 0.0


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: stall_curb_length(0.0, 45.0), "width"),
        (lambda: stall_curb_length(2.7, 0.0), "angle"),
        (lambda: stall_depth(2.7, 0.0, 45.0), "length"),
        (lambda: stall_depth(2.7, 5.5, 91.0), "angle"),
        (lambda: interlock_depth(math.nan, 5.5, 45.0), "width"),
        (lambda: stall_line_length(2.7, math.inf, 45.0), "length"),
        (lambda: row_line_length(-1, 5.5), "stalls"),
        (lambda: row_line_length(1, 0.0), "line_length"),
        (lambda: row_line_length(1, 5.5, -1.0), "head_line"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
