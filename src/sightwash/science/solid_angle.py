"""How large a patch of wall looks: its exact solid angle at an eye."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range

Array = NDArray[np.float64]
_FLAT = 1e-6  # a corner this far off the plane, as a share of the polygon's size, is still on it


def centred_rectangle_solid_angle(width: float, height: float, distance: float) -> float:
    """Solid angle of a rectangle seen square-on through its middle.

    ``O = 4 asin( (a/2)(b/2) / sqrt(((a/2)2 + D2)((b/2)2 + D2)) )``

    Parameters
    ----------
    width : float
        Width of the rectangle [m]
    height : float
        Height of the rectangle [m]
    distance : float
        Distance of the eye from the rectangle's middle [m]

    Returns
    -------
    float
        Solid angle [sr]

    Raises
    ------
    OutOfRange
        If a size is negative or the distance is not above zero.

    Notes
    -----
    Range: every size; the small-angle ``a b / D2`` is 80 % high for 0.5 x 300 ft at 100 ft.

    References
    ----------
    rectangle-solid-angle

    Examples
    --------
    >>> round(centred_rectangle_solid_angle(300.0, 0.5, 100.0), 7)
    0.0083205
    """
    check_range("width", width, "m", least=0.0)
    check_range("height", height, "m", least=0.0)
    check_range("distance", distance, "m", above=0.0)
    a, b = width / 2.0, height / 2.0
    return 4.0 * math.asin(a * b / math.sqrt((a**2 + distance**2) * (b**2 + distance**2)))


def rectangle_solid_angle(left: float, right: float, bottom: float, top: float, distance: float) -> float:
    """Solid angle of an upright rectangle anywhere on a plane, by corner differences.

    ``O = G(right, top) - G(left, top) - G(right, bottom) + G(left, bottom);
    G(x, z) = atan(x z / (D sqrt(x2 + z2 + D2)))``

    Parameters
    ----------
    left : float
        Left edge, measured along the wall from the point nearest the eye [m]
    right : float
        Right edge, measured alike [m]
    bottom : float
        Lower edge, measured up from the eye's height [m]
    top : float
        Upper edge, measured alike [m]
    distance : float
        Distance of the eye from the wall's plane [m]

    Returns
    -------
    float
        Solid angle [sr]

    Raises
    ------
    OutOfRange
        If right is left of left, top is below bottom, or the distance is not above zero.

    Notes
    -----
    Range: every rectangle parallel to the axes of the wall's plane.

    References
    ----------
    rectangle-solid-angle

    Examples
    --------
    >>> round(rectangle_solid_angle(0.0, 1.0, 0.0, 1.0, 1.0) * 24 / (4 * math.pi), 12)
    1.0
    """
    check_range("left", left, "m")
    check_range("right", right, "m", least=left)
    check_range("bottom", bottom, "m")
    check_range("top", top, "m", least=bottom)
    check_range("distance", distance, "m", above=0.0)

    def corner(x: float, z: float) -> float:
        return math.atan(x * z / (distance * math.sqrt(x**2 + z**2 + distance**2)))

    return corner(right, top) - corner(left, top) - corner(right, bottom) + corner(left, bottom)


def polygon_solid_angle(ring: ArrayLike, eye: ArrayLike) -> float:
    """Solid angle of a flat polygon at an eye, by a fan of triangles.

    ``tan(O/2) = a.(b x c) / (abc + (a.b) c + (a.c) b + (b.c) a)``

    Each triangle counts with its sign.

    Parameters
    ----------
    ring : array of shape (n, 3)
        Corners in order, either way round, not repeated at the end; it need not be convex [m]
    eye : array of shape (3,)
        The eye [m]

    Returns
    -------
    float
        Solid angle; zero when the eye is in the polygon's own plane [sr]

    Raises
    ------
    OutOfRange
        If there are fewer than three corners, a number is not finite, or the corners are not in one plane.

    Notes
    -----
    Range: one ring without crossings; subtract the solid angle of each hole.

    References
    ----------
    van-oosterom-strackee-1983

    Examples
    --------
    >>> octant = polygon_solid_angle([[1, 0, 0], [0, 1, 0], [0, 0, 1]], [0, 0, 0])
    >>> round(octant / math.pi, 12)
    0.5
    """
    corners, viewer = np.asarray(ring, np.float64), np.asarray(eye, np.float64)
    if corners.ndim != 2 or corners.shape[1:] != (3,) or len(corners) < 3 or viewer.shape != (3,):
        raise OutOfRange("ring", corners.shape, "three or more corners and an eye, each of x, y, z")
    return float(polygon_solid_angles([corners], viewer[None])[0])


def polygon_solid_angles(rings: Sequence[ArrayLike], eyes: ArrayLike) -> NDArray[np.float64]:
    """Solid angles of many flat polygons, each at an eye of its own.

    ``tan(O/2) = a.(b x c) / (abc + (a.b) c + (a.c) b + (b.c) a)``

    Parameters
    ----------
    rings : Sequence[ArrayLike]
        Polygons as in ``polygon_solid_angle``, each an array of shape (n, 3) [m]
    eyes : array of shape (k, 3)
        The eye of each polygon [m]

    Returns
    -------
    array of shape (k,)
        Solid angle of each polygon; zero when its eye is in its own plane [sr]

    Raises
    ------
    OutOfRange
        If a polygon has fewer than three corners, a number is not finite, or corners are not in one plane.

    Notes
    -----
    Range: rings without crossings; subtract the solid angle of each hole.

    References
    ----------
    van-oosterom-strackee-1983

    Examples
    --------
    >>> octant = [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
    >>> (polygon_solid_angles([octant, octant], [[0, 0, 0], [1, 0, 0]]) / math.pi).round(12).tolist()
    [0.5, 0.0]
    """
    given = [np.asarray(ring, np.float64) for ring in rings]
    viewers = np.asarray(eyes, np.float64).reshape(-1, 3)
    if len(given) != len(viewers) or any(ring.ndim != 2 or ring.shape[1] != 3 or len(ring) < 3 for ring in given):
        raise OutOfRange("rings", len(given), "rings of three or more corners, each of x, y, z, and an eye for each")
    if not given:
        return np.zeros(0)
    corners = np.concatenate(given)
    if not (np.isfinite(corners).all() and np.isfinite(viewers).all()):
        raise OutOfRange("ring", "a corner or an eye", "finite numbers in m")
    return _fans(corners, np.array([len(ring) for ring in given]), viewers)


def _fans(corners: Array, counts: NDArray[np.intp], eyes: Array) -> Array:
    """Return the solid angle of each ring's fan of triangles from its first corner."""
    starts = np.cumsum(counts) - counts
    first = np.repeat(starts, counts)
    from_first = corners - corners[first]
    normals = np.add.reduceat(_cross(from_first[:-1], from_first[1:], first), starts)
    sizes = np.maximum.reduceat(np.abs(from_first).max(axis=1), starts)
    lengths = np.sqrt((normals**2).sum(axis=1))
    flat = lengths <= _FLAT**2 * sizes**2
    units = normals / np.where(flat, 1.0, lengths)[:, None]
    off = np.maximum.reduceat(np.abs((from_first * np.repeat(units, counts, axis=0)).sum(axis=1)), starts)
    bent = np.flatnonzero(~flat & (off > _FLAT * sizes))
    if len(bent):
        far, most = off[bent[0]], _FLAT * sizes[bent[0]]
        raise OutOfRange("ring", f"a corner {far:.3g} m off", f"corners in one plane within {most:.3g} m")
    rays = corners - np.repeat(eyes, counts, axis=0)
    reach = np.maximum.reduceat(np.abs(rays).max(axis=1), starts)
    edge_on = np.abs((rays[starts] * units).sum(axis=1)) <= 1e-12 * (sizes + reach)
    total = np.add.reduceat(_triangles(rays, first), starts)
    return np.where(flat | edge_on, 0.0, np.abs(total))


def _cross(b: Array, c: Array, first: NDArray[np.intp]) -> Array:
    """Return the cross product of each corner with the next of its ring, zero for a ring's last."""
    found = np.zeros((len(first), 3))
    found[:-1] = np.cross(b, c)
    found[:-1][first[1:] != first[:-1]] = 0.0
    return found


def _triangles(rays: Array, first: NDArray[np.intp]) -> Array:
    """Return the signed solid angle of each triangle of a ring's first corner, a corner and the next."""
    a, b, c = rays[first[:-1]], rays[:-1], rays[1:]
    length = np.sqrt((rays**2).sum(axis=1))
    la, lb, lc = length[first[:-1]], length[:-1], length[1:]
    volume = (a * np.cross(b, c)).sum(axis=1)
    spread = la * lb * lc + (a * b).sum(axis=1) * lc + (a * c).sum(axis=1) * lb + (b * c).sum(axis=1) * la
    inner = (first[1:] == first[:-1]) & (np.arange(len(first) - 1) != first[:-1])
    found = np.zeros(len(first))
    found[:-1][inner] = 2.0 * np.arctan2(volume[inner], spread[inner])
    return found
