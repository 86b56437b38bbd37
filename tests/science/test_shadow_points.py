"""Points in shadow: against sightlines clipped by half-spaces, and what is covered or behind.

The rays are an independent program: a sightline is cut to the stretch inside each slab of a box turned about the
vertical (M. Cyrus and J. Beck, Computers & Graphics 3, 1978, from memory). No shadow and no hull is shared.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.facets import make_frame
from sightwash.science.shadow_points import hidden_points

FRAME = make_frame((0, 0, 0), (1, 0, 0))
GRID = np.array([(s, z) for s in np.arange(0.37, 20, 0.83) for z in np.arange(0.29, 6, 0.71)])
NUMBER = st.floats(0, 1, allow_subnormal=False)


@st.composite
def boxes(draw):
    """Return middle (s, y, z), half sizes and turn of a box that stands before the facet, its s and y as in a plan."""
    place, size = ([draw(NUMBER) for _ in range(3)] for _ in range(2))
    half = np.array([0.1, 0.1, 0.1]) + np.array(size) * (3.0, 1.0, 2.0)
    away = math.hypot(half[0], half[1]) + 0.05 + 9.0 * place[1]
    return np.array([24.0 * place[0] - 2.0, away, 6.0 * place[2]]), half, draw(NUMBER) * 3.0


def corners(box):
    """Return a box's corners in world axes: the facet looks toward negative y."""
    middle, half, turn = box
    signs = np.array([(a, b, c) for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)]) * half
    along = np.cos(turn) * signs[:, 0] - np.sin(turn) * signs[:, 1] + middle[0]
    out = np.sin(turn) * signs[:, 0] + np.cos(turn) * signs[:, 1] + middle[1]
    return np.column_stack((along, -out, signs[:, 2] + middle[2]))


def stretches(box, eye, grow):
    """Return which sightlines from an eye (s, out, z) to the grid run through a box made larger by so much."""
    middle, half, turn = box
    turned = np.array([[np.cos(turn), np.sin(turn), 0.0], [-np.sin(turn), np.cos(turn), 0.0], [0.0, 0.0, 1.0]])
    ends = np.column_stack((GRID[:, 0], np.zeros(len(GRID)), GRID[:, 1]))
    start, step = turned @ (np.array(eye) - middle), (ends - eye) @ turned.T
    first, last = np.zeros(len(GRID)), np.ones(len(GRID))
    for axis in range(3):
        with np.errstate(divide="ignore", invalid="ignore"):
            at = np.sort(np.stack([(sign * (half[axis] + grow) - start[axis]) / step[:, axis] for sign in (-1, 1)]), 0)
        level = step[:, axis] == 0.0
        within = abs(start[axis]) < half[axis] + grow
        first = np.where(level, first if within else 2.0, np.maximum(first, at[0]))
        last = np.where(level, last, np.minimum(last, at[1]))
    return last > first


@given(st.lists(boxes(), max_size=5), st.lists(st.tuples(NUMBER, NUMBER, NUMBER), min_size=1, max_size=4))
@settings(max_examples=80, deadline=None)
def test_a_point_is_hidden_when_its_sightline_is_cut(bodies, places):
    """A line that grazes a box within 0.1 mm may be told either way."""
    eyes = np.array([(24.0 * a - 2.0, 0.2 + 12.0 * b, 8.0 * c) for a, b, c in places])
    found = hidden_points(FRAME, [corners(body) for body in bodies], eyes * (1, -1, 1), GRID)
    for eye, row in zip(eyes, found, strict=True):
        surely, maybe = (np.zeros(len(GRID), bool) for _ in range(2))
        for body in bodies:
            surely |= stretches(body, eye, -1e-4)
            maybe |= stretches(body, eye, 1e-4)
        assert (row[surely]).all()
        assert not row[~maybe].any()


def test_what_a_solid_touches_is_not_hidden_by_it_and_from_behind_all_is():
    block = np.array([(s, y, z) for s in (4, 6) for y in (0, -1) for z in (1, 2)], float)
    found = hidden_points(FRAME, [block], [(5, -9, 1.5), (5, 9, 1.5)], [(5, 1.5), (6.05, 1.5), (9, 1.5)])
    assert found.tolist() == [[False, True, False], [False, True, True]]


@pytest.mark.parametrize("points", [[], [(1.0, math.nan)]])
def test_points_are_asked_for(points):
    with pytest.raises(OutOfRange, match="points"):
        hidden_points(FRAME, [], [(0, -1, 1)], points)
