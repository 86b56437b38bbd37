"""Where a jet lands and the path it takes, by the two-stage jet of ``jet``."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sightwash.science._flight import Flight, flights
from sightwash.science._jet_range import warn_if_unmeasured
from sightwash.science._numbers import AIR_DENSITY, WATER_DENSITY, Array, Real, within
from sightwash.science.jet import CLUMP_DRAG, OUTER_BREAKUP, OUTER_CLUMP, jet_lengths
from sightwash.science.orifice import jet_speed


@dataclass(frozen=True, slots=True)
class JetPath:
    """Points along the path of one jet, from the nozzle to the ground."""

    distance: Array
    """Distance from the nozzle [m]."""
    height: Array
    """Height above the ground [m]."""
    time: Array
    """Time since the water left the nozzle [s]."""


def landing_distance(
    bore: float,
    pressure: float,
    angle: Real,
    launch_height: float,
    head_wind: float = 0.0,
    breakup_ratio: float = OUTER_BREAKUP,
    clump_ratio: float = OUTER_CLUMP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> Real:
    """Distance at which a jet meets level ground.

    A parabola while whole, then drag by the square of the speed through the air.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]
    angle : float or array
        Angle of the jet above the level [deg]
    launch_height : float
        Height of the nozzle above the ground [m]
    head_wind : float
        Wind against the jet; below zero it blows along [m/s]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    clump_ratio : float
        Diameter over bore of the clumps that it becomes, CD [-]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    float or array
        Distance from the nozzle [m]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: bores of 4.85 to 25.4 mm at 1.03 to 6.2 bar, angles of 20 to 45 degrees; warns beyond the first two.
    The nozzle's make alone moves it by 10 to 20 %.

    References
    ----------
    quadratic-drag-path
    theobald-1981
    trettel-2020
    trettel-ezekoye-2015

    Examples
    --------
    A 13 mm nozzle at 4.1 bar and 35 degrees, measured at 34.4 and 33.5 m:

    >>> round(landing_distance(0.013, 4.1e5, 35.0, 1.5), 1)
    33.8
    """
    warn_if_unmeasured(bore, pressure)
    angles = np.atleast_1d(np.asarray(angle, dtype=np.float64))
    lengths = jet_lengths(bore, breakup_ratio, clump_ratio, drag_coefficient, density, air_density)
    landed = _launched(jet_speed(pressure, density), angles, launch_height, head_wind, lengths).landings()[0]
    return landed if isinstance(angle, np.ndarray) else float(landed[0])


def jet_path(
    bore: float,
    pressure: float,
    angle: float,
    launch_height: float,
    head_wind: float = 0.0,
    breakup_ratio: float = OUTER_BREAKUP,
    clump_ratio: float = OUTER_CLUMP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> JetPath:
    """Points along the path of a jet, for drawing it.

    A parabola while whole, then drag by the square of the speed through the air.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]
    angle : float
        Angle of the jet above the level [deg]
    launch_height : float
        Height of the nozzle above the ground [m]
    head_wind : float
        Wind against the jet; below zero it blows along [m/s]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    clump_ratio : float
        Diameter over bore of the clumps that it becomes, CD [-]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    distance : array
        Distance from the nozzle of up to 42 points, the last one on the ground [m]
    height : array
        Their height above the ground [m]
    time : array
        Time since the water left the nozzle [s]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: as ``landing_distance``.

    References
    ----------
    quadratic-drag-path

    Examples
    --------
    >>> path = jet_path(0.013, 4.1e5, 35.0, 1.5)
    >>> round(float(path.height.max()), 2), round(float(path.distance[-1]), 1)
    (9.97, 33.8)
    """
    warn_if_unmeasured(bore, pressure)
    lengths = jet_lengths(bore, breakup_ratio, clump_ratio, drag_coefficient, density, air_density)
    flight = _launched(jet_speed(pressure, density), np.array([angle]), launch_height, head_wind, lengths)
    kept = int((flight.y[0] < 0.0).argmax())
    land, time = (float(each[0]) for each in flight.landings())
    return JetPath(
        np.append(flight.x[0, :kept], land), np.append(flight.y[0, :kept], 0.0), np.append(flight.time[0, :kept], time)
    )


def _launched(
    speed: float, angles: Array, launch_height: float, head_wind: float, lengths: tuple[float, float]
) -> Flight:
    within("angle", angles, -80.0, 89.9, "deg")
    within("launch_height", launch_height, 0.0, 100.0, "m")
    within("head_wind", head_wind, -20.0, 20.0, "m/s")
    ones = np.ones_like(angles)
    return flights(speed, np.radians(angles), launch_height, -head_wind, lengths[0] * ones, lengths[1] * ones)
