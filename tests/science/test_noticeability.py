"""Noticeability: angles of the reference, gates, contrast laws and the ordering's pieces."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.noticeability import (
    acuity_gate,
    acuity_letter_height,
    angular_height,
    contrast_share,
    letter_angle,
    noticeability,
    smallest_height_seen,
)


@pytest.mark.parametrize(
    ("inches", "distance", "eye", "centre", "minutes"),
    [
        (12, 60, 3.5, 12, 56.17),
        (12, 100, 3.5, 12, 34.13),
        (12, 300, 3.5, 12, 11.45),
        (6, 60, 3.5, 11, 28.21),
        (1, 30, 5, 10.5, 9.24),
    ],
)
def test_angular_heights(inches, distance, eye, centre, minutes):
    """Reference 1.4 (computed there), in feet; the formula keeps any one unit of length."""
    assert angular_height(inches / 12, centre, eye, distance) * 60 == pytest.approx(minutes, abs=0.006)


@given(st.floats(0.01, 3.0), st.floats(-5, 10), st.floats(0, 3), st.floats(1, 200))
def test_tilt_only_makes_a_strip_look_lower(height, centre, eye, distance):
    found = angular_height(height, centre, eye, distance)
    assert 0.0 < found <= math.degrees(2 * math.atan(height / 2 / distance)) + 1e-12


def test_one_arc_minute_at_a_hundred_feet():
    """Check 13 of the reference (closed form): 0.34907 in."""
    assert smallest_height_seen(1200.0) == pytest.approx(0.34907, abs=1e-4)


def test_letter_angles():
    """Check 12 of the reference: 286.48 / LI arc minutes; 57.30 ft an inch is the 5-minute letter of 20/20."""
    assert letter_angle(30 * 12) * 60 == pytest.approx(9.549, abs=1e-3)
    assert letter_angle(40 * 12) * 60 == pytest.approx(7.162, abs=1e-3)
    assert letter_angle(57.30 * 12) * 60 == pytest.approx(5.000, abs=1e-3)


@given(st.floats(50, 2000), st.floats(1, 200))
def test_letter_angle_and_letter_height_are_the_same_triangle(index, distance):
    stroke = letter_angle(index) / 5
    assert acuity_letter_height(distance, stroke) == pytest.approx(distance / index, rel=1e-9)


@given(st.floats(0, 1), st.floats(0, 1))
def test_gate_rises_from_nothing_to_all(one, other):
    low, high = sorted((one, other))
    assert 0.0 <= acuity_gate(low) <= acuity_gate(high) <= 1.0
    assert acuity_gate(1 / 60) == 0.0
    assert acuity_gate(2 / 60) == pytest.approx(1.0)


def test_contrast_follows_weber_above_and_ricco_below_the_critical_size():
    critical = math.pi / 4 * math.radians(10 / 60) ** 2
    assert contrast_share(0.02, 10 * critical) == contrast_share(0.02, 2 * critical)
    assert contrast_share(0.02, critical / 4) == pytest.approx(contrast_share(0.02, critical) / 4)
    assert contrast_share(0.01, critical / 2) == pytest.approx(contrast_share(0.005, critical))
    assert contrast_share(1.0, 1.0) == 1.0


@given(st.lists(st.tuples(st.floats(0, 1e4), st.floats(0, 60), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))))
def test_a_further_viewpoint_never_makes_a_patch_less_noticed(views):
    columns = [list(column) for column in zip(*views, strict=True)] or [[], [], [], [], []]
    found = noticeability(*columns)
    assert len(found.pieces) == len(views)
    assert found.total == pytest.approx(sum(math.prod(view) for view in views))
    more = noticeability(*([*column, value] for column, value in zip(columns, (1, 2, 0.5, 0.5, 0.1), strict=True)))
    assert more.total >= found.total


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: angular_height(-1.0, 1.0, 1.0, 1.0), "height"),
        (lambda: angular_height(1.0, 1.0, 1.0, 0.0), "distance"),
        (lambda: angular_height(1.0, math.nan, 1.0, 1.0), "centre_height"),
        (lambda: angular_height(1.0, 1.0, math.nan, 1.0), "eye_height"),
        (lambda: smallest_height_seen(-1.0), "distance"),
        (lambda: smallest_height_seen(1.0, 90.0), "angle"),
        (lambda: acuity_letter_height(1.0, 0.0), "stroke_angle"),
        (lambda: acuity_letter_height(1.0, 0.1, 0.0), "strokes"),
        (lambda: letter_angle(0.0), "legibility_index"),
        (lambda: acuity_gate(-1.0), "angle"),
        (lambda: acuity_gate(1.0, 2.0, 1.0), "seen"),
        (lambda: contrast_share(-1.0, 1.0), "contrast"),
        (lambda: contrast_share(1.0, -1.0), "solid_angle"),
        (lambda: contrast_share(1.0, 1.0, 0.0), "threshold"),
        (lambda: contrast_share(1.0, 1.0, 0.1, 0.0), "critical_angle"),
        (lambda: contrast_share(1.0, 1.0, 0.1, 1.0, 0.0), "field_factor"),
        (lambda: noticeability([1.0], [], [], [], []), "weights"),
        (lambda: noticeability([-1.0], [1.0], [1.0], [1.0], [1.0]), "weights"),
        (lambda: noticeability([1.0], [-1.0], [1.0], [1.0], [1.0]), "times"),
        (lambda: noticeability([1.0], [1.0], [2.0], [1.0], [1.0]), "gates"),
        (lambda: noticeability([1.0], [1.0], [1.0], [2.0], [1.0]), "contrasts"),
        (lambda: noticeability([1.0], [1.0], [1.0], [1.0], [13.0]), "solid_angles"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
