"""Sun on a plane under a clear sky.

Global irradiance after Haurwitz, which needs only the sun's height; split into direct and diffuse after
Erbs, Klein and Duffie; laid on the plane with an isotropic sky and ground. Haze, altitude and cloud are
left out. Against a model that knows haze, walls on low ground come out about 1 to 13 % high on average, up
to twice as high in the first and last hours, and a south wall at 1600 m about 10 % low: an upper bound
for dry-out on low ground. Shade is for the caller.
"""

from __future__ import annotations

from typing import Final, Generic, NamedTuple

import numpy as np

from sightwash.science._limits import not_negative, share_within, within
from sightwash.science.sun import Number, incidence_angle, sun_position

_LEAST_COSINE: Final = 1e-9


class ClearSky(NamedTuple, Generic[Number]):
    """Irradiance under a clear sky: global and diffuse on the level, direct square to the sun [W/m2]."""

    total: Number
    direct: Number
    diffuse: Number


class PlaneIrradiance(NamedTuple, Generic[Number]):
    """Irradiance on a plane and its parts [W/m2]."""

    total: Number
    direct: Number
    sky: Number
    ground: Number


def clear_sky_global(zenith: Number) -> Number:
    """Global irradiance on the level under a clear sky, after Haurwitz.

    ``G = 1098 cos z exp(-0.059 / cos z)``

    Parameters
    ----------
    zenith : float or float array
        Zenith angle of the sun [deg]

    Returns
    -------
    float or float array
        Global horizontal irradiance; zero once the sun is down [W/m2]

    Raises
    ------
    OutOfRange
        If the zenith angle is outside 0 to 180 deg.

    Notes
    -----
    Range: clear sky; the best of the models that need the sun's height alone.

    References
    ----------
    haurwitz-clear-sky
    sandia-clear-sky-review

    Examples
    --------
    >>> round(float(clear_sky_global(0.0)))
    1035
    """
    within("zenith", zenith, 0.0, 180.0, "0 to 180 deg")
    cosine: Number = np.maximum(np.cos(np.radians(zenith)), _LEAST_COSINE)
    total: Number = 1098.0 * cosine * np.exp(-0.059 / cosine)
    return total


def diffuse_share(clearness: Number) -> Number:
    """Diffuse part of global irradiance, after Erbs, Klein and Duffie.

    ``0.9511 - 0.1604 k + 4.388 k^2 - 16.638 k^3 + 12.336 k^4`` for 0.22 < k <= 0.80

    Parameters
    ----------
    clearness : float or float array
        Global irradiance over that outside the air, both on the level [-]

    Returns
    -------
    float or float array
        Diffuse over global irradiance [-]

    Raises
    ------
    OutOfRange
        If the clearness is outside 0 to 1.2.

    Notes
    -----
    Range: hourly means of all skies; 1 - 0.09 k below 0.22 and 0.165 above 0.80.

    References
    ----------
    erbs-diffuse

    Examples
    --------
    >>> round(float(diffuse_share(0.5)), 4)
    0.6591
    """
    within("clearness", clearness, 0.0, 1.2, "0 to 1.2")
    k = clearness
    middle: Number = 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
    cloudy: Number = 1.0 - 0.09 * k
    share: Number = cloudy + (middle - cloudy) * np.greater(k, 0.22) + (0.165 - middle) * np.greater(k, 0.80)
    return share


def clear_sky(zenith: Number, distance: Number, solar_constant: float = 1361.0) -> ClearSky[Number]:
    """Global, direct and diffuse irradiance under a clear sky.

    ``k = G / (S cos z / R^2);  D = k_d(k) G;  B = (G - D) / cos z``

    Parameters
    ----------
    zenith : float or float array
        Zenith angle of the sun [deg]
    distance : float or float array
        Distance of the sun over its mean [-]
    solar_constant : float
        Irradiance outside the air at the mean distance [W/m2]

    Returns
    -------
    ClearSky
        Global on the level, direct square to the sun, diffuse on the level [W/m2]

    Raises
    ------
    OutOfRange
        If the zenith angle, distance or solar constant is none that the sun has.

    Notes
    -----
    Range: clear sky over low ground; direct sun near the horizon comes out high.

    References
    ----------
    haurwitz-clear-sky
    erbs-diffuse
    kopp-lean-2011

    Examples
    --------
    >>> sky = clear_sky(40.0, 1.0)
    >>> round(float(sky.total)), round(float(sky.direct)), round(float(sky.diffuse))
    (779, 828, 145)
    """
    within("distance", distance, 0.9, 1.1, "0.9 to 1.1")
    within("solar_constant", solar_constant, 1300.0, 1450.0, "1300 to 1450 W/m2")
    total: Number = clear_sky_global(zenith)
    cosine: Number = np.maximum(np.cos(np.radians(zenith)), _LEAST_COSINE)
    clearness: Number = total / (cosine * solar_constant / distance**2)
    diffuse: Number = total * diffuse_share(clearness)
    direct: Number = (total - diffuse) / cosine
    return ClearSky(total, direct, diffuse)


