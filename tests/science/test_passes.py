"""Paths of a round head: bound, back and forth, and missed cusps (closed forms against a swept polygon)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, box

from sightwash.basis.errors import OutOfRange
from sightwash.science.passes import back_and_forth, missed_by_passes, pass_count, shortest_path

WIDTHS = st.floats(0.3, 1.0)


def swept_path(along, head_width, path):
    """The path itself as a line: passes joined at alternate ends."""
    radius = head_width / 2
    ends = (radius, along - radius)
    rows = [radius + i * path.pitch for i in range(path.passes)]
    points = []
    for i, row in enumerate(rows):
        points += [(ends[i % 2], row), (ends[(i + 1) % 2], row)]
    return LineString(points)


@given(st.floats(2, 40), st.floats(1, 12), WIDTHS, st.floats(0, 0.5))
def test_length_and_misses_are_those_of_the_path_drawn(along, across, head_width, overlap):
    path = back_and_forth(along, across, head_width, overlap)
    line = swept_path(along, head_width, path)
    missed = box(0, 0, along, across).difference(line.buffer(head_width / 2, quad_segs=64)).area
    assert line.length == pytest.approx(path.length, rel=1e-9)
    assert missed == pytest.approx(missed_by_passes(path.passes, path.pitch, head_width / 2), abs=5e-4 * path.passes)
    assert path.overlap >= overlap - 1e-9 or path.passes == 1


@given(st.floats(2, 40), st.floats(1, 12), WIDTHS, st.floats(0, 0.5))
def test_no_path_is_shorter_than_the_bound_for_what_it_covers(along, across, head_width, overlap):
    path = back_and_forth(along, across, head_width, overlap)
    covered = along * across - missed_by_passes(path.passes, path.pitch, head_width / 2)
    assert path.length >= shortest_path(covered, head_width) - 1e-9


def test_whole_number_of_passes_meets_the_rectangle_bound():
    """Check 20 of the reference: 100 x 10 ft, 20 in head: 598.3333 ft, which is (a b - w2) / w."""
    width = 20 / 12
    path = back_and_forth(100.0, 10.0, width)
    assert path.passes == 6
    assert path.turns == 5
    assert path.length == pytest.approx(598.333333, abs=1e-6)
    assert path.length == pytest.approx((1000.0 - width**2) / width, abs=1e-9)


def test_missed_area_of_that_path():
    """Check 21 of the reference: 2.08641 ft2, four corners and five cusps of (2 - pi/2) r2."""
    radius = 10 / 12
    expected = (4 * (1 - math.pi / 4) + 5 * (2 - math.pi / 2)) * radius**2
    assert missed_by_passes(6, 2 * radius, radius) == pytest.approx(expected, abs=1e-12)
    assert expected == pytest.approx(2.08641, abs=1e-5)


def test_a_part_pass_more_is_spread_as_overlap():
    """Reference 3.2: 100 x 11 ft, 20 in head: 7 passes, pitch 18.667 in, overlap 6.67 %, 697.67 ft."""
    path = back_and_forth(100.0, 11.0, 20 / 12)
    assert (path.passes, round(path.pitch * 12, 3), round(path.overlap, 4)) == (7, 18.667, 0.0667)
    assert path.length == pytest.approx(697.67, abs=0.005)


@given(st.floats(0.1, 50), WIDTHS)
def test_pass_count_without_overlap_is_the_rounded_up_ratio(across, head_width):
    assert pass_count(across, head_width) == max(1, math.ceil(across / head_width - 1e-9))


def test_small_area_needs_no_path():
    assert shortest_path(0.1, 1.0) == 0.0


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: shortest_path(-1.0, 1.0), "area"),
        (lambda: shortest_path(1.0, 0.0), "head_width"),
        (lambda: pass_count(0.0, 1.0), "across"),
        (lambda: pass_count(1.0, 1.0, 1.0), "overlap"),
        (lambda: back_and_forth(0.5, 3.0, 1.0), "along"),
        (lambda: back_and_forth(3.0, 0.5, 1.0), "across"),
        (lambda: missed_by_passes(0, 1.0, 1.0), "passes"),
        (lambda: missed_by_passes(2, 2.1, 1.0), "pitch"),
        (lambda: missed_by_passes(2, math.nan, 1.0), "pitch"),
        (lambda: missed_by_passes(2, 1.0, 0.0), "radius"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
