"""Strips of a given width on the left of closed outlines, all built at once.

A run of edges that turn away from the strip gets one strip with arcs in its rim; so does a run that turns towards it
while every mitre fits on its edges. The strips of an outline together cover what lies within the width of it, on the
left: past the mitres of one strip and past the ends of its neighbours nothing is lost, because they overlap.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

STEP = math.radians(90.0 / 48.0)  # a chord of an arc spans this at most, unless its sagitta is below SAGITTA
SAGITTA = 1e-5  # m
NEAR = 1e-7  # m; corners this near to each other are one, because the way between them is rounding
RUN = {False: math.radians(90.0), True: math.radians(170.0)}  # a run turns this far at most, to the left and right
SAME = 1e-9  # m; an edge of a rim this short has shrunk to a point

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Shapes = NDArray[np.object_]


class Edges(NamedTuple):
    """Edges of one closed outline: first corner, unit normal to the left, length, and turn into the next edge."""

    corner: Floats
    normal: Floats
    length: Floats
    turn: Floats


class _Runs(NamedTuple):
    """Edges of every run, one after the other, and the number of the run that each belongs to."""

    edge: Ints
    run: Ints


def edges_of(ring: BaseGeometry, *, counter_clockwise: bool) -> Edges:
    """Return the edges of a closed ring in a given sense of rotation."""
    corner = shapely.get_coordinates(shapely.remove_repeated_points(ring, NEAR))[:-1]
    if bool(shapely.is_ccw(ring)) != counter_clockwise:
        corner = corner[::-1]
    along = np.roll(corner, -1, axis=0) - corner
    length = np.hypot(along[:, 0], along[:, 1])
    way = along / length[:, None]
    after = np.roll(way, -1, axis=0)
    cross = way[:, 0] * after[:, 1] - way[:, 1] * after[:, 0]
    normal = np.column_stack([-way[:, 1], way[:, 0]])
    return Edges(corner, normal, length, np.arctan2(cross, np.sum(way * after, axis=1)))


def chord_step(radius: float) -> float:
    """Return the angle that one chord of an arc may span [rad]."""
    return max(STEP, 2.0 * math.acos(max(0.0, 1.0 - SAGITTA / radius)))


def strips(edges: Edges, width: float, *, outside: bool) -> Shapes:
    """Return the strips on the left of an outline; arcs are drawn outside the true arc or inside it."""
    runs = _runs(edges, width)
    count = len(edges.length)
    last = np.append(runs.run[1:] != runs.run[:-1], True)
    after = np.where(last, runs.edge, (runs.edge + 1) % count)
    tip = edges.corner[(runs.edge + 1) % count]
    rim, owner = _rim(edges, tip[~last], runs.edge[~last], after[~last], width, outside=outside)
    first = np.append(True, last[:-1])
    near, far = runs.edge[first], runs.edge[last]
    numbers = np.arange(len(near))
    pieces = (
        (edges.corner[runs.edge], runs.run, np.arange(len(runs.edge))),
        (edges.corner[(far + 1) % count], numbers, np.full(len(far), _BASE_END)),
        (edges.corner[(far + 1) % count] + width * edges.normal[far], numbers, np.full(len(far), _BASE_END + 1)),
        (rim, runs.run[~last][owner], _RIM_END - np.arange(len(rim))),
        (edges.corner[near] + width * edges.normal[near], numbers, np.full(len(near), _RIM_END + 1)),
    )
    points, owners, places = (np.concatenate(part) for part in zip(*pieces, strict=True))
    order = np.lexsort((places, owners))
    return _polygons(points[order], owners[order])


_BASE_END = 1 << 40
_RIM_END = 1 << 50


def convex_offsets(holes: list[Edges], width: float) -> Shapes:
    """Return convex outlines, clockwise, grown by a width, arcs drawn outside the true arc."""
    points, owners = [], []
    for number, edges in enumerate(holes):
        at = np.arange(len(edges.length))
        after = np.roll(at, -1)
        rim, _ = _rim(edges, edges.corner[after], at, after, width, outside=True)
        points.append(rim)
        owners.append(np.full(len(rim), number))
    return _polygons(np.concatenate(points), np.concatenate(owners))


def _polygons(points: Floats, owners: Ints) -> Shapes:
    rings = shapely.linearrings(points, indices=owners)
    found: Shapes = np.atleast_1d(np.asarray(shapely.remove_repeated_points(shapely.polygons(rings), 10.0 * SAME)))
    return found


def _rim(
    edges: Edges, tip: Floats, before: Ints, after: Ints, width: float, *, outside: bool
) -> tuple[Floats, Ints]:
    """Return the rim's points at corners between two edges, with the corner that each belongs to."""
    turn = edges.turn[before]
    first, last = edges.normal[before], edges.normal[after]
    chords = np.where(turn < 0.0, np.maximum(np.ceil(-turn / chord_step(width)), 1), 0).astype(np.int64)
    counts = np.where(turn < 0.0, chords if outside else chords + 1, 1)
    owner = np.repeat(np.arange(len(tip)), counts)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    step = np.where(turn < 0.0, turn / np.maximum(chords, 1), 0.0)
    angle = np.arctan2(first[:, 1], first[:, 0])[owner] + step[owner] * (place + (0.5 if outside else 0.0))
    reach = width / np.cos(step / 2.0) if outside else np.full(len(tip), width)
    arc = reach[owner, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    mitre = width * (first + last) / np.maximum(1.0 + np.sum(first * last, axis=1), 1e-12)[:, None]
    return tip[owner] + np.where((turn < 0.0)[owner, None], arc, mitre[owner]), owner


def _runs(edges: Edges, width: float) -> _Runs:
    """Return the runs of edges that share a strip; a run starts with the last edge of the one before."""
    found = list(_spans(edges.turn.tolist(), edges.length.tolist(), width))
    starts, ends = (np.array(part, dtype=np.int64) for part in zip(*found, strict=True))
    sizes = ends - starts + 1
    run = np.repeat(np.arange(len(starts)), sizes)
    place = np.arange(len(run)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    return _Runs((starts[run] + place) % len(edges.length), run)


def _spans(turns: list[float], lengths: list[float], width: float) -> Iterator[tuple[int, int]]:
    """Yield the first and last edge of every run."""
    count, start = len(turns), 0
    while start < count:
        right = turns[start] < 0.0
        end, turned, taken = start, 0.0, 0.0
        while end - start < count - 1:
            turn = turns[end % count]
            turned += abs(turn)
            if (turn < 0.0) != right or (turned > RUN[right] and (end > start or not right)):
                break
            if not right:
                bite = width * math.tan(turn / 2.0)
                if taken + bite > lengths[end % count] + SAME or bite > lengths[(end + 1) % count] + SAME:
                    break
                taken = bite
            end += 1
        yield start, end
        start = max(end, start + 1)


def is_convex(edges: Edges) -> bool:
    """Return whether an outline turns to the right at every corner."""
    return bool(np.all(edges.turn < 1e-9)) and abs(float(edges.turn.sum()) + 2.0 * math.pi) < 1e-6


def rings_of(part: Polygon, *, inward: bool) -> Iterator[Edges]:
    """Yield each outline of a polygon with its inner or outer side on the left of the way round."""
    for number, ring in enumerate((part.exterior, *part.interiors)):
        yield edges_of(ring, counter_clockwise=(number == 0) == inward)
