"""Conditions: the day, the hours and the weather that the visit is planned for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from sightwash.basis import units
from sightwash.site.fields import (
    AirTemperature,
    Bearing,
    CalendarDay,
    ClockTime,
    Id,
    Quantity,
    Record,
    SchemaVersion,
    Share,
    Text,
)
from sightwash.site.model import System

WindSpeed = Annotated[float, Quantity(units.SPEED, "0 mph", "100 mph")]


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


@dataclass(frozen=True, slots=True)
class Conditions(Record):
    """When the work is done and in what weather; the window may cross midnight."""

    kind: Literal["conditions"]
    schema: SchemaVersion
    id: Id
    units: System = "us"
    date: CalendarDay | None = None
    start: ClockTime | None = None
    end: ClockTime | None = None
    weather: Weather = Weather()
    lights_out: bool = False
    note: Text | None = None
