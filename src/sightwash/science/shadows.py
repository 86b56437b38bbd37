"""Shadows of convex solids on a facet's plane, seen from an eye: clip at the eye's plane, project, take the hull.

All coordinates here are the facet's own, ``(s, z, y)``, see ``facets``. A map from the eye onto the plane keeps
straight lines straight, so a convex solid's shadow is the hull of its projected corners.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science._areas import POLYGONAL, Shapes, Window, areal, as_shape
from sightwash.science.facets import Floats, Frame, to_frame

IN_PLANE: Final = 1e-7
"""A point nearer than this to the facet's plane lies in it [m]."""
EYE_MARGIN: Final = 1e-6
"""Share of the eye's distance, next to the eye, in which nothing casts a shadow [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class Facing:
    """The solids that stand before a facet, cut off at its plane.

    ``vertices`` holds all their corners (s, z, y) one solid after another; solid k begins at row ``starts[k]``
    and is number ``numbers[k]`` in the caller's list. ``covered`` is where they touch the plane.
    """

    vertices: Floats
    starts: NDArray[np.intp]
    numbers: NDArray[np.intp]
    covered: BaseGeometry

    @property
    def counts(self) -> NDArray[np.intp]:
        """Number of corners of each solid."""
        return np.diff(np.append(self.starts, len(self.vertices)))

    def corners(self, solid: int) -> Floats:
        """Corners of one solid by its place here."""
        return self.vertices[self.starts[solid] :][: self.counts[solid]]


def _cut_at_plane(corners: Floats) -> Floats:
    """Corners of the part of a solid at or in front of the plane."""
    y = corners[:, 2]
    ahead, behind = corners[y > IN_PLANE], corners[y < -IN_PLANE]
    touching = corners[np.abs(y) <= IN_PLANE]
    share = ahead[:, None, 2] / (ahead[:, None, 2] - behind[None, :, 2])
    crossing = ahead[:, None, :2] + share[..., None] * (behind[None, :, :2] - ahead[:, None, :2])
    flat = np.concatenate((touching[:, :2], crossing.reshape(-1, 2)))
    outline = shapely.get_coordinates(shapely.MultiPoint(flat).convex_hull)
    return np.concatenate((ahead, np.column_stack((outline, np.zeros(len(outline))))))


def _covered(vertices: Floats, starts: NDArray[np.intp]) -> BaseGeometry:
    """Union of the parts of the plane that solids touch."""
    touching = vertices[:, 2] <= IN_PLANE
    shapes = []
    for own, flags in zip(np.split(vertices, starts[1:]), np.split(touching, starts[1:]), strict=True):
        if flags.sum() >= 3:
            shapes.append(areal(shapely.MultiPoint(own[flags, :2]).convex_hull))
    return areal(as_shape(shapely.union_all(shapes)))


def facing_solids(frame: Frame, solids: Sequence[Floats], eyes: Floats, window: Window) -> Facing:
    """Solids that can stand between some eye and a window of a facet, or touch the facet there.

    Parameters
    ----------
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it, one a row [m]
    eyes : Floats
        Eyes in the facet's coordinates, one a row [m]
    window : Window
        Least s and z and greatest s and z of interest on the facet [m]

    Returns
    -------
    vertices : Floats
        Corners of all solids, cut off at the plane, one solid after another, as (s, z, y) [m]
    starts : NDArray[np.intp]
        First row of each solid [-]
    numbers : NDArray[np.intp]
        Number of each solid in the caller's list [-]
    covered : BaseGeometry
        Where solids touch the facet's plane [m]

    Raises
    ------
    OutOfRange
        If a solid has fewer than three points or is not rows of three finite numbers.

    Notes
    -----
    Range: any convex solids; those wholly behind the plane or outside the box round eyes and window are left out.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> frame = make_frame((0, 0, 0), (1, 0, 0))
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 3), (1, -1, 3)], float)
    >>> facing_solids(frame, [panel, -panel], np.array([(0.0, 2.0, 9.0)]), (0, 0, 5, 5)).numbers.tolist()
    [0]
    """
    counts = np.array([len(solid) for solid in solids], np.intp)
    if counts.size and counts.min() < 3:
        raise OutOfRange("solids", f"a solid of {counts.min()} points", "three points or more for each solid")
    vertices = to_frame(np.concatenate(solids), frame) if counts.size else np.empty((0, 3))
    starts = np.cumsum(counts) - counts
    if not counts.size:
        return Facing(vertices, starts, starts, shapely.Polygon())
    low, high = np.minimum.reduceat(vertices, starts), np.maximum.reduceat(vertices, starts)
    least = np.minimum(eyes.min(axis=0), (window[0], window[1], 0.0))
    most = np.maximum(eyes.max(axis=0), (window[2], window[3], 0.0))
    near = (low <= most).all(axis=1) & (high >= least).all(axis=1) & (high[:, 2] > IN_PLANE)
    numbers = np.flatnonzero(near)
    kept = []
    for k in numbers:
        own = vertices[starts[k] : starts[k] + counts[k]]
        kept.append(_cut_at_plane(own) if low[k, 2] < -IN_PLANE else own)
    if not kept:
        return Facing(np.empty((0, 3)), numbers, numbers, shapely.Polygon())
    sizes = np.array([len(own) for own in kept], np.intp)
    begins = np.cumsum(sizes) - sizes
    facing = np.concatenate(kept)
    facing[facing[:, 2] <= IN_PLANE, 2] = 0.0
    return Facing(facing, begins, numbers, _covered(facing, begins))


def _corners_at_eye(facing: Facing, kept: NDArray[np.bool_], eyes: Floats, limit: Floats) -> tuple[Floats, Floats]:
    """Projected corners, and their (eye, solid) pair, that cutting solids at the eyes' planes makes."""
    mixed = np.logical_and(
        np.logical_or.reduceat(kept, facing.starts, axis=1), np.logical_or.reduceat(~kept, facing.starts, axis=1)
    )
    corners, pairs = [np.empty((0, 2))], [np.empty(0, np.intp)]
    for solid in np.flatnonzero(mixed.any(axis=0)).tolist():
        rows = np.flatnonzero(mixed[:, solid])
        own, begin = facing.corners(solid), facing.starts[solid]
        stays = kept[rows, begin : begin + len(own)]
        at, one, other = np.nonzero(stays[:, :, None] & ~stays[:, None, :])
        eye, inner, outer = rows[at], own[one], own[other]
        share = (limit[eye] - inner[:, 2]) / (outer[:, 2] - inner[:, 2])
        cut = inner[:, :2] + share[:, None] * (outer[:, :2] - inner[:, :2])
        corners.append(eyes[eye, :2] + (cut - eyes[eye, :2]) / EYE_MARGIN)
        pairs.append(eye * len(facing.starts) + solid)
    return np.concatenate(corners), np.concatenate(pairs)


