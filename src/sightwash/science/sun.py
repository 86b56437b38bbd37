"""Where the sun stands: position, incidence on a plane, sunrise and sunset.

The short algorithm of the NOAA solar calculator, after Meeus, good to about 0.02 degrees: ample for
shade, glare and drying. Time is UTC in seconds since 1970, one number or an array of them; azimuths
run clockwise from north.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Final, Generic, NamedTuple, TypeVar, overload

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import within

Number = TypeVar("Number", float, NDArray[np.float64])

_DAY: Final = 86400.0
_J2000: Final = 946728000.0
_CENTURY: Final = 36525.0 * _DAY
_EARLIEST: Final = datetime(1901, 1, 1, tzinfo=UTC).timestamp()
_LATEST: Final = datetime(2100, 1, 1, tzinfo=UTC).timestamp()


class SunPosition(NamedTuple, Generic[Number]):
    """Direction and distance of the sun's centre, without refraction [deg; distance over its mean]."""

    zenith: Number
    azimuth: Number
    declination: Number
    hour_angle: Number
    distance: Number


class SunTimes(NamedTuple):
    """Sunrise, highest sun and sunset in UTC [s]."""

    sunrise: float
    noon: float
    sunset: float


@overload
def utc_seconds(when: datetime) -> float: ...
@overload
def utc_seconds(when: NDArray[np.datetime64]) -> NDArray[np.float64]: ...
def utc_seconds(when: datetime | NDArray[np.datetime64]) -> float | NDArray[np.float64]:
    """Seconds since 1970 in UTC of a moment or of an array of moments.

    Parameters
    ----------
    when : datetime or datetime64 array
        A datetime with its UTC offset, or an array of datetime64 taken as UTC [-]

    Returns
    -------
    float or float array
        Seconds since 1970-01-01 00:00 UTC [s]

    Raises
    ------
    OutOfRange
        If a datetime has no UTC offset.

    Notes
    -----
    Range: any moment; leap seconds are not counted.

    References
    ----------
    noaa-solar

    Examples
    --------
    >>> utc_seconds(datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC))
    1066419030.0
    """
    if isinstance(when, datetime):
        if when.tzinfo is None:
            raise OutOfRange("when", when.isoformat(), "a datetime with its UTC offset")
        return when.timestamp()
    milliseconds = when.astype("datetime64[ms]").astype(np.int64)
    return np.asarray(milliseconds / 1000.0)


def sun_position(time: Number, latitude: float, longitude: float) -> SunPosition[Number]:
    """Position of the sun's centre, without refraction.

    ``cos z = sin phi sin d + cos phi cos d cos H``

    Parameters
    ----------
    time : float or float array
        Seconds since 1970 in UTC [s]
    latitude : float
        Latitude, north positive [deg]
    longitude : float
        Longitude, east positive [deg]

    Returns
    -------
    zenith : float or float array
        Angle from straight up [deg]
    azimuth : float or float array
        Direction, clockwise from north [deg]
    declination : float or float array
        Angle from the celestial equator [deg]
    hour_angle : float or float array
        Angle past the meridian, negative before noon [deg]
    distance : float or float array
        Distance over its mean [-]

    Raises
    ------
    OutOfRange
        If the time is outside 1901 to 2099 or the place not on the globe.

    Notes
    -----
    Range: 1901 to 2099, any place; about 0.02 degrees, parallax and polar motion left out.

    References
    ----------
    noaa-solar

    Examples
    --------
    >>> place = sun_position(1066419030.0, 39.742476, -105.1786)
    >>> round(float(place.zenith), 2), round(float(place.azimuth), 2)
    (50.13, 194.34)
    """
    within("time", time, _EARLIEST, _LATEST, "a moment from 1901 to 2099, in seconds since 1970")
    within("latitude", latitude, -90.0, 90.0, "-90 to 90 deg")
    within("longitude", longitude, -180.0, 180.0, "-180 to 180 deg")
    declination, equation, distance = _apparent_sun(time)
    hour_angle: Number = (time % _DAY / 240.0 + equation + longitude) % 360.0 - 180.0
    turn: Number = np.radians(hour_angle)
    height: Number = np.radians(declination)
    phi = float(np.radians(latitude))
    rise: Number = np.sin(phi) * np.sin(height) + np.cos(phi) * np.cos(height) * np.cos(turn)
    zenith: Number = np.degrees(np.arccos(np.clip(rise, -1.0, 1.0)))
    north: Number = np.cos(turn) * np.sin(phi) * np.cos(height) - np.sin(height) * np.cos(phi)
    azimuth: Number = (np.degrees(np.arctan2(np.sin(turn) * np.cos(height), north)) + 180.0) % 360.0
    return SunPosition(zenith, azimuth, declination, hour_angle, distance)


