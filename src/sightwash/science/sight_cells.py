"""Cells of a facet that an eye does not see, filled by runs per column straight from the shadow hulls.

The exact shapes are in ``visibility``; cells serve drawings, tables and comparison with ray casting.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._areas import Shapes
from sightwash.science.facets import Floats, Frame, to_frame
from sightwash.science.shadows import IN_PLANE, facing_solids, shadow_shapes

Bools = NDArray[np.bool_]
Counts = NDArray[np.intp]


class Grid(NamedTuple):
    """Square cells on a facet: lower left corner (s, z), side, and how many along and up."""

    left: float
    bottom: float
    size: float
    columns: int
    rows: int


class _Runs(NamedTuple):
    """Columns of each polygon, and the cells inside it in each such column (last one excluded)."""

    first: Counts
    offset: Counts
    low: Counts
    high: Counts


class _Edges(NamedTuple):
    """Edges of polygons in cell units, each over the columns ``begin`` up to ``stop``."""

    owner: Counts
    start: Floats
    slope: Floats
    begin: Counts
    stop: Counts
    rightward: Bools


def _edges(shapes: Shapes, grid: Grid) -> _Edges:
    """Edges of convex polygons that pass over at least one column's centre line."""
    points, owner = shapely.get_coordinates(shapely.orient_polygons(shapes), return_index=True)
    cells = (points - (grid.left, grid.bottom)) / grid.size - 0.5
    edge = np.flatnonzero(owner[1:] == owner[:-1])
    ends = np.sort(np.stack((cells[edge, 0], cells[edge + 1, 0])), axis=0)
    begin, stop = np.clip(np.ceil(ends), 0, grid.columns).astype(np.intp)
    over = stop > begin
    edge, begin, stop = edge[over], begin[over], stop[over]
    run, rise = (cells[edge + 1] - cells[edge]).T
    return _Edges(owner[edge], cells[edge], rise / run, begin, stop, run > 0)


def _column_runs(shapes: Shapes, grid: Grid) -> _Runs:
    """Runs of cells whose centre lies in each convex polygon; rightward edges bound it below."""
    edges = _edges(shapes, grid)
    first = np.full(len(shapes), grid.columns, np.intp)
    last = np.zeros(len(shapes), np.intp)
    np.minimum.at(first, edges.owner, edges.begin)
    np.maximum.at(last, edges.owner, edges.stop)
    offset = np.concatenate(([0], np.cumsum(np.maximum(last - first, 0))))
    shift = offset[edges.owner] - first[edges.owner]
    runs = _Runs(first, offset, np.full(offset[-1], grid.rows, np.intp), np.zeros(offset[-1], np.intp))

    def row(which: Counts, column: Counts) -> Counts:
        height = edges.start[which, 1] + (column - edges.start[which, 0]) * edges.slope[which]
        bound = np.where(edges.rightward[which], np.ceil(height), np.floor(height) + 1)
        return np.asarray(np.clip(bound, 0, grid.rows), np.intp)

    every = np.arange(len(edges.owner))
    level = row(every, edges.begin)
    flat = level == row(every, edges.stop - 1)
    for k in np.flatnonzero(flat).tolist():
        (runs.low if edges.rightward[k] else runs.high)[shift[k] + edges.begin[k] : shift[k] + edges.stop[k]] = level[k]
    sloped = np.flatnonzero(~flat)
    many = edges.stop[sloped] - edges.begin[sloped]
    which = np.repeat(sloped, many)
    column = np.arange(len(which)) - np.repeat(np.cumsum(many) - many, many) + edges.begin[which]
    rows, place, lower = row(which, column), shift[which] + column, edges.rightward[which]
    runs.low[place[lower]] = rows[lower]
    runs.high[place[~lower]] = rows[~lower]
    return runs


def _fill(cells: Bools, view: Counts, runs: _Runs) -> None:
    """Set the runs of every polygon in its view's matrix."""
    filled = np.flatnonzero(runs.offset[1:] > runs.offset[:-1])
    for k in filled.tolist():
        begin, end = runs.offset[k], runs.offset[k + 1]
        low, high = runs.low[begin:end], runs.high[begin:end]
        bottom, top = int(low.min()), int(high.max())
        columns = cells[view[k], runs.first[k] : runs.first[k] + end - begin]
        if low.max() == bottom and high.min() == top:
            columns[:, bottom:top] = True
        elif bottom < top:
            z = np.arange(bottom, top)
            columns[:, bottom:top] |= (z >= low[:, None]) & (z < high[:, None])


def unseen_cells(frame: Frame, solids: Sequence[Floats], eyes: ArrayLike, grid: Grid) -> Bools:
    """Which cells' centres each eye does not see, because they are hidden or covered.

    Parameters
    ----------
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    eyes : ArrayLike
        World points of the eyes, one a row [m]
    grid : Grid
        Cells in the facet's coordinates [m]

    Returns
    -------
    Bools
        One matrix (columns, rows) for each eye, true where the cell's centre is not seen [-]

    Raises
    ------
    OutOfRange
        If the grid has no cells, or a point is not three finite numbers.

    Notes
    -----
    Range: any eye; from behind the facet's plane no cell is seen.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 1), (1, -1, 1)], float)
    >>> frame = make_frame((0, 0, 0), (1, 0, 0))
    >>> unseen_cells(frame, [panel], [(0, -2, 0)], Grid(0, 0, 1, 6, 3))[0].sum(axis=1).tolist()
    [0, 0, 2, 2, 0, 0]
    """
    if not (grid.size > 0 and grid.columns > 0 and grid.rows > 0):
        raise OutOfRange("grid", tuple(grid), "cells with a size, at least one along and one up")
    right, top = grid.left + grid.columns * grid.size, grid.bottom + grid.rows * grid.size
    window = (grid.left, grid.bottom, right, top)
    local = to_frame(eyes, frame)
    shadows = shadow_shapes(facing_solids(frame, solids, local, window), local, window)
    view, solid = np.nonzero(~shapely.is_missing(shadows))
    cells = np.zeros((len(local), grid.columns, grid.rows), np.bool_)
    if len(view):
        _fill(cells, view, _column_runs(shadows[view, solid], grid))
    cells[local[:, 2] <= IN_PLANE] = True
    return cells
