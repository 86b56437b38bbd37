"""Sight along a path: enclosed from both sides, checked against ray casting from dense eyes written here.

The rays are an independent program: each box is kept as half-spaces and a sightline is clipped by them (M. Cyrus and
J. Beck, Generalized two- and three-dimensional clipping, Computers & Graphics 3, 1978, from memory).
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science.eye_path import eye_path
from sightwash.science.facets import make_frame
from sightwash.science.pathsight import PathSight, path_sight
from sightwash.science.visibility import partition

Floats = NDArray[np.float64]

FRAME = make_frame((0, 0, 0), (1, 0, 0))
WALL = shapely.box(0, 0, 30, 8)
POINTS = np.random.default_rng(11).uniform((0, 0), (30, 8), (400, 2))


class Box(NamedTuple):
    """A turned box twice: world corners, and world half-spaces (normal, offset) for the rays."""

    corners: Floats
    faces: Floats


def turned_box(centre: Floats, half: Floats, turn: float) -> Box:
    axes = np.array([(math.cos(turn), math.sin(turn), 0), (-math.sin(turn), math.cos(turn), 0), (0, 0, 1)])
    signs = np.array([(a, b, c) for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)])
    normals = np.concatenate((axes, -axes))
    offsets = normals @ centre + np.tile(half, 2)
    return Box(centre + signs * half @ axes, np.column_stack((normals, offsets)))


def blocked(boxes: list[Box], eye: Floats, points: Floats) -> NDArray[np.bool_]:
    """Whether the sightline from each wall point to the eye passes through a box by more than a hair."""
    start = np.column_stack((points[:, 0], np.zeros(len(points)), points[:, 1]))
    found = np.zeros(len(points), bool)
    for box in boxes:
        room = box.faces[:, 3] - start @ box.faces[:, :3].T
        rate = (eye - start) @ box.faces[:, :3].T
        with np.errstate(divide="ignore", invalid="ignore"):
            at = room / rate
        enter = np.where(rate < 0, at, 0.0).max(axis=1).clip(0)
        leave = np.where(rate > 0, at, 1.0).min(axis=1).clip(None, 1)
        found |= (enter < leave) & ~((rate == 0) & (room < 0)).any(axis=1)
    return found


def dense(path: Floats, count: int) -> Floats:
    """Eyes at even spacing along a polyline, not those of the code under test."""
    run = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))))
    at = np.linspace(0, run[-1], count)
    return np.column_stack([np.interp(at, run, path[:, k]) for k in range(3)])


def inner(shape: BaseGeometry, points: Floats) -> NDArray[np.bool_]:
    """Points inside a shape and not within a hair of its edge."""
    dots = shapely.points(points)
    edge = shapely.distance(shapely.boundary(shape), dots) if not shape.is_empty else np.ones(len(points))
    return shapely.contains_xy(shape, points) & (edge > 1e-6)


numbers = st.floats(0, 1, allow_subnormal=False)


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    place, size = (np.array([draw(numbers) for _ in range(3)]) for _ in range(2))
    centre = np.array((-8.03, -16.1, 0.2)) + place * (46.0, 15.5, 3.0)
    return turned_box(centre, np.array((0.1, 0.1, 0.2)) + size * (5, 2, 2.5), draw(numbers) * 3)


@st.composite
def paths(draw: st.DrawFn) -> Floats:
    count = draw(st.integers(2, 4))
    corners = [[draw(numbers) for _ in range(3)] for _ in range(count)]
    return np.array((-25.3, -24.7, 0.8)) + np.array(corners) * (80, 27, 3)


@given(st.lists(boxes(), min_size=1, max_size=5), paths())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_inside_and_outside_enclose_what_dense_rays_see(obstacles: list[Box], path: Floats) -> None:
    sight = path_sight(WALL, FRAME, [box.corners for box in obstacles], path, spacing=4, most_pieces=64)
    assert sight.outside.area - sight.inside.area == pytest.approx(sight.gap_area, abs=1e-6)
    assert sight.inside.difference(sight.outside).area < 1e-9
    assert sight.proven == (sight.gap_area <= 0.001 * WALL.area)
    seen = np.zeros(len(POINTS), bool)
    for eye in dense(path, 97):
        if eye[1] < -0.01:
            seen |= ~blocked(obstacles, eye, POINTS)
    dark = inner(WALL.difference(sight.outside), POINTS)
    assert not (seen & dark).any()  # independent program: nothing outside is ever seen
    found = np.zeros(len(POINTS), bool)
    for eye in sight.eyes[sight.seen_areas > 0]:
        found |= ~blocked(obstacles, eye, POINTS)
    assert found[inner(sight.inside, POINTS)].all()  # independent program: all inside is seen by a sampled eye


@given(st.lists(boxes(), min_size=1, max_size=4), paths())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_sampled_eye_sees_no_more_than_outside_and_together_they_see_inside(
    obstacles: list[Box], path: Floats
) -> None:
    bodies = [box.corners for box in obstacles]
    sight = path_sight(WALL, FRAME, bodies, path, spacing=6, most_pieces=32)
    seen = [partition(WALL, FRAME, bodies, eye).seen for eye in sight.eyes if eye[1] <= -0.01 + 1e-9]
    for shape in seen:
        assert shape.difference(sight.outside).area < 1e-6
    assert sight.inside.symmetric_difference(shapely.union_all(seen)).area < 1e-6


@given(st.lists(boxes(), min_size=1, max_size=4), paths())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_longer_path_never_sees_less(obstacles: list[Box], path: Floats) -> None:
    bodies = [box.corners for box in obstacles]
    long = path_sight(WALL, FRAME, bodies, path, most_pieces=16)
    short = path_sight(WALL, FRAME, bodies, path[:-1], most_pieces=16)
    assert short.inside.difference(long.outside).area < 1e-6


def wide_box(left: float, right: float, near: float, far: float, low: float, high: float) -> Floats:
    return np.array([(s, -y, z) for s in (left, right) for y in (near, far) for z in (low, high)], float)


def test_one_solid_and_a_straight_road_need_one_piece_and_leave_no_gap() -> None:
    # closed form: the thin sign's shadow from an eye 10 m out, 5 m beyond it, is twice as large and moves against it;
    # from s = 14.5 it is 13.5..21.5 and from s = 15.5 it is 12.5..20.5, so 7 m by 2 m stay dark (z 0.5..2.5)
    sign = wide_box(14, 18, 5, 5, 1, 2)
    sight = path_sight(WALL, FRAME, [sign], [(14.5, -10, 1.5), (15.5, -10, 1.5)])
    assert (sight.pieces, sight.gap_area, sight.proven) == (1, 0, True)
    assert sight.outside.area == pytest.approx(240 - 7 * 2)
    assert WALL.difference(sight.outside).bounds == pytest.approx((13.5, 0.5, 20.5, 2.5))


@pytest.mark.parametrize("cuts", [(), (3.0,), (-40.0, 3.0, 11.5, 60.0)])
def test_splitting_a_hedge_in_touching_parts_changes_nothing(cuts: tuple[float, ...]) -> None:
    # closed form: hedge 2 m high, its near face 4 m and its far face 5 m out; the eye is 1.07 m up and 30..34 m out, so
    # the lowest line that passes its top falls at 1.07 + 0.93 x 34/29 from 34 m and 1.07 + 0.93 x 30/25 from 30 m
    bounds = (-900.0, *cuts, 900.0)
    hedge = [wide_box(left, right, 4, 5, 0, 2) for left, right in pairwise(bounds)]
    sight = path_sight(WALL, FRAME, hedge, [(-50, -30, 1.07), (110, -34, 1.07)])
    assert sight.proven
    assert sight.inside.area == pytest.approx(30 * (8 - 1.07 - 0.93 * 34 / 29), rel=1e-6)
    assert sight.outside.area == pytest.approx(sight.inside.area, abs=1e-6)


def test_solids_apart_that_take_over_from_each_other_are_enclosed_ever_closer() -> None:
    posts = [wide_box(4 * k, 4 * k + 3, 2 + k % 2, 2.5 + k % 2, 0, 3) for k in range(8)]
    road = [(0, -9, 1.5), (30, -9, 1.5)]
    rough, fine = (path_sight(WALL, FRAME, posts, road, tolerance=share) for share in (0.05, 1e-5))
    assert rough.proven
    assert fine.proven
    assert fine.gap_area <= 1e-5 * WALL.area < rough.gap_area
    assert fine.outside.difference(rough.outside).area < 1e-9
    assert rough.inside.difference(fine.inside).area < 1e-9


def test_legs_that_touch_at_their_top_do_not_hide_what_is_seen_between_them() -> None:
    # at each end of this road one leg of a trestle hides the wall at (15, 1); from its middle the eye looks through
    def leg(side: int) -> Floats:
        flat = [(15 + side * 2, 0), (15 + side * 3, 0), (14.5, 4), (15.5, 4)]
        return np.array([(s, -y, z) for s, z in flat for y in (4, 4.5)])

    legs, road = [leg(-1), leg(1)], [(11.56, -8.5, 1.5), (18.44, -8.5, 1.5)]
    coarse = path_sight(WALL, FRAME, legs, road, spacing=100, most_pieces=1)
    between = partition(WALL, FRAME, legs, (15, -8.5, 1.5)).seen
    assert not coarse.inside.contains(shapely.Point(15, 1))
    assert between.contains(shapely.Point(15, 1))
    assert between.difference(coarse.outside).area < 1e-9
    assert not coarse.proven
    assert path_sight(WALL, FRAME, legs, road, spacing=100).inside.contains(shapely.Point(15, 1))


def test_the_limit_of_pieces_is_kept_and_reported() -> None:
    posts = [wide_box(4 * k, 4 * k + 3, 2 + k % 2, 2.5 + k % 2, 0, 3) for k in range(8)]
    sight = path_sight(WALL, FRAME, posts, [(0, -9, 1.5), (30, -9, 1.5)], tolerance=1e-9, most_pieces=5)
    assert sight.pieces == 5
    assert not sight.proven
    assert sight.gap_area > 0


def test_a_fixed_eye_sees_as_the_exact_partition() -> None:
    solids = [wide_box(3, 9, 1, 2, 0, 2), wide_box(12, 13, 0, 1, 2, 3)]
    sight = path_sight(WALL, FRAME, solids, [(8, -7, 1.6)])
    seen, _, covered = partition(WALL, FRAME, solids, (8, -7, 1.6))
    for found in (sight.inside, sight.outside):
        assert found.symmetric_difference(seen).area < 1e-9
    assert sight.covered.equals(covered)
    assert sight.seen_areas.tolist() == pytest.approx([seen.area])
    stopped = path_sight(WALL, FRAME, solids, [(8, -7, 1.6), (8, -7, 1.6)])
    assert stopped.inside.symmetric_difference(seen).area < 1e-9


def test_a_path_behind_the_wall_sees_nothing() -> None:
    sight = path_sight(WALL, FRAME, [], [(0, 5, 1.6), (30, 2, 1.6)])
    assert sight.inside.is_empty
    assert sight.outside.is_empty
    assert sight.proven
    assert not sight.seen_areas.any()


def test_a_path_through_the_wall_s_plane_sees_only_from_in_front() -> None:
    screen = wide_box(-50, 50, 3, 3.1, -5, 90)
    through = path_sight(WALL, FRAME, [screen], [(40, 8, 1.6), (40, -20, 1.6)])
    in_front = path_sight(WALL, FRAME, [screen], [(40, -0.01, 1.6), (40, -20, 1.6)])
    assert through.inside.symmetric_difference(in_front.inside).area < 1e-6
    assert through.outside.area == pytest.approx(240)  # before the screen the wall lies open
    ahead = through.eyes[:, 1] <= -0.01 + 1e-9
    assert (through.seen_areas[~ahead] == 0).all()
    assert through.seen_areas[ahead].max() == through.best_area
    assert -3 <= through.best_eye[1] < 0


def test_samples_are_spaced_and_in_order() -> None:
    path = np.array([(0, -5, 1), (0, -5, 1), (12, -5, 1), (12, -10, 1)], float)
    sight = path_sight(WALL, FRAME, [], path, spacing=2.5)
    assert sight.stations[0] == 0
    assert sight.stations[-1] == 17
    assert np.diff(sight.stations).max() <= 2.5
    assert sight.eyes == pytest.approx(at_stations(path, sight))
    assert sight.seen_areas.tolist() == [240] * len(sight.eyes)


def at_stations(path: Floats, sight: PathSight) -> Floats:
    """Points of a polyline at the stations that a result names."""
    run = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))))
    return np.column_stack([np.interp(sight.stations, run, path[:, k]) for k in range(3)])


def test_same_input_same_bytes() -> None:
    posts = [wide_box(4 * k, 4 * k + 3, 2 + k % 2, 2.5 + k % 2, 0, 3) for k in range(8)]
    first, second = (path_sight(WALL, FRAME, posts, [(0, -9, 1.5), (30, -8, 1.5)], tolerance=1e-4) for _ in range(2))
    assert first.outside.wkb == second.outside.wkb
    assert first.inside.wkb == second.inside.wkb
    assert first.eyes.tobytes() == second.eyes.tobytes()


@given(paths(), st.floats(0.5, 9))
def test_pieces_cover_all_of_the_path_that_lies_in_front(path: Floats, spacing: float) -> None:
    local = path[:, [0, 2, 1]] * (1, 1, -1)
    assume(np.ptp(local, axis=0).max() > 1e-3)
    walk = eye_path(local, spacing, 0.01)
    covered = sum(float(walk.stations[end] - walk.stations[start]) for start, end in walk.pieces)
    eyes = dense(local, 20_001)
    length = float(np.linalg.norm(np.diff(local, axis=0), axis=1).sum())
    assert covered == pytest.approx(length * (eyes[:, 2] >= 0.01).mean(), abs=length * 1e-3)
    assert (walk.eyes[walk.ahead, 2] >= 0.01 - 1e-6).all()
    assert np.diff(walk.stations).max() <= spacing + 1e-9


@pytest.mark.parametrize("setting", ["tolerance", "most_pieces", "spacing", "least_distance"])
def test_settings_must_be_above_zero(setting: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        path_sight(WALL, FRAME, [], [(0, -5, 1)], **{setting: 0})
    assert caught.value.parameter == setting