def _between(facing: Facing, eyes: Floats, window: Window) -> NDArray[np.bool_]:
    """Whether a solid (column) meets the upright box round an eye (row) and the window."""
    low, high = (bound.reduceat(facing.vertices, facing.starts) for bound in (np.minimum, np.maximum))
    least, most = np.minimum(eyes[:, :2], window[:2])[:, None], np.maximum(eyes[:, :2], window[2:])[:, None]
    return np.asarray(((low[:, :2] <= most) & (high[:, :2] >= least)).all(axis=2), np.bool_)


def projected_corners(facing: Facing, eyes: Floats, window: Window) -> tuple[Floats, NDArray[np.intp]]:
    """Projected corners of every solid from every eye, sorted by their (eye, solid) pair.

    Parameters
    ----------
    facing : Facing
        Solids before the facet [m]
    eyes : Floats
        Eyes in the facet's coordinates, one a row [m]
    window : Window
        Least s and z and greatest s and z of interest: a solid outside the box round it and an eye is left out [m]

    Returns
    -------
    tuple[Floats, NDArray[np.intp]]
        Corners on the plane as (s, z), and for each the number of its eye times that of solids plus its solid [m]

    Raises
    ------
    OutOfRange
        Never; an eye at or behind the plane has no corners.

    Notes
    -----
    Range: as ``shadow_shapes``.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 3), (1, -1, 3)], float)
    >>> eyes = np.array([(0.0, 0.0, 2.0)])
    >>> window = (0.0, 0.0, 9.0, 9.0)
    >>> facing = facing_solids(make_frame((0, 0, 0), (1, 0, 0)), [panel], eyes, window)
    >>> projected_corners(facing, eyes, window)[0].tolist()
    [[2.0, 0.0], [4.0, 0.0], [4.0, 6.0], [2.0, 6.0]]
    """
    y = facing.vertices[:, 2]
    limit = eyes[:, 2] * (1 - EYE_MARGIN)
    owner = np.repeat(np.arange(len(facing.starts)), facing.counts)
    near = _between(facing, eyes, window) & (eyes[:, 2] > IN_PLANE)[:, None]
    kept = (y[None, :] <= limit[:, None]) & near[:, owner]
    room = np.where(kept, eyes[:, 2, None] - y[None, :], 1.0)
    scale = (eyes[:, 2, None] / room)[..., None]
    points = eyes[:, None, :2] + scale * (facing.vertices[None, :, :2] - eyes[:, None, :2])
    pair = np.arange(len(eyes))[:, None] * len(facing.starts) + owner[None, :]
    if kept.all():
        return points.reshape(-1, 2), pair.ravel()
    extra, extra_pair = _corners_at_eye(facing, kept, eyes, limit)
    all_points, all_pairs = np.concatenate((points[kept], extra)), np.concatenate((pair[kept], extra_pair))
    order = np.argsort(all_pairs, kind="stable")
    return all_points[order], all_pairs[order]


