"""Which points of a facet lie in shadow, for many eyes at once, without joining the shadows to one shape."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._areas import Window
from sightwash.science.facets import Floats, Frame, to_frame
from sightwash.science.shadows import IN_PLANE, Facing, facing_solids, projected_corners

Flags = NDArray[np.bool_]


def hidden_points(frame: Frame, solids: Sequence[Floats], eyes: ArrayLike, points: ArrayLike) -> Flags:
    """Whether each of many points of a facet is hidden from each of many eyes; what a solid touches is not.

    A solid's shadow is convex, so at each s it holds one stretch of z, between its lower and its upper sides.

    Parameters
    ----------
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    eyes : ArrayLike
        World points of the eyes, one a row [m]
    points : ArrayLike
        Points of the facet's plane as (s, z), one a row [m]

    Returns
    -------
    Flags
        Whether a point (column) is hidden from an eye (row); from behind the facet every point is [-]

    Raises
    ------
    OutOfRange
        If there is no point, or a point is not finite.

    Notes
    -----
    Range: any eyes and points; a point on the edge of a shadow counts as seen.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 1), (1, -1, 1)], float)
    >>> hidden_points(make_frame((0, 0, 0), (1, 0, 0)), [panel], [(0, -2, 0.5)], [(3, 0.5), (5, 0.5)]).tolist()
    [[True, False]]
    """
    places = np.asarray(points, float).reshape(-1, 2)
    if not len(places) or not np.isfinite(places).all():
        raise OutOfRange("points", places.tolist()[:3], "one point or more of two finite numbers in m")
    local = to_frame(eyes, frame)
    (left, bottom), (right, top) = places.min(axis=0), places.max(axis=0)
    window = float(left), float(bottom), float(right), float(top)
    facing = facing_solids(frame, solids, local, window)
    behind = local[:, 2] <= IN_PLANE
    found = _in_shadow(facing, local, window, places)
    found[behind] = True
    if not facing.covered.is_empty:
        found &= ~np.asarray(shapely.intersects_xy(facing.covered, *places.T), bool)
    return found


def _in_shadow(facing: Facing, eyes: Floats, window: Window, places: Floats) -> Flags:
    """Return which point lies inside the shadow of some solid from which eye."""
    found = np.zeros((len(eyes), len(places)), bool)
    if not len(facing.starts):
        return found
    corners, pairs = projected_corners(facing, eyes, window)
    if not len(corners):
        return found
    begins = np.flatnonzero(np.diff(pairs, prepend=-1))
    low, high = np.minimum.reduceat(corners, begins), np.maximum.reduceat(corners, begins)
    meets = (low < places.max(axis=0)).all(axis=1) & (high > places.min(axis=0)).all(axis=1)
    counts = np.diff(np.append(begins, len(corners)))
    index = np.repeat(np.arange(meets.sum()), counts[meets])
    hulls = shapely.convex_hull(shapely.linestrings(corners[np.repeat(meets, counts)], indices=index))
    solid = shapely.get_type_id(hulls) == shapely.GeometryType.POLYGON
    hulls, (eye, owner) = hulls[solid], np.divmod(pairs[begins[meets]][solid], len(facing.starts))
    for number in np.unique(owner):
        own = owner == number
        found[eye[own]] |= _inside(hulls[own], places)
    return found


def _inside(hulls: NDArray[np.object_], places: Floats) -> Flags:
    """Return which point lies inside which convex polygon: at its s, above the lower and below the upper sides."""
    corners, owner = shapely.get_coordinates(shapely.orient_polygons(hulls), return_index=True)
    same = owner[1:] == owner[:-1]
    start, step, owner = corners[:-1][same], np.diff(corners, axis=0)[same], owner[:-1][same]
    columns, column = np.unique(places[:, 0], return_inverse=True)
    lower, upper = step[:, 0] > 0.0, step[:, 0] < 0.0
    floor = -_least_heights(start[lower], step[lower], owner[lower], columns, -1.0)
    ceiling = _least_heights(start[upper], step[upper], owner[upper], columns, 1.0)
    left, _, right, _ = shapely.bounds(hulls).T
    floor[(columns <= left[:, None]) | (columns >= right[:, None])] = np.inf
    heights = places[:, 1]
    return np.asarray((floor[:, column] < heights) & (heights < ceiling[:, column]), bool)


def _least_heights(start: Floats, step: Floats, owner: NDArray[np.intp], columns: Floats, sign: float) -> Floats:
    """Return the least height, times a sign, of the lines through each polygon's sides (row) at each s (column)."""
    slope = sign * step[:, 1] / step[:, 0]
    level = sign * start[:, 1] - slope * start[:, 0]
    begins = np.flatnonzero(np.diff(owner, prepend=-1))
    last = np.append(begins[1:], len(owner)) - 1
    least = np.full((len(begins), len(columns)), np.inf)
    for number in range(int((last - begins).max()) + 1):
        side = np.minimum(begins + number, last)
        np.minimum(least, level[side, None] + slope[side, None] * columns, out=least)
    return least
