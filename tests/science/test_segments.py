"""Least distance between stretches: against GEOS in the plane, closed forms, and no sampled pair lies nearer."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.segments import segment_distances

PLACE = st.integers(-6, 6)
FLAT, SPACE = st.tuples(PLACE, PLACE), st.tuples(PLACE, PLACE, PLACE)


@given(FLAT, FLAT, FLAT, FLAT)
def test_in_the_plane_as_geos_says(a, b, c, d):
    """Independent program: GEOS through shapely, stretches that cross, touch, lie in line or have no length."""
    found = float(segment_distances(a, b, c, d))
    assert found == pytest.approx(shapely.LineString([a, b]).distance(shapely.LineString([c, d])), abs=1e-9)


@given(SPACE, SPACE, SPACE, SPACE)
def test_no_sampled_pair_is_nearer_and_one_comes_close(a, b, c, d):
    share = np.linspace(0.0, 1.0, 41)[:, None]
    one, other = (np.array(p) + share * (np.array(q) - np.array(p)) for p, q in ((a, b), (c, d)))
    sampled = float(np.linalg.norm(one[:, None] - other, axis=2).min())
    steps = (math.dist(a, b) + math.dist(c, d)) / 80
    assert sampled - steps - 1e-9 <= float(segment_distances(a, b, c, d)) <= sampled + 1e-9


def test_edges_of_a_box_lie_as_far_apart_as_its_sides():
    """Closed form: opposite edges of a box 3 x 4 x 12, at right angles 12, side by side the face's diagonal of 5."""
    assert float(segment_distances((0, 0, 0), (3, 0, 0), (0, 0, 12), (0, 4, 12))) == pytest.approx(12.0)
    assert float(segment_distances((0, 0, 0), (0, 0, 12), (3, 4, 0), (3, 4, 12))) == pytest.approx(5.0)


def test_pairs_are_broadcast():
    ways = np.array([[(0, 0), (1, 0)], [(0, 5), (1, 5)]], float)
    found = segment_distances(ways[:, None, 0], ways[:, None, 1], ways[None, :, 0], ways[None, :, 1])
    assert found.tolist() == [[0.0, 5.0], [5.0, 0.0]]


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_every_coordinate_is_finite(bad):
    with pytest.raises(OutOfRange, match="third"):
        segment_distances((0, 0), (1, 0), (bad, 1), (2, 2))
