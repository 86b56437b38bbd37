"""Exact sight of a facet: against ray casting written here, and properties that hold for any site.

The rays are an independent program: each solid is also kept as half-spaces, and a sightline is clipped by them
(M. Cyrus and J. Beck, Generalized two- and three-dimensional clipping, Computers & Graphics 3, 1978, from memory).
No projection and no hull is shared with the code under test.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science.facets import Frame, make_frame, to_frame
from sightwash.science.sight_cells import Grid, unseen_cells
from sightwash.science.sightlines import canopy_shadow, canopy_shadow_area, grazing_height, strip_width
from sightwash.science.visibility import hidden_areas, hidden_shapes, partition

Floats = NDArray[np.float64]

FRAME = make_frame((0, 0, 0), (1, 0, 0))
WALL = shapely.box(0, 0, 30, 8)
HOLED = shapely.Polygon([(0, 0), (30, 0), (30, 5), (18, 5), (18, 8), (0, 8)], [[(3, 1), (6, 1), (6, 3), (3, 3)]])
S, Z = (axis.ravel() for axis in np.meshgrid(np.arange(0.37, 30, 1.13), np.arange(0.29, 8, 0.61)))


class Prism(NamedTuple):
    """A solid twice: corners for the code under test, half-spaces (normal, offset) for the rays; (s, z, y)."""

    corners: Floats
    faces: Floats


def prism(sides: int, centre: Floats, size: Floats, turn: float) -> Prism:
    """A standing prism on a regular polygon stretched in two directions, turned about the vertical."""
    angle = turn + 2 * math.pi * np.arange(sides) / sides
    flat = np.column_stack((np.cos(angle), np.sin(angle))) * size[:2] + centre[:2]
    low, high = centre[2], centre[2] + size[2]
    corners = np.array([(s, z, y) for s, y in flat for z in (low, high)])
    faces = [(0.0, 1.0, 0.0, high), (0.0, -1.0, 0.0, -low)]
    for (s0, y0), (s1, y1) in zip(flat, np.roll(flat, -1, axis=0), strict=True):
        normal = np.array((y1 - y0, -(s1 - s0))) / math.hypot(s1 - s0, y1 - y0)
        faces.append((normal[0], 0.0, normal[1], normal @ (s0, y0)))
    return Prism(corners, np.array(faces))


def blocked(solids: list[Prism], eye: Floats, points: Floats) -> NDArray[np.bool_]:
    """Whether the sightline from each point of the facet to the eye passes through a solid."""
    found = np.zeros(len(points), bool)
    start = np.column_stack((points, np.zeros(len(points))))
    for solid in solids:
        room = solid.faces[:, 3] - start @ solid.faces[:, :3].T
        rate = (eye - start) @ solid.faces[:, :3].T
        with np.errstate(divide="ignore", invalid="ignore"):
            at = room / rate
        enter = np.where(rate < 0, at, 0.0).max(axis=1).clip(0)
        leave = np.where(rate > 0, at, 1.0).min(axis=1).clip(None, 1)
        outside = ((rate == 0) & (room < 0)).any(axis=1)
        found |= (enter < leave) & ~outside
    return found


def world(local: Floats, frame: Frame) -> Floats:
    """Points (s, z, y) of a facet as world points."""
    return frame.origin + local @ np.stack((frame.along, frame.up, frame.normal))


numbers = st.floats(0, 1, allow_subnormal=False)


@st.composite
def prisms(draw: st.DrawFn) -> Prism:
    sides = draw(st.sampled_from([3, 4, 4, 4, 7]))
    place = np.array([draw(numbers) for _ in range(3)])
    size = np.array([draw(numbers) for _ in range(3)])
    centre = np.array((-5.03, -0.51, -0.07)) + place * (40.0, 16.0, 6.0)
    return prism(sides, centre, np.array((0.2, 0.2, 0.2)) + size * (4, 3, 4), draw(numbers) * 2)


@st.composite
def eyes(draw: st.DrawFn) -> Floats:
    return np.array((-10.01, 0.53, 0.31)) + [draw(numbers) for _ in range(3)] * np.array((50.0, 5.0, 25.0))


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    turn = draw(st.floats(0, 6.28))
    return make_frame((3.1, -40.2, 1.3), (math.cos(turn), math.sin(turn), 0))


def clear_of(solids: list[Prism], eye: Floats) -> bool:
    """Whether the eye is not on a solid's surface, where sight changes at once."""
    return all(abs((solid.faces[:, :3] @ eye - solid.faces[:, 3]).max()) > 1e-3 for solid in solids)


