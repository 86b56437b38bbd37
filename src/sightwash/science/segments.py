"""Least distance between straight stretches: a jet and a wire, a person and a line, a way and a road."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from sightwash.basis.errors import OutOfRange
from sightwash.science.facets import Floats

_PARALLEL: Final = 1e-12
"""Square of the sine below which two stretches count as parallel; their ends then tell the distance [-]."""


def segment_distances(first: ArrayLike, second: ArrayLike, third: ArrayLike, fourth: ArrayLike) -> Floats:
    """Least distance between the stretch from first to second and the one from third to fourth.

    It is taken up at an end of one of the two, or square to both where those points lie within them.

    Parameters
    ----------
    first : ArrayLike
        Beginnings of the one kind of stretch, coordinates last; all four are broadcast against each other [m]
    second : ArrayLike
        Their ends [m]
    third : ArrayLike
        Beginnings of the other kind [m]
    fourth : ArrayLike
        Their ends [m]

    Returns
    -------
    Floats
        Least distance of each pair [m]

    Raises
    ------
    OutOfRange
        If a coordinate is not finite.

    Notes
    -----
    Range: any stretches in the plane or in space, also of no length.

    References
    ----------
    segment-distance

    Examples
    --------
    >>> segment_distances([(0, 0, 0), (0, 0, 1)], [(4, 0, 0), (1, 0, 1)], (3, -1, 3), (3, 2, 3)).round(6).tolist()
    [3.0, 2.828427]
    """
    ends = [np.asarray(value, float) for value in (first, second, third, fourth)]
    for name, value in zip(("first", "second", "third", "fourth"), ends, strict=True):
        if not np.isfinite(value).all():
            raise OutOfRange(name, float(value[~np.isfinite(value)].flat[0]), "finite numbers in m")
    a, b, c, d = np.broadcast_arrays(*ends)
    u, v, w = b - a, d - c, a - c
    uu, vv, uv, uw, vw = (_dot(p, q) for p, q in ((u, u), (v, v), (u, v), (u, w), (v, w)))
    room = uu * vv - uv * uv
    apart = room > _PARALLEL * uu * vv
    over = np.where(apart, room, 1.0)
    share, other = (uv * vw - vv * uw) / over, (uu * vw - uv * uw) / over
    inside = apart & (share > 0.0) & (share < 1.0) & (other > 0.0) & (other < 1.0)
    square = w + share[..., None] * u - other[..., None] * v
    least = np.where(inside, _dot(square, square), np.inf)
    for point, start, step, length in ((a, c, v, vv), (b, c, v, vv), (c, a, u, uu), (d, a, u, uu)):
        away = point - start
        along = np.clip(_dot(away, step) / np.where(length > 0.0, length, 1.0), 0.0, 1.0)
        off = away - along[..., None] * step
        least = np.minimum(least, _dot(off, off))
    return np.asarray(np.sqrt(least), float)


def _dot(one: Floats, other: Floats) -> Floats:
    return np.asarray(np.einsum("...i,...i->...", one, other), float)
