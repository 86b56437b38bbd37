"""Shortest ways round what stands in between: worked by hand, and against a grid that another program walks."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from sightwash.basis.errors import OutOfRange
from sightwash.science.ways import shortest_ways

BLOCK = shapely.box(0, 0, 40, 20)


def test_round_a_building_by_its_corners():
    """Closed form: from 5 before the middle of a side of 40 to 5 behind it: twice hypot(20, 5) and 20 between."""
    (length,) = shortest_ways([(20, -5)], [(20, 25)], BLOCK)
    assert length == pytest.approx(2 * math.hypot(20, 5) + 20)


def test_straight_where_nothing_stands():
    lengths = shortest_ways([(-5, -5), (50, 50)], [(-5, 30), (50, 60), (20, -1)], BLOCK)
    assert lengths.tolist() == pytest.approx([35.0, 10.0, math.hypot(25, 4)])


def test_along_a_wall_is_no_detour():
    assert shortest_ways([(-5, 0)], [(45, 0)], BLOCK) == pytest.approx([50.0])
    assert shortest_ways([(-5, 1)], [(45, 1)], BLOCK) == pytest.approx([2 * math.hypot(5, 1) + 40])


def test_a_court_that_is_closed_cannot_be_entered():
    ring = shapely.Polygon([(0, 0), (30, 0), (30, 30), (0, 30)], [[(10, 10), (20, 10), (20, 20), (10, 20)]])
    assert shortest_ways([(-5, -5)], [(15, 15)], ring).tolist() == [math.inf]


def test_between_two_buildings_lies_a_way():
    two = shapely.union_all([shapely.box(0, 0, 10, 20), shapely.box(12, 0, 30, 20)])
    assert shortest_ways([(11, -5)], [(11, 25)], two) == pytest.approx([30.0])
    together = shapely.union_all([shapely.box(0, 0, 10, 20), shapely.box(10, 0, 30, 20)])
    assert shortest_ways([(11, -5)], [(11, 25)], together) == pytest.approx([2 * math.hypot(11, 5) + 20])


@settings(max_examples=10, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 9)] * 4), min_size=1, max_size=4), st.integers(0, 2**32))
def test_against_a_walk_over_a_fine_grid(boxes, seed):
    """Independent program: scipy's Dijkstra on a grid of 0.5 m with eight steps, which is 8.3 % long at worst."""
    obstacle = shapely.union_all([shapely.box(x, y, x + 1 + w / 4, y + 1 + h / 4) for x, y, w, h in boxes])
    inner = obstacle.buffer(-1e-3, join_style="mitre")
    grid = np.array([(x / 2, y / 2) for x in range(-4, 30) for y in range(-4, 30)])
    random = np.random.default_rng(seed)
    free = grid[~shapely.intersects(inner, shapely.points(grid))]
    start, *ends = free[random.choice(len(free), 6, replace=False)]
    near = np.abs(free[:, None] - free[None]).max(axis=2) < 0.51
    a, b = np.nonzero(near & ~np.eye(len(free), dtype=bool))
    open_steps = ~shapely.intersects(inner, shapely.linestrings(np.stack([free[a], free[b]], axis=1)))
    a, b = a[open_steps], b[open_steps]
    steps = csr_array((np.hypot(*(free[a] - free[b]).T), (a, b)), shape=(len(free), len(free)))
    first = int(np.flatnonzero((free == start).all(axis=1))[0])
    walked = dijkstra(steps, indices=first)[[int(np.flatnonzero((free == end).all(axis=1))[0]) for end in ends]]
    found = shortest_ways([tuple(start)], [tuple(end) for end in ends], obstacle)
    reached = np.isfinite(walked)
    assert (found[reached] <= walked[reached] + 1e-6).all()
    assert (found >= np.hypot(*(np.array(ends) - start).T) - 1e-9).all()
    assert (walked[reached] <= 1.0824 * found[reached] + 1.5).all()


def test_refusals():
    for starts, ends, parameter in (
        ([], [(0.0, 0.0)], "starts"), ([(0.0, math.nan)], [(1.0, 1.0)], "starts"), ([(0.0, 0.0)], [(1.0,)], "ends"),
    ):  # fmt: skip
        with pytest.raises(OutOfRange) as refused:
            shortest_ways(starts, ends, BLOCK)
        assert refused.value.parameter == parameter
    assert shortest_ways([(0.0, 0.0)], [], BLOCK).size == 0
