"""Sightlines over a canopy in closed form: what one eye sees of a wall and what it does not.

All heights are above the wall's foot; ``distance`` and ``depth`` are measured square to the wall.
Where to stand to see a height is in ``standpoints``; the exact shapes for any solids are in ``visibility``.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range


class Interval(NamedTuple):
    """A run of heights on the wall, from ``low`` to ``high`` [m]; empty when the two are equal."""

    low: float
    high: float

    @property
    def height(self) -> float:
        """Height of the run [m]."""
        return self.high - self.low


def _check_canopy(depth: float, distance: float, **heights: float) -> None:
    for name, height in heights.items():
        check_range(name, height, "m")
    check_range("depth", depth, "m", least=0)
    check_range("distance", distance, "m", above=depth)


def hidden_height(edge_height: float, eye_height: float, depth: float, distance: float) -> float:
    """Height of wall hidden above the outer top edge of a canopy.

    ``H = (h_t - h_e) d / (D - d)``; nothing above the edge is hidden from an eye above it::

          wall
           |  <- first height seen, h_t + H
        H  |  `  .
           |________` .  <- h_t, outer top edge
           |canopy__|   `  .
           |<-- d ->|          ` o  eye, h_e
           |<--------- D ------->|

    Parameters
    ----------
    edge_height : float
        Height of the canopy's outer top edge above the wall's foot [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Hidden height above the edge [m]

    Raises
    ------
    OutOfRange
        If the eye is not farther out than the canopy, or a number is not finite.

    Notes
    -----
    Range: distance above depth; an eye at or above the edge gives 0.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> round(hidden_height(3.048, 1.0668, 1.8288, 18.288) / 0.3048, 6)
    0.722222
    """
    _check_canopy(depth, distance, edge_height=edge_height, eye_height=eye_height)
    return max(0.0, edge_height - eye_height) * depth / (distance - depth)


def hidden_height_below(edge_height: float, eye_height: float, depth: float, distance: float) -> float:
    """Height of wall hidden below the outer bottom edge of a canopy, from an eye above that edge.

    ``H = (h_e - h_b) d / (D - d)``

    Parameters
    ----------
    edge_height : float
        Height of the canopy's outer bottom edge above the wall's foot [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Hidden height below the edge, not cut at the ground [m]

    Raises
    ------
    OutOfRange
        If the eye is not farther out than the canopy, or a number is not finite.

    Notes
    -----
    Range: distance above depth; an eye at or below the edge gives 0.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> round(hidden_height_below(10, 24, 6, 60), 6)
    1.555556
    """
    _check_canopy(depth, distance, edge_height=edge_height, eye_height=eye_height)
    return max(0.0, eye_height - edge_height) * depth / (distance - depth)


def canopy_shadow(
    bottom: float, top: float, depth: float, eye_height: float, distance: float, gap: float = 0.0
) -> Interval:
    """Run of wall heights that a box canopy covers or hides, for an eye below, above or level with it.

    The lowest and highest of the four corners' projections ``h_e + (z - h_e) D / (D - y)``.

    Parameters
    ----------
    bottom : float
        Height of the canopy's underside above the wall's foot [m]
    top : float
        Height of the canopy's upper side above the wall's foot [m]
    depth : float
        How deep the canopy is, from its inner to its outer edge [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    distance : float
        How far the eye stands out from the wall [m]
    gap : float
        How far the canopy's inner edge is held off the wall [m]

    Returns
    -------
    Interval
        Lowest and highest height not seen [m]

    Raises
    ------
    OutOfRange
        If the eye is not farther out than the canopy, or top is below bottom, or a number is not finite.

    Notes
    -----
    Range: distance above gap + depth; top at or above bottom; far from the canopy's ends.

    References
    ----------
    similar-triangles
    convex-shadow

    Examples
    --------
    >>> run = canopy_shadow(10, 10.5, 6, 3.5, 60)
    >>> run.low, round(run.high, 6)
    (10.0, 11.277778)
    """
    check_range("gap", gap, "m", least=0)
    check_range("depth", depth, "m", least=0)
    _check_canopy(gap + depth, distance, bottom=bottom, eye_height=eye_height)
    check_range("top", top, "m", least=bottom)
    scales = (distance / (distance - gap), distance / (distance - gap - depth))
    ends = [eye_height + (z - eye_height) * scale for z in (bottom, top) for scale in scales]
    return Interval(min(ends), max(ends))


def grazing_height(depths: ArrayLike, heights: ArrayLike, eye_height: float, distance: float) -> float:
    """Lowest wall height seen over a profile such as a pitched canopy with a gutter and a sign box.

    ``z = max_i [h_e + (z_i - h_e) D / (D - y_i)]``

    Parameters
    ----------
    depths : ArrayLike
        How far each point of the profile stands out from the wall [m]
    heights : ArrayLike
        Height of each point of the profile above the wall's foot [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Height where the highest grazing sightline meets the wall [m]

    Raises
    ------
    OutOfRange
        If a point lies behind the wall or not nearer to it than the eye, the lists differ, or a number is not finite.

    Notes
    -----
    Range: every depth from 0 to below distance; the profile runs on along the wall.

    References
    ----------
    horizon-rule
    similar-triangles

    Examples
    --------
    >>> round(grazing_height([6, 5], [10, 10.2], 3.5, 60), 6)
    10.809091
    """
    y, z = np.asarray(depths, float), np.asarray(heights, float)
    if not y.size or y.shape != z.shape:
        raise OutOfRange("heights", z.size, f"one height for each of {max(y.size, 1)} depths")
    check_range("heights", float(z.sum()), "m")
    check_range("depths", float(y.min()), "m", least=0)
    _check_canopy(float(y.max()), distance, eye_height=eye_height)
    return float((eye_height + (z - eye_height) * distance / (distance - y)).max())


def canopy_shadow_area(length: float, edge_height: float, depth: float, eye_height: float, distance: float) -> float:
    """Area that a thin canopy of finite length hides above itself, the same wherever the eye stands along the wall.

    ``A = L (1 + D / (D - d)) H / 2``, a trapezoid that shears but keeps its area as the eye moves along.

    Parameters
    ----------
    length : float
        Length of the canopy along the wall [m]
    edge_height : float
        Height of the canopy's outer top edge above the wall's foot [m]
    depth : float
        How far the edge stands out from the wall [m]
    eye_height : float
        Height of the eye above the wall's foot [m]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Hidden area above the edge [m2]

    Raises
    ------
    OutOfRange
        If the eye is not farther out than the canopy, the length is negative, or a number is not finite.

    Notes
    -----
    Range: distance above depth; the whole trapezoid lies on the wall.

    References
    ----------
    similar-triangles
    convex-shadow

    Examples
    --------
    >>> round(canopy_shadow_area(40, 10, 6, 3.5, 60), 6)
    30.493827
    """
    check_range("length", length, "m", least=0)
    hidden = hidden_height(edge_height, eye_height, depth, distance)
    return length * (1 + distance / (distance - depth)) * hidden / 2


def strip_width(width: float, depth: float, distance: float) -> float:
    """Width of the strip that a column hides from an eye that faces it square on.

    ``w' = w D / (D - y)``

    Parameters
    ----------
    width : float
        Width of the column's front face [m]
    depth : float
        How far that face stands out from the wall [m]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Hidden width on the wall [m]

    Raises
    ------
    OutOfRange
        If the eye is not farther out than the face, the width is negative, or a number is not finite.

    Notes
    -----
    Range: distance above depth; the eye on the column's centre line.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> round(strip_width(1.5, 6, 60), 4)
    1.6667
    """
    check_range("width", width, "m", least=0)
    _check_canopy(depth, distance)
    return width * distance / (distance - depth)


def projected_position(position: float, eye_position: float, depth: float, distance: float) -> float:
    """Place along the wall where the sightline past a point ends.

    ``s' = s_e + (s - s_e) D / (D - y)``

    Parameters
    ----------
    position : float
        Place of the point along the wall [m]
    eye_position : float
        Place of the eye along the wall [m]
    depth : float
        How far the point stands out from the wall [m]
    distance : float
        How far the eye stands out from the wall [m]

    Returns
    -------
    float
        Place along the wall behind the point [m]

    Raises
    ------
    OutOfRange
        If the eye is not farther out than the point, or a number is not finite.

    Notes
    -----
    Range: distance above depth.

    References
    ----------
    similar-triangles

    Examples
    --------
    >>> projected_position(10.0, 0.0, 6.0, 60.0) == 10 * 60 / 54
    True
    """
    _check_canopy(depth, distance, position=position, eye_position=eye_position)
    return eye_position + (position - eye_position) * distance / (distance - depth)
