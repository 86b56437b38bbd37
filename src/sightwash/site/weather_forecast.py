"""A saved forecast in the public JSON form of the US weather service: ``properties.periods``.

Hourly forecasts and those of half days are read; a half day's figure stands for each of its hours.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any, Final

from sightwash.basis.units import convert
from sightwash.site.hourly_weather import HOUR, MAST, HourlyWeather, WeatherHour
from sightwash.site.weather_columns import KINDS, Place, humidity_of, refuse_weather
from sightwash.site.weather_line import compass_bearing

_UNITS: Final = {
    "degc": "C", "degf": "F", "f": "F", "c": "C", "percent": "%", "km_h-1": "km/h", "m_s-1": "m/s", "mph": "mph",
    "kt": "kn", "degree_(angle)": "deg",
}  # fmt: skip
_SPEEDS: Final = re.compile(r"([\d.]+)(?:\s*to\s*([\d.]+))?\s*(mph|km/h|kt|kts|m/s)", re.IGNORECASE)
_SKIES: Final = (
    ("mostly sunny", 0.25), ("mostly clear", 0.25), ("partly sunny", 0.5), ("partly cloudy", 0.5),
    ("mostly cloudy", 0.8), ("overcast", 1.0), ("cloudy", 0.95), ("fog", 1.0), ("sunny", 0.0), ("clear", 0.0),
)  # fmt: skip
"""Cloud that a forecast's words stand for; a judgement between the service's own eighths."""
_LONGEST: Final = timedelta(hours=24)
_COARSE: Final = "half days: one temperature stands for each of their hours, the day's highest or the night's lowest"
_DRY_WORDS: Final = "the half-day forecast gives no humidity"


def forecast_weather(tree: Mapping[str, Any], file: str) -> HourlyWeather:
    """Return the hours of a forecast."""
    properties = tree.get("properties")
    periods = properties.get("periods") if isinstance(properties, Mapping) else None
    if not isinstance(periods, list) or not periods:
        refuse_weather(
            Place(file, None, "properties.periods"), "no-periods", "the forecast has no periods",
            "a saved forecast with properties.periods", "save the answer of the forecast or hourly forecast page",
        )  # fmt: skip
    hours: list[WeatherHour] = []
    notes: list[str] = []
    for index, period in enumerate(periods):
        place = Place(file, None, f"properties.periods[{index}]")
        if not isinstance(period, Mapping):
            refuse_weather(place, "wrong-type", "a period is no mapping", "keys and values", "save the forecast again")
        found, length = _period(place, period)
        if length > HOUR and _COARSE not in notes:
            notes.append(_COARSE)
        if found.humidity is None and _DRY_WORDS not in notes:
            notes.append(_DRY_WORDS)
        hours += _spread(found, length)
    hours.sort(key=lambda hour: hour.start)
    return HourlyWeather("forecast", False, MAST, tuple(hours), tuple(notes))


def _spread(found: WeatherHour, length: timedelta) -> list[WeatherHour]:
    """Return one period as hours."""
    figures = {name: getattr(found, name) for name in WeatherHour.__dataclass_fields__ if name != "start"}
    return [WeatherHour(found.start + k * HOUR, **figures) for k in range(max(round(length / HOUR), 1))]


def _period(place: Place, period: Mapping[str, Any]) -> tuple[WeatherHour, timedelta]:
    start, end = _moment(place, period, "startTime"), _moment(place, period, "endTime")
    if not timedelta(0) < end - start <= _LONGEST:
        message = f"the period runs from {start} to {end}"
        refuse_weather(place, "period-length", message, "an hour or half a day", "save the forecast again")
    air = _figure(place, period.get("temperature"), "air_temperature", str(period.get("temperatureUnit") or "F"))
    humidity = _figure(place, period.get("relativeHumidity"), "humidity", "%")
    dew_point = _figure(place, period.get("dewpoint"), "dew_point", "C")
    humidity = humidity_of(air, dew_point) if humidity is None else humidity
    words = str(period.get("shortForecast") or "").lower()
    direction = period.get("windDirection")
    found = WeatherHour(
        start,
        air,
        humidity,
        _speed(place, period.get("windSpeed"), "wind_speed"),
        _speed(place, period.get("windGust"), "gust"),
        compass_bearing(direction) if isinstance(direction, str) else None,
        next((share for name, share in _SKIES if name in words), None),
        _figure(place, period.get("probabilityOfPrecipitation"), "rain_chance", "%"),
        None,
        "thunder" in words or "t-storm" in words,
    )
    return found, end - start


def _moment(place: Place, period: Mapping[str, Any], key: str) -> datetime:
    text = period.get(key)
    try:
        moment = datetime.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        here = Place(place.file, None, f"{place.key}.{key}")
        refuse_weather(
            here, "not-a-time", f"{str(text)[:40]!r} is no moment with its offset", "such as 2026-07-11T21:00:00-05:00",
            "save the forecast again",
        )  # fmt: skip
    return moment


def _figure(place: Place, value: Any, key: str, unit: str) -> float | None:
    """Return a number, or a quantity with ``value`` and ``unitCode``, in the inner unit."""
    here = Place(place.file, None, f"{place.key}.{key}")
    if isinstance(value, Mapping):
        code = str(value.get("unitCode") or unit).rsplit(":", 1)[-1].lower()
        unit = _UNITS.get(code, code)
        numbers = [value.get(name) for name in ("maxValue", "value")]
        value = next((number for number in numbers if number is not None), None)
    if value is None:
        return None
    kind, low, high = KINDS[key]
    if isinstance(value, bool) or not isinstance(value, int | float):
        refuse_weather(here, "not-a-number", f"{str(value)[:40]!r} is not a number", kind.a_name, "save it again")
    try:
        found = convert(float(value), _UNITS.get(unit.lower(), unit), kind.inner)
    except (KeyError, ValueError):
        refuse_weather(here, "unknown-unit", f"{unit[:20]!r} does not measure {kind.a_name}", kind.us, "save it again")
    if not low <= found <= high:
        refuse_weather(here, "out-of-range", f"{value:g} {unit} is outside the range", kind.a_name, "save it again")
    return min(found, 1.0) if key == "humidity" else found


def _speed(place: Place, value: Any, key: str) -> float | None:
    """Return a wind such as ``5 to 10 mph``: the higher figure, the worse case for drying and for drift."""
    if not isinstance(value, str):
        return _figure(place, value, key, "km/h")
    match = _SPEEDS.search(value)
    if match is None:
        here = Place(place.file, None, f"{place.key}.{key}")
        refuse_weather(here, "not-a-speed", f"{value[:40]!r} is no wind speed", "such as 5 to 10 mph", "save it again")
    unit = {"kt": "kn", "kts": "kn"}.get(match[3].lower(), match[3].lower())
    return _figure(place, max(float(number) for number in match.groups()[:2] if number), key, unit)
