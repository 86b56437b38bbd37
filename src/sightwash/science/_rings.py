"""Closed outlines as arrays, places on them, and the way along one from place to place."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Place(NamedTuple):
    """A point of an outline: where it is, on which edge, how far along which outline."""

    x: float
    y: float
    edge: int
    along: float
    ring: int


class Rings(NamedTuple):
    """Edges of outlines, one after the other: first and last corner, outline, distance along it; and by outline.

    ``first`` and ``size`` say which edges an outline has, ``around`` how long it is, ``outer`` whether it is a shell.
    """

    start: Floats
    end: Floats
    ring: Ints
    along: Floats
    first: Ints
    size: Ints
    around: Floats
    outer: NDArray[np.bool_]


def rings_of(shape: BaseGeometry) -> Rings:
    """Return the outlines of a shape's polygons."""
    found, part = shapely.get_rings(shapely.get_parts(shape), return_index=True)
    points, owner = shapely.get_coordinates(found, return_index=True)
    kept = owner[1:] == owner[:-1]
    start, end, ring = points[:-1][kept], points[1:][kept], owner[:-1][kept]
    length = np.hypot(*(end - start).T)
    size = np.bincount(ring, minlength=len(found))
    first = np.cumsum(size) - size
    before = np.cumsum(length) - length
    around: Floats = np.bincount(ring, length, minlength=len(found)).astype(np.float64)
    return Rings(start, end, ring, before - before[first][ring], first, size, around, np.diff(part, prepend=-1) > 0)


def place_at(rings: Rings, edge: int, x: float, y: float) -> Place:
    """Return the place of a point that lies on an edge."""
    sx, sy = rings.start[edge]
    return Place(x, y, edge, float(rings.along[edge] + np.hypot(x - sx, y - sy)), int(rings.ring[edge]))


def place_along(rings: Rings, ring: int, along: float) -> Place:
    """Return the place at a distance along an outline."""
    first, count = int(rings.first[ring]), int(rings.size[ring])
    here = along % float(rings.around[ring])
    edge = first + int(np.searchsorted(rings.along[first : first + count], here, "right")) - 1
    run = rings.end[edge] - rings.start[edge]
    x, y = rings.start[edge] + (here - rings.along[edge]) / max(float(np.hypot(*run)), 1e-12) * run
    return Place(float(x), float(y), edge, here, ring)


def forward_length(rings: Rings, a: Place, b: Place) -> float:
    """Return the distance from a place to another of the same outline, along it."""
    return float((b.along - a.along) % rings.around[a.ring])


def way_along(rings: Rings, a: Place, b: Place, *, forward: bool) -> Floats:
    """Return the corners of the way along an outline from a place to another."""
    if not forward:
        return way_along(rings, b, a, forward=True)[::-1]
    first, count = int(rings.first[a.ring]), int(rings.size[a.ring])
    steps = (b.edge - a.edge) % count
    if steps == 0 and b.along < a.along:
        steps = count
    corners = rings.end[first + (a.edge - first + np.arange(steps)) % count]
    return np.vstack([[(a.x, a.y)], corners, [(b.x, b.y)]])


def shorter_way(rings: Rings, a: Place, b: Place) -> Floats:
    """Return the corners of the shorter way along an outline."""
    return way_along(rings, a, b, forward=forward_length(rings, a, b) <= rings.around[a.ring] / 2.0)


def once_around(rings: Rings, a: Place) -> Floats:
    """Return the corners of the way round an outline, back to the same place."""
    first, count = int(rings.first[a.ring]), int(rings.size[a.ring])
    corners = rings.end[first + (a.edge - first + np.arange(count)) % count]
    return np.vstack([[(a.x, a.y)], corners, [(a.x, a.y)]])


def way_between(rings: Rings, tree: shapely.STRtree, room: BaseGeometry, a: Place, b: Place) -> Floats | None:
    """Return a way from a place to another inside a room: straight, and along outlines where that leaves it.

    ``tree`` holds the edges; ``room`` is prepared. None: there is no such way.
    """
    line = shapely.linestrings([[(a.x, a.y), (b.x, b.y)]])[0]
    stops = _crossings(rings, np.sort(tree.query(line, predicate="intersects")), a, b)
    middles = [((s.x + t.x) / 2.0, (s.y + t.y) / 2.0) for s, t in pairwise(stops)]
    inside = shapely.intersects_xy(room, *np.array(middles).T)
    if inside.all():
        return np.array([(a.x, a.y), (b.x, b.y)])
    ways: list[Floats] = []
    at = 0
    while at < len(stops) - 1:
        if inside[at]:
            ways.append(np.array([stops[at][:2], stops[at + 1][:2]]))
            at += 1
            continue
        back = at
        while back < len(stops) - 1 and not inside[back]:
            back += 1
        if stops[at].ring != stops[back].ring:
            return None
        ways.append(shorter_way(rings, stops[at], stops[back]))
        at = back
    return np.vstack(ways)


def _crossings(rings: Rings, edges: Ints, a: Place, b: Place) -> list[Place]:
    """Return where the straight line from a place to another meets edges, in order, with both ends."""
    p, way = np.array([a.x, a.y]), np.array([b.x - a.x, b.y - a.y])
    start, run = rings.start[edges], rings.end[edges] - rings.start[edges]
    cross = way[0] * run[:, 1] - way[1] * run[:, 0]
    gap = start - p
    with np.errstate(divide="ignore", invalid="ignore"):
        shares = (gap[:, 0] * run[:, 1] - gap[:, 1] * run[:, 0]) / cross
    met = np.isfinite(shares) & (shares > 1e-9) & (shares < 1.0 - 1e-9)
    order = np.argsort(shares[met], kind="stable")
    places = [
        place_at(rings, int(edge), *(p + share * way).tolist())
        for edge, share in zip(edges[met][order], shares[met][order], strict=True)
    ]
    return [a, *places, b]
