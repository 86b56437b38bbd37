"""Shortest ways on the ground round what stands in between: how much hose it takes to get there."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange

Floats = NDArray[np.float64]
_SKIN = 1e-3  # a way may run along a wall: obstacles count from this far inside [m]


def shortest_ways(
    starts: Sequence[tuple[float, float]], ends: Sequence[tuple[float, float]], obstacles: BaseGeometry
) -> Floats:
    """Length of the shortest way to each end from the nearest start, round obstacles.

    The shortest way among polygons is straight but for corners of theirs, so it is found over those.

    Parameters
    ----------
    starts : sequence of (float, float)
        Places to start from in the plan [m]
    ends : sequence of (float, float)
        Places to get to in the plan [m]
    obstacles : BaseGeometry
        Polygons that no way crosses; it may run along them and touch their corners [m]

    Returns
    -------
    Floats
        Length of the way to each end; infinite where there is none [m]

    Raises
    ------
    OutOfRange
        If there is no start, or a place is not two finite numbers.

    Notes
    -----
    Range: polygons in the plan, a way of no width.

    References
    ----------
    corner-ways

    Examples
    --------
    Past a block 2 m wide and 4 m long it is 10 m; behind it the way bends at two corners, 2 sqrt(20) + 2 m:

    >>> block = shapely.box(4, -2, 6, 2)
    >>> [round(length, 2) for length in shortest_ways([(0, 0)], [(0, 10), (10, 0)], block).tolist()]
    [10.0, 10.94]
    """
    first, last = (np.asarray(each, float) for each in (starts, ends))
    for name, points in (("starts", first), ("ends", last)):
        if len(points) and (points.shape[1:] != (2,) or not np.isfinite(points).all()):
            raise OutOfRange(name, points.tolist()[:3], "places of two finite numbers in m")
    if not len(first):
        raise OutOfRange("starts", [], "one place or more")
    if not len(last):
        return np.zeros(0)
    inner = _inner(shapely.to_wkb(obstacles))
    straight = np.hypot(*np.moveaxis(first[:, None] - last[None, :], 2, 0)).min(axis=0)
    lengths = _open_lengths(first, last, inner).min(axis=0)
    round_corners = np.flatnonzero(lengths > straight)
    if round_corners.size:
        corners, ways = _ways_to_corners(tuple(map(tuple, first.tolist())), shapely.to_wkb(obstacles))
        more = ways[:, None] + _open_lengths(corners, last[round_corners], inner)
        lengths[round_corners] = np.minimum(lengths[round_corners], more.min(axis=0, initial=np.inf))
    return np.asarray(lengths, float)


@lru_cache(maxsize=16)
def _inner(obstacles: bytes) -> BaseGeometry:
    """Return what no way crosses, ready to be asked often."""
    inner = shapely.buffer(shapely.from_wkb(obstacles), -_SKIN, join_style="mitre")
    shapely.prepare(inner)
    return inner


@lru_cache(maxsize=16)
def _ways_to_corners(starts: tuple[tuple[float, float], ...], obstacles: bytes) -> tuple[Floats, Floats]:
    """Return the corners of obstacles and the shortest way to each, settled in the order of its length."""
    corners = np.unique(shapely.get_coordinates(shapely.from_wkb(obstacles)), axis=0)
    found = _open_lengths(np.array(starts), corners, _inner(obstacles)).min(axis=0)
    steps = _open_lengths(corners, corners, _inner(obstacles))
    left = np.ones(len(corners), bool)
    for _ in range(len(corners)):
        k = int(np.argmin(np.where(left, found, np.inf)))
        left[k] = False
        found = np.minimum(found, found[k] + steps[k])
    return corners, found


def _open_lengths(first: Floats, last: Floats, inner: BaseGeometry) -> Floats:
    """Return the straight length from each place to each other, infinite where an obstacle lies between."""
    pairs = np.stack(np.broadcast_arrays(first[:, None, :], last[None, :, :]), axis=2)
    blocked = shapely.intersects(shapely.linestrings(pairs), inner)
    return np.where(blocked, np.inf, np.hypot(*np.moveaxis(pairs[:, :, 1] - pairs[:, :, 0], 2, 0)))
