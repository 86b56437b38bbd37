"""Evaporation from a wet surface, by four published formulas kept side by side.

All four were made for flat open water or fresh concrete. Measured and estimated rates differ by up to
40 % even there; on walls treat an answer as good to a half either way. Uno and Menzel agree within about
20 %; Carrier's gives some 1.7 times as much in wind, 1.3 times with the 0.74 measured on undisturbed water.
A negative rate means that the surface gains water from the air.
"""

from __future__ import annotations

import math
from typing import Final

from sightwash.basis.units import FOOT, POUND, PSI
from sightwash.science._limits import share_within, within
from sightwash.science.vapour import saturation_pressure

_KM_H: Final = 3.6
_MPH: Final = 3600.0 / 1609.344
_FEET_A_MINUTE: Final = 60.0 / FOOT
_INCH_OF_MERCURY: Final = 3386.389
_BTU_A_POUND: Final = 2326.0
_POUNDS_A_FT2_H: Final = POUND / FOOT**2 / 3600.0


def _weather_within(surface: float, air: float, relative_humidity: float, wind: float) -> None:
    within("surface_temperature", surface, -10.0, 80.0, "-10 to 80 degC")
    within("air_temperature", air, -10.0, 60.0, "-10 to 60 degC")
    share_within("relative_humidity", relative_humidity)
    within("wind", wind, 0.0, 40.0, "0 to 40 m/s")


def uno_evaporation(surface_temperature: float, air_temperature: float, relative_humidity: float, wind: float) -> float:
    """Evaporation by Uno's short form.

    ``E = 5e-6 ((T_s + 18)^2.5 - r (T_a + 18)^2.5) (V + 4)`` kg/m2/h, V in km/h

    Parameters
    ----------
    surface_temperature : float
        Temperature of the wet surface [degC]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Wind 0.5 m above the surface; wind at a weather mast's 10 m is higher [m/s]

    Returns
    -------
    float
        Evaporation [kg/m2/s]

    Raises
    ------
    OutOfRange
        If the surface is outside -10 to 80 degC, the air outside -10 to 60 degC, or wind or humidity no real value.

    Notes
    -----
    Range: flat wet surfaces outdoors at 10 to 40 degC; on walls a half either way.

    References
    ----------
    uno-1998
    hover-2020

    Examples
    --------
    >>> round(uno_evaporation(25.0, 25.0, 0.50, 10.0 / 3.6) * 3600.0, 4)
    0.4244
    """
    _weather_within(surface_temperature, air_temperature, relative_humidity, wind)
    drive = (surface_temperature + 18.0) ** 2.5 - relative_humidity * (air_temperature + 18.0) ** 2.5
    return float(5e-6 * drive * (wind * _KM_H + 4.0) / 3600.0)


def uno_pressure_evaporation(
    surface_temperature: float, air_temperature: float, relative_humidity: float, wind: float
) -> float:
    """Evaporation by Uno's vapour-pressure form.

    ``E = 0.313 (e_s - r e_a) (0.253 + 0.06 V)`` kg/m2/h, e = 0.61 exp(17.3 T / (237.3 + T)) kPa, V in km/h

    Parameters
    ----------
    surface_temperature : float
        Temperature of the wet surface [degC]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Wind 0.5 m above the surface [m/s]

    Returns
    -------
    float
        Evaporation [kg/m2/s]

    Raises
    ------
    OutOfRange
        If the surface is outside -10 to 80 degC, the air outside -10 to 60 degC, or wind or humidity no real value.

    Notes
    -----
    Range: as for the short form, which approximates this one; constants recalled, checked only against the short form.

    References
    ----------
    uno-1998-pressure-form

    Examples
    --------
    >>> round(uno_pressure_evaporation(25.0, 25.0, 0.50, 10.0 / 3.6) * 3600.0, 2)
    0.42
    """
    _weather_within(surface_temperature, air_temperature, relative_humidity, wind)
    surface = 0.61 * math.exp(17.3 * surface_temperature / (237.3 + surface_temperature))
    air = 0.61 * math.exp(17.3 * air_temperature / (237.3 + air_temperature))
    return 0.313 * (surface - relative_humidity * air) * (0.253 + 0.06 * wind * _KM_H) / 3600.0


def menzel_evaporation(
    surface_temperature: float, air_temperature: float, relative_humidity: float, wind: float
) -> float:
    """Evaporation by Menzel's formula, the one behind the concrete trade's nomograph.

    ``W = 0.44 (e_s - r e_a) (0.253 + 0.096 V)`` lb/ft2/h, e in psi, V in mph

    Parameters
    ----------
    surface_temperature : float
        Temperature of the wet surface [degC]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Wind 0.5 m above the surface [m/s]

    Returns
    -------
    float
        Evaporation [kg/m2/s]

    Raises
    ------
    OutOfRange
        If the surface is outside -10 to 80 degC, the air outside -10 to 60 degC, or wind or humidity no real value.

    Notes
    -----
    Range: flat wet surfaces outdoors; constants recalled, and within about 20 % of Uno's read form.

    References
    ----------
    menzel-1954

    Examples
    --------
    >>> round(menzel_evaporation(30.556, 26.667, 0.50, 12.0 * 0.44704) * 3600.0 * 0.204816, 2)
    0.24
    """
    _weather_within(surface_temperature, air_temperature, relative_humidity, wind)
    drive = saturation_pressure(surface_temperature) - relative_humidity * saturation_pressure(air_temperature)
    return 0.44 * drive / PSI * (0.253 + 0.096 * wind * _MPH) * _POUNDS_A_FT2_H


def carrier_evaporation(
    surface_temperature: float,
    air_temperature: float,
    relative_humidity: float,
    wind: float,
    latent_heat: float = 2.4423e6,
    activity: float = 1.0,
) -> float:
    """Evaporation by Carrier's formula for open pools.

    ``W = (95 + 0.425 v) (p_w - r p_a) / Y`` lb/ft2/h, v in ft/min, p in inHg, Y in Btu/lb

    Parameters
    ----------
    surface_temperature : float
        Temperature of the water [degC]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Speed of the air over the water [m/s]
    latent_heat : float
        Latent heat of evaporation [J/kg]
    activity : float
        Share of the formula; undisturbed water measured 0.74 [-]

    Returns
    -------
    float
        Evaporation [kg/m2/s]

    Raises
    ------
    OutOfRange
        If the surface is outside -10 to 80 degC, the air outside -10 to 60 degC, or wind or humidity no real value.

    Notes
    -----
    Range: water in pools with slow air over it; the latent heat is that of about 25 degC.

    References
    ----------
    carrier-pool-evaporation

    Examples
    --------
    >>> round(carrier_evaporation(26.667, 26.667, 0.50, 0.0) * 3600.0 * 0.204816, 3)
    0.047
    """
    _weather_within(surface_temperature, air_temperature, relative_humidity, wind)
    within("latent_heat", latent_heat, 2.2e6, 2.6e6, "2.2e6 to 2.6e6 J/kg")
    within("activity", activity, 0.1, 2.0, "0.1 to 2")
    drive = saturation_pressure(surface_temperature) - relative_humidity * saturation_pressure(air_temperature)
    rate = (95.0 + 0.425 * wind * _FEET_A_MINUTE) * drive / _INCH_OF_MERCURY
    return activity * rate / (latent_heat / _BTU_A_POUND) * _POUNDS_A_FT2_H
