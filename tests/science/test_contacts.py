"""Contacts of solids and swept shadows, against what the definitions say (closed form)."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sightwash.science.contacts import contacts, swept_shadow
from sightwash.science.facets import make_frame
from sightwash.science.shadows import facing_solids

Floats = NDArray[np.float64]

FRAME = make_frame((0, 0, 0), (1, 0, 0))
CUBE = np.array([(s, -y, z) for s in (0, 1) for y in (1, 2) for z in (0, 1)], float)
# the half of the cube with s + y <= 2: a prism on the triangle (0, 1), (1, 1), (0, 2)
HALF = np.array([(s, -y, z) for s, y in ((0, 1), (1, 1), (0, 2)) for z in (0, 1)], float)


def found(*solids: Floats) -> list[tuple[int, int, int]]:
    """Pairs and how many different common corners each has."""
    facing = facing_solids(FRAME, solids, np.array([(0.0, 0.0, 50.0)]), (-9, -9, 9, 9))
    pairs = contacts(facing, list(range(len(solids))))
    return [(pair.one, pair.other, len(np.unique(pair.points.round(9), axis=0))) for pair in pairs]


def moved(solid: Floats, s: float, y: float = 0.0, z: float = 0.0) -> Floats:
    return solid + np.array((s, y, z))


def test_faces_edges_and_overlaps_are_found() -> None:
    assert found(CUBE, moved(CUBE, 1)) == [(0, 1, 4)]  # one shared face
    assert found(CUBE, moved(CUBE, 1, 0, 1)) == [(0, 1, 2)]  # one shared edge
    assert found(CUBE, moved(CUBE, 0.5)) == [(0, 1, 8)]  # half a cube in common
    assert found(CUBE, moved(CUBE * 0.5, 0.25, -0.75, 0.25)) == [(0, 1, 8)]  # one inside the other


def test_solids_apart_and_flat_ones_are_not() -> None:
    assert found(CUBE, moved(CUBE, 1 + 1e-6)) == []
    assert found(HALF, np.array([(1.05 - s, -3.05 - y, z) for s, y, z in HALF])) == []  # only their bounds overlap
    assert found(CUBE, CUBE[CUBE[:, 0] == 0]) == []  # a flat panel on its side


def shadow(points: Floats, eye: Floats) -> shapely.Geometry:
    """Projection of a point set by the two-point form of a line, point by point."""
    marks = [(eye + (point - eye) * (eye[2] / (eye[2] - point[2])))[:2] for point in points]
    return shapely.MultiPoint(marks).convex_hull


coordinates = st.floats(-5, 5).map(lambda value: round(value, 3))
points = st.lists(st.tuples(coordinates, coordinates, st.floats(0, 3)), min_size=1, max_size=6)
eyes = st.tuples(coordinates, coordinates, st.floats(3.5, 20))


@given(points, eyes, eyes, st.floats(0, 1))
def test_swept_shadow_holds_the_shadow_of_every_eye_between(
    corners: list[tuple[float, ...]], start: tuple[float, ...], end: tuple[float, ...], share: float
) -> None:
    body, one, other = np.array(corners), np.array(start), np.array(end)
    swept = swept_shadow(body, one, other)
    assert swept is not None
    between = shadow(body, one + share * (other - one))
    assert between.difference(swept.buffer(1e-6)).is_empty
    assert shadow(body, one).difference(swept.buffer(1e-9)).is_empty


@given(points, eyes, eyes, st.integers(0, 999))
@settings(max_examples=60, deadline=None)
def test_swept_shadow_holds_nothing_that_no_eye_between_hides(
    corners: list[tuple[float, ...]], start: tuple[float, ...], end: tuple[float, ...], seed: int
) -> None:
    body, one, other = np.array(corners), np.array(start), np.array(end)
    swept = swept_shadow(body, one, other)
    assert swept is not None
    shadows = [shadow(body, one + share * (other - one)) for share in np.linspace(0, 1, 61)]
    step = max(shapely.hausdorff_distance(a, b) for a, b in pairwise(shadows))
    marks = shapely.get_coordinates(swept)
    inside = np.random.default_rng(seed).dirichlet(np.ones(len(marks)), 20) @ marks
    gaps = shapely.distance(shapely.points(inside)[:, None], np.array(shadows)).min(axis=1)
    assert gaps.max() <= step + 1e-6


def test_a_body_that_reaches_an_eye_s_plane_has_no_swept_shadow() -> None:
    post = np.array([(0.0, 0.0, 1.0), (0.0, 0.0, 3.0)])
    assert swept_shadow(post, np.array((0.0, 0.0, 3.0)), np.array((5.0, 0.0, 9.0))) is None
