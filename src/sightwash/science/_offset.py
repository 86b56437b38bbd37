"""Opening of polygons by a disc, from strips along the outlines.

The general-purpose ``buffer`` of the geometry library can lose whole areas of an outline with many short edges (5 m2
of a room with a finely drawn post), so the strip beside each run of edges is built here and the strips are united.
A union is checked for lost strips, which the library was seen to drop, and made again on a fine grid if need be.
Arcs are drawn outside the true arc when eroding and inside it when dilating: what is left after both was truly swept.
"""

from __future__ import annotations

import contextlib

import numpy as np
import shapely
from shapely import GEOSException, MultiPolygon, Polygon, get_parts, union_all
from shapely.geometry.base import BaseGeometry

from sightwash.science._strips import SAGITTA, Edges, Shapes, convex, convex_offsets, edges_of, strips

THIN = 1e-7  # m; mean width up to which a part of an overlay is rounding
GRID = 1e-8  # m; grid to which an overlay snaps that failed without one
APART = 1e-6  # m; obstacles are treated alone when their grown outlines stay this far apart


def areas_of(shape: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a shape; points and lines that an overlay leaves behind are dropped."""
    parts = get_parts(get_parts(shape))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def unswept(ground: BaseGeometry, radius: float, gap: float) -> MultiPolygon:
    """Return what a disc cannot sweep of a ground while it keeps a gap from all outlines.

    A convex hole that stands free (the disc with its gap fits all round it) costs only the gap about itself: what the
    disc's centre cannot enter falls apart into pieces that do not touch, and a disc lies in one of them or in none.
    """
    bound, free = _without_free_holes(areas_of(ground), 2.0 * (radius + gap) + APART)
    centres = eroded(bound, radius + gap)
    swept = united(strips(_sides(centres, inward=False), radius, outside=False))
    left = get_parts(without(without(bound, centres), swept))
    if gap > 0.0 and len(free):
        edges = edges_of(free, counter_clockwise=np.zeros(len(free), dtype=np.bool_))
        about = shapely.difference(convex_offsets(edges, gap), np.asarray(shapely.polygons(free)))
        left = np.append(left, about)  # as far from all else as the disc is wide
    return MultiPolygon(left.tolist())


def _without_free_holes(ground: MultiPolygon, distance: float) -> tuple[MultiPolygon, Shapes]:
    """Return a ground without the convex holes that stand farther than a distance from all else, and those holes."""
    parts, taken = [], [np.array([], dtype=np.object_)]
    for part in ground.geoms:
        rings = np.array(list(part.interiors), dtype=np.object_)
        free = _free(rings, part.exterior, distance) if len(rings) else np.zeros(0, dtype=np.bool_)
        parts.append(Polygon(part.exterior, rings[~free].tolist()))
        taken.append(rings[free])
    return MultiPolygon(parts), np.concatenate(taken)


def _free(rings: Shapes, exterior: BaseGeometry, distance: float) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    shapely.prepare(exterior)
    free: np.ndarray[tuple[int], np.dtype[np.bool_]] = ~shapely.dwithin(exterior, rings, distance)
    one, other = shapely.STRtree(rings).query(rings, predicate="dwithin", distance=distance)
    free[one[one != other]] = False
    free &= convex(edges_of(rings, counter_clockwise=np.zeros(len(rings), dtype=np.bool_)), len(rings))
    return free


def eroded(shape: MultiPolygon, distance: float, sagitta: float = SAGITTA) -> MultiPolygon:
    """Return the points of a shape that lie at least ``distance`` from its outlines, arcs short by 0.014 % or more."""
    left = without(shape, united(strips(_sides(shape, inward=True), distance, outside=True, sagitta=sagitta)))
    return MultiPolygon([part for part in left.geoms if 2.0 * part.area > THIN * part.length])


def united(shapes: Shapes) -> BaseGeometry:
    """Return the union of polygons, made again on a grid where it fails or loses one of them."""
    inner = shapely.point_on_surface(shapes)
    with contextlib.suppress(GEOSException):
        whole: BaseGeometry = union_all(shapes)
        shapely.prepare(whole)
        if np.all(shapely.intersects(whole, inner)):
            return whole
    snapped: BaseGeometry = union_all(shapes, grid_size=GRID)
    return snapped


def without(shape: BaseGeometry, other: BaseGeometry) -> MultiPolygon:
    """Return a shape less another, made again on a grid where that fails or the area cannot be right."""
    slack = THIN * (1.0 + shape.length)
    with contextlib.suppress(GEOSException):
        left = areas_of(shape.difference(other))
        if shape.area - other.area - slack <= left.area <= shape.area + slack:
            return left
    return areas_of(areas_of(shape).difference(areas_of(other), grid_size=GRID))


def _sides(shape: MultiPolygon, *, inward: bool) -> Edges:
    """Return the outlines of a shape with its inner or outer side on the left of the way round."""
    polygons = get_parts(shape)
    rings, owner = shapely.get_rings(polygons, return_index=True)
    outer = np.diff(owner, prepend=-1) > 0
    return edges_of(rings, counter_clockwise=outer == inward)
