"""Properties of what a round head reaches: split, opening and closed forms (own closed forms against shapely)."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box, contains_xy, get_coordinates
from shapely.affinity import rotate, translate

from sightwash.basis.errors import OutOfRange
from sightwash.science.coverage import (
    corner_gap,
    corner_residue,
    disc_opening,
    post_cusp,
    reach_split,
    rectangle_residue,
)


@st.composite
def surfaces(draw):
    """A star-shaped outline about 4 m across with up to three square posts; some touch the outline's edge."""
    turns = sorted(draw(st.sets(st.integers(0, 23), min_size=5, max_size=10)))
    radii = [draw(st.floats(0.8, 2.5)) for _ in turns]
    angles = [math.radians(15 * turn) for turn in turns]
    shape = Polygon([(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]).buffer(0)
    for _ in range(draw(st.integers(0, 3))):
        side, x, y = draw(st.floats(0.1, 0.5)), draw(st.floats(-1.5, 1.5)), draw(st.floats(-1.5, 1.5))
        post = rotate(box(-side / 2, -side / 2, side / 2, side / 2), draw(st.floats(0, 90)))
        shape = shape.difference(translate(post, x, y))
    return max(getattr(shape, "geoms", [shape]), key=lambda part: part.area)


def edge_distance(points, shape):
    """Distance of points to the outlines of a polygon, from its segments alone."""
    best = np.full(len(points), np.inf)
    for ring in (shape.exterior, *shape.interiors):
        corners = get_coordinates(ring)
        for a, b in pairwise(corners):
            way = b - a
            along = np.clip((points - a) @ way / max(way @ way, 1e-300), 0.0, 1.0)
            best = np.minimum(best, np.hypot(*(points - a - along[:, None] * way).T))
    return best


def inside_points(shape, step):
    low_x, low_y, high_x, high_y = shape.bounds
    grid = np.meshgrid(np.arange(low_x, high_x, step), np.arange(low_y, high_y, step))
    points = np.column_stack([part.ravel() for part in grid])
    return points[contains_xy(shape, points[:, 0], points[:, 1])]


@settings(max_examples=40, deadline=None)
@given(surfaces(), st.floats(0.05, 0.6), st.floats(0.0, 0.15))
def test_split_is_a_partition(surface, radius, gap):
    parts = reach_split(surface, radius, gap)
    assert sum(part.area for part in parts) == pytest.approx(surface.area, abs=1e-9)
    for one, other in ((0, 1), (0, 2), (1, 2)):
        assert parts[one].intersection(parts[other]).area < 1e-9
    for part in parts:
        assert part.difference(surface).area < 1e-9


@settings(max_examples=25, deadline=None)
@given(surfaces(), st.floats(0.15, 0.6), st.floats(0.0, 0.15))
def test_reach_agrees_with_a_disc_tried_at_every_grid_centre(surface, radius, gap):
    """Brute force, without buffers: a point is reached if a centre within r lies r + e or more from every edge."""
    step = 0.04
    slack = step / math.sqrt(2.0) + 2e-4
    centres = inside_points(surface, step)
    room = edge_distance(centres, surface)
    surely, perhaps = centres[room >= radius + gap], centres[room >= radius + gap - slack]
    parts = reach_split(surface, radius, gap)
    points = inside_points(surface, 0.11)
    claimed = contains_xy(parts.reached, points[:, 0], points[:, 1])
    missed = contains_xy(parts.trim.union(parts.left_over).buffer(-1e-3), points[:, 0], points[:, 1])
    far = np.array([np.hypot(*(perhaps - p).T).min(initial=np.inf) for p in points])
    near = np.array([np.hypot(*(surely - p).T).min(initial=np.inf) for p in points])
    sliver = contains_xy(parts.reached.buffer(-1e-3), points[:, 0], points[:, 1])
    assert (far[claimed & sliver] <= radius + slack).all()
    assert (near[missed] > radius - 1e-3).all()


@settings(max_examples=10, deadline=None)
@given(surfaces(), st.floats(0.05, 0.6), st.floats(0.0, 0.15))
def test_opening_stays_inside_and_does_not_change_when_done_again(surface, radius, gap):
    """Idempotence holds for the radius less what the chords fall short."""
    once = disc_opening(surface, radius)
    assert once.difference(surface).area < 1e-9
    assert disc_opening(once, radius * 0.999).area == pytest.approx(once.area, abs=2e-3)
    chord = 1.5e-4 * radius + 1e-5  # what an arc may fall short, so that one opening may stand out of the other
    assert disc_opening(surface, radius, gap).buffer(-chord).difference(once).area < 1e-9


@settings(max_examples=60, deadline=None)
@given(st.floats(1, 9), st.floats(1, 9), st.floats(0.05, 0.49), st.floats(0.0, 0.3), st.floats(0, 90))
def test_rectangle_residue_is_what_the_opening_leaves(length, width, radius, gap, turn):
    """Closed form; the residue of check 17 of the reference within what the chords fall short."""
    surface = rotate(box(0, 0, length, width), turn)
    left = surface.area - disc_opening(surface, radius, gap).area
    assert left == pytest.approx(rectangle_residue(length, width, radius, gap), abs=1e-3 * radius**2 + 1e-9)


@settings(max_examples=40, deadline=None)
@given(surfaces(), st.floats(0.05, 0.6), st.floats(0.0, 0.15) | st.floats(1e-12, 1e-4))
@example(Polygon([(1, 0), (0.5, 0.866), (1.414, 1.414), (1.732, 1), (0.966, 0.259)]), 0.25, 1e-10)
def test_opening_against_the_buffers_of_a_general_library(surface, radius, gap):
    """Independent program: the buffers of shapely (GEOS), sound on outlines with few corners like these."""
    peer = surface.buffer(-(radius + gap), quad_segs=64).buffer(radius, quad_segs=64).intersection(surface)
    assert disc_opening(surface, radius, gap).symmetric_difference(peer).area < 2e-3


def test_union_of_strips_that_the_library_once_lost():
    """Independent program: GEOS buffers. A union of three strips with edges within rounding of each other lost one."""
    corners = [
        (-0.328, -3.083), (-0.335, -3.092), (-0.4, -3.109), (-0.462, -3.079), (-3.019, -0.498), (-3.033, -0.481),
        (-3.078, -0.411), (-3.093, -0.35), (-3.035, 0.5), (-3.028, 0.53), (-2.788, 1.133), (-2.784, 1.141),
        (-2.521, 1.671), (-2.476, 1.716), (0.139, 3.026), (0.2, 3.035), (0.254, 3.007), (2.99, 0.315),
        (3.018, 0.261), (3.01, 0.201), (1.754, -2.483), (1.715, -2.526), (1.266, -2.793), (1.254, -2.799),
        (0.599, -3.078), (0.559, -3.086),
    ]  # fmt: skip
    surface = Polygon(corners)
    peer = surface.buffer(-0.3322, quad_segs=64).buffer(0.3068, quad_segs=64)
    assert disc_opening(surface, 0.3068, 0.0254).area == pytest.approx(peer.area, abs=2e-3)


def test_free_posts_cost_the_gap_about_them_and_posts_near_each_other_the_slot_between():
    """Closed form: a square post of side s costs 4 s e + pi e2 of trim; two posts 0.3 apart leave their slot."""
    yard = box(0, 0, 8, 8)
    one = reach_split(yard.difference(box(4, 4, 4.3, 4.3)), 0.25, 0.03)
    frame = reach_split(yard, 0.25, 0.03)
    assert one.trim.area - frame.trim.area == pytest.approx(4 * 0.3 * 0.03 + math.pi * 0.03**2, abs=1e-5)
    assert one.left_over.area == pytest.approx(frame.left_over.area, abs=1e-9)
    two = reach_split(yard.difference(box(4, 4, 4.3, 4.3)).difference(box(4.6, 4, 4.9, 4.3)), 0.25, 0.03)
    assert two.left_over.contains(Point(4.45, 4.15))


def test_ground_outside_the_travel_is_left_over():
    parts = reach_split(box(0, 0, 4, 2), 0.25, travel=box(0, 0, 2, 2))
    assert parts.left_over.contains(Point(3, 1))
    assert not parts.reached.intersects(box(2.1, 0, 4, 2))


def test_rectangle_residue_of_a_twenty_inch_head():
    """Check 17 of the reference: 0.596116 ft2 for r 10 in."""
    assert rectangle_residue(10.0, 4.0, 10 / 12) == pytest.approx(0.596116, abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.floats(20, 100), st.floats(20, 75))
def test_triangle_residue_is_the_sum_of_its_corners(first, second):
    third = 180.0 - first - second
    a, b = math.radians(first), math.radians(second)
    apex = math.sin(b) / math.sin(a + b)
    triangle = Polygon([(0, 0), (1, 0), (apex * math.cos(a), apex * math.sin(a))])
    inner = 2.0 * triangle.area / triangle.length
    radius = 0.5 * inner
    expected = sum(corner_residue(radius, angle) for angle in (first, second, third))
    assert triangle.area - disc_opening(triangle, radius).area == pytest.approx(expected, abs=2e-3 * radius**2)


def test_corner_closed_forms():
    """Closed forms: square corner (1 - pi/4) r2, equilateral triangle (3 sqrt 3 - pi) r2, check 18 of the reference."""
    assert corner_residue(2.0) == pytest.approx(4.0 * (1.0 - math.pi / 4.0), abs=1e-12)
    assert 3.0 * corner_residue(1.0, 60.0) == pytest.approx(3.0 * math.sqrt(3.0) - math.pi, abs=1e-12)
    assert corner_residue(1.0, 60.0) == pytest.approx(0.684853, abs=1e-6)
    assert corner_residue(1.0, 270.0) == 0.0
    assert corner_gap(1.0) == pytest.approx(math.sqrt(2.0) - 1.0, abs=1e-12)
    assert corner_gap(1.0, 200.0) == 0.0
    assert corner_gap(1.0, 60.0) == pytest.approx(1.0, abs=1e-12)


def test_gap_is_where_the_opening_ends():
    swept = disc_opening(box(0, 0, 4, 4), 1.0)
    assert swept.distance(Point(0, 0)) == pytest.approx(corner_gap(1.0), abs=1e-4)


@pytest.mark.parametrize(("post", "head"), [(1.0, 1.0), (0.3, 1.0), (1.0, 0.4)])
def test_post_at_a_wall_leaves_two_cusps(post, head):
    """Closed form; R = r gives (2 - pi/2) r2, check 19 of the reference. GEOS buffers lose 5 m2 of the first case."""
    room = box(-8, 0, 8, 8).difference(Point(0, post).buffer(post, quad_segs=256).union(box(-1e-3, 0, 1e-3, post)))
    corners = 4.0 * corner_residue(head)
    left = room.area - disc_opening(room, head).area
    assert left - corners == pytest.approx(2.0 * post_cusp(post, head), abs=1e-3)
    if post == head:
        assert post_cusp(post, head) == pytest.approx((2.0 - math.pi / 2.0) * head**2, abs=1e-12)


def test_free_posts_leave_nothing_and_an_inside_corner_of_an_l_neither():
    room = box(0, 0, 10, 10).difference(Point(5, 5).buffer(0.4)).difference(box(2, 2, 2.3, 2.3))
    assert room.area - disc_opening(room, 0.5).area == pytest.approx(4 * corner_residue(0.5), abs=1e-3)
    ell = box(0, 0, 6, 6).difference(box(3, 3, 6, 6))
    assert ell.area - disc_opening(ell, 0.5).area == pytest.approx(5 * corner_residue(0.5), abs=1e-3)


def test_trim_is_the_frame_and_the_rest_the_corners():
    parts = reach_split(box(0, 0, 10, 3), 0.25, 0.04)
    assert parts.trim.area == pytest.approx(30.0 - 9.92 * 2.92, abs=1e-3)
    assert parts.left_over.area == pytest.approx((4 - math.pi) * 0.0625, abs=1e-4)
    assert len(parts.left_over.geoms) == 4


def test_slots_narrower_than_the_head_are_left_over_and_those_only_the_shroud_keeps_out_of_are_trim():
    yard = box(0, 0, 4, 4)
    narrow = yard.union(box(4, 1, 6, 1.3))
    assert reach_split(narrow, 0.2, 0.05).left_over.contains(Point(5, 1.15))
    tight = yard.union(box(4, 1, 6, 1.45))
    assert reach_split(tight, 0.2, 0.05).trim.contains(Point(5, 1.2))


def test_running_out_over_an_open_edge_cleans_up_to_it():
    surface = box(0, 0, 4, 2)
    open_side = reach_split(surface, 0.25, 0.05, travel=box(0, 0, 4, 4))
    closed = reach_split(surface, 0.25, 0.05)
    gained = open_side.reached.area - closed.reached.area
    assert gained > 0.05 * 3.4
    assert open_side.reached.intersects(LineString([(1, 1.999), (3, 1.999)]))
    assert not closed.reached.intersects(LineString([(1, 1.999), (3, 1.999)]))


def test_a_head_that_does_not_fit_leaves_all():
    assert rectangle_residue(3.0, 0.4, 0.25) == pytest.approx(1.2)
    parts = reach_split(box(0, 0, 3, 0.4), 0.25)
    assert parts.reached.is_empty
    assert parts.left_over.area == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: disc_opening(box(0, 0, 1, 1), 0.0), "radius"),
        (lambda: disc_opening(box(0, 0, 1, 1), 0.1, -0.1), "edge_gap"),
        (lambda: disc_opening(Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), 0.1), "ground"),
        (lambda: reach_split(Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), 0.1), "surface"),
        (lambda: reach_split(box(0, 0, 1, 1), 0.1, tolerance=0.0), "tolerance"),
        (lambda: reach_split(box(0, 0, 1, 1), 0.1, travel=Polygon([(0, 0), (1, 1), (1, 0), (0, 1)])), "travel"),
        (lambda: reach_split(box(0, 0, 1, 1), math.nan), "radius"),
        (lambda: corner_residue(-1.0), "radius"),
        (lambda: corner_residue(1.0, 0.0), "angle"),
        (lambda: corner_gap(1.0, 360.0), "angle"),
        (lambda: rectangle_residue(0.0, 1.0, 0.1), "length"),
        (lambda: rectangle_residue(1.0, math.inf, 0.1), "width"),
        (lambda: rectangle_residue(1.0, 1.0, 0.1, -1.0), "edge_gap"),
        (lambda: post_cusp(0.0, 1.0), "post_radius"),
        (lambda: post_cusp(1.0, 0.0), "radius"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
