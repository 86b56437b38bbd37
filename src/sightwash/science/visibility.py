"""Exact sight of a facet from an eye: what is seen, what is hidden, what is covered. No cells.

A target is a planar facet: a frame and an outline in its coordinates ``(s, z)``, holes allowed. Obstacles are convex
solids, each an array of the world points that span it; they may overlap, stand free or pass through the facet.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely.geometry.base import BaseGeometry

from sightwash.science._areas import Shapes, areal, window_of, without_swallowed
from sightwash.science.facets import Floats, Frame, make_frame, to_frame
from sightwash.science.shadows import IN_PLANE, Facing, facing_solids, shadow_shapes

__all__ = [
    "Frame",
    "Partition",
    "blocked_shapes",
    "hidden_areas",
    "hidden_shapes",
    "make_frame",
    "partition",
    "solids_before",
    "to_frame",
]


class Partition(NamedTuple):
    """A facet's outline in three parts that do not overlap and together make it up."""

    seen: BaseGeometry
    hidden: BaseGeometry
    covered: BaseGeometry


def solids_before(
    outline: BaseGeometry, frame: Frame, solids: Sequence[Floats], eyes: ArrayLike
) -> tuple[Facing, Floats]:
    """Solids that can hide or cover some of a facet from some eye, and the eyes, in the facet's coordinates.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates [m]
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    eyes : ArrayLike
        World points of the eyes, one a row [m]

    Returns
    -------
    tuple[Facing, Floats]
        Solids with the covered part of the outline, and eyes, in the facet's coordinates [m]

    Raises
    ------
    OutOfRange
        If the outline is no valid area, or a point is not three finite numbers.

    Notes
    -----
    Range: any valid outline, convex solids and eyes.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> frame = make_frame((0, 0, 0), (1, 0, 0))
    >>> solids_before(shapely.box(0, 0, 9, 3), frame, [], [(0, -2, 1)])[1].tolist()
    [[0.0, 1.0, 2.0]]
    """
    window = window_of(outline)
    local = to_frame(eyes, frame)
    facing = facing_solids(frame, solids, local, window)
    if facing.covered.is_empty:
        return facing, local
    covered = areal(facing.covered.intersection(outline))
    return Facing(facing.vertices, facing.starts, facing.numbers, covered), local


def blocked_shapes(outline: BaseGeometry, shadows: Shapes, eyes: Floats) -> Shapes:
    """Part of an outline that lies in some shadow, for each eye; all of it for an eye not in front of the facet.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates [m]
    shadows : Shapes
        Shadow of each solid (column) from each eye (row), cut to the outline's bounds [m]
    eyes : Floats
        Eyes in the facet's coordinates, one a row [m]

    Returns
    -------
    Shapes
        One shape for each eye [m]

    Raises
    ------
    OutOfRange
        If the outline is no valid area.

    Notes
    -----
    Range: any valid outline.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> wall, eyes = shapely.box(0, 0, 9, 3), np.array([(0.0, 1.0, 2.0), (0.0, 1.0, -2.0)])
    >>> [shape.area for shape in blocked_shapes(wall, np.full((2, 1), shapely.box(1, 1, 3, 3)), eyes)]
    [4.0, 27.0]
    """
    left, bottom, right, top = window_of(outline)
    joined = np.asarray(shapely.disjoint_subset_union_all(without_swallowed(shadows), axis=1), object)
    if abs(outline.area - (right - left) * (top - bottom)) > 1e-12 * outline.area:
        joined = np.asarray(shapely.intersection(joined, outline), object)
        mixed = shapely.get_type_id(joined) == shapely.GeometryType.GEOMETRYCOLLECTION
        joined[mixed] = [areal(shape) for shape in joined[mixed]]
    joined[eyes[:, 2] <= IN_PLANE] = outline
    return joined


def hidden_shapes(outline: BaseGeometry, frame: Frame, solids: Sequence[Floats], eyes: ArrayLike) -> Shapes:
    """Exact hidden part of a facet for each of many eyes, without what is covered.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates, holes allowed [m]
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    eyes : ArrayLike
        World points of the eyes, one a row [m]

    Returns
    -------
    Shapes
        One shape for each eye [m]

    Raises
    ------
    OutOfRange
        If the outline is no valid area, or a point is not three finite numbers.

    Notes
    -----
    Range: any eye; from behind the facet's plane all that is not covered is hidden.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> frame = make_frame((0, 0, 0), (1, 0, 0))
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 1), (1, -1, 1)], float)
    >>> [shape.area for shape in hidden_shapes(shapely.box(0, 0, 9, 3), frame, [panel], [(0, -2, 0), (0, 2, 0)])]
    [4.0, 27.0]
    """
    facing, local = solids_before(outline, frame, solids, eyes)
    blocked = blocked_shapes(outline, shadow_shapes(facing, local, window_of(outline)), local)
    return blocked if facing.covered.is_empty else np.asarray(shapely.difference(blocked, facing.covered), object)


def hidden_areas(outline: BaseGeometry, frame: Frame, solids: Sequence[Floats], eyes: ArrayLike) -> Floats:
    """Exact hidden area of a facet for each of many eyes, without what is covered.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates, holes allowed [m]
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    eyes : ArrayLike
        World points of the eyes, one a row [m]

    Returns
    -------
    Floats
        Hidden area for each eye [m2]

    Raises
    ------
    OutOfRange
        If the outline is no valid area, or a point is not three finite numbers.

    Notes
    -----
    Range: any eye; from behind the facet's plane all that is not covered is hidden.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> frame = make_frame((0, 0, 0), (1, 0, 0))
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 1), (1, -1, 1)], float)
    >>> hidden_areas(shapely.box(0, 0, 9, 3), frame, [panel], [(0, -2, 0), (0, 2, 0)]).tolist()
    [4.0, 27.0]
    """
    facing, local = solids_before(outline, frame, solids, eyes)
    blocked = blocked_shapes(outline, shadow_shapes(facing, local, window_of(outline)), local)
    return np.asarray(shapely.area(blocked) - facing.covered.area, float)


def partition(outline: BaseGeometry, frame: Frame, solids: Sequence[Floats], eye: ArrayLike) -> Partition:
    """Seen, hidden and covered parts of a facet for one eye.

    Covered first, then hidden (in a shadow and not covered), and the rest is seen.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates, holes allowed [m]
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    eye : ArrayLike
        World point of the eye [m]

    Returns
    -------
    Partition
        Three shapes in the facet's coordinates; their areas add up to the outline's [m]

    Raises
    ------
    OutOfRange
        If the outline is no valid area, or a point is not three finite numbers.

    Notes
    -----
    Range: any eye; from behind the facet's plane nothing is seen.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> frame = make_frame((0, 0, 0), (1, 0, 0))
    >>> sign = np.array([(s, y, z) for s in (1, 2) for y in (0, -1) for z in (1, 2)], float)
    >>> [round(part.area, 6) for part in partition(shapely.box(0, 0, 9, 3), frame, [sign], (0, -5, 0))]
    [24.875, 1.125, 1.0]
    """
    facing, local = solids_before(outline, frame, solids, eye)
    blocked = blocked_shapes(outline, shadow_shapes(facing, local, window_of(outline)), local)[0]
    hidden = areal(blocked.difference(facing.covered))
    seen = areal(outline.difference(shapely.union(blocked, facing.covered)))
    return Partition(seen, hidden, facing.covered)
