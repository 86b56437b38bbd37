"""A planar facet's own coordinates: ``s`` along it, ``z`` up it, ``y`` out in front of it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sightwash.basis.errors import OutOfRange

Floats = NDArray[np.float64]


class Frame(NamedTuple):
    """Where a facet stands: a point in its plane and three unit vectors at right angles.

    Seen from in front, ``along`` runs to the right, ``up`` upward and ``normal`` toward the viewer.
    """

    origin: Floats
    along: Floats
    up: Floats
    normal: Floats


def _vector(parameter: str, value: ArrayLike) -> Floats:
    vector = np.asarray(value, float)
    if vector.shape != (3,) or not np.isfinite(vector).all():
        raise OutOfRange(parameter, vector.tolist(), "three finite numbers")
    return vector


def make_frame(origin: ArrayLike, along: ArrayLike, up: ArrayLike = (0.0, 0.0, 1.0)) -> Frame:
    """Frame of a facet from a point in it, its direction to the right and a direction upward.

    ``normal = along x up``; ``up`` is first turned square to ``along`` within the plane of the two.

    Parameters
    ----------
    origin : ArrayLike
        World point of the facet where s and z are zero [m]
    along : ArrayLike
        Direction to the right as seen from in front, of any length [m]
    up : ArrayLike
        Direction upward in the facet's plane, of any length [m]

    Returns
    -------
    Frame
        Origin and unit vectors along, up and toward the viewer [m]

    Raises
    ------
    OutOfRange
        If a vector has not three finite numbers, or along and up are zero or parallel.

    Notes
    -----
    Range: along and up neither zero nor parallel.

    References
    ----------
    orthonormal-frame

    Examples
    --------
    >>> make_frame((0, 0, 0), (5, 0, 0)).normal.tolist()
    [0.0, -1.0, 0.0]
    """
    start, right, raised = _vector("origin", origin), _vector("along", along), _vector("up", up)
    if not np.linalg.norm(right) > 0:
        raise OutOfRange("along", right.tolist(), "a direction that is not zero")
    right = right / np.linalg.norm(right)
    square = raised - (raised @ right) * right
    length = np.linalg.norm(square)
    if not length > 1e-9 * np.linalg.norm(raised):
        raise OutOfRange("up", raised.tolist(), "a direction that is neither zero nor parallel to along")
    square = square / length
    return Frame(start, right, square, np.cross(right, square))


def to_frame(points: ArrayLike, frame: Frame) -> Floats:
    """World points in a facet's coordinates.

    ``(s, z, y) = ((p - o) . along, (p - o) . up, (p - o) . normal)``

    Parameters
    ----------
    points : ArrayLike
        World points, three numbers each [m]
    frame : Frame
        The facet's frame [m]

    Returns
    -------
    Floats
        One row for each point: along, up and in front of the facet [m]

    Raises
    ------
    OutOfRange
        If the points are not rows of three finite numbers.

    Notes
    -----
    Range: any finite points.

    References
    ----------
    orthonormal-frame

    Examples
    --------
    >>> to_frame([(2, -3, 4)], make_frame((0, 0, 1), (1, 0, 0))).tolist()
    [[2.0, 3.0, 3.0]]
    """
    world = np.atleast_2d(np.asarray(points, float))
    if world.ndim != 2 or world.shape[1] != 3 or not np.isfinite(world).all():
        raise OutOfRange("points", f"an array of shape {world.shape}", "rows of three finite numbers [m]")
    axes = np.stack((frame.along, frame.up, frame.normal), axis=1)
    return np.asarray((world - frame.origin) @ axes, float)
