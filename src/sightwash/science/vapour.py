"""Water vapour in air: saturation pressure, dew point and wet bulb.

Two published forms of the saturation curve stand side by side; from 0 to 60 degC they differ by at most
0.3 % and their dew points at 50 % humidity by at most 0.07 K.
"""

from __future__ import annotations

import math
from typing import Final

from sightwash.science._limits import within

_BISECTIONS: Final = 80


def _air_within(temperature: float) -> None:
    within("temperature", temperature, -40.0, 80.0, "-40 to 80 degC")


def _humidity_within(relative_humidity: float) -> None:
    within("relative_humidity", relative_humidity, 0.001, 1.0, "a share from 0.001 to 1")


def saturation_pressure(temperature: float) -> float:
    """Saturation vapour pressure over water, FAO form.

    ``e = 610.8 exp(17.27 T / (T + 237.3))``

    Parameters
    ----------
    temperature : float
        Temperature of the air or the water surface [degC]

    Returns
    -------
    float
        Saturation vapour pressure [Pa]

    Raises
    ------
    OutOfRange
        If the temperature is outside -40 to 80 degC.

    Notes
    -----
    Range: -40 to 80 degC over liquid water.

    References
    ----------
    fao-56

    Examples
    --------
    >>> round(saturation_pressure(25.0))
    3168
    """
    if not -40.0 <= temperature <= 80.0:
        _air_within(temperature)
    return 610.8 * math.exp(17.27 * temperature / (temperature + 237.3))


def saturation_pressure_magnus(temperature: float) -> float:
    """Saturation vapour pressure over water, Magnus form with the constants of the WMO guide.

    ``e = 611.2 exp(17.62 T / (243.12 + T))``

    Parameters
    ----------
    temperature : float
        Temperature of the air or the water surface [degC]

    Returns
    -------
    float
        Saturation vapour pressure [Pa]

    Raises
    ------
    OutOfRange
        If the temperature is outside -40 to 80 degC.

    Notes
    -----
    Range: published for -45 to 60 degC over liquid water.

    References
    ----------
    magnus-wmo-guide

    Examples
    --------
    >>> round(saturation_pressure_magnus(20.0))
    2333
    """
    _air_within(temperature)
    return 611.2 * math.exp(17.62 * temperature / (243.12 + temperature))


def dew_point(temperature: float, relative_humidity: float) -> float:
    """Dew point by the Magnus form.

    ``g = ln r + 17.62 T / (243.12 + T);  T_d = 243.12 g / (17.62 - g)``

    Parameters
    ----------
    temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]

    Returns
    -------
    float
        Dew point [degC]

    Raises
    ------
    OutOfRange
        If the temperature is outside -40 to 80 degC or the humidity outside 0.001 to 1.

    Notes
    -----
    Range: published for -45 to 60 degC over liquid water.

    References
    ----------
    magnus-wmo-guide

    Examples
    --------
    >>> round(dew_point(25.0, 0.50), 2)
    13.85
    """
    _air_within(temperature)
    _humidity_within(relative_humidity)
    gamma = math.log(relative_humidity) + 17.62 * temperature / (243.12 + temperature)
    return 243.12 * gamma / (17.62 - gamma)


def dew_point_fao(temperature: float, relative_humidity: float) -> float:
    """Dew point by the FAO form of the saturation curve.

    ``g = ln r + 17.27 T / (T + 237.3);  T_d = 237.3 g / (17.27 - g)``

    Parameters
    ----------
    temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]

    Returns
    -------
    float
        Dew point [degC]

    Raises
    ------
    OutOfRange
        If the temperature is outside -40 to 80 degC or the humidity outside 0.001 to 1.

    Notes
    -----
    Range: -40 to 80 degC over liquid water.

    References
    ----------
    fao-56

    Examples
    --------
    >>> round(dew_point_fao(25.0, 0.50), 2)
    13.86
    """
    _air_within(temperature)
    _humidity_within(relative_humidity)
    gamma = math.log(relative_humidity) + 17.27 * temperature / (temperature + 237.3)
    return 237.3 * gamma / (17.27 - gamma)


def vapour_pressure_from_wet_bulb(
    temperature: float, wet_bulb: float, pressure: float = 101_325.0, psychrometer: float = 0.000662
) -> float:
    """Vapour pressure of air from a psychrometer's two readings.

    ``e = e_s(T_w) - A p (T - T_w)``

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [degC]
    wet_bulb : float
        Wet-bulb temperature [degC]
    pressure : float
        Air pressure [Pa]
    psychrometer : float
        Coefficient A of the psychrometer: 0.000662 if ventilated at 5 m/s, 0.0008 naturally [1/K]

    Returns
    -------
    float
        Vapour pressure of the air [Pa]

    Raises
    ------
    OutOfRange
        If a temperature is outside -40 to 80 degC, the wet bulb above the dry, or the pressure not of open air.

    Notes
    -----
    Range: 50 000 to 110 000 Pa, wet bulb above freezing.

    References
    ----------
    fao-56-psychrometer

    Examples
    --------
    >>> round(vapour_pressure_from_wet_bulb(25.6, 19.5, 87_900.0), -1)
    1910.0
    """
    _air_within(temperature)
    within("wet_bulb", wet_bulb, -40.0, temperature, f"-40 to the dry bulb's {temperature:g} degC")
    within("pressure", pressure, 50_000.0, 110_000.0, "50 000 to 110 000 Pa")
    within("psychrometer", psychrometer, 0.0004, 0.0015, "0.0004 to 0.0015 1/K")
    return saturation_pressure(wet_bulb) - psychrometer * pressure * (temperature - wet_bulb)


def wet_bulb(
    temperature: float, relative_humidity: float, pressure: float = 101_325.0, psychrometer: float = 0.000662
) -> float:
    """Wet-bulb temperature from temperature and humidity, by bisection of the psychrometer equation.

    ``r e_s(T) = e_s(T_w) - A p (T - T_w)``

    Parameters
    ----------
    temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    pressure : float
        Air pressure [Pa]
    psychrometer : float
        Coefficient A of the psychrometer, ventilated [1/K]

    Returns
    -------
    float
        Wet-bulb temperature [degC]

    Raises
    ------
    OutOfRange
        If the temperature is outside -20 to 60 degC or the humidity outside 0.001 to 1.

    Notes
    -----
    Range: -20 to 60 degC; over ice the true wet bulb differs.

    References
    ----------
    fao-56-psychrometer

    Examples
    --------
    >>> round(wet_bulb(21.5, 0.50))
    15
    """
    within("temperature", temperature, -20.0, 60.0, "-20 to 60 degC")
    _humidity_within(relative_humidity)
    aim = relative_humidity * saturation_pressure(temperature)
    low, high = -40.0, temperature
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        if vapour_pressure_from_wet_bulb(temperature, middle, pressure, psychrometer) < aim:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
