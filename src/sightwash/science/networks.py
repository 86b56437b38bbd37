"""Networks of tasks: when each one ends if it starts as soon as what goes before it allows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range

Array = NDArray[np.float64]


def network_finishes(
    durations: Array, before: Sequence[Sequence[tuple[int, float]]], releases: Sequence[float]
) -> Array:
    """End of every task of a network in every draw, each task started as early as it can be.

    ``F_i = max(r_i, max_j (F_j + l_ij)) + T_i``

    Parameters
    ----------
    durations : array
        Time of each task (rows) in each draw (columns), in one unit [-]
    before : sequence of sequence of tuple of int and float
        For each task the tasks that go before it, by number, and the wait l_ij after each, in the same unit [-]
    releases : sequence of float
        Earliest start r_i of each task, in the same unit [-]

    Returns
    -------
    array
        End of each task (rows) in each draw (columns), in the same unit [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length, or a task comes before one that goes before it.

    Notes
    -----
    Range: a fixed order of work; nobody changes it when the night runs late.

    References
    ----------
    pert-network
    clark-1961

    Examples
    --------
    >>> network_finishes(np.array([[2.0], [3.0], [1.0]]), [[], [], [(0, 0.0), (1, 0.5)]], [0.0, 0.0, 0.0]).tolist()
    [[2.0], [3.0], [4.5]]
    """
    count = len(durations)
    if len(before) != count or len(releases) != count:
        raise OutOfRange("before", len(before), f"a list and an earliest start for each of {count} tasks")
    finishes = np.empty_like(durations, dtype=np.float64)
    for task, (earlier, release) in enumerate(zip(before, releases, strict=True)):
        check_range("releases", release, "-")
        start = np.full(durations.shape[1], float(release))
        for other, wait in earlier:
            if not 0 <= other < task:
                raise OutOfRange("before", other, f"a task that comes before task {task}")
            np.maximum(start, finishes[other] + wait, out=start)
        finishes[task] = start + durations[task]
    return finishes
