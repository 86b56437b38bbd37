"""How long a film on a wall stays wet.

Two bounds bracket the time. Quick: the film takes the wall's temperature, as it does at first, when the
wall's stored heat holds it there. Slow: the film hangs on an insulated wall and settles where the heat
that comes in equals the heat that evaporation takes.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import not_negative, strength_within, within
from sightwash.science.evaporation import uno_evaporation
from sightwash.science.wall_heat import wet_film


class WetTime(NamedTuple):
    """Shortest and longest time for which a film stays wet [s]."""

    shortest: float
    longest: float


def drying_time(film: float, evaporation: float) -> float:
    """Time in which a film of water evaporates.

    ``t = 1000 d / E``

    Parameters
    ----------
    film : float
        Thickness of the film [m]
    evaporation : float
        Evaporation; zero or less never dries the film [kg/m2/s]

    Returns
    -------
    float
        Time until the film is gone; infinite where nothing evaporates [s]

    Raises
    ------
    OutOfRange
        If the film is outside 0 to 5 mm or the evaporation not finite.

    Notes
    -----
    Range: films of 0 to 5 mm at a steady rate; 0.1 to 0.3 mm clings to smooth walls, an assumption.

    References
    ----------
    film-volume

    Examples
    --------
    >>> round(drying_time(0.0002, 0.4244 / 3600.0) / 60.0, 1)
    28.3
    """
    within("film", film, 0.0, 0.005, "0 to 0.005 m")
    within("evaporation", evaporation, -1.0, 1.0, "-1 to 1 kg/m2/s")
    return film * 1000.0 / evaporation if evaporation > 0.0 else math.inf


def quick_wet_time(
    film: float, wall_temperature: float, air_temperature: float, relative_humidity: float, wind: float
) -> float:
    """Quick bound of the wet time: the film at the wall's temperature, Uno's evaporation.

    ``t = 1000 d / E(T_wall)``

    Parameters
    ----------
    film : float
        Thickness of the film [m]
    wall_temperature : float
        Temperature of the wall as the film goes on [degC]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Wind 0.5 m off the wall [m/s]

    Returns
    -------
    float
        Time until the film is gone; infinite where nothing evaporates [s]

    Raises
    ------
    OutOfRange
        If an argument is outside its range.

    Notes
    -----
    Range: a wall heavy enough to hold its temperature; on walls a half either way.

    References
    ----------
    uno-1998
    film-volume

    Examples
    --------
    >>> round(quick_wet_time(0.0002, 26.667, 26.667, 0.50, 5.0 * 0.44704) / 60.0)
    30
    """
    return drying_time(film, uno_evaporation(wall_temperature, air_temperature, relative_humidity, wind))


def slow_wet_time(
    film: float,
    air_temperature: float,
    relative_humidity: float,
    wind: float,
    absorbed_sun: float = 0.0,
    convection: float | None = None,
) -> float:
    """Slow bound of the wet time: the film on an insulated wall.

    ``t = 1000 d / E(T_s)``, T_s from the film's heat balance

    Parameters
    ----------
    film : float
        Thickness of the film [m]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Wind beside the wall [m/s]
    absorbed_sun : float
        Sun on the wall times the wall's absorptance [W/m2]
    convection : float or None
        Convective coefficient; None takes 5.7 + 3.8 v [W/m2/K]

    Returns
    -------
    float
        Time until the film is gone; infinite where nothing evaporates [s]

    Raises
    ------
    OutOfRange
        If an argument is outside its range.

    Notes
    -----
    Range: steady weather, air above freezing; on walls a half either way.

    References
    ----------
    film-heat-balance
    film-volume

    Examples
    --------
    >>> round(slow_wet_time(0.0002, 26.667, 0.50, 5.0 * 0.44704) / 60.0)
    59
    """
    settled = wet_film(air_temperature, relative_humidity, wind, absorbed_sun, convection)
    return drying_time(film, settled.evaporation)


def wet_time_band(
    film: float,
    wall_temperature: float,
    air_temperature: float,
    relative_humidity: float,
    wind: float,
    absorbed_sun: float = 0.0,
    allowance: float = 0.5,
) -> WetTime:
    """Wet time as a band that spans both bounds and the formulas' own error.

    ``shortest = min(quick, slow) / (1 + u),  longest = max(quick, slow) / (1 - u)``

    Parameters
    ----------
    film : float
        Thickness of the film [m]
    wall_temperature : float
        Temperature of the wall as the film goes on [degC]
    air_temperature : float
        Air temperature [degC]
    relative_humidity : float
        Relative humidity as a share [-]
    wind : float
        Wind beside the wall [m/s]
    absorbed_sun : float
        Sun on the wall times the wall's absorptance [W/m2]
    allowance : float
        Error of the evaporation as a share, a half on walls [-]

    Returns
    -------
    WetTime
        Shortest and longest time [s]

    Raises
    ------
    OutOfRange
        If the allowance is outside 0 to 0.9 or another value outside its range.

    Notes
    -----
    Range: steady weather. A dwell longer than the shortest time needs wetting again.

    References
    ----------
    uno-1998
    film-heat-balance
    hover-2020

    Examples
    --------
    >>> band = wet_time_band(0.0002, 26.667, 26.667, 0.50, 5.0 * 0.44704)
    >>> round(band.shortest / 60.0), round(band.longest / 60.0)
    (20, 118)
    """
    within("allowance", allowance, 0.0, 0.9, "0 to 0.9")
    quick = quick_wet_time(film, wall_temperature, air_temperature, relative_humidity, wind)
    slow = slow_wet_time(film, air_temperature, relative_humidity, wind, absorbed_sun)
    return WetTime(min(quick, slow) / (1.0 + allowance), max(quick, slow) / (1.0 - allowance))


def strength_while_drying(strength: float, evaporated: float) -> float:
    """Strength of a film that has lost part of its water.

    ``C = C0 / (1 - s)``

    Parameters
    ----------
    strength : float
        Strength as applied [mg/L]
    evaporated : float
        Share of the film that has evaporated [-]

    Returns
    -------
    float
        Strength of what is left, if no chlorine were used up [mg/L]

    Raises
    ------
    OutOfRange
        If the share is not from 0 to below 1.

    Notes
    -----
    Range: until salt falls out; an upper bound, since soil and sun use up chlorine.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> strength_while_drying(10_000.0, 0.5)
    20000.0
    """
    strength_within("strength", strength)
    not_negative("evaporated", evaporated, "[-]")
    if evaporated >= 1.0:
        raise OutOfRange("evaporated", evaporated, "a share from 0 to below 1")
    return strength / (1.0 - evaporated)
