"""Weighted set cover: the cheapest choice of candidates that covers every element, with its bound."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sightwash.basis.errors import NumericalFailure, OutOfRange

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
_PAIRS: Final = 1_000_000
"""Pairs of sets that are compared at once, so that memory stays small [-]."""


class Cover(NamedTuple):
    """A choice of candidates: their numbers, its cost, a proven lower bound and the gap between the two."""

    chosen: NDArray[np.intp]
    cost: float
    bound: float
    gap: float


def _checked(costs: ArrayLike, covers: ArrayLike) -> tuple[Floats, Flags]:
    prices, table = np.asarray(costs, float), np.asarray(covers, bool)
    if prices.ndim != 1 or not np.isfinite(prices).all() or (prices < 0).any():
        raise OutOfRange("costs", prices.tolist()[:5], "one finite cost of 0 or more for each candidate")
    if table.ndim != 2 or table.shape[1] != len(prices):
        raise OutOfRange("covers", table.shape, f"one row an element and {len(prices)} columns")
    bare = np.flatnonzero(~table.any(axis=1))
    if bare.size:
        raise OutOfRange("covers", bare.tolist()[:5], "at least one candidate for every element")
    return prices, table


def _replaced(sets: Flags, costs: Floats) -> Flags:
    """Which sets (rows) lie within another one that costs no more; of equals all but the first."""
    bits = np.packbits(sets, axis=1)
    words = np.ascontiguousarray(np.pad(bits, ((0, 0), (0, -bits.shape[1] % 8)))).view(np.uint64).T
    order, found = np.arange(len(sets)), np.zeros(len(sets), bool)
    step = max(_PAIRS // max(len(sets), 1), 1)
    for first in range(0, len(sets), step):
        own = order[first : first + step, None]
        within, holds = (np.ones((len(own), len(sets)), bool) for _ in range(2))
        for word in words:
            within &= (word[own] & ~word) == 0
            holds &= (word & ~word[own]) == 0
        better = ~holds | (costs[own] > costs) | (own > order)
        found[own[:, 0]] = (within & better & (costs[own] >= costs) & (own != order)).any(axis=1)
    return found


def _reduced(costs: Floats, table: Flags) -> tuple[Flags, NDArray[np.intp]]:
    """Table without elements that come with another one and candidates that another replaces at no more cost.

    The least cost stays the same. With it the numbers of the candidates that are left.
    """
    kept = np.arange(len(costs))
    while True:
        table = table[~_replaced(~table, np.zeros(len(table)))]
        columns = ~_replaced(table.T, costs[kept])
        table, kept = table[:, columns], kept[columns]
        if columns.all():
            return table, kept


def cheapest_cover(costs: ArrayLike, covers: ArrayLike, most_nodes: int = 20_000) -> Cover:
    """Cheapest choice of candidates that covers every element.

    ``min c x`` with ``A x >= 1`` and ``x`` 0 or 1, by branch and bound

    Parameters
    ----------
    costs : ArrayLike
        Cost of each candidate, 0 or more [-]
    covers : ArrayLike
        Whether a candidate (column) covers an element (row) [-]
    most_nodes : int
        Number of branch-and-bound nodes at which the search stops; the gap then says how far it got [-]

    Returns
    -------
    chosen : NDArray[np.intp]
        Numbers of the chosen candidates [-]
    cost : float
        Their cost [-]
    bound : float
        Lower bound on the cost of any cover [-]
    gap : float
        (cost - bound) / cost [-]

    Raises
    ------
    OutOfRange
        If a cost is negative or an element has no candidate.
    NumericalFailure
        If the solver ends without any choice.

    Notes
    -----
    Range: up to some thousands of candidates and elements; the same input gives the same answer.

    References
    ----------
    set-cover-milp

    Examples
    --------
    >>> cover = cheapest_cover([3.0, 1.0, 1.0], [[1, 1, 0], [1, 0, 1], [1, 1, 0]])
    >>> cover.chosen.tolist(), cover.cost, cover.gap
    ([1, 2], 2.0, 0.0)
    """
    prices, table = _checked(costs, covers)
    if not len(table):
        return Cover(np.empty(0, np.intp), 0.0, 0.0, 0.0)
    left, kept = _reduced(prices, table)
    if (left.sum(axis=1) == 1).all():
        chosen = kept[left.any(axis=0)]
        cost = float(prices[chosen].sum())
        return Cover(chosen, cost, cost, 0.0)
    return _searched(prices, left, kept, most_nodes)


def _searched(prices: Floats, table: Flags, kept: NDArray[np.intp], most_nodes: int) -> Cover:
    """Cheapest choice by branch and bound among the candidates that are left."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    found = milp(
        prices[kept],
        integrality=np.ones(len(kept)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(csr_array(table.astype(float)), lb=1.0),
        options={"node_limit": most_nodes, "mip_rel_gap": 0.0},
    )
    if found.x is None:
        raise NumericalFailure(f"the cover was not found: {found.message}")
    chosen = kept[found.x > 0.5]
    cost = float(prices[chosen].sum())
    bound = min(float(found.mip_dual_bound), cost)
    gap = (cost - bound) / cost if cost > 0 else 0.0
    return Cover(chosen, cost, bound, gap if gap > 1e-9 else 0.0)