def plane_irradiance(
    total: Number, direct: Number, diffuse: Number, incidence: Number, tilt: float, reflectance: float = 0.2
) -> PlaneIrradiance[Number]:
    """Irradiance on a tilted plane under an isotropic sky.

    ``I = B max(cos i, 0) + D (1 + cos b) / 2 + rho G (1 - cos b) / 2``

    Parameters
    ----------
    total : float or float array
        Global irradiance on the level [W/m2]
    direct : float or float array
        Direct irradiance square to the sun [W/m2]
    diffuse : float or float array
        Diffuse irradiance on the level [W/m2]
    incidence : float or float array
        Angle between the sun and the plane's normal [deg]
    tilt : float
        Tilt of the plane: 0 lies flat and faces up, 90 is a wall [deg]
    reflectance : float
        Reflectance of the ground: 0.2 for asphalt and grass, 0.3 for light concrete [-]

    Returns
    -------
    PlaneIrradiance
        Total, direct, from the sky and from the ground [W/m2]

    Raises
    ------
    OutOfRange
        If an irradiance is negative, an angle outside 0 to 180 deg or the reflectance outside 0 to 1.

    Notes
    -----
    Range: an open sky and ground; buildings opposite take part of both.

    References
    ----------
    isotropic-sky

    Examples
    --------
    >>> round(float(plane_irradiance(800.0, 900.0, 100.0, 60.0, 90.0).total), 6)
    580.0
    """
    for name, value in (("total", total), ("direct", direct), ("diffuse", diffuse)):
        not_negative(name, value, "W/m2")
    within("incidence", incidence, 0.0, 180.0, "0 to 180 deg")
    within("tilt", tilt, 0.0, 180.0, "0 to 180 deg")
    share_within("reflectance", reflectance)
    slope = float(np.cos(np.radians(tilt)))
    beam: Number = direct * np.maximum(np.cos(np.radians(incidence)), 0.0)
    sky: Number = diffuse * (1.0 + slope) / 2.0
    ground: Number = reflectance * total * (1.0 - slope) / 2.0
    whole: Number = beam + sky + ground
    return PlaneIrradiance(whole, beam, sky, ground)


def clear_sky_on_plane(
    time: Number, latitude: float, longitude: float, tilt: float, facing: float, reflectance: float = 0.2
) -> PlaneIrradiance[Number]:
    """Clear-sky irradiance on a plane at a moment and place.

    Sun's position, clear sky and tilted plane in turn.

    Parameters
    ----------
    time : float or float array
        Seconds since 1970 in UTC [s]
    latitude : float
        Latitude, north positive [deg]
    longitude : float
        Longitude, east positive [deg]
    tilt : float
        Tilt of the plane: 0 lies flat and faces up, 90 is a wall [deg]
    facing : float
        Azimuth that the plane faces, from north [deg]
    reflectance : float
        Reflectance of the ground [-]

    Returns
    -------
    PlaneIrradiance
        Total, direct, from the sky and from the ground [W/m2]

    Raises
    ------
    OutOfRange
        If the time is outside 1901 to 2099 or an angle or share outside its range.

    Notes
    -----
    Range: clear sky, open horizon, no shade.

    References
    ----------
    noaa-solar
    haurwitz-clear-sky
    erbs-diffuse
    isotropic-sky

    Examples
    --------
    >>> wall = clear_sky_on_plane(1066419030.0, 39.742476, -105.1786, 90.0, 180.0)
    >>> round(float(wall.total), -2)
    700.0
    """
    here = sun_position(time, latitude, longitude)
    sky = clear_sky(here.zenith, here.distance)
    incidence = incidence_angle(here.zenith, here.azimuth, tilt, facing)
    lit: Number = np.greater(90.0, here.zenith) * sky.direct
    return plane_irradiance(sky.total, lit, sky.diffuse, incidence, tilt, reflectance)
