"""How large a patch of wall looks: its exact solid angle at an eye."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range

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
    if not (np.isfinite(corners).all() and np.isfinite(viewer).all()):
        raise OutOfRange("ring", "a corner or the eye", "finite numbers in m")
    size = float(np.abs(corners - corners[0]).max())
    normal = np.cross(corners - corners[0], np.roll(corners, -1, axis=0) - corners[0]).sum(axis=0)
    length = float(np.linalg.norm(normal))
    if length <= _FLAT**2 * size**2:
        return 0.0
    off = np.abs((corners - corners[0]) @ normal) / length
    if off.max() > _FLAT * size:
        raise OutOfRange("ring", f"a corner {off.max():.3g} m off", f"corners in one plane within {_FLAT * size:.3g} m")
    rays = corners - viewer
    if abs(rays[0] @ normal) / length <= 1e-12 * (size + float(np.abs(rays).max())):
        return 0.0
    return _fan(rays)


def _fan(rays: NDArray[np.float64]) -> float:
    """Return the solid angle of the fan of triangles from the first ray."""
    a, b, c = rays[:1], rays[1:-1], rays[2:]
    la, lb, lc = (np.linalg.norm(part, axis=1) for part in (a, b, c))
    volume = np.sum(a * np.cross(b, c), axis=1)
    spread = la * lb * lc + np.sum(a * b, axis=1) * lc + np.sum(a * c, axis=1) * lb + np.sum(b * c, axis=1) * la
    return abs(float(np.sum(2.0 * np.arctan2(volume, spread))))
