"""Sightlines over a canopy against sums done by hand, and shadows against ray casting.

Sources, named beside each check:

- *closed form*: similar triangles (Euclid, The Elements, Book VI, Proposition 4), worked here in fractions of a foot
  from the numbers in the test, not from the functions under test;
- *independent program*: the count of hidden cells on a seeded wall that three ray casters gave in one run, a slab test
  written in numpy, Embree through embreex 4.4.0.post1 and Open3D 0.20.0 (27,220,203 of 207,360,000 by the slab test,
  one more by each Embree route, whose float32 rays differ in one cell on a shadow's edge). A slab test (T. L. Kay and
  J. T. Kajiya, Ray tracing complex scenes, SIGGRAPH 1986, from memory) is run here again on some of the views.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray

from sightwash.science.facets import make_frame
from sightwash.science.sight_cells import Grid, unseen_cells
from sightwash.science.sightlines import (
    canopy_shadow,
    canopy_shadow_area,
    grazing_height,
    hidden_height,
    hidden_height_below,
    strip_width,
)
from sightwash.science.standpoints import (
    eye_height_on_slope,
    missed_band,
    stand_back_distance,
    stand_back_distances,
    step_height,
)
from sightwash.science.visibility import hidden_areas, partition

Floats = NDArray[np.float64]

FRAME = make_frame((0, 0, 0), (1, 0, 0))
WALL = shapely.box(0, 0, 300, 24)
GRID = Grid(0.0, 0.0, 1 / 12, 3600, 288)


def over_edge(top: str, eye: str, depth: int, distance: int) -> float:
    """Hidden height by hand: the rise from eye to edge over the run between them, times the depth."""
    return float((Fraction(top) - Fraction(eye)) / (distance - depth) * depth)


@pytest.mark.parametrize(
    ("top", "eye", "depth", "distance", "printed"),
    [
        ("10", "3.5", 6, 30, 1.6250),
        ("10", "3.5", 6, 60, 0.7222),
        ("10", "3.5", 6, 100, 0.4149),
        ("10", "7.6", 6, 60, 0.2667),
        ("10", "5", 6, 20, 2.1429),
        ("10", "5", 6, 40, 0.8824),
        ("10", "5", 6, 12, 5.0000),
        ("14", "3.5", 8, 80, 1.1667),
    ],
)
def test_hidden_height_is_similar_triangles(top: str, eye: str, depth: int, distance: int, printed: float) -> None:
    found = hidden_height(float(top), float(eye), depth, distance)
    assert found == pytest.approx(over_edge(top, eye, depth, distance), abs=1e-9)  # closed form
    assert round(found, 4) == printed


def test_hidden_below_from_an_upstairs_window() -> None:
    # closed form: 14 ft of drop over 54 ft of run, continued for 6 ft = 14/9 ft
    assert hidden_height_below(10, 24, 6, 60) == pytest.approx(float(Fraction(14, 9)), abs=1e-9)


@pytest.mark.parametrize(("height", "distance"), [(11.0, 45.0), (12.0, 25.5)])
def test_stand_back_distance(height: float, distance: float) -> None:
    # closed form: from 45 ft the line falls 6.5 ft in 39 ft = 1/6, so 6 ft on it stands 1 ft over the edge
    assert stand_back_distance(height, 10, 3.5, 6) == pytest.approx(distance, abs=1e-9)
    assert stand_back_distances([height], 10, 3.5, 6).tolist() == pytest.approx([distance], abs=1e-9)


def test_stand_back_distance_for_a_walker() -> None:
    # closed form: 5 ft of rise in 60 ft of run is 1 in a foot, so 6 in higher after 6 ft
    assert stand_back_distance(10.5, 10, 5, 6) == pytest.approx(66.0, abs=1e-9)


def test_band_that_the_public_sees_and_the_crew_does_not() -> None:
    # closed form: the crew's eye at 5.25 ft, 12 ft out, sees from 10 + 4.75 = 14.75 ft; the driver from 10 + 13/18 ft
    band = missed_band(10, 6, 3.5, 60, 5.25, 12)
    assert band.height == pytest.approx(float(Fraction("4.75") - Fraction(13, 18)), abs=1e-9)
    assert round(band.height, 6) == 4.027778


def test_finite_canopy_hides_one_trapezoid_wherever_the_eye_stands() -> None:
    # closed form: (40 + 40 x 60/54) / 2 x 13/18 = 40 x 19/9 x 13/36
    expected = float(Fraction(40) * Fraction(19, 9) * Fraction(13, 36))
    assert canopy_shadow_area(40, 10, 6, 3.5, 60) == pytest.approx(expected, abs=1e-6)
    canopy = np.array([(x, y, 10.0) for x in (130, 170) for y in (0, -6)])
    areas = hidden_areas(WALL, FRAME, [canopy], [(x, -60, 3.5) for x in (120, 150, 213.7)])
    assert areas.tolist() == pytest.approx([expected] * 3, abs=1e-6)
    assert round(expected, 6) == 30.493827


def test_box_canopy_on_a_whole_wall() -> None:
    # closed form: 300 ft x (6 in covered + 7/54 x 6 ft hidden) = 383 1/3 ft2; 15 rows of 3,600 one-inch cells
    canopy = np.array([(x, y, z) for x in (0, 300) for y in (0, -6) for z in (10, 10.5)])
    seen, hidden, covered = partition(WALL, FRAME, [canopy], (150, -60, 3.5))
    assert covered.area == pytest.approx(150, abs=1e-6)
    assert hidden.area + covered.area == pytest.approx(float(300 * (Fraction(1, 2) + Fraction(7, 9))), abs=1e-6)
    assert seen.area == pytest.approx(7200 - 1150 / 3, abs=1e-6)
    assert unseen_cells(FRAME, [canopy], [(150, -60, 3.5)], GRID).sum() == 54_000


def test_falling_lot() -> None:
    # closed form: 2 % over 60 ft puts the eye at 2.3 ft over the wall's foot; 7.7 / 54 x 6
    eye = eye_height_on_slope(3.5, 0.02, 60)
    assert eye == pytest.approx(2.3, abs=1e-9)
    assert hidden_height(10, eye, 6, 60) == pytest.approx(float(Fraction("7.7") / 9), abs=1e-9)
    assert round(hidden_height(10, eye, 6, 60), 6) == 0.855556


def test_canopy_held_off_the_wall() -> None:
    # closed form, thin plate 1 ft off and 6 ft deep: 10 + 6.5 x 1/59 up to 10 + 6.5 x 7/53
    run = canopy_shadow(10, 10, 6, 3.5, 60, gap=1)
    expected = (float(10 + Fraction("6.5") / 59), float(10 + Fraction("6.5") * 7 / 53))
    assert tuple(run) == pytest.approx(expected, abs=1e-9)


def test_eye_level_with_a_thick_canopy() -> None:
    # closed form: eye 10.2 ft between 10 and 10.5 ft: 10 - 0.2/9 up to 10.5 + 0.3/9
    run = canopy_shadow(10, 10.5, 6, 10.2, 60)
    assert tuple(run) == pytest.approx((10 - 0.2 / 9, 10.5 + 0.3 / 9), abs=1e-9)


def test_gutter_behind_the_edge_hides_more() -> None:
    # closed form: edge 3.5 + 6.5 x 60/54 = 10.722; a point 10.2 ft up at 5 ft gives 3.5 + 6.7 x 60/55 = 10.809
    found = grazing_height([6, 5], [10, 10.2], 3.5, 60)
    assert found == pytest.approx(float(Fraction("3.5") + Fraction("6.7") * Fraction(60, 55)), abs=1e-9)


def test_column_strip() -> None:
    # closed form: 1.5 ft x 60/54
    assert round(strip_width(1.5, 6, 60), 4) == 1.6667


def test_step_height() -> None:
    # closed form: to see 1 ft over the edge 6 ft on, the line falls 14/6 ft in the 14 ft back to 20 ft: eye at 7 2/3 ft
    assert step_height(11, 10, 6, 20, 5.25) == pytest.approx(float(Fraction(23, 3) - Fraction("5.25")), abs=1e-9)


def box(*limits: float) -> Floats:
    """One box as x0, x1, depth0, depth1, z0, z1; depth runs out from the wall."""
    return np.array(limits, float)


def seeded_boxes() -> list[Floats]:
    columns = [box(x - 0.75, x + 0.75, 4.5, 6, 0, 10) for x in (60, 150, 240)]
    signs = [box(x - 0.25, x + 0.25, 0.5, 3.5, 12, 16) for x in (30, 120, 210)]
    return [box(0, 300, 0, 6, 10, 10.5), *columns, *signs]


def seeded_eyes() -> Floats:
    """100 drivers and 100 walkers, (x, distance, height), drawn in this order."""
    draw = np.random.default_rng(20240601).uniform
    street = np.column_stack((draw(-40, 340, 100), draw(60, 120, 100), np.full(100, 3.5)))
    return np.concatenate((street, np.column_stack((draw(-10, 310, 100), draw(8, 45, 100), draw(4.5, 5.6, 100)))))


def corners_of(limits: Floats) -> Floats:
    x0, x1, d0, d1, z0, z1 = limits
    return np.array([(x, -d, z) for x in (x0, x1) for d in (d0, d1) for z in (z0, z1)])


def slab_shadow(boxes: list[Floats], eye: Floats, x: Floats, z: Floats) -> NDArray[np.bool_]:
    """Cells whose ray from the eye meets a box, by intersecting the parameter ranges of three slabs."""
    hit = np.zeros((len(x), len(z)), bool)
    for x0, x1, d0, d1, z0, z1 in boxes:
        in_depth = sorted(((d1 - eye[1]) / -eye[1], (d0 - eye[1]) / -eye[1]))
        in_x = np.sort(((x0 - eye[0]) / (x - eye[0]), (x1 - eye[0]) / (x - eye[0])), axis=0)
        in_z = np.sort(((z0 - eye[2]) / (z - eye[2]), (z1 - eye[2]) / (z - eye[2])), axis=0)
        enter = np.maximum(np.maximum(in_x[0], in_depth[0])[:, None], in_z[0])
        leave = np.minimum(np.minimum(in_x[1], in_depth[1])[:, None], in_z[1])
        hit |= enter <= leave
    return hit


def test_seeded_wall_has_the_hidden_cells_that_ray_casters_counted() -> None:
    # independent program: slab test 27,220,203, two Embree routes 27,220,204; mean exact area 946.2481 ft2
    boxes, eyes = seeded_boxes(), seeded_eyes()
    solids, world = [corners_of(limits) for limits in boxes], eyes * (1, -1, 1)
    x, z = (np.arange(3600) + 0.5) / 12, (np.arange(288) + 0.5) / 12
    hidden = 0
    for start in range(0, 200, 25):
        cells = unseen_cells(FRAME, solids, world[start : start + 25], GRID)
        hidden += int(cells.sum(dtype=np.int64))
        slab = slab_shadow(boxes, eyes[start], x, z)
        assert int((slab != cells[0]).sum()) == 0  # independent program, run here on every 25th view
    assert abs(hidden - 27_220_203) <= 5
    areas = hidden_areas(WALL, FRAME, solids, world)
    assert areas.mean() + 150 == pytest.approx(946.2481, abs=1e-3)
