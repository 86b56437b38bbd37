"""Volumes of rain and of wash water."""

from __future__ import annotations

from typing import Final

from sightwash.science._numbers import WATER_DENSITY, Real, above_zero, not_negative, within

_LITRES: Final = 1000.0


def rain_volume(depth: Real, area: float, runoff_coefficient: float = 1.0) -> Real:
    """Water that a depth of rain brings on an area.

    ``V = C h A``, the trade's ``gal = 0.6234 C in ft2``

    Parameters
    ----------
    depth : float or array
        Depth of the rain [m]
    area : float
        Area [m2]
    runoff_coefficient : float
        Share that runs off; 1 for all that falls, 0.90 to 0.95 off pavement [-]

    Returns
    -------
    float or array
        Volume [L]

    Raises
    ------
    OutOfRange
        If the depth or the area is negative or the coefficient not from 0 to 1.

    Notes
    -----
    Range: exact for what falls; the coefficient of pavement is from memory.

    References
    ----------
    volume-units
    dr-math-1995
    pavement-runoff

    Examples
    --------
    1 in on 1000 ft2 is 623 gal:

    >>> round(rain_volume(0.0254, 1000 * 0.3048**2) / 3.785411784)
    623
    """
    not_negative("depth", depth, "m")
    not_negative("area", area, "m2")
    within("runoff_coefficient", runoff_coefficient, 0.0, 1.0, "of the rain")
    return _LITRES * runoff_coefficient * area * depth


def wash_volume(flow: float, trigger_time: Real) -> Real:
    """Water that leaves the tip while the trigger is held.

    ``V = q t``

    Parameters
    ----------
    flow : float
        Flow at the tip [L/s]
    trigger_time : float or array
        Time on the trigger [s]

    Returns
    -------
    float or array
        Volume [L]

    Raises
    ------
    OutOfRange
        If the flow or the time is negative.

    Notes
    -----
    Range: exact; what the unloader sends round is not counted.

    References
    ----------
    volume-units

    Examples
    --------
    5.5 gal/min for 90 min is 495 gal:

    >>> round(wash_volume(5.5 * 3.785411784 / 60, 90 * 60) / 3.785411784, 3)
    495.0
    """
    not_negative("flow", flow, "L/s")
    not_negative("trigger_time", trigger_time, "s")
    return flow * trigger_time


def wash_depth(volume: Real, area: float) -> Real:
    """Depth that a volume of wash water makes on an area that lets none through.

    ``h = V / A``

    Parameters
    ----------
    volume : float or array
        Volume of water [L]
    area : float
        Area over which it spreads [m2]

    Returns
    -------
    float or array
        Depth [m]

    Raises
    ------
    OutOfRange
        If the volume is negative or the area not above zero.

    Notes
    -----
    Range: a mean, as if none ran off, soaked in or dried.

    References
    ----------
    volume-units

    Examples
    --------
    495 gal on 6000 ft2 is 0.132 in:

    >>> round(wash_depth(495 * 3.785411784, 6000 * 0.3048**2) / 0.0254, 3)
    0.132
    """
    not_negative("volume", volume, "L")
    above_zero("area", area, "m2")
    return volume / (_LITRES * area)


def water_mass(volume: Real, density: float = WATER_DENSITY) -> Real:
    """Mass of a volume of water, for the load on a trailer.

    ``m = rho V``, the trade's 8.33 lb for each gallon

    Parameters
    ----------
    volume : float or array
        Volume of water [L]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float or array
        Mass [kg]

    Raises
    ------
    OutOfRange
        If the volume is negative or the density not above zero.

    Notes
    -----
    Range: fresh water; 8.33 lb/gal at 20 degC, 8.345 near 4 degC.

    References
    ----------
    volume-units

    Examples
    --------
    >>> round(water_mass(3.785411784) / 0.45359237, 2)
    8.33
    """
    not_negative("volume", volume, "L")
    above_zero("density", density, "kg/m3")
    return density / _LITRES * volume
