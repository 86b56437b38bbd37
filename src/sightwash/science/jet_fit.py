"""The two-stage jet turned round: from a mark on a wall to its constant, from a height to the pressure."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from sightwash.basis.errors import OutOfRange
from sightwash.science._jet_range import warn_if_unmeasured
from sightwash.science._numbers import AIR_DENSITY, WATER_DENSITY, above_zero
from sightwash.science._roots import bracketed_root
from sightwash.science._wall_reach import highest_marks
from sightwash.science.jet import CLUMP_DRAG, OUTER_BREAKUP, OUTER_CLUMP, jet_lengths
from sightwash.science.orifice import jet_speed

_CLUMPS: Final = (1e-2, 1e3)
_LEAST_PRESSURE: Final = 1e3


def field_clump_ratio(
    bore: float,
    pressure: float,
    standoff: float,
    highest_mark: float,
    launch_height: float,
    head_wind: float = 0.0,
    breakup_ratio: float = OUTER_BREAKUP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> float:
    """Clump ratio CD of a nozzle from the highest wet mark in a field test.

    The CD for which ``wall_height`` is the mark.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure read at the gun [Pa]
    standoff : float
        Distance from nozzle to wall on the level [m]
    highest_mark : float
        Highest wet mark above the ground at the wall [m]
    launch_height : float
        Height of the nozzle above the ground at the wall [m]
    head_wind : float
        Wind against the jet during the test; below zero it blew along [m/s]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    float
        Diameter over bore of the clumps, CD [-]

    Raises
    ------
    OutOfRange
        If the mark is higher than a jet without drag would reach, or lower than a fine spray would.

    Notes
    -----
    Range: one nozzle near the pressure and standoff of its test, in calm air.

    References
    ----------
    quadratic-drag-path
    field-mark

    Examples
    --------
    >>> psi, ft = 6894.757, 0.3048
    >>> round(field_clump_ratio(0.0028, 250 * psi, 10 * ft, 40 * ft, 4.5 * ft), 2)
    0.72
    """
    above_zero("highest_mark", highest_mark, "m")
    above_zero("bore", bore, "m")
    speed = jet_speed(pressure, density)

    def excess(log_ratio: float) -> float:
        lengths = jet_lengths(bore, breakup_ratio, math.exp(log_ratio), drag_coefficient, density, air_density)
        return _highest(speed, standoff, launch_height, head_wind, lengths) - highest_mark

    low, high = (math.log(end) for end in _CLUMPS)
    least, most = excess(low) + highest_mark, excess(high) + highest_mark
    if not least < highest_mark < most:
        raise OutOfRange(
            "highest_mark", highest_mark, f"a mark between {least:.3g} and {most:.3g} m, with and without drag"
        )
    return math.exp(bracketed_root(excess, low, high, 1e-6))


def pressure_for_mark(
    bore: float,
    height: float,
    standoff: float,
    launch_height: float,
    head_wind: float = 0.0,
    breakup_ratio: float = OUTER_BREAKUP,
    clump_ratio: float = OUTER_CLUMP,
    highest_pressure: float = 1e7,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> float:
    """Least pressure at the nozzle with which a jet reaches a height on a wall.

    The pressure for which ``wall_height`` is the height.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    height : float
        Height to be wetted, above the ground at the wall [m]
    standoff : float
        Distance from nozzle to wall on the level [m]
    launch_height : float
        Height of the nozzle above the ground at the wall [m]
    head_wind : float
        Wind against the jet; below zero it blows along [m/s]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    clump_ratio : float
        Diameter over bore of the clumps that it becomes, CD [-]
    highest_pressure : float
        Pressure beyond which not to look [Pa]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    float
        Gauge pressure at the nozzle [Pa]

    Raises
    ------
    OutOfRange
        If the highest pressure does not reach the height.

    Notes
    -----
    Range: bores of 4.85 to 25.4 mm at 1.03 to 6.2 bar; warns beyond, where it is an extrapolation.

    References
    ----------
    quadratic-drag-path

    Examples
    --------
    >>> psi, ft = 6894.757, 0.3048
    >>> round(pressure_for_mark(0.005, 45.6 * ft, 10 * ft, 4.5 * ft) / psi)
    60
    """
    above_zero("height", height, "m")
    above_zero("highest_pressure", highest_pressure, "Pa")
    lengths = jet_lengths(bore, breakup_ratio, clump_ratio, drag_coefficient, density, air_density)

    def excess(log_pressure: float) -> float:
        speed = jet_speed(math.exp(log_pressure), density)
        return _highest(speed, standoff, launch_height, head_wind, lengths) - height

    low, high = math.log(min(_LEAST_PRESSURE, highest_pressure / 2.0)), math.log(highest_pressure)
    reached = excess(high) + height
    if reached < height:
        raise OutOfRange("height", height, f"at most the {reached:.3g} m that {highest_pressure:.3g} Pa reaches")
    pressure = math.exp(low if excess(low) >= 0.0 else bracketed_root(excess, low, high, 1e-6))
    warn_if_unmeasured(bore, pressure)
    return pressure


def _highest(
    speed: float, standoff: float, launch_height: float, head_wind: float, lengths: tuple[float, float]
) -> float:
    breakup, drag = (np.array([length]) for length in lengths)
    return float(highest_marks(speed, standoff, launch_height, head_wind, breakup, drag)[0])
