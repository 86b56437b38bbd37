"""Strips of a given width on the left of closed outlines, all built at once.

A run of edges that turn away from the strip gets one strip with arcs in its rim; so does a run that turns towards it
while every mitre fits on its edges. Together they cover what lies within the width of an outline, on the left.
Neighbours share an end to the last bit or cross at an angle: edges that lie on each other within rounding make the
library's overlays fail.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

STEP = math.radians(90.0 / 48.0)  # a chord of an arc spans this at most, unless its sagitta is below SAGITTA
SAGITTA = 1e-5  # m
NEAR = 1e-7  # m; corners this near to each other are one, because the way between them is rounding
STRAIGHT = 1e-9  # rad; a turn this small is none and never ends a run: two ends so near would leave a crack
SAME = 1e-9  # m; an edge of a rim this short has shrunk to a point
LEFT_RUN, RIGHT_RUN = math.radians(90.0), math.radians(170.0)  # a run turns this far at most

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Shapes = NDArray[np.object_]


class Edges(NamedTuple):
    """Edges of outlines: first corner, unit normal to the left, length, turn into the next edge, its number, outline.

    Edges of one outline follow each other.
    """

    corner: Floats
    normal: Floats
    length: Floats
    turn: Floats
    after: Ints
    ring: Ints


class _Joints(NamedTuple):
    """Corners between two edges of a rim: where they are and the edges before and after."""

    tip: Floats
    before: Ints
    after: Ints


def edges_of(rings: Shapes, *, counter_clockwise: NDArray[np.bool_]) -> Edges:
    """Return the edges of closed rings, each in a given sense of rotation; a ring that is a point has none."""
    rings = np.where(shapely.is_ccw(rings) == counter_clockwise, rings, shapely.reverse(rings))
    points, owner = shapely.get_coordinates(rings, return_index=True)
    step = np.diff(points, axis=0, prepend=points[-1:])
    kept = (np.diff(owner, prepend=-1) == 0) & (np.hypot(step[:, 0], step[:, 1]) > NEAR)  # a ring ends where it starts
    kept &= np.bincount(owner[kept], minlength=len(rings))[owner] > 2
    corner, owner = points[kept], owner[kept]
    starts = np.flatnonzero(np.diff(owner, prepend=-1))
    after = np.arange(1, len(corner) + 1)
    after[starts - 1] = np.roll(starts, 1)
    along = corner[after] - corner
    length = np.hypot(along[:, 0], along[:, 1])
    way = along / length[:, None]
    onward = way[after]
    cross = way[:, 0] * onward[:, 1] - way[:, 1] * onward[:, 0]
    turn = np.arctan2(cross, np.sum(way * onward, axis=1))
    return Edges(corner, np.column_stack([-way[:, 1], way[:, 0]]), length, turn, after, owner)


def convex(edges: Edges, count: int) -> NDArray[np.bool_]:
    """Return whether each of so many outlines turns to the right at every corner, once round."""
    once = np.abs(np.bincount(edges.ring, edges.turn, minlength=count) + 2.0 * math.pi) < 1e-6
    turns: NDArray[np.bool_] = once & (np.bincount(edges.ring, edges.turn >= 1e-9, minlength=count) == 0.0)
    return turns


def convex_offsets(edges: Edges, width: float) -> Shapes:
    """Return convex outlines, clockwise, grown by a width, arcs drawn outside the true arc."""
    joints = _Joints(edges.corner[edges.after], np.arange(len(edges.turn)), edges.after)
    rim, joint = _rim(edges, joints, width, SAGITTA, outside=True)
    return _polygons(rim, edges.ring[joint])


def strips(edges: Edges, width: float, *, outside: bool, sagitta: float = SAGITTA) -> Shapes:
    """Return the strips on the left of outlines; arcs are drawn outside the true arc or inside it."""
    if not len(edges.turn):
        return np.array([], dtype=np.object_)
    edge, run, led = _runs(edges, width)
    last = np.append(run[1:] != run[:-1], True)
    open_start = np.append(True, last[:-1]) & ~led[run]
    bare = ~(np.append(True, last[:-1]) & led[run])
    ends = edges.corner[edges.after[edge]]
    joints = _Joints(ends[~last], edge[~last], edges.after[edge[~last]])
    rim, joint = _rim(edges, joints, width, sagitta, outside=outside)
    pieces = (
        (edges.corner[edge[bare]], run[bare]),
        (ends[last], run[last]),
        (ends[last] + width * edges.normal[edge[last]], run[last]),
        (rim[::-1], run[~last][joint[::-1]]),
        (edges.corner[edge[open_start]] + width * edges.normal[edge[open_start]], run[open_start]),
    )
    points, owners = (np.concatenate(part) for part in zip(*pieces, strict=True))
    order = np.argsort(owners, kind="stable")
    return _polygons(points[order], owners[order])


def _polygons(points: Floats, owners: Ints) -> Shapes:
    shapes = np.asarray(shapely.polygons(shapely.linearrings(points, indices=owners)))
    return np.asarray(shapely.remove_repeated_points(shapes, 10.0 * SAME))


def _rim(edges: Edges, joints: _Joints, width: float, sagitta: float, *, outside: bool) -> tuple[Floats, Ints]:
    """Return the rim's points at its joints, with the joint that each belongs to."""
    turn, first, last = edges.turn[joints.before], edges.normal[joints.before], edges.normal[joints.after]
    away = turn < 0.0
    span = max(STEP, 2.0 * math.acos(max(0.0, 1.0 - sagitta / width)))
    chords = np.maximum(np.ceil(-turn / span), 1.0)
    counts = np.where(away, chords + (2.0 if outside else 1.0), 1.0).astype(np.int64)
    joint = np.repeat(np.arange(len(turn)), counts)
    place = np.arange(len(joint)) - np.repeat(np.cumsum(counts) - counts, counts)
    step = turn / chords
    angle = np.arctan2(first[:, 1], first[:, 0])[joint] + step[joint] * (place - (0.5 if outside else 0.0))
    reach = 1.0 / np.cos(np.where(away, step, 0.0) / 2.0) if outside else np.ones(len(turn))
    arc = reach[joint, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    mitre = (first + last) / np.maximum(1.0 + np.sum(first * last, axis=1), 1e-12)[:, None]
    way = np.where(away[joint, None], arc, mitre[joint])
    starts, ends = away[joint] & (place == 0), away[joint] & (place == counts[joint] - 1)
    way[starts], way[ends] = first[joint[starts]], last[joint[ends]]
    return joints.tip[joint] + width * way, joint


def _runs(edges: Edges, width: float) -> tuple[Ints, Ints, NDArray[np.bool_]]:
    """Return the edges of the runs that share strips, the run of each, and which runs start with an arc."""
    found: list[tuple[int, int, int, int, bool]] = []
    starts = np.flatnonzero(np.diff(edges.ring, prepend=-1)).tolist()
    for low, high in zip(starts, [*starts[1:], len(edges.ring)], strict=True):
        spans = _spans(edges.turn[low:high].tolist(), edges.length[low:high].tolist(), width)
        found.extend((low, high - low, *span) for span in spans)
    low_of, count_of, start_of, end_of, led = np.array(found, dtype=np.int64).reshape(-1, 5).T
    sizes = end_of - start_of + 1
    run = np.repeat(np.arange(len(sizes)), sizes)
    place = np.arange(len(run)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    return low_of[run] + (start_of[run] + place) % count_of[run], run, led.astype(np.bool_)


def _spans(turns: list[float], lengths: list[float], width: float) -> Iterator[tuple[int, int, bool]]:
    """Yield the first and last edge of every run, and whether only the end of its first edge belongs to it."""
    count = len(turns)
    rightmost = min(range(count), key=turns.__getitem__)
    led = turns[rightmost] < 0.0
    first = rightmost if led else max(range(count), key=turns.__getitem__)
    start, stop = first + (not led), first + count
    while start + led <= stop:
        end = _run_end(turns, lengths, width, start, stop)
        yield start, end, led
        led = turns[end % count] < 0.0
        start = end if led else end + 1


def _run_end(turns: list[float], lengths: list[float], width: float, start: int, stop: int) -> int:
    """Return the last edge of the run that starts with an edge."""
    count, sense, turned, taken = len(turns), 0, 0.0, 0.0
    for end in range(start, stop):
        turn = turns[end % count]
        if abs(turn) <= STRAIGHT:
            taken = 0.0
            continue
        way = -1 if turn < 0.0 else 1
        turned += abs(turn)
        if sense == -way or (turned > (RIGHT_RUN if way < 0 else LEFT_RUN) and (sense or way > 0)):
            return end
        if way > 0:
            bite = width * math.tan(turn / 2.0)
            if taken + bite > lengths[end % count] + SAME or bite > lengths[(end + 1) % count] + SAME:
                return end
            taken = bite
        sense = way
    return stop
