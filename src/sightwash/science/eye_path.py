"""Eyes along a road or a walk: samples at even spacing, and the straight pieces from which a facet can be seen."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sightwash.science._range import check_range
from sightwash.science.facets import Floats


class EyePath(NamedTuple):
    """Samples along a polyline of eyes, in a facet's coordinates.

    ``pieces`` holds the first and last sample of each straight stretch that lies in front of the facet.
    """

    eyes: Floats
    stations: Floats
    ahead: NDArray[np.bool_]
    pieces: NDArray[np.intp]


def eye_path(route: Floats, spacing: float, least_distance: float) -> EyePath:
    """Sample a polyline of eyes and cut it where it comes nearer to a facet's plane than a least distance.

    Parameters
    ----------
    route : Floats
        Corners of the path in the facet's coordinates (s, z, y), one a row [m]
    spacing : float
        Greatest distance between two samples [m]
    least_distance : float
        An eye nearer to the facet's plane than this counts as not seeing it [m]

    Returns
    -------
    eyes : Floats
        Samples in order along the path, in the facet's coordinates [m]
    stations : Floats
        Their distance along the path [m]
    ahead : NDArray[np.bool_]
        Which samples lie in front of the facet [-]
    pieces : NDArray[np.intp]
        First and last sample of each straight piece in front [-]

    Raises
    ------
    OutOfRange
        If the spacing or the least distance is not above zero.

    Notes
    -----
    Range: one corner or more; a single corner is a piece of no length.

    References
    ----------
    orthonormal-frame

    Examples
    --------
    >>> path = eye_path(np.array([(0.0, 1.0, -1.0), (0.0, 1.0, 3.0)]), 2.0, 1.0)
    >>> path.stations.tolist(), path.pieces.tolist()
    ([0.0, 2.0, 4.0], [[1, 2]])
    """
    check_range("spacing", spacing, "m", above=0)
    check_range("least_distance", least_distance, "m", above=0)
    eyes, stations, ahead = [route[:1]], [np.zeros(1)], [route[:1, 2] >= least_distance]
    pieces: list[tuple[int, int]] = []
    count, before = 1, 0.0
    for start, end in pairwise(route):
        length = float(np.linalg.norm(end - start))
        if length == 0:
            continue
        share = np.linspace(0.0, 1.0, max(1, math.ceil(length / spacing)) + 1)
        if (start[2] < least_distance) != (end[2] < least_distance):
            share = np.union1d(share, (least_distance - start[2]) / (end[2] - start[2]))
        points = start + share[:, None] * (end - start)
        points[-1] = end
        in_front = points[:, 2] >= least_distance - 1e-9 * max(least_distance, abs(end[2] - start[2]))
        places = count - 1 + np.flatnonzero(in_front)
        if len(places) > 1:
            pieces.append((int(places[0]), int(places[-1])))
        eyes.append(points[1:])
        stations.append(before + share[1:] * length)
        ahead[-1][-1] |= in_front[0]
        ahead.append(in_front[1:])
        count, before = count + len(points) - 1, before + length
    in_sight = np.concatenate(ahead)
    pieces = pieces or [(k, k) for k in np.flatnonzero(in_sight).tolist()]
    return EyePath(np.concatenate(eyes), np.concatenate(stations), in_sight, np.array(pieces, np.intp).reshape(-1, 2))
