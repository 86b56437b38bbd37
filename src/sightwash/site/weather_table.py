"""Hourly weather as comma-separated values with a header row of our own names.

``time`` is needed; any of the names in ``weather_columns.KINDS`` may follow, with a unit in brackets where the
cells have none: ``time, air_temperature (F), humidity (%), wind_speed (mph), wind_from, cloud, rain_chance``.
A time with its UTC offset is taken as it stands, one without as the site's own clock.
"""

from __future__ import annotations

import difflib
import re
from datetime import datetime
from typing import Final

from sightwash.basis.units import convert
from sightwash.site.hourly_weather import HOUR, MAST, HourlyWeather, WeatherHour
from sightwash.site.weather_columns import KINDS, Place, cell_of, figure, humidity_of, refuse_weather, rows_of
from sightwash.site.weather_line import compass_bearing

_HEADER: Final = re.compile(r"([a-z_ ]+?)\s*(?:[(\[]([^)\]]+)[)\]])?")
_EXAMPLE: Final = "time, air_temperature (F), humidity (%), wind_speed (mph)"
_YES: Final = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False, "": False}


def table_weather(text: str, file: str, system: str = "us") -> HourlyWeather:
    """Return the hourly weather of a table; ``system`` gives the unit of a bare number."""
    rows = [(number, row) for number, row in enumerate(rows_of(text), 1) if any(row) and not row[0].startswith("#")]
    columns = _columns(file, *rows[0])
    hours = [_hour(Place(file, number), row, columns, system) for number, row in rows[1:]]
    if not hours:
        refuse_weather(Place(file), "no-hours", "the table has no hour", "one row an hour", "add the hours of work")
    _check_order(file, [number for number, _ in rows[1:]], hours)
    return HourlyWeather("hourly table", False, MAST, tuple(hours))


def _columns(file: str, line: int, header: list[str]) -> list[tuple[str, str | None]]:
    """Return name and unit of each column."""
    known = ["time", "thunder", *KINDS]
    found: list[tuple[str, str | None]] = []
    for cell in header:
        place = Place(file, line, cell[:40] or None)
        match = _HEADER.fullmatch(cell.lower()) or _HEADER.fullmatch(cell)
        name = match[1].strip().replace(" ", "_") if match else ""
        if name not in known:
            near = difflib.get_close_matches(name, known, 1)
            fix = f"write `{near[0]}`" if near else f"write a header such as `{_EXAMPLE}`"
            refuse_weather(
                place, "unknown-column", f"the column {cell[:40]!r} is not known", "one of: " + ", ".join(known), fix
            )
        if name in [known_name for known_name, _ in found]:
            refuse_weather(place, "doubled-column", f"{name} stands twice", "each column once", "take one out")
        given = _HEADER.fullmatch(cell)
        unit = given[2] if given else (match[2] if match else None)
        _check_unit(place, name, unit)
        found.append((name, unit))
    if "time" not in [name for name, _ in found]:
        refuse_weather(Place(file, line), "missing-column", "there is no column `time`", _EXAMPLE, "add `time`")
    return found


def _check_unit(place: Place, name: str, unit: str | None) -> None:
    if unit is None or name not in KINDS:
        return
    kind = KINDS[name][0]
    try:
        convert(1.0, unit, kind.inner)
    except (KeyError, ValueError):
        refuse_weather(
            place, "wrong-unit", f"{unit!r} does not measure {kind.a_name}", f"such as {kind.us}", "mend the header"
        )


def _hour(place: Place, row: list[str], columns: list[tuple[str, str | None]], system: str) -> WeatherHour:
    figures: dict[str, float | None] = {}
    start: datetime | None = None
    thunder = False
    for index, (name, unit) in enumerate(columns):
        text = cell_of(place, row, index)
        here = Place(place.file, place.line, name)
        if name == "time":
            start = _moment(here, text)
        elif name == "thunder":
            if text.lower() not in _YES:
                refuse_weather(here, "unknown-word", f"{text[:20]!r} is neither yes nor no", "yes or no", "write `no`")
            thunder = _YES[text.lower()]
        elif name == "wind_from" and (point := compass_bearing(text)) is not None:
            figures[name] = point
        else:
            figures[name] = figure(here, name, text, unit, system)
    assert start is not None
    dew_point = figures.pop("dew_point", None)
    if figures.get("humidity") is None:
        figures["humidity"] = humidity_of(figures.get("air_temperature"), dew_point)
    return WeatherHour(start, thunder=thunder, **figures)


def _moment(place: Place, text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        refuse_weather(
            place, "not-a-time", f"{text[:40]!r} is no date and time", "such as 2026-07-11 21:00",
            "write year-month-day and hour:minute",
        )  # fmt: skip


def _check_order(file: str, lines: list[int], hours: list[WeatherHour]) -> None:
    """Refuse hours that mix clocks, fall back or stand less than an hour apart."""
    for line, before, after in zip(lines[1:], hours, hours[1:], strict=False):
        place = Place(file, line, "time")
        if (before.start.tzinfo is None) != (after.start.tzinfo is None):
            refuse_weather(
                place, "mixed-clocks", "some times have a UTC offset and some have none", "one kind of time",
                "add the offset everywhere, or nowhere",
            )  # fmt: skip
        if after.start - before.start < HOUR:
            message = f"{after.start} is less than an hour after {before.start}"
            refuse_weather(place, "hours-out-of-order", message, "one row an hour, in order", "sort the rows")
