"""What a door's water test pressure is worth as wind, as standing water and as running water."""

from __future__ import annotations

import math

from sightwash.basis.units import STANDARD_GRAVITY
from sightwash.science._range import check_range


def wind_speed_of_pressure(pressure: float, wind_factor: float = 0.613) -> float:
    """Speed of wind whose push equals a pressure.

    ``V = sqrt(p / k)``

    Parameters
    ----------
    pressure : float
        Pressure [Pa]
    wind_factor : float
        Velocity pressure of wind at 1 m/s; 0.00256 psf at 1 mph [Pa]

    Returns
    -------
    float
        Wind speed [m/s]

    Raises
    ------
    OutOfRange
        If the pressure is negative or the factor is not above zero.

    Notes
    -----
    Range: sea-level air at about 15 degC.

    References
    ----------
    field-glazing-tests

    Examples
    --------
    >>> round(wind_speed_of_pressure(298.77) / 0.44704, 1)
    49.4
    """
    check_range("pressure", pressure, "Pa", least=0.0)
    check_range("wind_factor", wind_factor, "Pa", above=0.0)
    return math.sqrt(pressure / wind_factor)


def water_head_of_pressure(pressure: float, density: float = 998.2, gravity: float = STANDARD_GRAVITY) -> float:
    """Height of standing water that presses as hard as a pressure.

    ``h = p / (rho g)``

    Parameters
    ----------
    pressure : float
        Pressure [Pa]
    density : float
        Density of the water [kg/m3]
    gravity : float
        Acceleration of gravity [m/s2]

    Returns
    -------
    float
        Height of water [m]

    Raises
    ------
    OutOfRange
        If the pressure is negative, or the density or gravity is not above zero.

    Notes
    -----
    Range: still water.

    References
    ----------
    field-glazing-tests

    Examples
    --------
    >>> round(water_head_of_pressure(298.77) * 1000, 1)
    30.5
    """
    check_range("pressure", pressure, "Pa", least=0.0)
    check_range("density", density, "kg/m3", above=0.0)
    check_range("gravity", gravity, "m/s2", above=0.0)
    return pressure / (density * gravity)


def water_speed_of_pressure(pressure: float, density: float = 998.2) -> float:
    """Speed at which water running straight at a seam presses as hard as a pressure.

    ``v = sqrt(2 p / rho)``

    Parameters
    ----------
    pressure : float
        Pressure [Pa]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Speed of the water [m/s]

    Raises
    ------
    OutOfRange
        If the pressure is negative or the density is not above zero.

    Notes
    -----
    Range: water brought to rest at the seam, no loss.

    References
    ----------
    stream-energy

    Examples
    --------
    >>> round(water_speed_of_pressure(298.77), 3)
    0.774
    """
    check_range("pressure", pressure, "Pa", least=0.0)
    check_range("density", density, "kg/m3", above=0.0)
    return math.sqrt(2.0 * pressure / density)
