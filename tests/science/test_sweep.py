"""The laid path of a round head: a raster of the swept ground, closed forms, the lower bound, what it must keep to.

Closed forms: back and forth over a rectangle, ``n (a - w) + (b - w)``; the tube formula ``L >= (A - pi r2) / w``. The
raster measures the distance of every grid point to every straight piece of the path with numpy alone.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import (
    MultiPolygon,
    Point,
    Polygon,
    box,
    contains_xy,
    covers,
    get_coordinates,
    segmentize,
    union_all,
)
from shapely.affinity import rotate, translate

from sightwash.basis.errors import OutOfRange
from sightwash.science.coverage import reach_split
from sightwash.science.sweep import head_ground, lay_path

FOOT = 0.3048
EDGE = 4e-3  # a path is drawn up to 0.5 mm inside and slivers to 2 mm deep may go unseen


@st.composite
def grounds(draw):
    """A star-shaped outline about 5 m across with up to five posts and benches; some touch the outline."""
    turns = sorted(draw(st.sets(st.integers(0, 23), min_size=5, max_size=12)))
    points = [(math.radians(15 * turn), draw(st.floats(1.5, 3.5))) for turn in turns]
    shape = Polygon([(r * math.cos(a), r * math.sin(a)) for a, r in points]).buffer(0)
    for _ in range(draw(st.integers(0, 5))):
        size, x, y = draw(st.floats(0.1, 0.8)), draw(st.floats(-2.5, 2.5)), draw(st.floats(-2.5, 2.5))
        thing = Point(0, 0).buffer(size / 2) if draw(st.booleans()) else rotate(box(0, 0, size, size / 2), 30 * size)
        shape = shape.difference(translate(thing, x, y))
    return max(getattr(shape, "geoms", [shape]), key=lambda part: part.area)


def laid(ground, radius=0.254, gap=0.0254, heading=90.0, overlap=0.12, finish=None):
    target = reach_split(ground, radius, gap).reached
    centres = head_ground(ground, radius, gap)
    return target, centres, lay_path(centres, target, radius, heading, overlap, finish)


def distances(points, path):
    """Least distance of points to the pieces of a path, carries left out."""
    best = np.full(len(points), np.inf)
    for line, kind in zip(path.lines, path.kinds, strict=True):
        if kind == "carry":
            continue
        for a, b in pairwise(np.asarray(line.coords)):
            way = b - a
            share = np.clip((points - a) @ way / max(way @ way, 1e-300), 0.0, 1.0)
            best = np.minimum(best, np.hypot(*(points - a - share[:, None] * way).T))
    return best


def roughened(shape, random, rough):
    """Return a polygon with every corner moved at random."""

    def moved(ring):
        corners = np.asarray(ring.coords)[:-1]
        return corners + random.normal(0.0, rough, corners.shape)

    return Polygon(moved(shape.exterior), [moved(ring) for ring in shape.interiors])


def edge_distances(points, shape):
    """Least distance of points to the edges of a polygon, by numpy alone."""
    best = np.full(len(points), np.inf)
    for ring in (shape.exterior, *shape.interiors):
        for a, b in pairwise(np.asarray(ring.coords)):
            way = b - a
            share = np.clip((points - a) @ way / max(way @ way, 1e-300), 0.0, 1.0)
            best = np.minimum(best, np.hypot(*(points - a - share[:, None] * way).T))
    return best


def grid(shape, step):
    low_x, low_y, high_x, high_y = shape.bounds
    mesh = np.meshgrid(np.arange(low_x, high_x, step) + step / 2, np.arange(low_y, high_y, step) + step / 2)
    return np.column_stack([part.ravel() for part in mesh])


@settings(max_examples=25, deadline=None)
@given(grounds(), st.floats(0.15, 0.35), st.sampled_from([0.0, 0.0254]), st.floats(0, 180), st.floats(0.0, 0.3))
def test_raster_of_the_swept_ground_agrees_with_what_is_claimed(ground, radius, gap, heading, overlap):
    target, _, path = laid(ground, radius, gap, heading, overlap)
    if target.is_empty:
        assert path.lines == ()
        return
    step = 0.04
    points = grid(ground, step)
    near = distances(points, path)
    claimed = target.difference(path.missed).buffer(-EDGE)
    assert (near[contains_xy(claimed, *points.T)] <= radius + 1e-6).all()
    assert (near[contains_xy(path.missed.buffer(-1e-3), *points.T)] > radius - 1e-3).all()
    swept = np.count_nonzero(near <= radius) * step**2
    assert swept == pytest.approx(target.area - path.missed.area, abs=0.02 + step * target.length / 4)
    assert not contains_xy(ground.buffer(-EDGE).difference(target.buffer(EDGE)), *points[near <= radius].T).any()


@settings(max_examples=20, deadline=None)
@given(grounds(), st.floats(0.15, 0.35), st.sampled_from([0.0, 0.0254]), st.integers(0, 2**31), st.floats(0.0, 0.02))
def test_places_of_the_middle_keep_their_distance_from_rough_outlines(ground, radius, gap, seed, rough):
    """Brute force: every place is r + e from all edges, its outline at most 0.5 mm more; no other place is as far."""
    random = np.random.default_rng(seed)
    noisy = roughened(segmentize(ground, 0.08), random, rough)
    if not noisy.is_valid:
        noisy = ground
    found = head_ground(noisy, radius, gap)
    mesh = grid(noisy, 0.15)
    mesh = mesh[contains_xy(noisy, *mesh.T)]
    room = edge_distances(mesh, noisy)
    inside = contains_xy(found, *mesh.T)
    assert (room[inside] >= radius + gap - 1e-9).all()
    assert (room[~inside] <= radius + gap + 1e-3).all()
    rim = get_coordinates(segmentize(found, 0.05))
    assert len(rim) == 0 or edge_distances(rim, noisy).min() >= radius + gap - 1e-9


@settings(max_examples=25, deadline=None)
@given(grounds(), st.floats(0, 180))
def test_the_middle_of_the_head_stays_on_its_ground_and_the_path_hangs_together(ground, heading):
    _, centres, path = laid(ground, heading=heading)
    room = centres.buffer(1e-4)
    for line, kind in zip(path.lines, path.kinds, strict=True):
        assert kind == "carry" or covers(room, line)
    for before, after in pairwise(path.lines):
        assert math.dist(before.coords[-1], after.coords[0]) < 1e-9


@settings(max_examples=25, deadline=None)
@given(grounds(), st.floats(0, 180), st.floats(0.0, 0.3))
def test_no_path_is_shorter_than_the_tube_formula_allows(ground, heading, overlap):
    target, _, path = laid(ground, heading=heading, overlap=overlap)
    parts = sum(kind == "carry" for kind in path.kinds) + 1
    covered = target.area - path.missed.area
    assert path.length >= (covered - parts * math.pi * 0.254**2) / 0.508 - 1e-6


@settings(max_examples=40, deadline=None)
@given(st.floats(3, 40), st.floats(0.6, 6), st.floats(0.0, 0.3), st.floats(0, 180))
def test_a_plain_walk_takes_the_closed_form_and_a_swing_a_turn(long, across, overlap, turn):
    """n (a - w) + (b - w), and at most one step out and back a turn for the cusp that the turn leaves."""
    if long < across:
        long, across = across, long
    walk = rotate(box(0, 0, long, across), turn, origin=(0, 0))
    _, _, path = laid(walk, gap=0.0, heading=90.0 + turn, overlap=overlap)
    count = 1 + max(0, math.ceil((across - 0.508) / (0.508 * (1 - overlap)) - 1e-5))
    assert path.passes == count
    plain = count * (long - 0.508) + (across - 0.508)
    assert path.moved == 0.0
    assert plain - 1e-3 <= path.length <= plain + 2.0 * path.pitch * (count - 1) + 1e-3
    assert path.missed.area < 1e-3


def test_the_walk_of_the_reference():
    """Check of the reference, section 3.2: 100 x 10 ft with a 20 in head takes 598.333 ft where passes just touch."""
    _, _, path = laid(box(0, 0, 100 * FOOT, 10 * FOOT), gap=0.0, overlap=0.0)
    swings = sum(line.length for line, kind in zip(path.lines, path.kinds, strict=True) if kind == "swing")
    assert path.passes == 6
    assert (path.length - swings) / FOOT == pytest.approx(598.333, abs=1e-3)
    assert swings / path.length < 0.03


def test_a_post_is_rounded_in_passing():
    walk = box(0, 0, 20, 3).difference(Point(10, 1.5).buffer(0.15))
    _, _, path = laid(walk)
    assert path.moved == 0.0
    assert path.passes == 7
    assert path.missed.area < 1e-3
    around = 2 * math.pi * (0.15 + 0.2794)
    plain = 7 * (20 - 0.5588) + (3 - 0.5588)
    assert path.length < plain + 3.5 * around


def test_passes_follow_the_heading_and_end_near_the_way_out():
    walk = box(0, 0, 20, 3)
    for heading, first in ((90.0, 0.2794), (270.0, 2.7206)):
        for finish in ((-5.0, 1.5), (25.0, 1.5)):
            _, _, path = laid(walk, heading=heading, finish=finish)
            assert path.lines[0].coords[0][1] == pytest.approx(first, abs=1e-3)
            assert abs(path.lines[-1].coords[-1][0] - finish[0]) < 6.0


def test_open_ends_are_run_out_of_and_cleaned():
    """Ground that may be left over both ends: nothing is missed and no swing is needed there."""
    walk, room = box(0, 0, 10, 2), box(-1, 0, 11, 2)
    target = reach_split(walk, 0.25, 0.02, travel=room).reached
    path = lay_path(head_ground(room, 0.25, 0.02), target, 0.25, 90.0, 0.1)
    assert path.missed.area < 1e-4
    assert "swing" not in path.kinds


def test_grounds_that_do_not_hang_together_are_joined_by_carries():
    ground = MultiPolygon([box(0, 0, 4, 2), box(6, 0, 10, 2)])
    target = reach_split(ground, 0.25).reached
    path = lay_path(head_ground(ground, 0.25), target, 0.25)
    assert path.kinds.count("carry") == 1
    assert path.missed.area < 1e-3
    carried = sum(line.length for line, kind in zip(path.lines, path.kinds, strict=True) if kind == "carry")
    assert path.length == pytest.approx(sum(line.length for line in path.lines) - carried)


def test_a_long_planter_parts_the_ground_into_cells():
    ground = box(0, 0, 20, 6).difference(box(5, 2.5, 15, 3.5))
    _, _, path = laid(ground)
    assert path.missed.area < 1e-3
    assert 0.0 < path.moved < 0.1 * path.length


def test_a_head_that_does_not_fit_lays_nothing():
    ground = box(0, 0, 5, 0.4)
    assert head_ground(ground, 0.25).is_empty
    path = lay_path(head_ground(ground, 0.25), ground, 0.25)
    assert path.lines == ()
    assert path.length == 0.0


def test_erosion_of_a_square_with_a_post_is_the_closed_form():
    ground = box(0, 0, 4, 4).difference(union_all([box(1.9, 1.9, 2.1, 2.1)]))
    grown = 0.2**2 + 4 * 0.2 * 0.3 + math.pi * 0.3**2
    assert head_ground(ground, 0.25, 0.05).area == pytest.approx(3.4**2 - grown, abs=1e-3)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: head_ground(box(0, 0, 1, 1), 0.0), "radius"),
        (lambda: head_ground(box(0, 0, 1, 1), 0.1, -1.0), "edge_gap"),
        (lambda: head_ground(Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), 0.1), "ground"),
        (lambda: lay_path(box(0, 0, 1, 1), box(0, 0, 1, 1), 0.0), "radius"),
        (lambda: lay_path(box(0, 0, 1, 1), box(0, 0, 1, 1), 0.1, math.nan), "heading"),
        (lambda: lay_path(box(0, 0, 1, 1), box(0, 0, 1, 1), 0.1, 90.0, 1.0), "overlap"),
        (lambda: lay_path(Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), box(0, 0, 1, 1), 0.1), "centres"),
        (lambda: lay_path(box(0, 0, 1, 1), Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), 0.1), "target"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