def away_from_edges(shapes: list[BaseGeometry], points: Floats) -> NDArray[np.bool_]:
    dots = shapely.points(points)
    near = [shapely.distance(shapely.boundary(shape), dots) < 1e-6 for shape in shapes if not shape.is_empty]
    return ~np.any(near, axis=0)


@given(st.lists(prisms(), max_size=5), eyes(), frames(), st.sampled_from([WALL, HOLED]))
@settings(max_examples=150, deadline=None)
def test_every_point_is_seen_or_not_as_its_ray_says(
    solids: list[Prism], eye: Floats, frame: Frame, outline: BaseGeometry
) -> None:
    assume(clear_of(solids, eye))
    parts = partition(outline, frame, [world(solid.corners, frame) for solid in solids], world(eye, frame))
    points = np.column_stack((S, Z))
    points = points[away_from_edges([outline, *parts], points)]
    points = points[shapely.contains_xy(outline, points)]
    seen, hidden, covered = (shapely.contains_xy(part, points) for part in parts)
    assert (seen.astype(int) + hidden + covered == 1).all()
    assert (seen == ~blocked(solids, eye, points)).all()  # independent program
    touched = np.zeros(len(points), bool)
    for solid in solids:
        flat = np.column_stack((points, np.zeros(len(points))))
        touched |= (flat @ solid.faces[:, :3].T <= solid.faces[:, 3]).all(axis=1)
    assert (covered == touched).all()


@given(st.lists(prisms(), max_size=6), eyes(), frames(), st.sampled_from([WALL, HOLED]))
@settings(max_examples=80, deadline=None)
def test_seen_hidden_and_covered_make_up_the_wall(
    solids: list[Prism], eye: Floats, frame: Frame, outline: BaseGeometry
) -> None:
    bodies = [world(solid.corners, frame) for solid in solids]
    seen, hidden, covered = partition(outline, frame, bodies, world(eye, frame))
    assert seen.area + hidden.area + covered.area == pytest.approx(outline.area, rel=1e-9)
    assert seen.intersection(hidden).area + seen.intersection(covered).area < 1e-9
    assert hidden.intersection(covered).area < 1e-9
    assert hidden_areas(outline, frame, bodies, world(eye, frame))[0] == pytest.approx(hidden.area, abs=1e-9)


@given(st.lists(prisms(), max_size=4), prisms(), eyes())
@settings(max_examples=60, deadline=None)
def test_one_more_obstacle_never_shows_more(solids: list[Prism], added: Prism, eye: Floats) -> None:
    bodies = [world(solid.corners, FRAME) for solid in solids]
    before = partition(WALL, FRAME, bodies, world(eye, FRAME)).seen
    after = partition(WALL, FRAME, [*bodies, world(added.corners, FRAME)], world(eye, FRAME)).seen
    assert after.difference(before).area < 1e-9


@given(st.lists(prisms(), max_size=4), eyes(), st.floats(0.05, 20))
@settings(max_examples=60, deadline=None)
def test_scaling_all_lengths_scales_areas_by_the_square(solids: list[Prism], eye: Floats, scale: float) -> None:
    bodies = [world(solid.corners, FRAME) for solid in solids]
    plain = partition(WALL, FRAME, bodies, world(eye, FRAME))
    larger = shapely.transform(WALL, lambda points: points * scale)
    scaled = partition(larger, FRAME, [body * scale for body in bodies], world(eye, FRAME) * scale)
    for one, other in zip(plain, scaled, strict=True):
        assert other.area == pytest.approx(one.area * scale**2, abs=1e-5 * scale**2)


@given(st.lists(prisms(), max_size=4), eyes())
@settings(max_examples=60, deadline=None)
def test_mirrored_site_is_seen_mirrored(solids: list[Prism], eye: Floats) -> None:
    def mirrored(points: Floats) -> Floats:
        return np.column_stack((30 - points[:, 0], points[:, 1:]))

    plain = partition(WALL, FRAME, [world(solid.corners, FRAME) for solid in solids], world(eye, FRAME))
    bodies = [world(mirrored(solid.corners), FRAME) for solid in solids]
    other = partition(WALL, FRAME, bodies, world(mirrored(eye[None]), FRAME)[0])
    for part, image in zip(plain, other, strict=True):
        assert shapely.transform(image, mirrored).symmetric_difference(part).area < 1e-6