def refraction(elevation: float, pressure: float = 101_325.0, temperature: float = 15.0) -> float:
    """Rise of the sun's image above its true elevation by refraction.

    ``dh = (p / 101 000)(283 / (273 + T)) 1.02 / (60 tan(h + 10.3 / (h + 5.11)))``

    Parameters
    ----------
    elevation : float
        True elevation of the sun above the horizon [deg]
    pressure : float
        Air pressure [Pa]
    temperature : float
        Air temperature [degC]

    Returns
    -------
    float
        Refraction; zero once the sun is below the horizon by a degree [deg]

    Raises
    ------
    OutOfRange
        If the elevation is outside -90 to 90 deg or the air not that of the open.

    Notes
    -----
    Range: elevations above -1 degree, ordinary air.

    References
    ----------
    nrel-spa

    Examples
    --------
    >>> round(refraction(39.872, 82_000.0, 11.0), 4)
    0.0163
    """
    within("elevation", elevation, -90.0, 90.0, "-90 to 90 deg")
    within("pressure", pressure, 40_000.0, 110_000.0, "40 000 to 110 000 Pa")
    within("temperature", temperature, -60.0, 60.0, "-60 to 60 degC")
    if elevation < -1.0:
        return 0.0
    bend = 1.02 / (60.0 * np.tan(np.radians(elevation + 10.3 / (elevation + 5.11))))
    return float(pressure / 101_000.0 * 283.0 / (273.0 + temperature) * bend)


def incidence_angle(zenith: Number, azimuth: Number, tilt: float, facing: float) -> Number:
    """Angle between the sun and the outward normal of a plane.

    ``cos i = cos z cos b + sin z sin b cos(A - A_f)``

    Parameters
    ----------
    zenith : float or float array
        Zenith angle of the sun [deg]
    azimuth : float or float array
        Azimuth of the sun from north [deg]
    tilt : float
        Tilt of the plane: 0 lies flat and faces up, 90 is a wall [deg]
    facing : float
        Azimuth that the plane faces, from north [deg]

    Returns
    -------
    float or float array
        Angle of incidence; above 90 the sun is behind the plane [deg]

    Raises
    ------
    OutOfRange
        If the zenith angle or tilt is outside 0 to 180 deg or an azimuth outside -360 to 360 deg.

    Notes
    -----
    Range: any plane; says nothing of the horizon or of shade.

    References
    ----------
    plane-incidence

    Examples
    --------
    >>> round(float(incidence_angle(60.0, 180.0, 90.0, 180.0)), 9)
    30.0
    """
    within("zenith", zenith, 0.0, 180.0, "0 to 180 deg")
    within("azimuth", azimuth, -360.0, 360.0, "-360 to 360 deg")
    within("tilt", tilt, 0.0, 180.0, "0 to 180 deg")
    within("facing", facing, -360.0, 360.0, "-360 to 360 deg")
    high: Number = np.radians(zenith)
    turned: Number = np.radians(azimuth - facing)
    slope = float(np.radians(tilt))
    cosine: Number = np.cos(high) * np.cos(slope) + np.sin(high) * np.sin(slope) * np.cos(turned)
    angle: Number = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
    return angle


