"""Solid angle of a plane triangle (Van Oosterom and Strackee 1983) at solids with known answers (published).

HEALPix, surface_triangle: the octant is 1.5707963267948966. A cube's face from its middle is a sixth of the sphere, a
regular tetrahedron's a quarter.
"""

import math

import pytest

from sightwash.science.solid_angle import centred_rectangle_solid_angle, polygon_solid_angle


def test_octant():
    assert polygon_solid_angle([(1, 0, 0), (0, 1, 0), (0, 0, 1)], (0, 0, 0)) == pytest.approx(
        1.5707963267948966, abs=1e-15
    )


def test_cube_face():
    face = [(-1, -1, 1), (1, -1, 1), (1, 1, 1), (-1, 1, 1)]
    assert polygon_solid_angle(face, (0, 0, 0)) == pytest.approx(2 * math.pi / 3, abs=1e-14)
    assert centred_rectangle_solid_angle(2.0, 2.0, 1.0) == pytest.approx(2 * math.pi / 3, abs=1e-14)


def test_tetrahedron_face():
    face = [(1, 1, 1), (1, -1, -1), (-1, 1, -1)]
    assert polygon_solid_angle(face, (0, 0, 0)) == pytest.approx(math.pi, abs=1e-14)