def greedy_cover(costs: ArrayLike, covers: ArrayLike) -> Cover:
    """Choice of candidates that always takes the one with the least cost for each element newly covered.

    Parameters
    ----------
    costs : ArrayLike
        Cost of each candidate, 0 or more [-]
    covers : ArrayLike
        Whether a candidate (column) covers an element (row) [-]

    Returns
    -------
    chosen : NDArray[np.intp]
        Numbers of the chosen candidates [-]
    cost : float
        Their cost [-]
    bound : float
        Lower bound on the cost of any cover [-]
    gap : float
        (cost - bound) / cost [-]

    Raises
    ------
    OutOfRange
        If a cost is negative or an element has no candidate.

    Notes
    -----
    Range: as ``cheapest_cover``; at most ``1 + ln n`` times the cheapest.

    References
    ----------
    chvatal-1979-greedy

    Examples
    --------
    >>> greedy_cover([3.0, 1.0, 1.0], [[1, 1, 0], [1, 0, 1], [1, 1, 0]]).cost
    2.0
    """
    prices, table = _checked(costs, covers)
    left, chosen = np.ones(len(table), bool), []
    while left.any():
        new = table[left].sum(axis=0)
        with np.errstate(divide="ignore", invalid="ignore"):
            rate = np.where(new > 0, prices / new, np.inf)
        best = int(np.argmin(rate))
        chosen.append(best)
        left &= ~table[:, best]
    numbers = np.array(sorted(chosen), np.intp)
    return Cover(numbers, float(prices[numbers].sum()), 0.0, 1.0)


def cover_bound(costs: ArrayLike, covers: ArrayLike) -> float:
    """Lower bound on the cost of any cover: the linear relaxation.

    ``min c x`` with ``A x >= 1`` and ``0 <= x <= 1``

    Parameters
    ----------
    costs : ArrayLike
        Cost of each candidate, 0 or more [-]
    covers : ArrayLike
        Whether a candidate (column) covers an element (row) [-]

    Returns
    -------
    float
        Lower bound [-]

    Raises
    ------
    OutOfRange
        If a cost is negative or an element has no candidate.
    NumericalFailure
        If the solver fails.

    Notes
    -----
    Range: as ``cheapest_cover``.

    References
    ----------
    set-cover-milp

    Examples
    --------
    >>> cover_bound([1.0, 1.0, 1.0], [[1, 1, 0], [0, 1, 1], [1, 0, 1]])
    1.5
    """
    from scipy.optimize import linprog
    from scipy.sparse import csr_array

    prices, table = _checked(costs, covers)
    if not len(table):
        return 0.0
    found = linprog(prices, A_ub=-csr_array(table.astype(float)), b_ub=-np.ones(len(table)), bounds=(0, 1))
    if found.status != 0:
        raise NumericalFailure(f"the bound was not found: {found.message}")
    return float(found.fun)
