"""The route of a round head over the cells of a shape: their order, the links between them, edges and loops.

A link follows the outline where it can, so that it cleans the corner between two passes. What the passes and links
leave along an outline is cleaned by a swing back along it, or once round a post, where the route first comes to it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.science._rings import (
    Floats,
    Place,
    Rings,
    forward_length,
    once_around,
    place_along,
    shorter_way,
    way_along,
    way_between,
)
from sightwash.science._rows import Cell, Pass

SWING = 6.0  # m; an edge up to this long is cleaned out and back, a longer one out only
MARGIN = 0.05  # m; a swing goes this far beyond the last place that was left
LOOP = 1.0 / 3.0  # a post is rounded when this share of its outline is left


class Leg(NamedTuple):
    """One piece of a route, and its corners.

    Kinds: ``pass``; ``edge``, a pass along an outline; ``turn`` between two passes; ``swing`` back along an outline;
    ``loop`` round a post; ``move`` over ground that needs no more cleaning; ``carry`` with the water off.
    """

    kind: str
    line: Floats


class Ground:
    """Outlines of a ground for the head's middle, their edges in a tree, and the prepared ground itself."""

    __slots__ = ("rings", "room", "tree")

    def __init__(self, rings: Rings, room: BaseGeometry) -> None:
        self.rings = rings
        self.room = room
        self.tree = shapely.STRtree(np.asarray(shapely.linestrings(np.stack([rings.start, rings.end], axis=1))))


class Stop(NamedTuple):
    """The end of a leg that lies on an outline, with the number of legs before it."""

    legs: int
    place: Place


class Arc(NamedTuple):
    """A stretch of an outline between two ends of passes, from the one to the other along its sense."""

    start: Place
    end: Place


def cell_order(cells: list[Cell], finish: tuple[float, float] | None) -> list[tuple[int, bool]]:
    """Return the cells in working order, each with whether its first pass runs rightward; nearest first."""
    best: tuple[float, list[tuple[int, bool]]] | None = None
    for rightward in (True, False):
        cost, order = _greedy(cells, rightward, finish)
        if best is None or cost < best[0] - 1e-9:
            best = (cost, order)
    return best[1] if best else []


def _greedy(
    cells: list[Cell], rightward: bool, finish: tuple[float, float] | None
) -> tuple[float, list[tuple[int, bool]]]:
    waiting = [len(cell.after) for cell in cells]
    followers: list[list[int]] = [[] for _ in cells]
    for number, cell in enumerate(cells):
        for other in cell.after:
            followers[other].append(number)
    ready = {number for number, count in enumerate(waiting) if count == 0}
    at: Place | None = None
    cost, order = 0.0, []
    while ready:
        step, number, way = min(_choices(cells, sorted(ready), at, rightward))
        ready.remove(number)
        cost += step
        order.append((number, way))
        at = _far_end(cells[number].passes, way)
        for follower in followers[number]:
            waiting[follower] -= 1
            if waiting[follower] == 0:
                ready.add(follower)
    return cost + (math.dist(at[:2], finish) if at is not None and finish else 0.0), order


def _choices(
    cells: list[Cell], ready: list[int], at: Place | None, rightward: bool
) -> Iterator[tuple[float, int, bool]]:
    if at is None:
        yield 0.0, ready[0], rightward
        return
    for number in ready:
        first = cells[number].passes[0]
        yield math.dist(at[:2], first.left[:2]), number, True
        yield math.dist(at[:2], first.right[:2]), number, False


def _far_end(passes: tuple[Pass, ...], rightward: bool) -> Place:
    ends_right = rightward == (len(passes) % 2 == 1)
    return passes[-1].right if ends_right else passes[-1].left


def route(ground: Ground, cells: list[Cell], order: list[tuple[int, bool]]) -> tuple[list[Leg], list[Stop]]:
    """Return the legs of a route over cells in order, and its stops at the ends of passes."""
    legs: list[Leg] = []
    stops: list[Stop] = []
    at: Place | None = None
    for number, rightward in order:
        way = rightward
        for place, item in enumerate(cells[number].passes):
            start, end = (item.left, item.right) if way else (item.right, item.left)
            if at is not None:
                legs += _link(ground, at, start, turn=place > 0)
            stops.append(Stop(len(legs), start))
            legs.append(Leg(item.kind, item.line(rightward=way)))
            stops.append(Stop(len(legs), end))
            at, way = end, not way
    return legs, stops


def _link(ground: Ground, a: Place, b: Place, *, turn: bool) -> list[Leg]:
    gap = math.dist(a[:2], b[:2])
    if gap == 0.0:
        return []
    rings = ground.rings
    if a.ring == b.ring:
        around = min(forward_length(rings, a, b), forward_length(rings, b, a))
        if around <= 2.0 * gap:
            return [Leg("turn" if turn else "move", shorter_way(rings, a, b))]
    way = way_between(rings, ground.tree, ground.room, a, b)
    if way is None:
        return [Leg("carry", np.array([a[:2], b[:2]]))]
    return [Leg("turn" if turn else "move", way)]


