"""Opening of polygons by a disc, from curves at a distance from the outlines.

The general-purpose ``buffer`` of the geometry library can lose whole areas of an outline with many short edges (5 m2
of a room with a finely drawn post), so the closed curve at a distance from each outline is built here (``_rims``), the
curves are noded, and each face between them is kept or not by its distance from the outlines. Pockets that a disc
cannot sweep are cut off by arcs between outlines (``_pockets``).
Arcs are drawn outside the true arc when eroding and inside it when dilating: what is left after both was truly swept.
"""

from __future__ import annotations

import contextlib
import math
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import GEOSException, MultiPolygon, Polygon, get_parts, union_all
from shapely.geometry.base import BaseGeometry

from sightwash.science._pockets import faces_of
from sightwash.science._rims import SAGITTA, Shapes, chord_span, rims, sides

THIN: Final = 1e-7
"""Mean width up to which a part of an overlay is rounding [m]."""
GRID: Final = 1e-8
"""Grid to which an overlay snaps that failed without one [m]."""


def areas_of(shape: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a shape; points and lines that an overlay leaves behind are dropped."""
    parts = get_parts(get_parts(shape))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def unswept(ground: BaseGeometry, radius: float) -> MultiPolygon:
    """Return what a disc cannot sweep of a ground."""
    shape = areas_of(ground)
    faces = faces_of(shape, eroded(shape, radius), radius)
    return MultiPolygon(faces.shapes[~faces.swept].tolist())


def swept(ground: BaseGeometry, radius: float, gap: float) -> MultiPolygon:
    """Return what a disc sweeps of a ground while it keeps a gap from all outlines."""
    shape = eroded(areas_of(ground), gap) if gap > 0.0 else areas_of(ground)
    faces = faces_of(shape, eroded(shape, radius), radius)
    whole = faces.shapes[faces.swept]
    return areas_of(united(whole)) if len(whole) > 1 else MultiPolygon(whole.tolist())


def eroded(shape: MultiPolygon, distance: float, sagitta: float = SAGITTA) -> MultiPolygon:
    """Return the points of a shape that lie at least ``distance`` from its outlines, arcs short by 0.014 % or more.

    A face whose inner point lies between an arc and its chords is kept only where all its corners are far enough.
    """
    edges = sides(shape, inward=True)
    if not len(edges.turn):
        return MultiPolygon()
    faces = get_parts(shapely.polygonize(get_parts(union_all(rims(edges, distance, sagitta)))))
    inner = shapely.point_on_surface(faces)
    shapely.prepare(shape)
    here = shapely.intersects(shape, inner)
    faces, inner = faces[here], inner[here]
    lines = np.asarray(shapely.linestrings(np.stack([edges.corner, edges.corner[edges.after]], axis=1)))
    tree = shapely.STRtree(lines)
    far = ~_near(tree, inner, distance)
    doubtful = np.flatnonzero(far & _near(tree, inner, distance / math.cos(chord_span(distance, sagitta) / 2.0)))
    corners, owner = shapely.get_coordinates(faces[doubtful], return_index=True)
    far[doubtful[owner[_near(tree, np.asarray(shapely.points(corners)), distance)]]] = False
    return MultiPolygon([part for part in faces[far].tolist() if 2.0 * part.area > THIN * part.length])


def _near(tree: shapely.STRtree, points: Shapes, distance: float) -> NDArray[np.bool_]:
    """Return which points lie nearer to the lines of a tree than a distance."""
    near = np.zeros(len(points), dtype=np.bool_)
    near[tree.query(points, predicate="dwithin", distance=distance * (1.0 - 1e-9))[0]] = True
    return near


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
