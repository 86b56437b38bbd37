"""Reading a file of hourly weather, whatever its form; nothing is fetched.

Known forms: a table with our own header (see ``weather_table``), EPW, TMY3, and a saved forecast in the public JSON
form of the US weather service. The form is told from the text, never from the file's name.
"""

from __future__ import annotations

import re
from pathlib import Path

from sightwash.site.hourly_weather import HourlyWeather
from sightwash.site.json_text import json_tree
from sightwash.site.tree import read_text
from sightwash.site.weather_columns import Place, refuse_weather
from sightwash.site.weather_forecast import forecast_weather
from sightwash.site.weather_table import table_weather
from sightwash.site.weather_years import epw_weather, tmy3_weather

_FORMS = "a table that begins with `time`, an EPW file, a TMY3 file, or a saved forecast in JSON"


def read_weather(path: Path | str, system: str = "us") -> HourlyWeather:
    """Return the hourly weather of a file; ``system`` gives the unit of a bare number in a table.

    Raises InputError with file, line and column name where the file is none of the known forms or holds a
    figure that cannot be.
    """
    return weather_from(read_text(Path(path)), Path(path).name, system)


def weather_from(text: str, file: str, system: str = "us") -> HourlyWeather:
    """Return the hourly weather of a text."""
    body = text.lstrip()
    if body.startswith("{"):
        tree = json_tree(text, file)
        assert isinstance(tree, dict)
        return forecast_weather(tree, file)
    lines = text.splitlines()
    if body.upper().startswith("LOCATION,"):
        return epw_weather(body, file)
    if len(lines) > 1 and lines[1].startswith("Date (MM/DD/YYYY)"):
        return tmy3_weather(text, file)
    if re.match(r" \d{5} .{22} [A-Z]{2} ", lines[0]):
        refuse_weather(
            Place(file, 1), "old-form", "this is a TMY2 file", _FORMS, "convert it to TMY3 or EPW, or write a table"
        )
    header = next((line for line in lines if line.strip() and not line.startswith("#")), "")
    if "time" not in header.lower():
        refuse_weather(Place(file, 1), "unknown-form", "the file is no weather file that is known", _FORMS, "see above")
    return table_weather(text, file, system)
