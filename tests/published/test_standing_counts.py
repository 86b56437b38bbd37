"""Standing spots along a plain straight wall [closed form].

From ``D`` out with reach ``R`` along the slant a place serves ``2 sqrt(R^2 - D^2)`` of the wall, so a wall of length
``L`` needs ``ceil(L / that)`` places: no fewer, for stretches of that length must add up to L, and no more, for that
many side by side do. The four counts were found alike by another solver (CP-SAT over 1 ft cells and places).
"""

import math

import numpy as np
import pytest

from sightwash.science.set_cover import cheapest_cover, cover_bound, greedy_cover

ROWS = [(300, 25, 15, 8), (300, 20, 12, 10), (120, 25, 20, 4), (300, 30, 18, 7)]


def covered_cells(length: int, reach: float, out: float) -> np.ndarray:
    """Return which 1 ft cell lies wholly within reach of which place; places stand 1 ft apart, ends included."""
    places, left = np.arange(0.0, length + 1), np.arange(float(length))[:, None]
    return np.hypot(np.maximum(abs(left - places), abs(left + 1 - places)), out) <= reach + 1e-9


@pytest.mark.parametrize(("length", "reach", "out", "count"), ROWS)
def test_places_of_a_plain_wall(length: int, reach: float, out: float, count: int) -> None:
    assert math.ceil(length / (2 * math.sqrt(reach**2 - out**2))) == count
    table = covered_cells(length, reach, out)
    cover = cheapest_cover(np.ones(table.shape[1]), table)
    assert (cover.cost, cover.gap) == (count, 0.0)
    assert math.ceil(cover_bound(np.ones(table.shape[1]), table) - 1e-9) == count
    assert greedy_cover(np.ones(table.shape[1]), table).cost >= count


@pytest.mark.parametrize(("length", "reach", "out", "count"), ROWS)
def test_one_place_fewer_leaves_a_gap(length: int, reach: float, out: float, count: int) -> None:
    assert (count - 1) * 2 * math.sqrt(reach**2 - out**2) < length
