"""Wash water on its way: what stays on a surface, what sinks in, what runs off and where that goes."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import not_negative, within


class SettledWater(NamedTuple):
    """Water on a surface in three parts that add up to what came [L]."""

    evaporated: float
    absorbed: float
    run_off: float


def settled_water(volume: float, area: float, left_depth: float, taken_depth: float) -> SettledWater:
    """Split of the water that comes onto a surface: what sinks in, what is left to dry, what runs off.

    ``V = V_absorbed + V_left + V_run-off``, each at most what is there: first A d_taken, then A d_left

    Parameters
    ----------
    volume : float
        Water that comes onto the surface [L]
    area : float
        Area that it wets [m2]
    left_depth : float
        Depth that stays on the surface and dries [m]
    taken_depth : float
        Depth that the surface drinks [m]

    Returns
    -------
    evaporated : float
        Water that is left to dry [L]
    absorbed : float
        Water that sinks in [L]
    run_off : float
        The rest [L]

    Raises
    ------
    OutOfRange
        If an argument is negative or a depth above 100 mm.

    Notes
    -----
    Range: a surface wetted once and evenly; the three parts add up to the volume.

    References
    ----------
    water-balance

    Examples
    --------
    >>> [round(part, 9) for part in settled_water(100.0, 50.0, 0.0003, 0.0002)]
    [15.0, 10.0, 75.0]
    """
    not_negative("volume", volume, "L")
    not_negative("area", area, "m2")
    within("left_depth", left_depth, 0.0, 0.1, "0 to 0.1 m")
    within("taken_depth", taken_depth, 0.0, 0.1, "0 to 0.1 m")
    absorbed = min(1000.0 * area * taken_depth, volume)
    evaporated = min(1000.0 * area * left_depth, volume - absorbed)
    return SettledWater(evaporated, absorbed, volume - absorbed - evaporated)


def strength_of_run_off(chlorine: float, absorbed: float, run_off: float) -> float:
    """Strength of water after some of it has dried and left its chlorine behind.

    ``C = m / (V_absorbed + V_run-off)``

    Parameters
    ----------
    chlorine : float
        Mass of available chlorine that came with the water [kg]
    absorbed : float
        Water that sinks in [L]
    run_off : float
        Water that runs off [L]

    Returns
    -------
    float
        Available chlorine in both; zero where no water is left [mg/L]

    Raises
    ------
    OutOfRange
        If an argument is negative.

    Notes
    -----
    Range: an upper bound, for soil and sun use up chlorine; test the water.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> strength_of_run_off(0.1, 10.0, 90.0)
    1000.0
    """
    not_negative("chlorine", chlorine, "kg")
    not_negative("absorbed", absorbed, "L")
    not_negative("run_off", run_off, "L")
    left = absorbed + run_off
    return chlorine * 1e6 / left if left > 0.0 else 0.0


def downhill_area(outline: BaseGeometry, bearing: float, reach: float) -> BaseGeometry:
    """Ground that lies downhill of a surface, as wide as the surface itself.

    The surface swept along the fall, without the surface.

    Parameters
    ----------
    outline : BaseGeometry
        Outline of the surface in the plan [m]
    bearing : float
        Direction of the fall, clockwise from the plan's y axis [deg]
    reach : float
        How far to look [m]

    Returns
    -------
    BaseGeometry
        The ground swept [m]

    Raises
    ------
    OutOfRange
        If the reach is outside 0 to 10 km or the bearing outside -720 to 720 deg.

    Notes
    -----
    Range: an even fall in one direction; gutters and swales turn water aside.

    References
    ----------
    fall-line

    Examples
    --------
    >>> downhill_area(shapely.box(0, 0, 10, 2), 180.0, 5.0).bounds
    (0.0, -5.0, 10.0, 0.0)
    """
    within("reach", reach, 0.0, 10_000.0, "0 to 10 000 m")
    within("bearing", bearing, -720.0, 720.0, "-720 to 720 deg")
    turn = math.radians(bearing)
    step = np.array([round(math.sin(turn), 12) * reach, round(math.cos(turn), 12) * reach])
    hulls = []
    for part in shapely.get_parts(outline):
        corners = shapely.get_coordinates(part)
        hulls.append(shapely.MultiPoint(np.concatenate([corners, corners + step])).convex_hull)
    swept = shapely.difference(shapely.union_all(hulls), outline)
    if not isinstance(swept, BaseGeometry):
        raise OutOfRange("outline", outline.geom_type, "one shape")
    return swept


def share_across(outline: BaseGeometry, target: BaseGeometry, bearing: float) -> float:
    """Share of the width of a flow that meets a target.

    Both are measured across the fall.

    Parameters
    ----------
    outline : BaseGeometry
        Outline of the surface that the water leaves [m]
    target : BaseGeometry
        What it may meet [m]
    bearing : float
        Direction of the fall, clockwise from the plan's y axis [deg]

    Returns
    -------
    float
        Width of the target within the flow over the width of the flow [-]

    Raises
    ------
    OutOfRange
        If the outline has no width or the bearing is outside -720 to 720 deg.

    Notes
    -----
    Range: an even sheet of water; a target's gaps are counted as target.

    References
    ----------
    fall-line

    Examples
    --------
    >>> share_across(shapely.box(0, 0, 10, 2), shapely.box(7, -9, 12, -8), 180.0)
    0.3
    """
    within("bearing", bearing, -720.0, 720.0, "-720 to 720 deg")
    turn = math.radians(bearing)
    across = np.array([round(math.cos(turn), 12), -round(math.sin(turn), 12)])
    flow = shapely.get_coordinates(outline) @ across
    if flow.size == 0 or float(np.ptp(flow)) <= 0.0:
        raise OutOfRange("outline", "no width", "an area")
    meets = shapely.get_coordinates(target) @ across
    if meets.size == 0:
        return 0.0
    left, right = max(float(flow.min()), float(meets.min())), min(float(flow.max()), float(meets.max()))
    return max(right - left, 0.0) / float(np.ptp(flow))