def shadow_shapes(facing: Facing, eyes: Floats, window: Window) -> Shapes:
    """Shadow of every solid on the facet's plane from every eye, cut to a window.

    ``(s, z)' = (s, z)_e + ((s, z) - (s, z)_e) y_e / (y_e - y)`` for each corner, then the convex hull.

    Parameters
    ----------
    facing : Facing
        Solids before the facet [m]
    eyes : Floats
        Eyes in the facet's coordinates, one a row [m]
    window : Window
        Least s and z and greatest s and z of interest on the facet [m]

    Returns
    -------
    Shapes
        A polygon for each eye (row) and solid (column), None where there is no shadow in the window [m]

    Raises
    ------
    OutOfRange
        Never; an eye at or behind the plane casts no shadows, its caller must say that it sees nothing.

    Notes
    -----
    Range: eyes in front of the plane; what stands beyond the eye's own plane is cut away first.

    References
    ----------
    convex-shadow

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> panel = np.array([(1, -1, 0), (2, -1, 0), (2, -1, 3), (1, -1, 3)], float)
    >>> eyes, window = np.array([(0.0, 0.0, 2.0)]), (0.0, 0.0, 9.0, 9.0)
    >>> facing = facing_solids(make_frame((0, 0, 0), (1, 0, 0)), [panel], eyes, window)
    >>> shadow_shapes(facing, eyes, window)[0, 0].bounds
    (2.0, 0.0, 4.0, 6.0)
    """
    out = np.full(len(eyes) * len(facing.starts), None, object)
    points, pairs = projected_corners(facing, eyes, window) if out.size else (np.empty((0, 2)), np.empty(0, np.intp))
    if len(points):
        begins = np.flatnonzero(np.diff(pairs, prepend=-1))
        low, high = np.minimum.reduceat(points, begins), np.maximum.reduceat(points, begins)
        meets = (low < window[2:]).all(axis=1) & (high > window[:2]).all(axis=1)
        counts = np.diff(np.append(begins, len(points)))
        index = np.repeat(np.arange(meets.sum()), counts[meets])
        lines = shapely.linestrings(points[np.repeat(meets, counts)], indices=index)
        shapes = np.asarray(shapely.clip_by_rect(shapely.convex_hull(lines), *window), object)
        solid = np.isin(shapely.get_type_id(shapes), POLYGONAL) & ~shapely.is_empty(shapes)
        out[pairs[begins[meets][solid]]] = shapes[solid]
    return out.reshape(len(eyes), len(facing.starts))
