"""Rows of parallel passes across a shape, and the cells that they fall into where obstacles part them.

Rows run along x and follow each other along +y. Two passes of neighbouring rows belong to one cell while each has the
other alone beside it; a cell is worked back and forth without a gap.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from sightwash.science._rings import Floats, Place, Rings, once_around, place_at, shorter_way

POST = 8.0  # m; a pass goes round what the head's middle can round in this length, and on
SHORT = 1e-6  # m; a pass or an overlap this short is rounding


class Pass(NamedTuple):
    """A stretch of a row between two places on outlines; ``bend`` holds its corners where it follows outlines."""

    row: int
    left: Place
    right: Place
    bend: Floats | None = None
    kind: str = "pass"

    def line(self, *, rightward: bool) -> Floats:
        """Return the corners of the pass."""
        line = np.array([self.left[:2], self.right[:2]]) if self.bend is None else self.bend
        return line if rightward else line[::-1]


class Cell(NamedTuple):
    """Passes that are worked back and forth, and the numbers of the cells that come before it."""

    passes: tuple[Pass, ...]
    after: frozenset[int]


def row_passes(rings: Rings, rows: Floats) -> list[Pass]:
    """Return the stretches of rows, given by their y in rising order, that lie inside outlines."""
    low, high = np.minimum(rings.start[:, 1], rings.end[:, 1]), np.maximum(rings.start[:, 1], rings.end[:, 1])
    first, last = np.searchsorted(rows, low, "left"), np.searchsorted(rows, high, "left")
    edge = np.repeat(np.arange(len(low)), last - first)
    row = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(last - first) - (last - first), last - first)
    start, end = rings.start[edge], rings.end[edge]
    share = (rows[row] - start[:, 1]) / (end[:, 1] - start[:, 1])
    x = start[:, 0] + share * (end[:, 0] - start[:, 0])
    order = np.lexsort((x, row))
    found = []
    for left, right in zip(order[::2].tolist(), order[1::2].tolist(), strict=True):
        if x[right] - x[left] > SHORT:
            y = float(rows[row[left]])
            ends = [place_at(rings, int(edge[k]), float(x[k]), y) for k in (left, right)]
            found.append(Pass(int(row[left]), ends[0], ends[1]))
    return found


def round_posts(rings: Rings, passes: list[Pass]) -> list[Pass]:
    """Return passes, joined where only something small parts them: the first to come there goes all round it too."""
    found: list[Pass] = []
    rounded: set[int] = set()
    for item in passes:
        last = found[-1] if found else None
        ring = item.left.ring
        if (
            last is None
            or last.row != item.row
            or last.right.ring != ring
            or rings.outer[ring]
            or rings.around[ring] > POST
        ):
            found.append(item)
            continue
        ways = [last.line(rightward=True), shorter_way(rings, last.right, item.left), np.array([item.right[:2]])]
        if ring not in rounded:
            ways.insert(1, once_around(rings, last.right))
            rounded.add(ring)
        found[-1] = Pass(item.row, last.left, item.right, np.vstack(ways))
    return found


def cells_of(passes: list[Pass]) -> list[Cell]:
    """Return the cells of passes that are given row by row, each row from left to right."""
    below, above = _neighbours(passes)
    cell_of: list[int] = []
    members: list[list[Pass]] = []
    for number, item in enumerate(passes):
        only = below[number][0] if len(below[number]) == 1 else None
        if only is not None and len(above[only]) == 1:
            cell_of.append(cell_of[only])
            members[cell_of[only]].append(item)
        else:
            cell_of.append(len(members))
            members.append([item])
    before: list[set[int]] = [set() for _ in members]
    for number, found in enumerate(below):
        before[cell_of[number]].update(cell_of[other] for other in found)
    return [Cell(tuple(items), frozenset(before[number] - {number})) for number, items in enumerate(members)]


def _neighbours(passes: list[Pass]) -> tuple[list[list[int]], list[list[int]]]:
    """Return, for each pass, the passes of the row before and of the row after that lie beside it."""
    below: list[list[int]] = [[] for _ in passes]
    above: list[list[int]] = [[] for _ in passes]
    rows: dict[int, list[int]] = {}
    for number, item in enumerate(passes):
        rows.setdefault(item.row, []).append(number)
    for row, here in rows.items():
        there = rows.get(row - 1, [])
        at = 0
        for number in here:
            item = passes[number]
            while at < len(there) and passes[there[at]].right.x <= item.left.x + SHORT:
                at += 1
            beside = at
            while beside < len(there) and passes[there[beside]].left.x < item.right.x - SHORT:
                below[number].append(there[beside])
                above[there[beside]].append(number)
                beside += 1
    return below, above
