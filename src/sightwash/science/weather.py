"""From what a weather report says to what acts on a wall: wind near the ground, humidity, sun through cloud."""

from __future__ import annotations

import math

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import share_within, within
from sightwash.science.irradiance import ClearSky, clear_sky, diffuse_share
from sightwash.science.vapour import saturation_pressure_magnus

_LOWEST_SUN = 89.0
"""Below this zenith angle [deg] the split into direct and diffuse holds; lower sun is taken as diffuse."""


def wind_at_two_metres(wind: float, height: float = 10.0) -> float:
    """Wind two metres above open ground, from wind measured higher.

    ``u_2 = u_z 4.87 / ln(67.8 z - 5.42)``

    Parameters
    ----------
    wind : float
        Wind as measured [m/s]
    height : float
        Height of the measurement above the ground; 10 m for weather stations and forecasts [m]

    Returns
    -------
    float
        Wind at two metres [m/s]

    Raises
    ------
    OutOfRange
        If the wind is outside 0 to 80 m/s or the height outside 0.5 to 100 m.

    Notes
    -----
    Range: short grass and open ground; beside a building wind may be half as much or, at a corner, twice as much.

    References
    ----------
    fao-56-wind

    Examples
    --------
    >>> round(wind_at_two_metres(3.2), 2)
    2.39
    """
    within("wind", wind, 0.0, 80.0, "0 to 80 m/s")
    within("height", height, 0.5, 100.0, "0.5 to 100 m")
    return wind * 4.87 / math.log(67.8 * height - 5.42)


def humidity_of_dew_point(temperature: float, dew_point: float) -> float:
    """Relative humidity of air whose dew point is known.

    ``r = e_s(T_d) / e_s(T)``

    Parameters
    ----------
    temperature : float
        Air temperature [degC]
    dew_point : float
        Dew point [degC]

    Returns
    -------
    float
        Relative humidity as a share [-]

    Raises
    ------
    OutOfRange
        If the dew point is above the temperature by more than 0.5 K, or a temperature outside -40 to 80 degC.

    Notes
    -----
    Range: -40 to 60 degC over water; a dew point within 0.5 K above the temperature is rounding and gives 1.

    References
    ----------
    magnus-wmo-guide

    Examples
    --------
    >>> round(humidity_of_dew_point(25.0, 13.85), 3)
    0.5
    """
    if dew_point > temperature + 0.5:
        raise OutOfRange("dew_point", dew_point, f"not above the air's {temperature:g} degC")
    return min(saturation_pressure_magnus(dew_point) / saturation_pressure_magnus(temperature), 1.0)


def sun_through_cloud(cloud: float) -> float:
    """Share of clear-sky sun that reaches the ground under cloud, after Kasten and Czeplak.

    ``G / G_0 = 1 - 0.75 n^3.4``

    Parameters
    ----------
    cloud : float
        Share of the sky that is covered [-]

    Returns
    -------
    float
        Global irradiance over that of a clear sky [-]

    Raises
    ------
    OutOfRange
        If the cloud is no share from 0 to 1.

    Notes
    -----
    Range: hourly means over ten years at one northern city; a gap in the clouds lets the whole sun through.

    References
    ----------
    kasten-czeplak-1980

    Examples
    --------
    >>> sun_through_cloud(1.0)
    0.25
    """
    share_within("cloud", cloud)
    return 1.0 - 0.75 * math.pow(cloud, 3.4)


def cloudy_sky(zenith: float, distance: float, cloud: float, solar_constant: float = 1361.0) -> ClearSky[float]:
    """Global, direct and diffuse irradiance under a partly covered sky.

    ``G = G_clear (1 - 0.75 n^3.4);  D = k_d(k) G;  B = (G - D) / cos z``

    Parameters
    ----------
    zenith : float
        Zenith angle of the sun [deg]
    distance : float
        Distance of the sun over its mean [-]
    cloud : float
        Share of the sky that is covered [-]
    solar_constant : float
        Irradiance outside the air at the mean distance [W/m2]

    Returns
    -------
    ClearSky
        Global on the level, direct square to the sun, diffuse on the level [W/m2]

    Raises
    ------
    OutOfRange
        If the cloud is no share or another value none that the sun has.

    Notes
    -----
    Range: hourly means; all of it is diffuse once the sun stands within a degree of the horizon.

    References
    ----------
    haurwitz-clear-sky
    kasten-czeplak-1980
    erbs-diffuse

    Examples
    --------
    >>> sky = cloudy_sky(40.0, 1.0, 0.9)
    >>> round(sky.total), round(sky.direct), round(sky.diffuse)
    (371, 49, 333)
    """
    share = sun_through_cloud(cloud)
    clear = clear_sky(zenith, distance, solar_constant)
    total = float(clear.total) * share
    if zenith > _LOWEST_SUN:
        return ClearSky(total, 0.0, total)
    cosine = math.cos(math.radians(zenith))
    diffuse = total * float(diffuse_share(total / (cosine * solar_constant / distance**2)))
    return ClearSky(total, (total - diffuse) / cosine, diffuse)