def sun_times(time: float, latitude: float, longitude: float, horizon: float = 90.833) -> SunTimes:
    """Sunrise, highest sun and sunset of the solar day that holds a moment.

    ``cos H_0 = (cos z_0 - sin phi sin d) / (cos phi cos d)``, repeated at the moment found

    Parameters
    ----------
    time : float
        Seconds since 1970 in UTC [s]
    latitude : float
        Latitude, north positive [deg]
    longitude : float
        Longitude, east positive [deg]
    horizon : float
        Zenith angle of the sun's centre at sunrise; 90.833 allows for refraction and half the disc [deg]

    Returns
    -------
    SunTimes
        Sunrise, highest sun and sunset in UTC [s]

    Raises
    ------
    OutOfRange
        If the sun does not rise and set on that day there, or an argument is outside its range.

    Notes
    -----
    Range: a flat horizon, latitudes where the sun rises and sets; about a minute up to 72 degrees.

    References
    ----------
    noaa-solar

    Examples
    --------
    >>> times = sun_times(1066419030.0, 39.742476, -105.1786)
    >>> round((times.noon % 86400.0) / 3600.0 - 7.0, 2)
    11.77
    """
    within("horizon", horizon, 80.0, 110.0, "80 to 110 deg")
    noon = time
    for _ in range(3):
        noon -= 240.0 * float(sun_position(noon, latitude, longitude).hour_angle)
    edges = []
    for side in (-1.0, 1.0):
        moment = noon
        for _ in range(6):
            here = sun_position(moment, latitude, longitude)
            short = side * _day_arc(latitude, float(here.declination), horizon) - float(here.hour_angle)
            moment += 240.0 * ((short + 180.0) % 360.0 - 180.0)
        edges.append(moment)
    return SunTimes(edges[0], noon, edges[1])


def _day_arc(latitude: float, declination: float, horizon: float) -> float:
    """Return the hour angle at which the sun stands at the horizon."""
    phi, height = np.radians(latitude), np.radians(declination)
    cosine = (np.cos(np.radians(horizon)) - np.sin(phi) * np.sin(height)) / (np.cos(phi) * np.cos(height))
    if not -1.0 <= cosine <= 1.0:
        raise OutOfRange("latitude", latitude, "a place where the sun rises and sets on that day")
    return float(np.degrees(np.arccos(cosine)))


def _apparent_sun(time: Number) -> tuple[Number, Number, Number]:
    """Return declination [deg], equation of time [deg] and distance over its mean, after Meeus."""
    t: Number = (time - _J2000) / _CENTURY
    longitude: Number = (280.46646 + t * (36000.76983 + t * 0.0003032)) % 360.0
    anomaly: Number = np.radians(357.52911 + t * (35999.05029 - 0.0001537 * t))
    eccentricity: Number = 0.016708634 - t * (0.000042037 + 0.0000001267 * t)
    centre: Number = (
        np.sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t))
        + np.sin(2.0 * anomaly) * (0.019993 - 0.000101 * t)
        + np.sin(3.0 * anomaly) * 0.000289
    )
    node: Number = np.radians(125.04 - 1934.136 * t)
    apparent: Number = np.radians(longitude + centre - 0.00569 - 0.00478 * np.sin(node))
    seconds: Number = 21.448 - t * (46.815 + t * (0.00059 - t * 0.001813))
    obliquity: Number = np.radians(23.0 + (26.0 + seconds / 60.0) / 60.0 + 0.00256 * np.cos(node))
    declination: Number = np.degrees(np.arcsin(np.sin(obliquity) * np.sin(apparent)))
    y: Number = np.tan(obliquity / 2.0) ** 2
    twice: Number = np.radians(2.0 * longitude)
    equation: Number = np.degrees(
        y * np.sin(twice)
        - 2.0 * eccentricity * np.sin(anomaly)
        + 4.0 * eccentricity * y * np.sin(anomaly) * np.cos(twice)
        - 0.5 * y**2 * np.sin(2.0 * twice)
        - 1.25 * eccentricity**2 * np.sin(2.0 * anomaly)
    )
    true_anomaly: Number = anomaly + np.radians(centre)
    distance: Number = 1.000001018 * (1.0 - eccentricity**2) / (1.0 + eccentricity * np.cos(true_anomaly))
    return declination, equation, distance
