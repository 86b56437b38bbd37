"""Where two convex solids touch or overlap, so that one may take over from the other in hiding a point.

As an eye moves along a straight piece, a point hidden by solid A at one end and by solid B at the other is hidden all
along if at some eye between its sightline meets something that belongs to both. The union, over the eyes of a straight
piece, of the shadows of one convex set F is convex: it is the slice at the facet's plane of
``{(1 + k) f - k e : f in F, e in the piece, k >= 0}``, and the hull of F's corners projected from the piece's two ends.
"""

from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.science.facets import Floats
from sightwash.science.shadows import EYE_MARGIN, IN_PLANE, Facing


class Contact(NamedTuple):
    """Two solids by their places in a ``Facing``, and points (s, z, y) that belong to both."""

    one: int
    other: int
    points: Floats


def _faces(corners: Floats) -> Floats | None:
    """Half-spaces (normal, offset), outward, that bound a convex solid; None where it is flat."""
    triples = np.array(list(combinations(range(len(corners)), 3)), np.intp)
    base = corners[triples[:, 0]]
    normals = np.cross(corners[triples[:, 1]] - base, corners[triples[:, 2]] - base)
    lengths = np.linalg.norm(normals, axis=1)
    real = lengths > 1e-12
    normals, base = normals[real] / lengths[real, None], base[real]
    heights = corners @ normals.T - (normals * base).sum(axis=1)
    below, above = heights.max(axis=0) <= IN_PLANE, heights.min(axis=0) >= -IN_PLANE
    if not len(normals) or (below & above).any():
        return None
    bounding = below | above
    outward = np.where(below[bounding], 1.0, -1.0)[:, None] * normals[bounding]
    return np.column_stack((outward, (outward * base[bounding]).sum(axis=1)))


def _inside(points: Floats, faces: Floats) -> Floats:
    """Points that lie in a solid, to within the thickness that counts as touching."""
    return points[(points @ faces[:, :3].T <= faces[:, 3] + IN_PLANE).all(axis=1)]


def contacts(facing: Facing, places: list[int]) -> list[Contact]:
    """Pairs of solids that touch or overlap, with the corners of each that lie in the other.

    Parameters
    ----------
    facing : Facing
        Solids before a facet [m]
    places : list[int]
        Which of them to look at [-]

    Returns
    -------
    list[Contact]
        Pairs with at least one common point found [m]

    Raises
    ------
    OutOfRange
        Never.

    Notes
    -----
    Range: convex solids that are not flat; solids that cross without a corner of one in the other are not found.

    References
    ----------
    chord-in-convex-body

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> from sightwash.science.shadows import facing_solids
    >>> cube = np.array([(s, y, z) for s in (0, 1) for y in (-1, -2) for z in (0, 1)], float)
    >>> frame, eyes = make_frame((0, 0, 0), (1, 0, 0)), np.array([(0.0, 0.0, 9.0)])
    >>> facing = facing_solids(frame, [cube, cube + (1, 0, 0), cube + (5, 0, 0)], eyes, (0, 0, 9, 9))
    >>> [(pair.one, pair.other, len(pair.points)) for pair in contacts(facing, [0, 1, 2])]
    [(0, 1, 8)]
    """
    found = []
    corners = {place: facing.corners(place) for place in places}
    bounds = {place: (own.min(axis=0) - IN_PLANE, own.max(axis=0)) for place, own in corners.items()}
    near = [
        (one, other)
        for one, other in combinations(places, 2)
        if (bounds[one][0] <= bounds[other][1]).all() and (bounds[other][0] <= bounds[one][1]).all()
    ]
    faces = {place: _faces(corners[place]) for place in sorted({place for pair in near for place in pair})}
    for one, other in near:
        mine, theirs = faces[one], faces[other]
        if mine is None or theirs is None:
            continue
        common = np.concatenate((_inside(corners[one], theirs), _inside(corners[other], mine)))
        if len(common):
            found.append(Contact(one, other, common))
    return found


def swept_shadow(points: Floats, start: Floats, end: Floats) -> BaseGeometry | None:
    """Union of a convex set's shadows over all eyes of a straight piece; None where the set reaches an eye's plane.

    Parameters
    ----------
    points : Floats
        Points (s, z, y) that span the set [m]
    start : Floats
        Eye (s, z, y) at the piece's start [m]
    end : Floats
        Eye (s, z, y) at the piece's end [m]

    Returns
    -------
    BaseGeometry | None
        A convex shape on the facet's plane [m]

    Raises
    ------
    OutOfRange
        Never.

    Notes
    -----
    Range: both eyes in front of the plane and of every point.

    References
    ----------
    chord-in-convex-body
    convex-shadow

    Examples
    --------
    >>> post = np.array([(0.0, 0.0, 1.0), (0.0, 1.0, 1.0)])
    >>> swept_shadow(post, np.array([-1.0, 0.0, 2.0]), np.array([1.0, 0.0, 2.0])).bounds
    (-1.0, 0.0, 1.0, 2.0)
    """
    if points[:, 2].max() > min(start[2], end[2]) * (1 - EYE_MARGIN):
        return None
    ends = []
    for eye in (start, end):
        scale = eye[2] / (eye[2] - points[:, 2])
        ends.append(eye[:2] + scale[:, None] * (points[:, :2] - eye[:2]))
    return shapely.MultiPoint(np.concatenate(ends)).convex_hull
