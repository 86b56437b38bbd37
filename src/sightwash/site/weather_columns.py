"""A weather file's rows and figures: cut apart, converted and refused in one way, with the place in the file."""

from __future__ import annotations

import csv
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NoReturn

from sightwash.basis import units
from sightwash.basis.errors import InputError, Problem
from sightwash.basis.units import QuantityKind, parse_quantity
from sightwash.science.weather import humidity_of_dew_point

COLDEST: Final = -40.0
_RAIN: Final = QuantityKind("depth of rain", "m", "in", "mm")
_SUN: Final = QuantityKind("irradiance", "W/m2", "W/m2", "W/m2")
KINDS: Final[dict[str, tuple[QuantityKind, float, float]]] = {
    "air_temperature": (units.TEMPERATURE, -60.0, 60.0),
    "dew_point": (units.TEMPERATURE, -80.0, 40.0),
    "humidity": (units.RATIO, 0.0, 1.1),
    "wind_speed": (units.SPEED, 0.0, 60.0),
    "gust": (units.SPEED, 0.0, 80.0),
    "wind_from": (units.ANGLE, -360.0, 360.0),
    "cloud": (units.RATIO, 0.0, 1.0),
    "rain_chance": (units.RATIO, 0.0, 1.0),
    "rain": (_RAIN, 0.0, 0.5),
    "total": (_SUN, 0.0, 1500.0),
    "direct": (_SUN, 0.0, 1500.0),
    "diffuse": (_SUN, 0.0, 1500.0),
}
"""What an hour can say: how it is measured, and the range that is not absurd, in inner units."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a weather file a figure stands."""

    file: str
    line: int | None = None
    key: str | None = None


def refuse_weather(place: Place, code: str, message: str, expected: str, fix: str) -> NoReturn:
    """Raise the InputError of a weather file, with the place of what is wrong."""
    raise InputError(Problem(code, message, place.file, place.line, None, place.key, expected, fix))


def rows_of(text: str) -> list[list[str]]:
    """Return the rows of a text of comma-separated values, cells stripped; row k is line k + 1."""
    return [[cell.strip() for cell in row] for row in csv.reader(text.splitlines())]


def figure(place: Place, key: str, text: str, unit: str | None = None, system: str = "us") -> float | None:
    """Return one figure in its inner unit; None for an empty cell."""
    if not text:
        return None
    kind, low, high = KINDS[key]
    typed = text if unit is None or any(letter.isalpha() or letter == "%" for letter in text) else f"{text} {unit}"
    try:
        value = float(parse_quantity(typed, kind, system))
    except InputError as error:
        found = error.problems[0]
        refuse_weather(place, found.code, found.message, found.expected or kind.a_name, found.fix or "mend the cell")
    if not low <= value <= high:
        shown = " to ".join(units.show(end, kind, system) for end in (low, high))
        refuse_weather(place, "out-of-range", f"{typed!r} is outside the range", shown, "look at the file's units")
    return min(value, 1.0) if key == "humidity" else value


def humidity_of(air: float | None, dew_point: float | None) -> float | None:
    """Return the humidity that a dew point stands for; None where either is missing. Below -40 C it is taken as -40."""
    if air is None or dew_point is None:
        return None
    warm = max(air, COLDEST)
    return humidity_of_dew_point(warm, min(max(dew_point, COLDEST), warm))


def plain_number(place: Place, text: str) -> float:
    """Return a number without a unit; an infinite or broken one is refused."""
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        refuse_weather(place, "not-a-number", f"{text[:40]!r} is not a number", "a number", "mend the cell")
    return value


def cell_of(place: Place, row: Sequence[str], index: int) -> str:
    """Return a cell of a row; a row that is too short is refused."""
    if index >= len(row):
        message = f"the row has {len(row)} cells, cell {index + 1} is missing"
        refuse_weather(place, "wrong-length", message, f"{index + 1} cells or more", "copy the file again, whole")
    return row[index]
