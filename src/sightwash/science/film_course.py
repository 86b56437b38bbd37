"""A wet film on a wall minute by minute: the wall's stored heat, sun and air against evaporation.

The wall's outer skin is one store of heat that starts at the dry wall's temperature. With no store the film
settles at once, as in ``wall_heat.wet_film``; with an endless one it keeps the wall's temperature.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from sightwash.science._film_balance import balanced_temperature, vapour_density
from sightwash.science._limits import not_negative, share_within, within
from sightwash.science.wall_heat import convection_coefficient

_AIR_VOLUME_HEAT: Final = 1.19 * 1006.0 * 0.908  # density, heat, Lewis number to the power 2/3 [J/m3/K]
_WATER_HEAT: Final = 4186.0
_FIRST_STEP: Final = 2.0
_GROWTH: Final = 1.15
_LONGEST_STEP: Final = 300.0


class FilmLife(NamedTuple):
    """How long a film lasts [s] and its temperature when it goes [degC]."""

    time: float
    temperature: float


def film_life(
    film: float,
    wall_temperature: float,
    heat_capacity: float,
    air_temperature: float,
    relative_humidity: float,
    wind: float,
    absorbed_sun: float = 0.0,
    convection: float | None = None,
    radiation: float = 5.7,
    latent_heat: float = 2.45e6,
    longest: float = 86_400.0,
) -> FilmLife:
    """Time in which a film dries on a wall that starts at its own temperature.

    ``(C + c_w d rho) dT/dt = a I + (h_c + h_r)(T_a - T) - L E(T)``, E as in the film's heat balance

    Parameters
    ----------
    film : float
        Thickness of the film [m]
    wall_temperature : float
        Temperature of the wall's skin as the film goes on [degC]
    heat_capacity : float
        Heat that the wall's skin gives up in minutes, for each degree [J/m2/K]
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
    radiation : float
        Long-wave coefficient against surroundings at air temperature [W/m2/K]
    latent_heat : float
        Latent heat of evaporation [J/kg]
    longest : float
        Time after which the film counts as one that does not dry [s]

    Returns
    -------
    time : float
        Time until the film is gone; infinite where it is not gone by the longest time [s]
    temperature : float
        Temperature of the film at its end [degC]

    Raises
    ------
    OutOfRange
        If the film is outside 0 to 5 mm, the wall outside -10 to 80 degC, or another value no real one.

    Notes
    -----
    Range: air above freezing, steady weather; backward Euler steps of 2 s growing to 5 min; a half either way on walls.

    References
    ----------
    film-heat-balance
    wall-heat-store

    Examples
    --------
    >>> cool, hot = film_life(0.0002, 27.0, 4e4, 27.0, 0.5, 2.0), film_life(0.0002, 50.0, 4e4, 27.0, 0.5, 2.0)
    >>> round(cool.time / 60.0), round(hot.time / 60.0)
    (40, 6)
    """
    within("film", film, 0.0, 0.005, "0 to 0.005 m")
    within("wall_temperature", wall_temperature, -10.0, 80.0, "-10 to 80 degC")
    not_negative("heat_capacity", heat_capacity, "J/m2/K")
    within("air_temperature", air_temperature, -10.0, 60.0, "-10 to 60 degC")
    share_within("relative_humidity", relative_humidity)
    within("absorbed_sun", absorbed_sun, 0.0, 1400.0, "0 to 1400 W/m2")
    still_and_wind = convection_coefficient(wind) if convection is None else convection
    transfer = still_and_wind / _AIR_VOLUME_HEAT
    damp = relative_humidity * vapour_density(air_temperature)
    store = heat_capacity + _WATER_HEAT * 1000.0 * film
    loss = still_and_wind + radiation
    gain = absorbed_sun + loss * air_temperature
    latent = latent_heat * transfer
    left, now, step, temperature = film * 1000.0, 0.0, _FIRST_STEP, wall_temperature
    while left > 0.0:
        if now >= longest:
            return FilmLife(math.inf, temperature)
        temperature = balanced_temperature(temperature, store / step, gain, loss, latent, damp, temperature)
        rate = transfer * (vapour_density(temperature) - damp)
        if rate * step >= left:
            return FilmLife(now + left / rate, temperature)
        left -= rate * step
        now += step
        step = min(step * _GROWTH, _LONGEST_STEP)
    return FilmLife(now, temperature)


def relaxed_temperature(start: float, target: float, elapsed: float, time_constant: float) -> float:
    """Temperature of a wall's skin on its way to the temperature that sun and air would give it.

    ``T = T_e + (T_0 - T_e) exp(-t / tau)``

    Parameters
    ----------
    start : float
        Temperature at the start [degC]
    target : float
        Temperature that it tends to, the sol-air temperature of a dry wall [degC]
    elapsed : float
        Time since the start [s]
    time_constant : float
        Heat capacity of the skin over the heat transfer coefficient [s]

    Returns
    -------
    float
        Temperature after that time [degC]

    Raises
    ------
    OutOfRange
        If a time is negative or the time constant not above zero.

    Notes
    -----
    Range: one store of heat and steady weather; a heavy wall's core keeps warm for longer.

    References
    ----------
    wall-heat-store

    Examples
    --------
    >>> round(relaxed_temperature(40.0, 20.0, 3600.0, 3600.0), 2)
    27.36
    """
    not_negative("elapsed", elapsed, "s")
    within("time_constant", time_constant, 1e-6, 1e9, "a time above 0 s")
    return target + (start - target) * math.exp(-elapsed / time_constant)