@given(eyes(), st.floats(1, 4), st.floats(0.01, 1), st.floats(0.05, 0.3), st.floats(0.1, 0.9))
@settings(max_examples=60, deadline=None)
def test_full_canopy_hides_as_its_closed_form_says_wherever_the_eye_stands_and_however_it_is_split(
    eye: Floats, bottom: float, thick: float, depth: float, cut: float
) -> None:
    run = canopy_shadow(bottom, bottom + thick, depth, eye[1], eye[2])
    expected = 30 * (min(run.high, 8) - max(run.low, 0))  # closed form
    bounds = (-9e3, 30 * cut, 9e3)

    def canopy(left: float, right: float) -> Floats:
        return np.array([(s, -y, z) for s in (left, right) for y in (0, depth) for z in (bottom, bottom + thick)])

    place = world(eye, FRAME)
    whole = partition(WALL, FRAME, [canopy(bounds[0], bounds[2])], place)
    halves = partition(WALL, FRAME, [canopy(*bounds[:2]), canopy(*bounds[1:])], place)
    assert whole.hidden.area + whole.covered.area == pytest.approx(expected, abs=1e-6)
    assert halves.hidden.symmetric_difference(whole.hidden).area < 1e-6
    assert halves.covered.symmetric_difference(whole.covered).area < 1e-6


@given(st.floats(2, 10), st.floats(2.5, 4), st.floats(0.1, 1), st.floats(10, 40), st.floats(10, 20))
@settings(max_examples=60, deadline=None)
def test_finite_canopy_and_column_hide_what_their_closed_forms_say(
    length: float, edge: float, depth: float, distance: float, along: float
) -> None:
    wall = shapely.box(-100, 0, 100, 30)
    plate = np.array([(s, -y, edge) for s in (10, 10 + length) for y in (0, depth)])
    found = hidden_areas(wall, FRAME, [plate], (along, -distance, 1.5))
    assert found[0] == pytest.approx(canopy_shadow_area(length, edge, depth, 1.5, distance), rel=1e-9)
    panel = np.array([(s, -depth, z) for s in (along - 0.3, along + 0.3) for z in (-99, 99)])
    strip = hidden_shapes(wall, FRAME, [panel], (along, -distance, 1.5))[0]
    assert strip.bounds[2] - strip.bounds[0] == pytest.approx(strip_width(0.6, depth, distance), rel=1e-9)


def test_pitched_profile_hides_up_to_its_highest_grazing_line() -> None:
    profile = np.array([(0.0, 3.4), (1.5, 3.0), (1.8, 3.25), (1.8, 2.8), (0.0, 2.8)])
    solids = [np.array([(s, -y, z) for s in (-500, 500) for y, z in pair]) for pair in (profile[:2], profile[1:3])]
    hidden = hidden_shapes(WALL, FRAME, solids, (15, -20, 1.07))[0]
    assert hidden.bounds[3] == pytest.approx(grazing_height(*profile.T, 1.07, 20), rel=1e-9)


def test_an_eye_behind_or_in_the_plane_sees_nothing() -> None:
    sign = np.array([(s, y, z) for s in (1, 2) for y in (0, -0.2) for z in (1, 2)])
    for y in (0, 5):
        seen, hidden, covered = partition(WALL, FRAME, [sign], (4, y, 1.5))
        assert (seen.area, hidden.area, covered.area) == (0, 239, 1)
    assert hidden_areas(WALL, FRAME, [sign], [(4, 5, 1.5), (4, 0, 1.5)]).tolist() == [239, 239]


def test_what_stands_behind_the_wall_or_behind_the_eye_or_flat_on_the_wall_hides_nothing() -> None:
    block = np.array([(s, y, z) for s in (1, 2) for y in (0, 3) for z in (1, 2)], float)
    beyond = block - (0, 20, 0)
    painted = np.array([(1, 0, 1), (2, 0, 1), (2, 0, 2), (1, 0, 2)], float)
    for solid in (block, beyond, painted):
        seen, hidden, covered = partition(WALL, FRAME, [solid], (4, -9, 1.5))
        assert (seen.area, hidden.area, covered.area) == (240, 0, 0)


def test_a_solid_round_the_eye_hides_the_whole_wall() -> None:
    booth = np.array([(s, y, z) for s in (3, 5) for y in (-8, -10) for z in (0, 3)], float)
    seen, hidden, _ = partition(WALL, FRAME, [booth], (4, -9, 1.5))
    assert seen.area == pytest.approx(0, abs=1e-6)
    assert hidden.area == pytest.approx(240)


