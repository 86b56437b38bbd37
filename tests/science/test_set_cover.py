"""The cheapest cover against every subset, against another solver, and on a polygon whose answer a theorem gives."""

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from sightwash.basis.errors import OutOfRange
from sightwash.science.set_cover import cheapest_cover, cover_bound, greedy_cover

COMB = [
    (0, 0), (1, 8), (2, 0.5), (4, 0.5), (5, 8), (6, 0.5), (8, 0.5), (9, 8), (10, 0.5), (12, 0.5), (13, 8),
    (14, 0.5), (16, 0.5), (17, 8), (18, 0),
]  # fmt: skip
"""A comb with five teeth, 15 corners; the tips are those at height 8."""


@st.composite
def problems(draw, most=8):
    """Return costs and a table in which every element has a candidate."""
    columns = draw(st.integers(1, most))
    rows = draw(st.lists(st.integers(1, 2**columns - 1), min_size=0, max_size=most))
    table = np.array([[row >> k & 1 for k in range(columns)] for row in rows], bool).reshape(len(rows), columns)
    costs = draw(st.lists(st.integers(0, 20), min_size=columns, max_size=columns))
    return np.array(costs, float), table


def cheapest_of_all(costs, table):
    """Return the least cost over every subset of candidates."""
    subsets = itertools.product((False, True), repeat=len(costs))
    return min(costs[list(kept)].sum() for kept in subsets if table[:, list(kept)].any(axis=1).all())


@settings(max_examples=60, deadline=None)
@given(problems())
def test_no_subset_is_cheaper(problem):
    """Closed form: all subsets are tried."""
    costs, table = problem
    cover = cheapest_cover(costs, table)
    assert table[:, cover.chosen].any(axis=1).all()
    assert cover.cost == costs[cover.chosen].sum()
    assert cover.cost == pytest.approx(cheapest_of_all(costs, table), abs=1e-9)
    assert cover.gap == 0.0


@settings(max_examples=40, deadline=None)
@given(problems())
def test_bounds_lie_below_and_greedy_above(problem):
    costs, table = problem
    least = cheapest_of_all(costs, table)
    greedy = greedy_cover(costs, table)
    assert table[:, greedy.chosen].any(axis=1).all()
    assert cover_bound(costs, table) <= least + 1e-9
    assert cheapest_cover(costs, table).bound <= least + 1e-9
    assert least <= greedy.cost <= (1 + math.log(max(len(table), 1))) * least + 1e-9


@settings(max_examples=60, deadline=None)
@given(problems(), st.data())
def test_a_candidate_that_covers_more_or_joins_never_costs_more(problem, data):
    costs, table = problem
    more = table | data.draw(
        st.builds(lambda seed: np.random.default_rng(seed).random(table.shape) < 0.3, st.integers(0))
    )
    wider, prices = np.column_stack([more, np.ones(len(table), bool)]), [*costs, data.draw(st.integers(0, 20))]
    least = cheapest_cover(costs, table).cost
    assert cheapest_cover(costs, more).cost <= least + 1e-9
    assert cheapest_cover(prices, wider).cost <= least + 1e-9


