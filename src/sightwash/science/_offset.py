"""Erosion, dilation and opening of polygons by a disc, from strips along the outlines.

The general-purpose ``buffer`` of the geometry library can lose whole areas of an outline with many short edges (5 m2
of a room with a finely drawn post), so the strip beside each run of edges is built here and the strips are united.
Arcs are drawn outside the true arc when eroding and inside it when dilating: what is left after both was truly swept.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, get_parts, union_all
from shapely.geometry.base import BaseGeometry

from sightwash.science._strips import Edges, Shapes, convex_offsets, edges_of, is_convex, rings_of, strips

THIN = 1e-7  # m; mean width up to which a part of an overlay is rounding
APART = 1e-6  # m; obstacles are treated alone when their grown outlines stay this far apart


def areas_of(shape: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a shape; points and lines that an overlay leaves behind are dropped."""
    parts = get_parts(get_parts(shape))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def opened(ground: BaseGeometry, radius: float, gap: float) -> MultiPolygon:
    """Return what a disc sweeps of a ground while it keeps a gap from all outlines.

    A convex hole that stands free (the disc with its gap fits all round it) leaves only the gap about itself, because
    what a disc cannot reach falls apart into the parts that touching grown outlines make.
    """
    return areas_of(shapely.union_all([_opened(part, radius, gap) for part in areas_of(ground).geoms]))


def _opened(ground: Polygon, radius: float, gap: float) -> BaseGeometry:
    free = _free_holes(ground, 2.0 * (radius + gap) + APART)
    holes = [hole for number, hole in enumerate(ground.interiors) if number not in free]
    bound = Polygon(ground.exterior, holes)
    swept = dilated(eroded(bound, radius + gap), radius).intersection(bound)
    if not free:
        return swept
    if gap > 0.0:
        return swept.difference(MultiPolygon(convex_offsets(list(free.values()), gap).tolist()))
    return swept.difference(MultiPolygon([Polygon(ground.interiors[number]) for number in free]))


def _free_holes(ground: Polygon, distance: float) -> dict[int, Edges]:
    """Return the convex holes that stand farther than a distance from every other outline."""
    rings = np.array(list(ground.interiors), dtype=np.object_)
    if not len(rings):
        return {}
    shapely.prepare(ground.exterior)
    alone = ~shapely.dwithin(rings, ground.exterior, distance)
    one, other = shapely.STRtree(rings).query(rings, predicate="dwithin", distance=distance)
    alone[one[one != other]] = False
    found = {int(k): edges_of(rings[k], counter_clockwise=False) for k in np.flatnonzero(alone)}
    return {number: edges for number, edges in found.items() if is_convex(edges)}


def eroded(shape: BaseGeometry, distance: float) -> MultiPolygon:
    """Return the points of a shape that lie at least ``distance`` from its outlines, short of arcs by 0.014 %."""
    left = areas_of(shape.difference(union_all(_all_strips(shape, distance, inward=True))))
    return MultiPolygon([part for part in left.geoms if 2.0 * part.area > THIN * part.length])


def dilated(shape: BaseGeometry, distance: float) -> MultiPolygon:
    """Return the points within ``distance`` of a shape, short of arcs by 0.014 %."""
    return areas_of(union_all([shape, *_all_strips(shape, distance, inward=False)]))


def _all_strips(shape: BaseGeometry, width: float, *, inward: bool) -> Shapes:
    found = [
        strips(edges, width, outside=inward) for part in areas_of(shape).geoms for edges in rings_of(part, inward=inward)
    ]
    return np.concatenate(found) if found else np.array([], dtype=np.object_)
