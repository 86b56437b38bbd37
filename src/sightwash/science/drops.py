"""Drops in air: how fast they fall and how far wind carries them.

Measured fall speeds are the first choice. The drag law of a sphere serves below 2 mm; above 3 mm drops
flatten and fall slower than it says. Evaporation is left out; it matters below about 0.2 mm.
"""

from __future__ import annotations

import math
import warnings
from functools import cache
from typing import NamedTuple

import numpy as np

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science._drop_fall import FallingDrop, drag_by_reynolds, landing, steady_speed
from sightwash.science._numbers import (
    AIR_DENSITY,
    AIR_VISCOSITY,
    WATER_DENSITY,
    Array,
    Real,
    above_zero,
    not_negative,
    within,
)
from sightwash.science.tables import table_rows


class DropDrift(NamedTuple):
    """Where and when a drop lands."""

    distance: float
    """Distance downwind [m]."""
    time: float
    """Time in the air [s]."""
    speed: float
    """Speed of fall on landing [m/s]."""


@cache
def _measured() -> tuple[Array, Array]:
    """Return the logarithms of the measured diameters [m] and fall speeds [m/s]."""
    rows = table_rows("gunn_kinzer")
    diameters = np.array([float(row["diameter_mm"]) / 1000.0 for row in rows])
    return np.log(diameters), np.log([float(row["fall_speed_m_s"]) for row in rows])


def fall_speed(diameter: Real) -> Real:
    """Steady fall speed of a water drop in still air, as measured.

    The table of Gunn and Kinzer, between its rows by powers of the diameter.

    Parameters
    ----------
    diameter : float or array
        Diameter of the drop [m]

    Returns
    -------
    float or array
        Fall speed [m/s]

    Raises
    ------
    OutOfRange
        If a diameter is not from 0.078 to 5.8 mm.

    Notes
    -----
    Range: 0.078 to 5.8 mm at 20 degC and 1013 hPa; larger drops fall apart.

    References
    ----------
    gunn-kinzer-1949

    Examples
    --------
    >>> round(fall_speed(0.002), 2)
    6.49
    """
    within("diameter", diameter, 0.078e-3 * (1.0 - 1e-9), 5.8e-3 * (1.0 + 1e-9), "m")
    speeds = np.exp(np.interp(np.log(diameter), *_measured()))
    return speeds if isinstance(diameter, np.ndarray) else float(speeds)


def clift_gauvin_drag(reynolds: Real) -> Real:
    """Drag coefficient of a smooth sphere after Clift and Gauvin.

    ``Cd = 24/Re (1 + 0.152 Re^0.677) + 0.417 / (1 + 5070 Re^-0.94)``

    Parameters
    ----------
    reynolds : float or array
        Reynolds number by diameter [-]

    Returns
    -------
    float or array
        Drag coefficient [-]

    Raises
    ------
    OutOfRange
        If the Reynolds number is not above zero and up to 2e5.

    Notes
    -----
    Range: up to 2e5.

    References
    ----------
    clift-gauvin-1970
    fluids-library

    Examples
    --------
    >>> round(clift_gauvin_drag(200.0), 8)
    0.79054004
    """
    within("reynolds", reynolds, 1e-12, 2e5, "")
    return drag_by_reynolds(reynolds) / reynolds


def sphere_fall_speed(
    diameter: float,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
    air_viscosity: float = AIR_VISCOSITY,
) -> float:
    """Steady fall speed of a sphere by the drag law of Clift and Gauvin.

    The speed at which drag equals weight less buoyancy.

    Parameters
    ----------
    diameter : float
        Diameter of the drop [m]
    density : float
        Density of the drop [kg/m3]
    air_density : float
        Density of the air [kg/m3]
    air_viscosity : float
        Dynamic viscosity of the air [kg/m/s]

    Returns
    -------
    float
        Fall speed [m/s]

    Raises
    ------
    OutOfRange
        If the diameter is not from 1 um to 6 mm, or the drop not denser than the air.

    Notes
    -----
    Range: water drops up to 2 mm, 5 % rms; warns above, where drops flatten and fall slower.

    References
    ----------
    sphere-balance
    clift-gauvin-1970

    Examples
    --------
    >>> round(sphere_fall_speed(0.001), 2)
    3.89
    """
    _check_drop(diameter, density, air_density, air_viscosity)
    if diameter > 2e-3:
        warnings.warn("sphere drag above 2 mm, where drops flatten", OutsidePublishedRange, stacklevel=2)
    return steady_speed(diameter, density, air_density, air_viscosity)


