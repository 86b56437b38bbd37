"""The hours of work, one by one, in the site's own clock: air, wind, sky and where the sun stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from typing import Final
from zoneinfo import ZoneInfo

from sightwash.planning.weather import SUN_ON_WALL, WORST_AIR, WORST_HUMIDITY, WORST_WIND, Air
from sightwash.science.sun import sun_position
from sightwash.science.weather import cloudy_sky, wind_at_two_metres
from sightwash.site.conditions import Conditions, Weather
from sightwash.site.hourly_weather import HourlyWeather, WeatherHour
from sightwash.site.model import Place

HOUR: Final = timedelta(hours=1)
USUAL_SHIFT: Final = timedelta(hours=8)
CLEAR: Final = "a clear sky"
DARK_FROM, DARK_UNTIL = 20, 5
"""Hours of the clock between which it is taken as dark where the place is not known."""


@dataclass(frozen=True, slots=True)
class WorkHour:
    """One hour of the clock or what the window holds of it: weather [degC, -, m/s], sun on the level [W/m2].

    ``wind`` is beside the wall, ``mast_wind`` and ``gust`` as reported; ``zenith`` and ``azimuth`` [deg] are None
    where the place is not known. ``length`` is in seconds.
    """

    start: datetime
    length: float
    temperature: float
    humidity: float
    wind: float
    mast_wind: float
    gust: float | None
    wind_from: float | None
    cloud: float
    rain_chance: float | None
    rain: float | None
    thunder: bool
    zenith: float | None
    azimuth: float | None
    total: float
    direct: float
    diffuse: float
    dark: bool
    assumed: tuple[str, ...]


def site_clock(place: Place) -> tzinfo:
    """Return the site's time zone; without one, that of its longitude, else UTC."""
    if place.time_zone is not None:
        return ZoneInfo(place.time_zone)
    if place.longitude is not None:
        return timezone(timedelta(hours=round(place.longitude / 15.0)))
    return UTC


def work_window(conditions: Conditions, on: date, clock: tzinfo) -> tuple[datetime, datetime]:
    """Return start and end of the work; a whole day without a start, eight hours without an end."""
    if conditions.start is None:
        start = datetime.combine(on, time(0), clock)
        return start, datetime.combine(on + timedelta(days=1), time(0), clock)
    start = datetime.combine(on, conditions.start, clock)
    if conditions.end is None:
        return start, (start.astimezone(UTC) + USUAL_SHIFT).astimezone(clock)
    day = on if conditions.end > conditions.start else on + timedelta(days=1)
    return start, datetime.combine(day, conditions.end, clock)


def work_hours(
    place: Place, conditions: Conditions, start: datetime, end: datetime, weather: HourlyWeather | None = None
) -> tuple[WorkHour, ...]:
    """Return the hours from start to end, cut at whole hours of the clock.

    A file of hourly weather goes first, the typed figures fill what it leaves open, the worst case the rest.
    """
    return tuple(_hour(place, conditions.weather, weather, begin, length) for begin, length in _slices(start, end))


def window_air(hours: tuple[WorkHour, ...]) -> Air:
    """Return the air to reckon with for all of the hours at once: the hottest, the driest and the windiest of them."""
    windiest = max(hours, key=lambda hour: hour.mast_wind)
    dark = all(hour.dark for hour in hours)
    return Air(
        max(hour.temperature for hour in hours),
        min(hour.humidity for hour in hours),
        windiest.mast_wind,
        windiest.wind_from,
        0.0 if dark else SUN_ON_WALL,
        dark,
        tuple(dict.fromkeys(words for hour in hours for words in hour.assumed if words != CLEAR)),
    )


def _slices(start: datetime, end: datetime) -> Iterator[tuple[datetime, float]]:
    """Yield beginning and length of each piece between whole hours of the clock."""
    clock = start.tzinfo
    now, last = start.astimezone(UTC), end.astimezone(UTC)
    while now < last:
        local = now.astimezone(clock)
        following = now + HOUR - timedelta(minutes=local.minute, seconds=local.second)
        until = min(following, last)
        yield local, (until - now).total_seconds()
        now = until


def _hour(place: Place, typed: Weather, weather: HourlyWeather | None, begin: datetime, length: float) -> WorkHour:
    found = None if weather is None else weather.at(begin + timedelta(seconds=length / 2))
    assumed: list[str] = []
    air = _known(found, typed, "air_temperature", WORST_AIR, "95 F", assumed)
    humidity = _known(found, typed, "humidity", WORST_HUMIDITY, "30 % humidity", assumed)
    mast, wind = _winds(found, typed, weather, assumed)
    cloud = _known(found, typed, "cloud", 0.0, CLEAR, assumed)
    zenith, azimuth, distance = _sun(place, begin + timedelta(seconds=length / 2))
    total, direct, diffuse = _sky(found, zenith, distance, cloud)
    dark = zenith > 90.0 if zenith is not None else begin.hour >= DARK_FROM or begin.hour < DARK_UNTIL
    gust = found.gust if found is not None and found.gust is not None else typed.gust
    wind_from = found.wind_from if found is not None and found.wind_from is not None else typed.wind_from
    chance = found.rain_chance if found is not None and found.rain_chance is not None else typed.rain_chance
    return WorkHour(
        begin, length, air, humidity, wind, mast, _plain(gust), _plain(wind_from), cloud, _plain(chance),
        None if found is None else found.rain, found is not None and found.thunder, zenith, azimuth,
        total, direct, diffuse, dark, tuple(assumed),
    )  # fmt: skip


def _plain(value: float | None) -> float | None:
    return None if value is None else float(value)


def _known(found: WeatherHour | None, typed: Weather, name: str, worst: float, words: str, assumed: list[str]) -> float:
    """Return a figure from the file, else as typed, else the worst case, which is noted."""
    for source in (found, typed):
        value = getattr(source, name, None)
        if value is not None:
            return float(value)
    assumed.append(words)
    return worst


def _winds(
    found: WeatherHour | None, typed: Weather, weather: HourlyWeather | None, assumed: list[str]
) -> tuple[float, float]:
    """Return the wind as reported and beside the wall; a file's wind is that of a mast, a typed one is felt."""
    if found is not None and found.wind_speed is not None and weather is not None:
        return found.wind_speed, wind_at_two_metres(found.wind_speed, weather.wind_height)
    if typed.wind_speed is not None:
        return float(typed.wind_speed), float(typed.wind_speed)
    assumed.append("10 mph wind")
    return WORST_WIND, WORST_WIND


def _sun(place: Place, moment: datetime) -> tuple[float | None, float | None, float]:
    if place.latitude is None or place.longitude is None:
        return None, None, 1.0
    sun = sun_position(moment.timestamp(), float(place.latitude), float(place.longitude))
    return float(sun.zenith), float(sun.azimuth), float(sun.distance)


def _sky(found: WeatherHour | None, zenith: float | None, distance: float, cloud: float) -> tuple[float, float, float]:
    """Return the sun on the level: as measured where the file has it, else clear sky through the cloud."""
    if zenith is None or zenith > 90.0:
        return 0.0, 0.0, 0.0
    if found is not None and found.total is not None and found.direct is not None and found.diffuse is not None:
        return found.total, found.direct, found.diffuse
    sky = cloudy_sky(zenith, distance, cloud)
    return sky.total, sky.direct, sky.diffuse
