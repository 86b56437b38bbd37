"""Conditions: the day, the hours and the weather that the visit is planned for.

Hourly weather stands in a file of its own (see ``weather_file``); the weather here is one figure each for the
hours of work, written as keys or as one line.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.site.fields import (
    AirTemperature,
    Bearing,
    CalendarDay,
    ClockTime,
    Count,
    Id,
    Moment,
    OneLine,
    Quantity,
    Record,
    SchemaVersion,
    Share,
    Text,
)
from sightwash.site.model import System
from sightwash.site.weather_line import EXAMPLE, weather_parts

WindSpeed = Annotated[float, Quantity(units.SPEED, "0 mph", "85 mph")]


@dataclass(frozen=True, slots=True)
class Weather(Record):
    """The air at the hour of work; ``wind_from`` is a compass bearing."""

    air_temperature: AirTemperature | None = None
    humidity: Share | None = None
    wind_speed: WindSpeed | None = None
    gust: WindSpeed | None = None
    wind_from: Bearing | None = None
    cloud: Share | None = None
    rain_chance: Share | None = None
    coldest_before_dry: AirTemperature | None = None


WeatherOrLine = Annotated[Weather, OneLine(weather_parts, EXAMPLE)]


@dataclass(frozen=True, slots=True)
class Conditions(Record):
    """When the work is done and in what weather; the window may cross midnight.

    ``nights`` in a row have the same window; ``owner_visit`` is when the owner comes to look, on the site's clock.
    """

    kind: Literal["conditions"]
    schema: SchemaVersion
    id: Id
    units: System = "us"
    date: CalendarDay | None = None
    start: ClockTime | None = None
    end: ClockTime | None = None
    weather: WeatherOrLine = Weather()
    nights: Count = 1
    owner_visit: Moment | None = None
    lights_out: bool = False
    note: Text | None = None
