"""Weather hour by hour, as a file says it, in inner units."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

HOUR: Final = timedelta(hours=1)
MAST: Final = 10.0
"""Height at which weather stations and forecasts state the wind [m]."""


@dataclass(frozen=True, slots=True)
class WeatherHour:
    """One hour of weather; None where the file does not say. ``rain`` is the depth that falls in the hour [m].

    ``total``, ``direct`` and ``diffuse`` are the sun as measured: on the level, square to it, from the sky [W/m2].
    """

    start: datetime
    air_temperature: float | None = None
    humidity: float | None = None
    wind_speed: float | None = None
    gust: float | None = None
    wind_from: float | None = None
    cloud: float | None = None
    rain_chance: float | None = None
    rain: float | None = None
    thunder: bool = False
    total: float | None = None
    direct: float | None = None
    diffuse: float | None = None


@dataclass(frozen=True, slots=True)
class HourlyWeather:
    """Hours in order of time. A ``typical`` year stands for every year; naive times are the site's own clock."""

    form: str
    typical: bool
    wind_height: float
    hours: tuple[WeatherHour, ...]
    notes: tuple[str, ...] = ()

    def at(self, moment: datetime) -> WeatherHour | None:
        """Return the hour that holds a moment (with its UTC offset), or None where the file has none."""
        clock = self.hours[0].start
        wanted = moment.replace(tzinfo=None) if clock.tzinfo is None else moment.astimezone(clock.tzinfo)
        if self.typical:
            return self._typical_hour(wanted)
        index = bisect_right(self.hours, wanted, key=lambda hour: hour.start) - 1
        return self.hours[index] if index >= 0 and wanted < self.hours[index].start + HOUR else None

    def _typical_hour(self, wanted: datetime) -> WeatherHour | None:
        """Return the hour of the same month, day and hour; 29 February takes the day before."""
        day = 28 if (wanted.month, wanted.day) == (2, 29) else wanted.day
        key = (wanted.month, day, wanted.hour)
        return next((h for h in self.hours if (h.start.month, h.start.day, h.start.hour) == key), None)