@pytest.mark.parametrize("seed", range(4))
def test_another_solver_finds_the_same_cost(seed):
    """Independent program: CP-SAT of OR-tools, which shares nothing with HiGHS; 40 elements, 60 candidates."""
    random = np.random.default_rng(seed)
    table = random.random((40, 60)) < 0.12
    table[np.arange(40), random.integers(0, 60, 40)] = True
    costs = random.integers(1, 30, 60)
    model = cp_model.CpModel()
    taken = [model.new_bool_var(str(k)) for k in range(60)]
    for row in table:
        model.add_bool_or([taken[k] for k in np.flatnonzero(row)])
    model.minimize(sum(int(c) * t for c, t in zip(costs, taken, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    cover = cheapest_cover(costs, table)
    assert (cover.cost, cover.gap) == (solver.objective_value, 0.0)


def test_the_same_input_gives_the_same_choice():
    random = np.random.default_rng(5)
    table = random.random((60, 80)) < 0.1
    table[:, 0] = True
    costs = random.integers(1, 4, 80).astype(float)
    first, *others = [cheapest_cover(costs, table).chosen.tolist() for _ in range(3)]
    assert all(other == first for other in others)


def test_rows_that_say_nothing_new_change_nothing():
    """A row that holds all of another row's candidates is covered with it."""
    costs, table = [2.0, 3.0, 4.0], np.array([[1, 1, 0], [0, 1, 1]], bool)
    more = np.vstack([table, table, [[1, 1, 1], [0, 1, 1]]])
    assert cheapest_cover(costs, table).cost == cheapest_cover(costs, more).cost == 3.0


def steiner(count):
    """Return rows of a set cover in which half of all candidates cover each row: branching cannot be avoided."""
    width = count.bit_length()
    return np.array(
        [[bin(i & j).count("1") % 2 for j in range(1, count + 1)] for i in range(1, count + 1)], bool
    ), width


def test_a_stopped_search_says_how_far_it_got():
    """D. R. Fulkerson, G. L. Nemhauser, L. E. Trotter 1974 (citation from memory): for the parity sets of n = 2^k - 1
    elements every cover needs k sets, while all sets at 2 / (n + 1) each satisfy the relaxation. Closed form: k
    independent vectors are needed, for fewer leave a common orthogonal vector; the relaxation costs 2 n / (n + 1).
    """
    table, width = steiner(31)
    whole = cheapest_cover(np.ones(31), table)
    assert (whole.cost, whole.gap, width) == (5.0, 0.0, 5)
    assert cover_bound(np.ones(31), table) == pytest.approx(62 / 32)
    stopped = cheapest_cover(np.ones(31), table, most_nodes=1)
    assert stopped.bound <= 5.0 <= stopped.cost
    assert stopped.gap == pytest.approx((stopped.cost - stopped.bound) / stopped.cost, abs=1e-9)


def test_nothing_to_cover_costs_nothing():
    for costs in ([], [1.0, 2.0]):
        cover = cheapest_cover(costs, np.zeros((0, len(costs)), bool))
        assert (cover.chosen.size, cover.cost, cover.bound, cover.gap) == (0, 0.0, 0.0, 0.0)
        assert cover_bound(costs, np.zeros((0, len(costs)), bool)) == 0.0


@pytest.mark.parametrize("solve", [cheapest_cover, greedy_cover, cover_bound])
@pytest.mark.parametrize(
    ("costs", "covers", "parameter"),
    [
        ([1.0, 2.0], [[1, 0], [0, 0]], "covers"),
        ([1.0], [[1, 0]], "covers"),
        ([1.0, 2.0], [1, 0], "covers"),
        ([], np.zeros((2, 0), bool), "covers"),
        ([1.0, -2.0], [[1, 1]], "costs"),
        ([1.0, math.nan], [[1, 1]], "costs"),
        ([1.0, math.inf], [[1, 1]], "costs"),
        ([[1.0, 2.0]], [[1, 1]], "costs"),
    ],
)
def test_refusals(solve, costs, covers, parameter):
    with pytest.raises(OutOfRange) as refused:
        solve(costs, covers)
    assert refused.value.parameter == parameter


def sees(polygon, one, other):
    """Return whether the straight line between two points stays inside: midpoints between all edge crossings."""
    corners = np.array(polygon, float)
    one, other = np.asarray(one, float), np.asarray(other, float)
    step, edges = other - one, np.roll(corners, -1, axis=0) - corners
    cross = step[0] * edges[:, 1] - step[1] * edges[:, 0]
    offset = corners - one
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (offset[:, 0] * edges[:, 1] - offset[:, 1] * edges[:, 0]) / cross
        u = (offset[:, 0] * step[1] - offset[:, 1] * step[0]) / cross
    met = t[(np.abs(cross) > 1e-12) & (u > -1e-9) & (u < 1 + 1e-9) & (t > 0) & (t < 1)]
    ends = np.unique([0.0, *met, 1.0])
    middles = one + ((ends[:-1] + ends[1:]) / 2)[:, None] * step
    return bool(shapely.covers(shapely.Polygon(polygon).buffer(1e-6), shapely.points(middles)).all())


def test_the_comb_needs_five_guards():
    """V. Chvatal 1975: floor(n / 3) guards suffice; S. Fisk 1978: at corners (both as printed in textbooks; the count
    for this comb was also found by sampling in another program). Five tips, of which no place sees two, need five.
    """
    inside = shapely.Polygon(COMB)
    grid = [(x / 2, y / 2) for x in range(37) for y in range(17) if inside.covers(shapely.Point(x / 2, y / 2))]
    tips = [corner for corner in COMB if corner[1] == 8]
    seen = np.array([[sees(COMB, place, tip) for place in grid] for tip in tips])
    assert seen.sum(axis=0).max() == 1
    witnesses = [*grid[::3], *tips]
    table = np.array([[sees(COMB, corner, witness) for corner in COMB] for witness in witnesses])
    cover = cheapest_cover(np.ones(len(COMB)), table)
    assert (cover.cost, cover.gap) == (5.0, 0.0)
    assert len(COMB) // 3 == 5
