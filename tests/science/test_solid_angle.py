"""Solid angles: closed rooms fill the sphere, three formulas agree, and scipy integrates the same."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad

from sightwash.basis.errors import OutOfRange
from sightwash.science.solid_angle import (
    centred_rectangle_solid_angle,
    polygon_solid_angle,
    rectangle_solid_angle,
)

PLACES = st.floats(-20.0, 20.0)
SIZES = st.floats(0.1, 30.0)


@given(PLACES, PLACES, SIZES, SIZES, st.floats(0.2, 50.0))
def test_corner_differences_and_triangle_fan_agree(left, bottom, width, height, distance):
    right, top = left + width, bottom + height
    ring = [(left, 0, bottom), (right, 0, bottom), (right, 0, top), (left, 0, top)]
    fan = polygon_solid_angle(ring, (0.0, distance, 0.0))
    assert rectangle_solid_angle(left, right, bottom, top, distance) == pytest.approx(fan, abs=1e-10)
    assert polygon_solid_angle(ring[::-1], (0.0, distance, 0.0)) == pytest.approx(fan, abs=1e-12)


@given(SIZES, SIZES, st.floats(0.2, 50.0))
def test_centred_form_agrees_with_corner_differences(width, height, distance):
    corners = rectangle_solid_angle(-width / 2, width / 2, -height / 2, height / 2, distance)
    assert centred_rectangle_solid_angle(width, height, distance) == pytest.approx(corners, abs=1e-10)


@settings(max_examples=15, deadline=None)
@given(st.floats(-4, 4), st.floats(-4, 4), st.floats(0.3, 4), st.floats(0.3, 4), st.floats(1.0, 8.0))
def test_against_numeric_integration(left, bottom, width, height, distance):
    """Independent program: scipy.integrate.dblquad of cos(i) dA / R2."""
    expected = dblquad(
        lambda z, x: distance / (x * x + z * z + distance**2) ** 1.5, left, left + width, bottom, bottom + height
    )[0]
    found = rectangle_solid_angle(left, left + width, bottom, bottom + height, distance)
    assert found == pytest.approx(expected, rel=1e-6)


@given(st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.floats(0.05, 0.95))
def test_the_six_faces_of_a_room_fill_the_sphere(x, y, z):
    """Closed form: 4 pi from any point inside."""
    total = 0.0
    for axis in range(3):
        for side in (0.0, 1.0):
            face = []
            for u, v in ((0, 0), (1, 0), (1, 1), (0, 1)):
                corner = [float(u), float(v)]
                corner.insert(axis, side)
                face.append(corner)
            total += polygon_solid_angle(face, (x, y, z))
    assert total == pytest.approx(4 * math.pi, abs=1e-9)


@given(st.floats(-5, 10), st.floats(-5, 10), st.floats(0.5, 20))
def test_an_l_shape_is_its_two_rectangles(x, z, distance):
    ell = [(0, 0, 0), (6, 0, 0), (6, 0, 2), (2, 0, 2), (2, 0, 5), (0, 0, 5)]
    parts = [
        [(0, 0, 0), (6, 0, 0), (6, 0, 2), (0, 0, 2)],
        [(0, 0, 2), (2, 0, 2), (2, 0, 5), (0, 0, 5)],
    ]
    eye = (x, distance, z)
    expected = sum(polygon_solid_angle(part, eye) for part in parts)
    for start in range(6):
        assert polygon_solid_angle(ell[start:] + ell[:start], eye) == pytest.approx(expected, abs=1e-10)


def test_long_strip():
    """Check 14 of the reference (computed there): 0.5 x 300 ft at 100 ft; 1 x 40 ft at 60 ft."""
    assert centred_rectangle_solid_angle(300.0, 0.5, 100.0) == pytest.approx(0.0083205, abs=1e-6)
    assert centred_rectangle_solid_angle(40.0, 1.0, 60.0) == pytest.approx(0.010541, abs=1e-6)


def test_edge_on_and_flat_polygons_are_nothing():
    square = [(0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)]
    assert polygon_solid_angle(square, (0.5, 0.0, 0.5)) == 0.0
    assert polygon_solid_angle(square, (5.0, 0.0, 0.5)) == 0.0
    assert polygon_solid_angle([(0, 0, 0), (1, 0, 0), (2, 0, 0)], (0, 1, 0)) == 0.0


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: centred_rectangle_solid_angle(-1.0, 1.0, 1.0), "width"),
        (lambda: centred_rectangle_solid_angle(1.0, math.nan, 1.0), "height"),
        (lambda: centred_rectangle_solid_angle(1.0, 1.0, 0.0), "distance"),
        (lambda: rectangle_solid_angle(1.0, 0.0, 0.0, 1.0, 1.0), "right"),
        (lambda: rectangle_solid_angle(0.0, 1.0, 1.0, 0.0, 1.0), "top"),
        (lambda: rectangle_solid_angle(0.0, 1.0, 0.0, 1.0, 0.0), "distance"),
        (lambda: polygon_solid_angle([(0, 0, 0), (1, 0, 0)], (0, 1, 0)), "ring"),
        (lambda: polygon_solid_angle([(0, 0), (1, 0), (1, 1)], (0, 1, 0)), "ring"),
        (lambda: polygon_solid_angle([(0, 0, 0), (1, 0, 0), (1, 0, math.nan)], (0, 1, 0)), "ring"),
        (lambda: polygon_solid_angle([(0, 0, 0), (1, 0, 0), (1, 0.1, 1), (0, 0, 1)], (0, 1, 0)), "ring"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
