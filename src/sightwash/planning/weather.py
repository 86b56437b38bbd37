"""The weather that the plan reckons with: as given, and the worst case where nothing is given."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sightwash.basis.units import convert
from sightwash.site.conditions import Conditions

WORST_AIR: Final = 35.0
WORST_HUMIDITY: Final = 0.30
WORST_WIND: Final = convert(10.0, "mph", "m/s")
SUN_ON_WALL: Final = 500.0
"""Absorbed sun taken on a wall by day before the sun is worked out [W/m2]."""


@dataclass(frozen=True, slots=True)
class Air:
    """Air temperature [degC], humidity [-], wind [m/s], absorbed sun on a wall [W/m2]; what was assumed."""

    temperature: float
    humidity: float
    wind: float
    wind_from: float | None
    absorbed_sun: float
    dark: bool
    assumed: tuple[str, ...]


def plan_air(conditions: Conditions) -> Air:
    """Return the air to reckon with; unknown values take the worst case."""
    weather = conditions.weather
    assumed: list[str] = []
    if weather.air_temperature is None:
        assumed.append("95 F")
    if weather.humidity is None:
        assumed.append("30 % humidity")
    if weather.wind_speed is None:
        assumed.append("10 mph wind")
    dark = conditions.start is not None and (conditions.start.hour >= 20 or conditions.start.hour < 5)
    return Air(
        WORST_AIR if weather.air_temperature is None else float(weather.air_temperature),
        WORST_HUMIDITY if weather.humidity is None else float(weather.humidity),
        WORST_WIND if weather.wind_speed is None else float(weather.wind_speed),
        None if weather.wind_from is None else float(weather.wind_from),
        0.0 if dark else SUN_ON_WALL,
        dark,
        tuple(assumed),
    )
