"""What a round cleaner reaches of a surface: opening by a disc, and its closed forms.

A head of radius r runs in a shroud that keeps its rim an edge gap e off every wall, kerb and post::

    wall ____________________________
         |////// trim strip, e ///////
         |///.-----------------------
         |//(    reached
    corner   left over behind the arc of radius r
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from shapely import MultiPolygon, Polygon, get_parts
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science._offset import areas_of, swept, united, unswept, without
from sightwash.science._range import check_range

Area = Polygon | MultiPolygon
ROUNDING = 1e-12  # of the area; parts that differ less than this from the whole are the whole


class ReachSplit(NamedTuple):
    """Three parts of a surface that do not overlap and together are the surface."""

    reached: MultiPolygon
    trim: MultiPolygon
    left_over: MultiPolygon


def disc_opening(ground: Area, radius: float, edge_gap: float = 0.0) -> MultiPolygon:
    """Part of a ground that a round head sweeps when its rim keeps an edge gap from every edge.

    ``O = (G eroded by r + e) dilated by r``

    Without a gap this is the morphological opening by a disc.

    Parameters
    ----------
    ground : Polygon or MultiPolygon
        Ground on which the head may travel; holes are posts and islands [m]
    radius : float
        Radius that the head cleans [m]
    edge_gap : float
        Gap between the cleaned circle and what the shroud touches [m]

    Returns
    -------
    MultiPolygon
        Swept part, its arcs drawn with 48 chords a quarter or within 0.01 mm [m]

    Raises
    ------
    OutOfRange
        If the radius is not above zero, the gap is negative or the ground's outline crosses itself.

    Notes
    -----
    Range: any radius above zero; every arc is short of the true one by at most 0.014 % of its radius or 0.01 mm.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> from shapely import box
    >>> swept = disc_opening(box(0.0, 0.0, 4.0, 3.0), 0.5)
    >>> round(12.0 - swept.area, 3)
    0.215
    """
    _check_head(radius, edge_gap)
    _check_outline("ground", ground)
    return swept(ground, radius, edge_gap)


def reach_split(
    surface: Area, radius: float, edge_gap: float = 0.0, travel: Area | None = None, tolerance: float = 1e-4
) -> ReachSplit:
    """Split of a surface into what a round head reaches, the trim strip, and what is left over.

    ``reached = S and (T eroded by r + e) dilated by r; left over = S without (T eroded by r) dilated by r``

    Trim is the rest: lost only because the shroud keeps the head off walls, kerbs and posts.

    Parameters
    ----------
    surface : Polygon or MultiPolygon
        Surface to clean; holes are posts and islands [m]
    radius : float
        Radius that the head cleans [m]
    edge_gap : float
        Gap between the cleaned circle and what the shroud touches [m]
    travel : Polygon or MultiPolygon or None
        Ground on which the head may travel, when it may run out over an open edge; None: the surface itself [m]
    tolerance : float
        Pieces of trim or left-over with a mean width up to this count as reached [m]

    Returns
    -------
    ReachSplit
        Reached part, trim strip, and corners and slots left over [m]

    Raises
    ------
    OutOfRange
        If the radius or the tolerance is not above zero, the gap is negative or an outline crosses itself.

    Notes
    -----
    Range: any radius above zero; every arc is short of the true one by at most 0.014 % of its radius or 0.01 mm.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> from shapely import box
    >>> parts = reach_split(box(0.0, 0.0, 4.0, 3.0), 0.5, edge_gap=0.05)
    >>> [round(part.area, 3) for part in parts]
    [11.095, 0.69, 0.215]
    """
    _check_head(radius, edge_gap)
    check_range("tolerance", tolerance, "m", above=0.0)
    _check_outline("surface", surface)
    if travel is not None:
        _check_outline("travel", travel)
    left_over = _without_slivers(_unreached(surface, travel, radius), tolerance)
    bare = without(surface, left_over)
    if edge_gap == 0.0:
        return ReachSplit(bare, MultiPolygon(), left_over)
    kept = swept(surface if travel is None else travel, radius, edge_gap)
    edge = without(bare, kept)
    trim = _without_slivers(edge, tolerance)
    rest = abs(bare.area - trim.area - kept.area)
    whole = travel is None and len(trim.geoms) == len(edge.geoms) and rest < ROUNDING * (1.0 + bare.area)
    return ReachSplit(kept if whole else without(bare, trim), trim, left_over)


def _check_head(radius: float, edge_gap: float) -> None:
    check_range("radius", radius, "m", above=0.0)
    check_range("edge_gap", edge_gap, "m", least=0.0)


def _check_outline(name: str, shape: Area) -> None:
    if not shape.is_valid:
        raise OutOfRange(name, shape.geom_type, "an outline that does not cross itself")


def _unreached(surface: Area, travel: Area | None, radius: float) -> BaseGeometry:
    """Return what the head leaves of a surface, and what lies off the ground that it travels."""
    if travel is None:
        return unswept(surface, radius)
    off = without(surface, travel)
    inside = areas_of(surface.intersection(areas_of(unswept(travel, radius))))
    return inside if off.is_empty else united(np.append(get_parts(inside), get_parts(off)))


def _without_slivers(shape: BaseGeometry, tolerance: float) -> MultiPolygon:
    """Return the polygons whose mean width is above ``tolerance``."""
    return MultiPolygon([part for part in areas_of(shape).geoms if 2.0 * part.area > tolerance * part.length])


def corner_residue(radius: float, angle: float = 90.0) -> float:
    """Area that a disc leaves in one corner of a surface.

    ``A = r2 (cot(a/2) - (pi - a)/2)``

    Parameters
    ----------
    radius : float
        Radius that the head cleans [m]
    angle : float
        Inside angle of the corner [deg]

    Returns
    -------
    float
        Area left in the corner; zero at 180 degrees and more [m2]

    Raises
    ------
    OutOfRange
        If the radius is not above zero or the angle is not between 0 and 360 degrees.

    Notes
    -----
    Range: both sides of the corner are longer than ``r cot(a/2)``.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> round(corner_residue(1.0, 60.0), 6)
    0.684853
    """
    check_range("radius", radius, "m", above=0.0)
    check_range("angle", angle, "deg", above=0.0, below=360.0)
    if angle >= 180.0:
        return 0.0
    inside = math.radians(angle)
    return radius**2 * (1.0 / math.tan(inside / 2.0) - (math.pi - inside) / 2.0)


def corner_gap(radius: float, angle: float = 90.0) -> float:
    """Distance from the tip of a corner to the nearest point that a disc reaches.

    ``g = r (1 / sin(a/2) - 1)``

    Parameters
    ----------
    radius : float
        Radius that the head cleans [m]
    angle : float
        Inside angle of the corner [deg]

    Returns
    -------
    float
        Gap along the bisector; zero at 180 degrees and more [m]

    Raises
    ------
    OutOfRange
        If the radius is not above zero or the angle is not between 0 and 360 degrees.

    Notes
    -----
    Range: both sides of the corner are longer than ``r cot(a/2)``.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> round(corner_gap(1.0), 6)
    0.414214
    """
    check_range("radius", radius, "m", above=0.0)
    check_range("angle", angle, "deg", above=0.0, below=360.0)
    return 0.0 if angle >= 180.0 else radius * (1.0 / math.sin(math.radians(angle) / 2.0) - 1.0)


def rectangle_residue(length: float, width: float, radius: float, edge_gap: float = 0.0) -> float:
    """Area that a round head leaves of a walled rectangle, with or without an edge gap.

    ``A = a b - ((a - 2 e)(b - 2 e) - (4 - pi) r2)``

    Parameters
    ----------
    length : float
        Length of the rectangle [m]
    width : float
        Width of the rectangle [m]
    radius : float
        Radius that the head cleans [m]
    edge_gap : float
        Gap between the cleaned circle and the walls [m]

    Returns
    -------
    float
        Area not reached; all of it when the head does not fit in [m2]

    Raises
    ------
    OutOfRange
        If a side or the radius is not above zero, or the gap is negative.

    Notes
    -----
    Range: exact for every size; a side under ``2 (r + e)`` leaves the whole rectangle.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> round(rectangle_residue(10.0, 3.0, 0.254) / 0.3048**2, 6)
    0.596116
    """
    check_range("length", length, "m", above=0.0)
    check_range("width", width, "m", above=0.0)
    check_range("radius", radius, "m", above=0.0)
    check_range("edge_gap", edge_gap, "m", least=0.0)
    if min(length, width) < 2.0 * (radius + edge_gap):
        return length * width
    inner = (length - 2.0 * edge_gap) * (width - 2.0 * edge_gap)
    return length * width - (inner - (4.0 - math.pi) * radius**2)


def post_cusp(post_radius: float, radius: float) -> float:
    """Area that a disc leaves on one side between a round post and the wall it touches.

    ``A = (R + r) sqrt(R r) - R2 b / 2 - r2 (pi - b) / 2; b = acos((R - r) / (R + r))``

    Parameters
    ----------
    post_radius : float
        Radius R of the post [m]
    radius : float
        Radius r that the head cleans [m]

    Returns
    -------
    float
        Area left on each of the two sides [m2]

    Raises
    ------
    OutOfRange
        If a radius is not above zero.

    Notes
    -----
    Range: the post touches a straight wall and stands clear of everything else; a free post leaves nothing.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> round(post_cusp(1.0, 1.0), 6)
    0.429204
    """
    check_range("post_radius", post_radius, "m", above=0.0)
    check_range("radius", radius, "m", above=0.0)
    turn = math.acos((post_radius - radius) / (post_radius + radius))
    between = (post_radius + radius) * math.sqrt(post_radius * radius)
    return between - post_radius**2 * turn / 2.0 - radius**2 * (math.pi - turn) / 2.0
