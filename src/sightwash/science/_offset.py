"""Erosion and dilation of polygons by a disc, from strips along the outlines.

The general-purpose ``buffer`` of the geometry library can lose whole areas of an outline with many short edges (5 m2
of a room with a finely drawn post), so the strip beside each run of edges is built here and the strips are united.
Arcs are drawn outside the true arc when eroding and inside it when dilating: what is left after both was truly swept.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon, get_coordinates, get_parts, is_ccw, union_all
from shapely.geometry.base import BaseGeometry

STEP = math.radians(90.0 / 64.0)  # a chord of an arc spans this at most
RUN = math.radians(90.0)  # a run of edges turns this far at most
THIN = 1e-7  # m; mean width up to which a part of an overlay is rounding

Points = NDArray[np.float64]


class _Edges(NamedTuple):
    """Edges of a closed outline: first corner, unit normal to the left, length, and turn into the next edge."""

    corner: Points
    normal: Points
    length: Points
    turn: Points


def areas_of(shape: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a shape; points and lines that an overlay leaves behind are dropped."""
    parts = get_parts(get_parts(shape))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def eroded(shape: BaseGeometry, distance: float) -> MultiPolygon:
    """Return the points of a shape that lie at least ``distance`` from its outlines, short of arcs by 0.0075 %."""
    strips = [strip for edges in _outlines(shape, inward=True) for strip in _strips(edges, distance, eroding=True)]
    left = areas_of(shape.difference(union_all(strips)))
    return MultiPolygon([part for part in left.geoms if 2.0 * part.area > THIN * part.length])


def dilated(shape: BaseGeometry, distance: float) -> MultiPolygon:
    """Return the points within ``distance`` of a shape, short of arcs by 0.0075 %."""
    strips = [strip for edges in _outlines(shape, inward=False) for strip in _strips(edges, distance, eroding=False)]
    return areas_of(union_all([shape, *strips]))


def _outlines(shape: BaseGeometry, *, inward: bool) -> Iterator[_Edges]:
    """Yield each outline with its inner or outer side on the left of the way round."""
    for part in areas_of(shape).geoms:
        for number, ring in enumerate((part.exterior, *part.interiors)):
            corners = get_coordinates(ring)[:-1]
            corners = corners[np.any(corners != np.roll(corners, 1, axis=0), axis=1)]
            if bool(is_ccw(ring)) != ((number == 0) == inward):
                corners = corners[::-1]
            along = np.roll(corners, -1, axis=0) - corners
            length = np.hypot(along[:, 0], along[:, 1])
            way = along / length[:, None]
            after = np.roll(way, -1, axis=0)
            cross = way[:, 0] * after[:, 1] - way[:, 1] * after[:, 0]
            normal = np.column_stack([-way[:, 1], way[:, 0]])
            yield _Edges(corners, normal, length, np.arctan2(cross, np.sum(way * after, axis=1)))


def _strips(edges: _Edges, width: float, *, eroding: bool) -> Iterator[Polygon]:
    """Yield the strips on the left of an outline; each starts with the last edge of the one before."""
    count, start = len(edges.length), 0
    while start < count:
        right = edges.turn[start] < 0.0
        end, turned, taken = start, 0.0, 0.0
        while end - start < count - 1:
            turn = float(edges.turn[end % count])
            turned += abs(turn)
            if (turn < 0.0) != right or (turned > RUN and (end > start or not right)):
                break
            if not right:
                bite = width * math.tan(turn / 2.0)
                if eroding or taken + bite >= edges.length[end % count] or bite >= edges.length[(end + 1) % count]:
                    break
                taken = bite
            end += 1
        yield _strip(edges, width, [k % count for k in range(start, end + 1)], outside=eroding)
        start = max(end, start + 1)


def _strip(edges: _Edges, width: float, run: list[int], *, outside: bool) -> Polygon:
    """Return the strip of a run of edges that all turn the same way."""
    count = len(edges.length)
    base = [edges.corner[k] for k in run] + [edges.corner[(run[-1] + 1) % count]]
    rim = [(base[0] + width * edges.normal[run[0]])[None, :]]
    for before, after in pairwise(run):
        first, last, turn = edges.normal[before], edges.normal[after], float(edges.turn[before])
        if turn < 0.0:
            rim.append(edges.corner[after] + _arc(first, last, -turn, width, outside=outside))
        else:
            rim.append((edges.corner[after] + width * (first + last) / (1.0 + first @ last))[None, :])
    rim.append((base[-1] + width * edges.normal[run[-1]])[None, :])
    return Polygon(np.vstack([*base, np.vstack(rim)[::-1]]))


def _arc(first: Points, last: Points, angle: float, radius: float, *, outside: bool) -> Points:
    """Return the points of an arc about the origin, clockwise from one unit normal to another."""
    chords = max(1, math.ceil(angle / STEP))
    step = angle / chords
    turns = math.atan2(first[1], first[0]) - step * (np.arange(chords) + 0.5 if outside else np.arange(1, chords))
    reach = radius / math.cos(step / 2.0) if outside else radius
    between = reach * np.column_stack([np.cos(turns), np.sin(turns)])
    return np.vstack([radius * first, between, radius * last])
