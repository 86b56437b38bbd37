"""Typical years of weather: EPW files and TMY3 files, local standard time, hours that end at their stamp."""

from __future__ import annotations

import re
from datetime import datetime, timedelta, timezone
from typing import Final

from sightwash.site.hourly_weather import MAST, HourlyWeather, WeatherHour
from sightwash.site.weather_columns import KINDS, Place, cell_of, humidity_of, plain_number, refuse_weather, rows_of

_EPW_HEADERS: Final = 8
_EPW: Final = {
    "air_temperature": (6, 99.9, 1.0),
    "dew_point": (7, 99.9, 1.0),
    "humidity": (8, 999.0, 0.01),
    "total": (13, 9999.0, 1.0),
    "direct": (14, 9999.0, 1.0),
    "diffuse": (15, 9999.0, 1.0),
    "wind_from": (20, 999.0, 1.0),
    "wind_speed": (21, 999.0, 1.0),
    "cloud": (22, 99.0, 0.1),
    "rain": (33, 999.0, 0.001),
}
"""Cell of each figure, the value from which on it is missing, and its factor to the inner unit."""
_TMY3: Final = {
    "air_temperature": ("Dry-bulb (C)", 1.0),
    "dew_point": ("Dew-point (C)", 1.0),
    "humidity": ("RHum (%)", 0.01),
    "total": ("GHI (W/m^2)", 1.0),
    "direct": ("DNI (W/m^2)", 1.0),
    "diffuse": ("DHI (W/m^2)", 1.0),
    "wind_from": ("Wdir (degrees)", 1.0),
    "wind_speed": ("Wspd (m/s)", 1.0),
    "cloud": ("TotCld (tenths)", 0.1),
    "rain": ("Lprecip depth (mm)", 0.001),
}
_OPTIONAL: Final = ("rain",)
_MISSING_TMY3: Final = -9900.0
_NOTE: Final = "a typical year, not a forecast: look at the forecast before the day"


def epw_weather(text: str, file: str) -> HourlyWeather:
    """Return the hours of an EPW file."""
    rows = rows_of(text)
    zone = _zone(Place(file, 1, "LOCATION"), cell_of(Place(file, 1), rows[0], 8))
    hours = []
    for number, row in enumerate(rows[_EPW_HEADERS:], _EPW_HEADERS + 1):
        if not any(row):
            continue
        place = Place(file, number)
        start = _start(place, [cell_of(place, row, index) for index in range(4)], zone)
        figures = {}
        for key, (index, missing, factor) in _EPW.items():
            if key in _OPTIONAL and index >= len(row):
                continue
            value = plain_number(Place(file, number, key), cell_of(place, row, index))
            figures[key] = None if value >= missing else _checked(Place(file, number, key), key, value * factor)
        hours.append(_hour(start, figures, thunder=_epw_thunder(row)))
    return _year("EPW", file, hours)


def tmy3_weather(text: str, file: str) -> HourlyWeather:
    """Return the hours of a TMY3 file."""
    rows = rows_of(text)
    zone = _zone(Place(file, 1), cell_of(Place(file, 1), rows[0], 3))
    header = rows[1]
    lacking = [name for key, (name, _) in _TMY3.items() if name not in header and key not in _OPTIONAL]
    if lacking:
        message = f"the second line lacks {', '.join(lacking)}"
        refuse_weather(Place(file, 2), "missing-column", message, "the header of a TMY3 file", "copy the file whole")
    columns = {key: (header.index(name), factor) for key, (name, factor) in _TMY3.items() if name in header}
    hours = []
    for number, row in enumerate(rows[2:], 3):
        if not any(row):
            continue
        place = Place(file, number)
        month, day, year = _split(place, cell_of(place, row, 0), "/", 3)
        hour, _ = _split(place, cell_of(place, row, 1), ":", 2)
        figures = {}
        for key, (index, factor) in columns.items():
            value = plain_number(Place(file, number, key), cell_of(place, row, index))
            missing = value <= _MISSING_TMY3
            figures[key] = None if missing else _checked(Place(file, number, key), key, value * factor)
        hours.append(_hour(_start(place, [year, month, day, hour], zone), figures))
    return _year("TMY3", file, hours)


def _year(form: str, file: str, hours: list[WeatherHour]) -> HourlyWeather:
    if not hours:
        refuse_weather(Place(file), "no-hours", "the file has no hour", "one row an hour", "copy the file again")
    return HourlyWeather(form, True, MAST, tuple(hours), (_NOTE,))


def _hour(start: datetime, figures: dict[str, float | None], thunder: bool = False) -> WeatherHour:
    dew_point = figures.pop("dew_point", None)
    if figures.get("humidity") is None:
        figures["humidity"] = humidity_of(figures.get("air_temperature"), dew_point)
    return WeatherHour(start, thunder=thunder, **figures)


def _checked(place: Place, key: str, value: float) -> float | None:
    """Return a figure that can be; a depth of rain that cannot, as some of these files hold, counts as missing."""
    _, low, high = KINDS[key]
    if not low <= value <= high:
        if key in _OPTIONAL:
            return None
        refuse_weather(
            place, "out-of-range", f"{value:g} is outside the range", f"{low:g} to {high:g} in inner units",
            "look at the columns of the file",
        )  # fmt: skip
    return min(value, 1.0) if key == "humidity" else value


def _zone(place: Place, text: str) -> timezone:
    hours = plain_number(place, text)
    if not -14.0 <= hours <= 14.0:
        message = f"{text[:20]!r} is no time zone"
        refuse_weather(place, "time-zone", message, "hours from -14 to 14", "copy the file again")
    return timezone(timedelta(hours=hours))


def _start(place: Place, parts: list[str], zone: timezone) -> datetime:
    """Return the start of the hour that ends at its stamp, 1 to 24."""
    year, month, day, hour = (round(plain_number(place, part)) for part in parts)
    try:
        start = datetime(year, month, day, tzinfo=zone)
    except ValueError:
        start = None
    if start is None or not 1 <= hour <= 24:
        message = f"{'-'.join(parts)} is no hour of a year"
        refuse_weather(place, "not-a-time", message, "year, month, day and an hour from 1 to 24", "copy the file again")
    return start + timedelta(hours=hour - 1)


def _split(place: Place, text: str, mark: str, count: int) -> list[str]:
    parts = text.split(mark)
    if len(parts) != count:
        message = f"{text[:20]!r} is no date or time of this form"
        refuse_weather(place, "not-a-time", message, f"{count} numbers between {mark!r}", "copy the file again")
    return parts


def _epw_thunder(row: list[str]) -> bool:
    """Return whether the present-weather codes name thunder: first digit 0 to 2 where an observation was made."""
    if len(row) <= 27 or row[26] != "0":
        return False
    codes = row[27].strip("'\"").rjust(9, "9")
    return re.fullmatch(r"[012]\d{8}", codes) is not None