def test_a_fence_that_passes_beside_the_eye_hides_one_side_without_end() -> None:
    # closed form: the fence's near end at s = 2, y = 1 projects to 5 + (2 - 5) x 4/3 = 1 from the eye at s = 5, y = 4
    fence = np.array([(2, -y, z) for y in (1, 9) for z in (-99, 99)], float)
    hidden = partition(WALL, FRAME, [fence], (5, -4, 1.5)).hidden
    assert hidden.bounds == pytest.approx((0, 0, 1, 8), abs=1e-6)
    assert hidden.area == pytest.approx(8, abs=1e-6)


def test_overhanging_obstacle_hides_only_what_falls_on_the_wall() -> None:
    # closed form: a panel 1 m out over s 28..40 throws its shadow from 28.0 to 30 only; z 0..2 becomes -0.25..2.25
    panel = np.array([(s, -1, z) for s in (28, 40) for z in (0, 2)], float)
    hidden = partition(WALL, FRAME, [panel], (28, -5, 1)).hidden
    assert hidden.area == pytest.approx(2 * 2.25)


@given(st.lists(prisms(), max_size=4), st.lists(eyes(), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_cells_are_hidden_where_their_centre_s_ray_is(solids: list[Prism], viewers: list[Floats]) -> None:
    assume(all(clear_of(solids, eye) for eye in viewers))
    grid = Grid(-1.3, 0.2, 0.71, 40, 9)
    bodies = [world(solid.corners, FRAME) for solid in solids]
    cells = unseen_cells(FRAME, bodies, world(np.array(viewers), FRAME), grid)
    s, z = -1.3 + (np.arange(40) + 0.5) * 0.71, 0.2 + (np.arange(9) + 0.5) * 0.71
    points = np.array([(one, other) for one in s for other in z])
    frame_of_cells = shapely.box(-1.3, 0.2, -1.3 + 40 * 0.71, 0.2 + 9 * 0.71)
    for eye, found in zip(viewers, cells, strict=True):
        parts = partition(frame_of_cells, FRAME, bodies, world(eye, FRAME))
        sure = away_from_edges([parts.seen, frame_of_cells], points)
        assert (found.ravel() == blocked(solids, eye, points))[sure].all()  # independent program


def test_cells_from_behind_and_without_obstacles() -> None:
    cells = unseen_cells(FRAME, [], [(1, -5, 1), (1, 5, 1)], Grid(0, 0, 1, 4, 3))
    assert cells.sum(axis=(1, 2)).tolist() == [0, 12]


@given(frames(), st.lists(eyes(), min_size=1, max_size=5))
def test_frame_is_right_handed_and_turns_back(frame: Frame, points: list[Floats]) -> None:
    assert np.linalg.det(np.stack((frame.along, frame.up, frame.normal))) == pytest.approx(1)
    assert to_frame(world(np.array(points), frame), frame) == pytest.approx(np.array(points), abs=1e-9)


def test_frame_of_a_leaning_facet_keeps_its_axes_square() -> None:
    frame = make_frame((0, 0, 0), (2, 0, 0), (1, 1, 1))
    assert frame.up == pytest.approx(np.array((0, 1, 1)) / math.sqrt(2))
    assert frame.normal == pytest.approx(np.array((0, -1, 1)) / math.sqrt(2))


@pytest.mark.parametrize(
    ("outline", "solids", "eye", "parameter"),
    [
        (shapely.Polygon(), [], (0, -1, 1), "outline"),
        (shapely.Polygon([(0, 0), (2, 2), (2, 0), (0, 2)]), [], (0, -1, 1), "outline"),
        (WALL, [np.zeros((2, 3))], (0, -1, 1), "solids"),
        (WALL, [np.full((4, 3), np.nan)], (0, -1, 1), "points"),
        (WALL, [], (0, -1), "points"),
        (WALL, [], (0, -1, math.inf), "points"),
    ],
)
def test_bad_input_is_refused_by_name(
    outline: BaseGeometry, solids: list[Floats], eye: tuple[float, ...], parameter: str
) -> None:
    with pytest.raises(OutOfRange) as caught:
        partition(outline, FRAME, solids, eye)
    assert caught.value.parameter == parameter


@pytest.mark.parametrize(
    ("arguments", "parameter"),
    [
        (((0, 0), (1, 0, 0)), "origin"),
        (((0, 0, 0), (0, 0, 0)), "along"),
        (((0, 0, 0), (0, 0, 1)), "up"),
    ],
)
def test_frame_needs_two_directions(arguments: tuple[tuple[float, ...], ...], parameter: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        make_frame(*arguments)
    assert caught.value.parameter == parameter


def test_grid_needs_cells() -> None:
    with pytest.raises(OutOfRange, match="grid"):
        unseen_cells(FRAME, [], (0, -1, 1), Grid(0, 0, 0, 1, 1))