def arcs_of(stops: list[Stop]) -> list[Arc]:
    """Return the stretches of outlines between neighbouring ends of passes; none of an outline without two."""
    found = []
    by_ring: dict[int, dict[float, Place]] = {}
    for stop in stops:
        by_ring.setdefault(stop.place.ring, {})[stop.place.along] = stop.place
    for ends in by_ring.values():
        places = [ends[key] for key in sorted(ends)]
        found += [Arc(a, b) for a, b in zip(places, [*places[1:], places[0]], strict=True)]
    return found


def with_edges(rings: Rings, legs: list[Leg], stops: list[Stop], left: dict[int, Floats]) -> list[Leg]:
    """Return a route with what was left along outlines put in where it first comes by.

    ``left`` holds, by outline, the distances along it at which something was left.
    """
    extra: dict[int, list[Leg]] = {}
    first: dict[tuple[int, float], Stop] = {}
    for stop in stops:
        first.setdefault((stop.place.ring, stop.place.along), stop)
    for ring, marks in left.items():
        here = [stop for (number, _), stop in first.items() if number == ring]
        if not here:
            continue
        earliest = min(here, key=lambda stop: stop.legs)
        arcs = [(arc, _marks_on(rings, arc, marks)) for arc in arcs_of(here)]
        share = sum(forward_length(rings, *arc) or rings.around[ring] for arc, found in arcs if len(found))
        if not rings.outer[ring] and share > LOOP * rings.around[ring]:
            extra.setdefault(earliest.legs, []).append(Leg("loop", once_around(rings, earliest.place)))
            continue
        for arc, found in arcs:
            if len(found):
                for place, swing in _swings(rings, arc, found):
                    extra.setdefault(first[ring, place.along].legs, []).extend(swing)
    return [leg for number in range(len(legs) + 1) for leg in (*extra.get(number, ()), *legs[number : number + 1])]


def _marks_on(rings: Rings, arc: Arc, marks: Floats) -> Floats:
    """Return the distances from the start of an arc at which something was left; ``marks`` are in order."""
    around = float(rings.around[arc.start.ring])
    begin = arc.start.along
    stop = begin + (forward_length(rings, arc.start, arc.end) or around)
    first, last = np.searchsorted(marks, (begin, stop), "left")
    beyond = marks[: np.searchsorted(marks, stop - around, "left")]
    return np.concatenate([marks[first:last] - begin, beyond + around - begin])


def _clear(length: float, marks: Floats) -> tuple[float, float]:
    """Return the longest stretch of an arc without a mark."""
    ends = np.concatenate([[0.0], marks, [length]])
    widest = int(np.argmax(np.diff(ends)))
    return float(ends[widest]), float(ends[widest + 1])


def _swings(rings: Rings, arc: Arc, marks: Floats) -> Iterator[tuple[Place, list[Leg]]]:
    """Yield the ways along an arc and back that clean its marks, each with the end that it starts from."""
    length = forward_length(rings, arc.start, arc.end)
    if length == 0.0:
        yield arc.start, [Leg("loop", once_around(rings, arc.start))]
        return
    first, last = _clear(length, marks)
    if first > 0.0:
        reach = place_along(rings, arc.start.ring, arc.start.along + min(first + MARGIN, length))
        yield arc.start, _out_and_back(way_along(rings, arc.start, reach, forward=True))
    if last < length:
        reach = place_along(rings, arc.start.ring, arc.start.along + max(last - MARGIN, 0.0))
        yield arc.end, _out_and_back(way_along(rings, arc.end, reach, forward=False))


def _out_and_back(out: Floats) -> list[Leg]:
    length = float(np.hypot(*np.diff(out, axis=0).T).sum())
    return [Leg("swing", out), Leg("swing" if length <= SWING else "move", out[::-1])]


def with_bends(rings: Rings, cells: list[Cell], marks: dict[int, Floats]) -> list[Cell]:
    """Return cells with a pass along the outline before the first and after the last where straight ones leave some."""
    places = [Stop(0, end) for cell in cells for item in cell.passes for end in (item.left, item.right)]
    onward = {(arc.start.ring, arc.start.along): arc for arc in arcs_of(places)}

    def bend(item: Pass, start: Place, end: Place) -> tuple[Pass, ...]:
        arc = onward[start.ring, start.along]
        left = _marks_on(rings, arc, marks.get(start.ring, np.array([])))
        length = forward_length(rings, start, end)
        clear = _clear(length, left)
        if arc.end != end or not len(left) or clear[1] - clear[0] > length / 2.0:
            return ()
        line = way_along(rings, start, end, forward=True)
        return (Pass(item.row, item.left, item.right, line if start == item.left else line[::-1], "edge"),)

    found = []
    for cell in cells:
        first, last = cell.passes[0], cell.passes[-1]
        below, above = bend(first, first.left, first.right), bend(last, last.right, last.left)
        found.append(Cell((*below, *cell.passes, *above), cell.after))
    return found


def pieces_of(legs: list[Leg]) -> Floats:
    """Return the straight pieces of a route with water on, first and last corner in a row."""
    return np.vstack([np.hstack([leg.line[:-1], leg.line[1:]]) for leg in legs if leg.kind != "carry"])
