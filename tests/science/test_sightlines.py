"""Properties of the sightline sums; the numbers are in ``tests/published/test_sightline_closed_forms.py``."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.sightlines import (
    canopy_shadow,
    canopy_shadow_area,
    grazing_height,
    hidden_height,
    hidden_height_below,
    projected_position,
    strip_width,
)
from sightwash.science.standpoints import (
    eye_height_on_slope,
    missed_band,
    stand_back_distance,
    stand_back_distances,
    step_height,
)

heights = st.floats(0.5, 12)
depths = st.floats(0.05, 5)
rooms = st.floats(0.1, 100)


@given(heights, heights, depths, rooms, st.floats(0.01, 10))
def test_hidden_height_falls_with_distance_and_grows_with_edge_and_depth(
    edge: float, eye: float, depth: float, room: float, more: float
) -> None:
    assume(edge > eye + 0.01)
    base = hidden_height(edge, eye, depth, depth + room)
    assert hidden_height(edge, eye, depth, depth + room + more) < base
    assert hidden_height(edge + more, eye, depth, depth + room) > base
    assert hidden_height(edge, eye, depth + min(more, room / 2), depth + room) > base


@given(heights, depths, rooms, heights, heights)
def test_hidden_height_is_linear_in_the_eye(edge: float, depth: float, room: float, one: float, other: float) -> None:
    assume(max(one, other) < edge)
    middle = hidden_height(edge, (one + other) / 2, depth, depth + room)
    ends = hidden_height(edge, one, depth, depth + room) + hidden_height(edge, other, depth, depth + room)
    assert middle == pytest.approx(ends / 2, rel=1e-9, abs=1e-12)


@given(heights, heights, depths, rooms)
def test_one_of_the_two_hidden_heights_is_zero(edge: float, eye: float, depth: float, room: float) -> None:
    above, below = (sums(edge, eye, depth, depth + room) for sums in (hidden_height, hidden_height_below))
    assert min(above, below) == 0
    assert (above > 0) == (eye < edge)


@given(heights, heights, depths, rooms, st.floats(0, 3), st.floats(0, 2))
def test_shadow_of_a_box_holds_the_box_and_both_wedges(
    bottom: float, eye: float, depth: float, room: float, thick: float, gap: float
) -> None:
    top, reach = bottom + thick, depth + gap
    touching = canopy_shadow(bottom, top, reach, eye, reach + room)
    assert touching.low == pytest.approx(bottom - hidden_height_below(bottom, eye, reach, reach + room), rel=1e-9)
    assert touching.high == pytest.approx(top + hidden_height(top, eye, reach, reach + room), rel=1e-9)
    held_off = canopy_shadow(bottom, top, depth, eye, reach + room, gap)
    assert touching.low - 1e-9 <= held_off.low <= held_off.high <= touching.high + 1e-9


@given(heights, heights, depths, rooms)
def test_sight_line_turned_round_gives_the_distance_and_the_step_back(
    edge: float, eye: float, depth: float, room: float
) -> None:
    assume(edge > eye + 0.01)
    distance = depth + room
    seen_from = edge + hidden_height(edge, eye, depth, distance)
    assert stand_back_distance(seen_from, edge, eye, depth) == pytest.approx(distance, rel=1e-6)
    assert step_height(seen_from, edge, depth, distance, eye - 0.3) == pytest.approx(0.3, abs=1e-6)
    assert step_height(seen_from + 0.01, edge, depth, distance, eye) == 0
    assert grazing_height([depth], [edge], eye, distance) == pytest.approx(seen_from, rel=1e-12)


def test_an_eye_at_the_canopy_sees_nothing_above_it() -> None:
    assert hidden_height(3, 1, 2, 2 + 1e-9) > 1e9


def test_flat_sign_hides_nothing() -> None:
    assert hidden_height(3, 1, 0, 5) == 0
    assert step_height(3.5, 3, 0, 5, 1) == 0
    assert canopy_shadow_area(10, 3, 0, 1, 5) == 0


def test_an_eye_above_the_edge_sees_from_the_edge_outward() -> None:
    assert stand_back_distances([3.5], 3, 4, 2).tolist() == [2.0]
    assert math.isinf(stand_back_distances([3.0], 3, 1, 2)[0])


def test_crew_that_sees_lower_than_the_public_misses_nothing() -> None:
    assert missed_band(3, 2, 1, 5, 1.6, 30).height == 0


@given(st.floats(-50, 50), st.floats(-50, 50), depths, rooms)
def test_a_point_on_the_wall_projects_onto_itself(place: float, eye: float, depth: float, room: float) -> None:
    assert projected_position(place, eye, 0, depth + room) == pytest.approx(place, abs=1e-9)
    wide = projected_position(place + 1, eye, depth, depth + room) - projected_position(place, eye, depth, depth + room)
    assert wide == pytest.approx(strip_width(1, depth, depth + room), rel=1e-6)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: hidden_height(3, 1, 2, 2), "distance"),
        (lambda: hidden_height(3, 1, -1, 2), "depth"),
        (lambda: hidden_height(math.nan, 1, 1, 2), "edge_height"),
        (lambda: hidden_height(3, math.inf, 1, 2), "eye_height"),
        (lambda: hidden_height_below(3, 1, 1, math.inf), "distance"),
        (lambda: canopy_shadow(3, 2.5, 1, 1, 9), "top"),
        (lambda: canopy_shadow(3, 3, 1, 1, 9, -1), "gap"),
        (lambda: canopy_shadow(3, 3, -1, 1, 9, 2), "depth"),
        (lambda: canopy_shadow_area(-1, 3, 1, 1, 9), "length"),
        (lambda: strip_width(-1, 1, 9), "width"),
        (lambda: projected_position(math.nan, 1, 1, 9), "position"),
        (lambda: grazing_height([], [], 1, 9), "heights"),
        (lambda: grazing_height([1], [1, 2], 1, 9), "heights"),
        (lambda: grazing_height([1], [math.nan], 1, 9), "heights"),
        (lambda: grazing_height([-1], [2], 1, 9), "depths"),
        (lambda: stand_back_distance(3, 3, 1, 1), "wall_height"),
        (lambda: stand_back_distances([math.nan], 3, 1, 1), "wall_heights"),
        (lambda: stand_back_distances([4], 3, 1, -1), "depth"),
        (lambda: eye_height_on_slope(1, 0.02, -1), "distance"),
        (lambda: eye_height_on_slope(1, math.nan, 1), "fall"),
        (lambda: step_height(2, 3, 1, 9, 1), "wall_height"),
    ],
)
def test_numbers_out_of_range_are_refused_by_name(call: Callable[[], object], parameter: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        call()
    assert caught.value.parameter == parameter


def test_interval_over_arrays_of_profile_points() -> None:
    y, z = np.linspace(0.1, 2, 50), np.linspace(4, 3, 50)
    each = [grazing_height([one], [other], 1.5, 20) for one, other in zip(y, z, strict=True)]
    assert grazing_height(y, z, 1.5, 20) == max(each)
