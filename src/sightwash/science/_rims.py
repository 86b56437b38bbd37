"""Curves at a given distance on the left of closed outlines, all built at once.

Each outline gives one closed curve. Where the outline turns away from its left side the curve has an arc, where it
turns towards it a mitre, if that fits on both edges, else a short cut through ground that is nearer than the distance.
What lies at the distance or farther is bounded by parts of these curves; the rest of them lies nearer.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

STEP: Final = math.radians(90.0 / 48.0)
"""A chord of an arc spans this at most, unless its sagitta is below SAGITTA."""
WIDEST: Final = math.radians(45.0)
"""A chord spans no more than this, however small its arc."""
SAGITTA: Final = 1e-5
"""Arcs may be this far from the true ones [m]."""
NEAR: Final = 1e-7
"""Corners this near to each other are one, because the way between them is rounding [m]."""
SAME: Final = 1e-9
"""Length that is rounding [m]."""
DIGITS: Final = 12
"""Decimals of a curve's corners: neighbours that should meet do [-]."""

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


def sides(shape: shapely.MultiPolygon, *, inward: bool) -> Edges:
    """Return the outlines of a shape with its inner or outer side on the left of the way round."""
    rings, owner = shapely.get_rings(shapely.get_parts(shape), return_index=True)
    outer = np.diff(owner, prepend=-1) > 0
    return edges_of(rings, counter_clockwise=outer == inward)


def convex(edges: Edges, count: int) -> NDArray[np.bool_]:
    """Return whether each of so many outlines turns to the right at every corner, once round."""
    once = np.abs(np.bincount(edges.ring, edges.turn, minlength=count) + 2.0 * math.pi) < 1e-6
    turns: NDArray[np.bool_] = once & (np.bincount(edges.ring, edges.turn >= 1e-9, minlength=count) == 0.0)
    return turns


def chord_span(radius: float, sagitta: float) -> float:
    """Return the angle that one chord of an arc spans at most [rad]."""
    return min(max(STEP, 2.0 * math.acos(max(0.0, 1.0 - sagitta / radius))), WIDEST)


def rims(edges: Edges, width: float, sagitta: float = SAGITTA) -> Shapes:
    """Return the closed curves at a distance on the left of outlines, their arcs drawn outside the true arcs."""
    points, owner = _rim_points(edges, width, chord_span(width, sagitta))
    points = np.round(points, DIGITS)
    kept = np.append(True, (points[1:] != points[:-1]).any(axis=1) | (owner[1:] != owner[:-1]))
    points, owner = points[kept], owner[kept]
    full = np.bincount(owner)[owner] > 2
    return np.asarray(shapely.linearrings(points[full], indices=np.unique(owner[full], return_inverse=True)[1]))


def _rim_points(edges: Edges, width: float, span: float) -> tuple[Floats, Ints]:
    """Return the corners of the curves in order, with their outlines: the ends of each edge's side or its arc."""
    number = np.arange(len(edges.turn))
    before = np.empty_like(number)
    before[edges.after] = number
    bite = width * np.tan(np.clip(edges.turn, 0.0, 3.1) / 2.0)
    fits = bite + bite[before] <= edges.length + SAME
    mitred = (edges.turn > 0.0) & fits & fits[edges.after]
    start = edges.corner + width * edges.normal
    end = edges.corner[edges.after] + width * edges.normal
    onward = edges.normal[edges.after]
    mitre = (edges.normal + onward) / np.maximum(1.0 + np.sum(edges.normal * onward, axis=1), 1e-12)[:, None]
    tip = edges.corner[edges.after] + width * mitre
    end[mitred] = tip[mitred]
    start[edges.after[mitred]] = tip[mitred]
    rounded = edges.turn < 0.0  # there the side runs straight on into the first and last half chord of the arc
    arcs, joint = _arcs(edges, np.flatnonzero(rounded), width, span)
    cornered = np.stack([~rounded[before], ~rounded], axis=1).reshape(-1)
    points = np.concatenate([np.stack([start, end], axis=1).reshape(-1, 2)[cornered], arcs])
    owner = np.concatenate([np.repeat(number, 2)[cornered], joint])
    order = np.argsort(owner, kind="stable")
    return points[order], edges.ring[owner[order]]


def _arcs(edges: Edges, at: Ints, width: float, span: float) -> tuple[Floats, Ints]:
    """Return the corners of the arcs after edges, drawn outside the true arcs, with the edge that each belongs to."""
    turn, normal = edges.turn[at], edges.normal[at]
    chords = np.maximum(np.ceil(-turn / span), 1.0)
    counts = chords.astype(np.int64)
    joint = np.repeat(np.arange(len(at)), counts)
    place = np.arange(len(joint)) - np.repeat(np.cumsum(counts) - counts, counts)
    step = turn / chords
    angle = np.arctan2(normal[:, 1], normal[:, 0])[joint] + step[joint] * (place + 0.5)
    reach = width / np.cos(step / 2.0)
    tip = edges.corner[edges.after[at]][joint]
    return tip + reach[joint, None] * np.column_stack([np.cos(angle), np.sin(angle)]), at[joint]
