"""Heat balance of a wall's outer face: a wet film that evaporates, and a dry wall in the sun.

::

    wall   | film, T_s <---- sun    a I
    lets   |           <---- air    (h_c + h_r)(T_a - T_s)
    no heat|           ----> vapour L E(T_s)
    through|
"""

from __future__ import annotations

from typing import Final, NamedTuple

from sightwash.science._film_balance import balanced_temperature, vapour_density
from sightwash.science._limits import above_zero, share_within, within

_AIR_DENSITY: Final = 1.19  # kg/m3
_AIR_HEAT: Final = 1006.0  # J/kg/K
_LEWIS: Final = 0.908  # Lewis number of vapour in air, to the power 2/3


class WetFilm(NamedTuple):
    """State in which a wet film settles."""

    temperature: float
    evaporation: float


def convection_coefficient(wind: float, still: float = 5.7, per_speed: float = 3.8) -> float:
    """Convective heat transfer coefficient of a surface in wind.

    ``h_c = 5.7 + 3.8 v``

    Parameters
    ----------
    wind : float
        Wind beside the surface [m/s]
    still : float
        Coefficient in still air [W/m2/K]
    per_speed : float
        Rise of the coefficient with wind [J/m3/K]

    Returns
    -------
    float
        Heat transfer coefficient [W/m2/K]

    Raises
    ------
    OutOfRange
        If the wind is outside 0 to 40 m/s or a coefficient outside its range.

    Notes
    -----
    Range: wind up to 5 m/s. Coefficients measured on building walls rise more slowly, 6 to 10 over 0 to 4 m/s.

    References
    ----------
    mcadams-convection
    jayamaha-1996

    Examples
    --------
    >>> convection_coefficient(0.0)
    5.7
    """
    within("wind", wind, 0.0, 40.0, "0 to 40 m/s")
    within("still", still, 0.1, 50.0, "0.1 to 50 W/m2/K")
    within("per_speed", per_speed, 0.0, 20.0, "0 to 20 W/m2/K per m/s")
    return still + per_speed * wind


def wet_film(
    air_temperature: float,
    relative_humidity: float,
    wind: float,
    absorbed_sun: float = 0.0,
    convection: float | None = None,
    radiation: float = 5.7,
    latent_heat: float = 2.45e6,
) -> WetFilm:
    """Temperature and evaporation of a film on an insulated wall, from its heat balance.

    ``a I + (h_c + h_r)(T_a - T_s) = L E,  E = h_c / (rho c_p Le^(2/3)) (rho_s(T_s) - r rho_s(T_a))``

    Parameters
    ----------
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

    Returns
    -------
    temperature : float
        Temperature at which the film settles [degC]
    evaporation : float
        Evaporation from it [kg/m2/s]

    Raises
    ------
    OutOfRange
        If the air is outside -10 to 60 degC, the sun outside 0 to 1400 W/m2, or another value no real one.

    Notes
    -----
    Range: air above freezing, steady weather. In sun and damp air more wind can slow drying, for it cools the film.

    References
    ----------
    film-heat-balance
    mcadams-convection
    fao-56

    Examples
    --------
    >>> round(wet_film(26.667, 0.50, 5.0 * 0.44704).temperature, 1)
    19.7
    """
    within("air_temperature", air_temperature, -10.0, 60.0, "-10 to 60 degC")
    share_within("relative_humidity", relative_humidity)
    within("absorbed_sun", absorbed_sun, 0.0, 1400.0, "0 to 1400 W/m2")
    within("radiation", radiation, 0.0, 20.0, "0 to 20 W/m2/K")
    within("latent_heat", latent_heat, 2.2e6, 2.6e6, "2.2e6 to 2.6e6 J/kg")
    still_and_wind = convection_coefficient(wind) if convection is None else convection
    above_zero("convection", still_and_wind, "W/m2/K")
    damp = relative_humidity * vapour_density(air_temperature)
    transfer = still_and_wind / (_AIR_DENSITY * _AIR_HEAT * _LEWIS)
    loss = still_and_wind + radiation
    gain = absorbed_sun + loss * air_temperature
    settled = balanced_temperature(min(80.0, gain / loss), 0.0, gain, loss, latent_heat * transfer, damp)
    return WetFilm(settled, transfer * (vapour_density(settled) - damp))


def sol_air_temperature(
    air_temperature: float,
    irradiance: float,
    absorptance: float,
    film_coefficient: float = 17.0,
    sky_correction: float = 0.0,
) -> float:
    """Surface temperature of a dry, insulated, sunlit wall (sol-air temperature).

    ``t_e = t_o + a I / h_o - e dR / h_o``

    Parameters
    ----------
    air_temperature : float
        Air temperature [degC]
    irradiance : float
        Sun on the surface, direct and diffuse [W/m2]
    absorptance : float
        Share of the sun absorbed, about 0.45 light to 0.9 dark [-]
    film_coefficient : float
        Heat transfer by convection and long-wave radiation outdoors [W/m2/K]
    sky_correction : float
        Loss to a cold sky, e dR / h_o: 0 for walls, about 4 for flat roofs [K]

    Returns
    -------
    float
        Surface temperature [degC]

    Raises
    ------
    OutOfRange
        If the air is outside -40 to 60 degC, the sun outside 0 to 1400 W/m2 or the absorptance outside 0 to 1.

    Notes
    -----
    Range: a dry surface in steady sun and light wind; a wet one is far cooler.

    References
    ----------
    ashrae-sol-air

    Examples
    --------
    >>> round(sol_air_temperature(32.0, 800.0, 0.7), 1)
    64.9
    """
    within("air_temperature", air_temperature, -40.0, 60.0, "-40 to 60 degC")
    within("irradiance", irradiance, 0.0, 1400.0, "0 to 1400 W/m2")
    share_within("absorptance", absorptance)
    within("film_coefficient", film_coefficient, 5.0, 100.0, "5 to 100 W/m2/K")
    within("sky_correction", sky_correction, 0.0, 20.0, "0 to 20 K")
    return air_temperature + absorptance * irradiance / film_coefficient - sky_correction
