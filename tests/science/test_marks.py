"""Painted words and arrows: closed forms, and block letters drawn as shapes with shapely (independent program)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, union_all

from sightwash.basis.errors import OutOfRange
from sightwash.science.marks import arrow_area, letter_area, letter_strokes


def test_straight_letters_have_lengths_that_can_be_counted():
    """Closed forms for letters 1 high and 0.6 wide: I 1, L 1.6, T 1.6, H 2.6, O 3.2, N 2 + root(1 + 0.36)."""
    for text, length in (("I", 1.0), ("L", 1.6), ("T", 1.6), ("H", 2.6), ("O", 3.2), ("N", 2.0 + math.hypot(1, 0.6))):
        assert letter_strokes(text, 1.0) == pytest.approx(length, abs=1e-12)


def test_painted_letters_against_shapes_drawn_with_shapely():
    """Independent program: strokes as strips with flat ends, united; meeting corners count once there."""
    height, stroke, wide = 18.0, 3.0, 0.6 * 18.0
    drawn = {
        "L": [[(0, height), (0, 0)], [(0, 0), (wide, 0)]],
        "H": [[(0, 0), (0, height)], [(wide, 0), (wide, height)], [(0, height / 2), (wide, height / 2)]],
        "V": [[(0, height), (wide / 2, 0)], [(wide / 2, 0), (wide, height)]],
    }
    for text, strokes in drawn.items():
        shape = union_all([LineString(part).buffer(stroke / 2, cap_style="flat") for part in strokes])
        assert shape.area <= letter_area(text, height) <= 1.15 * shape.area


@given(st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789- ", max_size=20), st.floats(0.05, 3.0))
def test_strokes_add_up_and_grow_with_height(text, height):
    one = sum(letter_strokes(sign, 1.0) for sign in text)
    assert letter_strokes(text, height) == pytest.approx(height * one, rel=1e-9, abs=1e-12)
    assert letter_area(text, height) == pytest.approx(height**2 * one / 6.0, rel=1e-9, abs=1e-12)
    assert letter_strokes(text.lower(), height) == letter_strokes(text, height)


@given(st.floats(0.5, 10.0), st.floats(0.05, 0.5), st.floats(0.1, 0.9), st.floats(1.0, 5.0))
def test_arrow_is_the_area_of_its_outline(length, shaft, share, wide):
    """Closed form against the shoelace of the outline drawn corner by corner."""
    head, half, side = share * length, shaft / 2.0, wide * shaft / 2.0
    neck = length - head
    outline = Polygon([(-half, 0), (half, 0), (half, neck), (side, neck), (0, length), (-side, neck), (-half, neck)])
    assert arrow_area(length, shaft, head, wide * shaft) == pytest.approx(outline.area, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: letter_strokes("NO", 0.0), "height"),
        (lambda: letter_strokes("NO", 1.0, 0.0), "width"),
        (lambda: letter_strokes("NÖ", 1.0), "text"),
        (lambda: letter_area("NO", 1.0, 0.6), "stroke_share"),
        (lambda: arrow_area(0.0, 0.1, 0.1, 0.3), "length"),
        (lambda: arrow_area(1.0, 0.0, 0.1, 0.3), "shaft_width"),
        (lambda: arrow_area(1.0, 0.1, 2.0, 0.3), "head_length"),
        (lambda: arrow_area(1.0, 0.3, 0.1, 0.2), "head_width"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