def drop_drift(
    diameter: float,
    height: float,
    wind: float,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
    air_viscosity: float = AIR_VISCOSITY,
) -> DropDrift:
    """Drift of a drop let go from rest in a steady wind.

    ``dv/dt = g (1 - rho_a/rho) - (3/4) (rho_a/rho) (Cd/D) |v - w| (v - w)``, until it has fallen the height

    Parameters
    ----------
    diameter : float
        Diameter of the drop [m]
    height : float
        Height from which it falls [m]
    wind : float
        Speed of the wind [m/s]
    density : float
        Density of the drop [kg/m3]
    air_density : float
        Density of the air [kg/m3]
    air_viscosity : float
        Dynamic viscosity of the air [kg/m/s]

    Returns
    -------
    distance : float
        Distance downwind [m]
    time : float
        Time in the air [s]
    speed : float
        Speed of fall on landing [m/s]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: as ``sphere_fall_speed``, warns above 2 mm; steady wind, no evaporation, no updraught along the wall.

    References
    ----------
    sphere-balance
    clift-gauvin-1970

    Examples
    --------
    A 0.2 mm drop from 20 ft in 10 mph goes 127 ft:

    >>> round(drop_drift(0.0002, 20 * 0.3048, 4.4704).distance / 0.3048)
    127
    """
    _check_drop(diameter, density, air_density, air_viscosity)
    not_negative("height", height, "m")
    not_negative("wind", wind, "m/s")
    if diameter > 2e-3:
        warnings.warn("sphere drag above 2 mm, where drops flatten", OutsidePublishedRange, stacklevel=2)
    steady = steady_speed(diameter, density, air_density, air_viscosity)
    drop = FallingDrop(diameter, wind, density, air_density, air_viscosity)
    return DropDrift(*landing(drop, height, wind, steady))


def distance_to_clear(diameter: Real, height: float, wind: float) -> Real:
    """Distance downwind beyond which drops of a size and larger have landed, on the safe side.

    ``x = w h / v``, with v as measured

    Parameters
    ----------
    diameter : float or array
        Diameter of the smallest drop that counts [m]
    height : float
        Height from which it falls [m]
    wind : float
        Speed of the wind [m/s]

    Returns
    -------
    float or array
        Distance downwind [m]

    Raises
    ------
    OutOfRange
        If the diameter is not from 0.078 to 5.8 mm, or the height or the wind is negative.

    Notes
    -----
    Range: right to a few percent up to 0.5 mm, too long above, as a large drop has not caught up with the wind.

    References
    ----------
    drift-quick-rule
    gunn-kinzer-1949

    Examples
    --------
    >>> round(distance_to_clear(0.0005, 20 * 0.3048, 2.2352) / 0.3048, 1)
    21.7
    """
    not_negative("height", height, "m")
    not_negative("wind", wind, "m/s")
    return wind * height / fall_speed(diameter)


def smallest_drop_landing(distance: float, height: float, wind: float) -> float:
    """Diameter of the smallest drop that lands within a distance, on the safe side.

    ``distance_to_clear`` turned round; smaller drops go farther

    Parameters
    ----------
    distance : float
        Distance downwind to what must stay dry [m]
    height : float
        Height from which drops fall [m]
    wind : float
        Speed of the wind [m/s]

    Returns
    -------
    float
        Diameter; the table's smallest, 0.078 mm, if all of its drops land sooner [m]

    Raises
    ------
    OutOfRange
        If the distance is not above zero, height or wind is negative, or no drop lands so soon.

    Notes
    -----
    Range: as ``distance_to_clear``.

    References
    ----------
    drift-quick-rule
    gunn-kinzer-1949

    Examples
    --------
    >>> round(smallest_drop_landing(21.7 * 0.3048, 20 * 0.3048, 2.2352) * 1000, 2)
    0.5
    """
    above_zero("distance", distance, "m")
    not_negative("height", height, "m")
    not_negative("wind", wind, "m/s")
    diameters, speeds = _measured()
    needed = wind * height / distance
    if needed > math.exp(speeds[-1]):
        least = wind * height / math.exp(speeds[-1])
        raise OutOfRange("distance", distance, f"at least {least:.3g} m, where the largest drops land")
    return float(np.exp(np.interp(math.log(max(needed, 1e-12)), speeds, diameters)))


def _check_drop(diameter: float, density: float, air_density: float, air_viscosity: float) -> None:
    within("diameter", diameter, 1e-6, 6e-3, "m")
    above_zero("air_density", air_density, "kg/m3")
    above_zero("air_viscosity", air_viscosity, "Pa s")
    within("density", density, air_density * 1.001, 25_000.0, "kg/m3, denser than the air")
