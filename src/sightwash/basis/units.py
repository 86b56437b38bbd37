"""Quantities with units at the doors, plain SI numbers inside.

Inside, lengths are metres, areas m2, volumes litres, pressures Pa, flows L/s, times s,
temperatures degC, speeds m/s, masses kg, forces N, angles degrees and strengths mg/L.
At the doors a person writes ``12 ft 6 in``, ``250 psi``, ``5.5 gal/min``, ``3/8 in`` or ``48 F``.

A unit is a factor to the inner unit and a vector of exponents over
(length, mass, time, angle, temperature, money); volume counts as length cubed.
A comma marks thousands (``1,200 psi``), never decimals; capitals of small-letter units are taken.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

from sightwash.basis.errors import InputError, Problem

Dimension = tuple[int, int, int, int, int, int]

_NONE: Final[Dimension] = (0, 0, 0, 0, 0, 0)
_LENGTH: Final[Dimension] = (1, 0, 0, 0, 0, 0)
_AREA: Final[Dimension] = (2, 0, 0, 0, 0, 0)
_VOLUME: Final[Dimension] = (3, 0, 0, 0, 0, 0)
_MASS: Final[Dimension] = (0, 1, 0, 0, 0, 0)
_TIME: Final[Dimension] = (0, 0, 1, 0, 0, 0)
_ANGLE: Final[Dimension] = (0, 0, 0, 1, 0, 0)
_HEAT: Final[Dimension] = (0, 0, 0, 0, 1, 0)
_MONEY: Final[Dimension] = (0, 0, 0, 0, 0, 1)
_SPEED: Final[Dimension] = (1, 0, -1, 0, 0, 0)
_FORCE: Final[Dimension] = (1, 1, -2, 0, 0, 0)
_PRESSURE: Final[Dimension] = (-1, 1, -2, 0, 0, 0)
_POWER: Final[Dimension] = (2, 1, -3, 0, 0, 0)

FOOT: Final = 0.3048
INCH: Final = 0.0254
GALLON: Final = 3.785411784
POUND: Final = 0.45359237
STANDARD_GRAVITY: Final = 9.80665
POUND_FORCE: Final = POUND * STANDARD_GRAVITY
PSI: Final = POUND_FORCE / INCH**2

# Coherent factors are in m, kg, s, degrees, K, money; a volume's factor is in m3.
_UNITS: Final[dict[str, tuple[float, Dimension]]] = {
    "m": (1.0, _LENGTH), "cm": (0.01, _LENGTH), "mm": (0.001, _LENGTH), "km": (1000.0, _LENGTH),
    "ft": (FOOT, _LENGTH), "in": (INCH, _LENGTH), "yd": (0.9144, _LENGTH), "mi": (1609.344, _LENGTH),
    "mil": (INCH / 1000, _LENGTH),
    "acre": (4046.8564224, _AREA), "ha": (10000.0, _AREA),
    "L": (0.001, _VOLUME), "mL": (1e-6, _VOLUME), "gal": (GALLON / 1000, _VOLUME),
    "qt": (GALLON / 4000, _VOLUME), "pt": (GALLON / 8000, _VOLUME), "cup": (GALLON / 16000, _VOLUME),
    "floz": (GALLON / 128000, _VOLUME),
    "kg": (1.0, _MASS), "g": (0.001, _MASS), "mg": (1e-6, _MASS), "lb": (POUND, _MASS), "oz": (POUND / 16, _MASS),
    "s": (1.0, _TIME), "min": (60.0, _TIME), "h": (3600.0, _TIME), "day": (86400.0, _TIME),
    "week": (604800.0, _TIME), "month": (365.25 / 12 * 86400.0, _TIME), "year": (365.25 * 86400.0, _TIME),
    "deg": (1.0, _ANGLE), "rad": (180.0 / math.pi, _ANGLE), "arcmin": (1.0 / 60.0, _ANGLE),
    "K": (1.0, _HEAT),
    "mph": (1609.344 / 3600, _SPEED), "kn": (1852.0 / 3600, _SPEED),
    "N": (1.0, _FORCE), "lbf": (POUND_FORCE, _FORCE),
    "Pa": (1.0, _PRESSURE), "kPa": (1000.0, _PRESSURE), "MPa": (1e6, _PRESSURE), "bar": (1e5, _PRESSURE),
    "psi": (PSI, _PRESSURE), "psf": (POUND_FORCE / FOOT**2, _PRESSURE), "hPa": (100.0, _PRESSURE),
    "W": (1.0, _POWER), "kW": (1000.0, _POWER), "hp": (550 * FOOT * POUND_FORCE, _POWER),
    "%": (0.01, _NONE), "1": (1.0, _NONE), "each": (1.0, _NONE),
    "USD": (1.0, _MONEY), "$": (1.0, _MONEY), "EUR": (1.0, _MONEY), "CAD": (1.0, _MONEY),
}  # fmt: skip

_ALIASES: Final[dict[str, str]] = {
    "foot": "ft", "feet": "ft", "'": "ft", "inch": "in", "inches": "in", '"': "in",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "yard": "yd", "yards": "yd", "mile": "mi", "miles": "mi",
    "mils": "mil", "millimetres": "mm", "millimeters": "mm", "centimetres": "cm", "centimeters": "cm",
    "sqft": "ft2", "sf": "ft2", "acres": "acre", "gpm": "gal/min", "lpm": "L/min", "l": "L", "ml": "mL",
    "litre": "L", "litres": "L", "liter": "L", "liters": "L", "gallon": "gal", "gallons": "gal", "quart": "qt",
    "quarts": "qt", "pint": "pt", "pints": "pt", "cups": "cup", "fl_oz": "floz", "hr": "h", "hour": "h", "hours": "h",
    "hrs": "h", "minute": "min", "minutes": "min", "mins": "min", "sec": "s", "second": "s", "seconds": "s", "d": "day",
    "days": "day", "weeks": "week", "months": "month", "years": "year", "yr": "year", "yrs": "year", "lbs": "lb",
    "pound": "lb", "pounds": "lb", "ounce": "oz", "ounces": "oz", "degree": "deg", "degrees": "deg", "°": "deg",
    "percent": "%", "kph": "km/h", "knot": "kn", "knots": "kn",
}  # fmt: skip

_TEMPERATURES: Final = {"C": "C", "degC": "C", "F": "F", "degF": "F", "c": "C", "celsius": "C", "f": "F",
                        "fahrenheit": "F"}  # fmt: skip

_LONGEST: Final = 100
_SIGNS: Final = str.maketrans({
    "\N{MINUS SIGN}": "-", "\N{FRACTION SLASH}": "/", "²": "2", "³": "3",
    "‘": "'", "’": "'", "′": "'", "“": '"', "”": '"', "″": '"',
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⅓": " 1/3", "⅔": " 2/3",
})  # fmt: skip
# What people write for the same thing, in the order in which it is put right.
_SPELLINGS: Final = tuple(
    (re.compile(pattern, re.IGNORECASE), text)
    for pattern, text in (
        (r"''", '"'),
        (r"(?<![\d.,])(\d{1,3})((?:,\d{3})+)(?![\d,])", lambda match: match[0].replace(",", "")),
        (r"\s+per\s+|\s*/\s*", "/"),
        (r"\b(?:square|sq\.?)\s*([a-z]+)", r"\g<1>2"),
        (r"\b(?:cubic|cu\.?)\s+([a-z]+)", r"\g<1>3"),
        (r"\b(?:fl\.?|fluid)\s+(?:oz\b\.?|ounces?)", "floz"),
        (r"(?:\bdeg(?:rees?)?\.?|(?<=\d)\s*°)\s*([cf])\b", r" \1"),
        (r"(?<=\d)\s*(?:'|ft\.?|feet|foot)\s*-?\s*(?=\d[\d\s./-]*(?:\"|in))", " ft "),
        (r"(?<=\d)'\s*-?\s*(\d+)$", r" ft \1 in"),
    )
)
_PLAIN = re.compile(r"-?[0-9.]+(?: [a-zA-Z%]+)?")
_NUMBER = r"[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?|\.[0-9]+"
_PIECE = re.compile(
    rf"\s*(?:(?P<whole>[0-9]+)[ -]+(?=[0-9]+/[0-9]))?(?P<number>{_NUMBER})(?:/(?P<over>[0-9]+))?"
    r"\s*(?P<unit>[^\s0-9.,+-]\S*?|1/[a-zA-Z]\S*?)?(?=\s|$)"
)
_FACTOR = re.compile(r"(?P<name>[^0-9^/]+|1)(?:\^?(?P<power>[0-9]))?$")


@dataclass(frozen=True, slots=True)
class QuantityKind:
    """What is measured: its name, its inner unit and the unit of a bare number in each system."""

    name: str
    inner: str
    us: str
    metric: str

    def unit(self, system: str) -> str:
        """Return the unit that a bare number carries in ``system`` (``us`` or ``metric``)."""
        return self.us if system == "us" else self.metric

    @property
    def a_name(self) -> str:
        """The name with its article: ``a length``, ``an area``, ``days``."""
        if self.name.split()[0].endswith("s"):
            return self.name
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"


LENGTH = QuantityKind("length", "m", "ft", "m")
BORE = QuantityKind("small length", "m", "in", "mm")
AREA = QuantityKind("area", "m2", "ft2", "m2")
VOLUME = QuantityKind("volume", "L", "gal", "L")
SMALL_VOLUME = QuantityKind("small volume", "L", "floz", "mL")
PRESSURE = QuantityKind("pressure", "Pa", "psi", "bar")
FLOW = QuantityKind("flow", "L/s", "gal/min", "L/min")
TEMPERATURE = QuantityKind("temperature", "degC", "F", "C")
TEMPERATURE_RISE = QuantityKind("temperature difference", "K", "F", "K")
SPEED = QuantityKind("speed", "m/s", "mph", "km/h")
DURATION = QuantityKind("time", "s", "min", "min")
HOURS = QuantityKind("working time", "s", "h", "h")
DAYS = QuantityKind("days", "s", "day", "day")
YEARS = QuantityKind("years", "s", "year", "year")
ANGLE = QuantityKind("angle", "deg", "deg", "deg")
MASS = QuantityKind("mass", "kg", "lb", "kg")
FORCE = QuantityKind("force", "N", "lbf", "N")
RATIO = QuantityKind("share", "1", "%", "%")
AREA_RATE = QuantityKind("area an hour", "m2/s", "ft2/h", "m2/h")
LENGTH_RATE = QuantityKind("length an hour", "m/s", "ft/h", "m/h")
COUNT_RATE = QuantityKind("pieces an hour", "1/s", "1/h", "1/h")
COVERAGE = QuantityKind("area a volume", "m2/L", "ft2/gal", "m2/L")
DENSITY = QuantityKind("pieces an area", "1/m2", "1/ft2", "1/m2")
DOSE = QuantityKind("volume a volume", "1", "floz/gal", "mL/L")


class Measure(float):
    """A float in the inner unit that remembers how a person typed it."""

    __slots__ = ("typed",)
    typed: str

    def __new__(cls, value: float, typed: str) -> Measure:
        """Make a measure of an inner value and the text it was typed as."""
        self = super().__new__(cls, value)
        self.typed = typed
        return self

    def __getnewargs__(self) -> tuple[float, str]:  # type: ignore[override]  # copies and pickles keep the text
        return float(self), self.typed


@lru_cache(maxsize=1024)
def _unit_parts(text: str) -> tuple[float, Dimension]:
    """Return (coherent factor, dimension) of a unit such as ``gal/min`` or ``ft2``; KeyError if unknown."""
    factor, dimension = 1.0, _NONE
    for position, group in enumerate(_unit_name(text).split("/")):
        match = _FACTOR.match(group)
        if match is None:
            raise KeyError(text)
        size, exponents = _UNITS[_unit_name(match["name"])]
        power = int(match["power"] or 1) * (-1 if position else 1)
        factor *= size**power
        a, b, c, d, e, f = (old + new * power for old, new in zip(dimension, exponents, strict=True))
        dimension = (a, b, c, d, e, f)
    return factor, dimension


def _unit_name(text: str) -> str:
    """Return a unit as the table names it: an alias put right, capitals lowered where that gives a known unit."""
    small = text.lower()
    if text in _UNITS or (text not in _ALIASES and small not in _UNITS and small not in _ALIASES):
        return text
    return _ALIASES.get(text) or _ALIASES.get(small, small)


def _temperature(unit: str) -> str | None:
    """Return C or F where a unit is a temperature scale."""
    return _TEMPERATURES.get(unit) or _TEMPERATURES.get(unit.lower())


def convert(value: float, unit: str, to: str) -> float:
    """Return ``value`` given in ``unit`` in the unit ``to``.

    Temperatures (``C``, ``degC``, ``F``) keep their zero points among themselves; against ``K``, which
    is a difference here, they are differences. Raises KeyError for an unknown unit and ValueError when
    the two do not measure the same thing.

    >>> round(convert(250, "psi", "kPa"), 3)
    1723.689
    >>> convert(50, "F", "degC")
    10.0
    """
    scale, other_scale = _temperature(unit), _temperature(to)
    if scale and other_scale:
        celsius = value if scale == "C" else (value - 32.0) / 1.8
        return celsius if other_scale == "C" else celsius * 1.8 + 32.0
    factor, dimension = _rise_parts(unit)
    other, target = _rise_parts(to)
    if dimension != target:
        raise ValueError(f"{unit} and {to} do not measure the same thing")
    return value * (factor / other)


def _rise_parts(unit: str) -> tuple[float, Dimension]:
    """Return a unit's parts, taking a lone temperature unit as a difference."""
    scale = _temperature(unit)
    if scale:
        return (1.0 if scale == "C" else 5.0 / 9.0), _HEAT
    return _unit_parts(unit)


def parse_quantity(text: str | float | int, kind: QuantityKind, system: str = "us") -> Measure:
    """Return a typed quantity in the kind's inner unit, keeping the text.

    A bare number takes the kind's unit in ``system``. Raises InputError, without file or line,
    when the text is no quantity, has an unknown unit, measures something else, or is not finite.

    >>> round(float(parse_quantity("12 ft 6 in", LENGTH)), 6)
    3.81
    >>> round(float(parse_quantity("3/8 in", BORE)), 6)
    0.009525
    >>> round(float(parse_quantity(48, TEMPERATURE)), 3)
    8.889
    """
    if isinstance(text, int) and text.bit_length() > 1000:
        raise _refusal(kind, system, "the number is not finite", "not-finite")
    typed = str(text).strip()
    if len(typed) > _LONGEST:
        raise _refusal(kind, system, f"{typed[:20]!r}... is too long for {kind.a_name}", "not-a-quantity")
    body = typed.translate(_SIGNS).strip()
    if not _PLAIN.fullmatch(body):
        for pattern, spelling in _SPELLINGS:
            body = pattern.sub(spelling, body)
    sign = -1.0 if body.startswith("-") else 1.0
    pieces = _pieces(body[1:] if body[:1] in ("+", "-") else body, kind, system, typed)
    parts = [_inner(sign, size, unit, kind, system) for size, unit in pieces]
    if len(pieces) > 1 and not _falling([_inner(1.0, 1.0, unit, kind, system) for _, unit in pieces]):
        raise _refusal(kind, system, f"the parts of {typed!r} do not run from large to small", "not-a-quantity")
    value = sum(parts)
    if not math.isfinite(value):
        raise _refusal(kind, system, f"{typed[:20]!r} is not a finite number", "not-finite")
    return Measure(value, typed)


def _falling(sizes: list[float]) -> bool:
    return all(a > b for a, b in pairwise(sizes))


def _inner(sign: float, size: float, unit: str, kind: QuantityKind, system: str) -> float:
    """Return one piece in the kind's inner unit, or refuse its unit."""
    if kind.inner in _TEMPERATURES and _temperature(unit) is None:
        raise _refusal(kind, system, f"{unit!r} is not a scale of temperature here", "wrong-unit")
    try:
        return convert(sign * size, unit, kind.inner)
    except (KeyError, OverflowError):
        raise _refusal(kind, system, f"the unit {unit!r} is not known", "unknown-unit") from None
    except ValueError:
        raise _refusal(kind, system, f"{unit} does not measure {kind.a_name}", "wrong-unit") from None


def _pieces(body: str, kind: QuantityKind, system: str, typed: str) -> list[tuple[float, str]]:
    """Split ``12 ft 6 in`` into its sizes and units."""
    pieces: list[tuple[float, str]] = []
    position = 0
    while position < len(body.rstrip()):
        match = _PIECE.match(body, position)
        if match is None:
            raise _refusal(kind, system, f"{typed!r} is not {kind.a_name}", "not-a-quantity", _decimal_comma(typed))
        over = float(match["over"] or 1)
        if over == 0.0:
            raise _refusal(kind, system, f"{typed!r} divides by zero", "not-a-quantity")
        unit = (match["unit"] or "").rstrip(".")
        pieces.append(
            (float(match["whole"] or 0) + float(match["number"]) / over, f"1{unit}" if unit[:1] == "/" else unit)
        )
        position = match.end()
    if not pieces:
        raise _refusal(kind, system, f"{typed!r} is not {kind.a_name}", "not-a-quantity")
    if len(pieces) == 1 and not pieces[0][1]:
        return [(pieces[0][0], kind.unit(system))]
    if any(not unit for _, unit in pieces) or (len(pieces) > 1 and any(_temperature(unit) for _, unit in pieces)):
        raise _refusal(kind, system, f"{typed!r} is not {kind.a_name}", "not-a-quantity")
    return pieces


def _decimal_comma(typed: str) -> str | None:
    """Return what to write in place of a decimal comma."""
    found = re.search(r"(\d+),(\d+)", typed)
    return f"a comma marks thousands: write `{found[1]}.{found[2]}` or `{found[1]}{found[2]}`" if found else None


def _refusal(kind: QuantityKind, system: str, message: str, code: str, fix: str | None = None) -> InputError:
    unit = kind.unit(system)
    return InputError(
        Problem(
            code=code,
            message=message,
            expected=f"{kind.a_name}; a bare number is in {unit}",
            fix=fix or f"write it with a unit, such as `{_EXAMPLES.get(unit, f'10 {unit}')}`",
        )
    )


_EXAMPLES: Final[dict[str, str]] = {"ft": "12 ft 6 in", "in": "3/8 in", "gal/min": "5.5 gal/min", "F": "48 F"}


def in_unit(value: float, kind: QuantityKind, system: str) -> float:
    """Return an inner value as a number in the kind's door unit."""
    return convert(value, kind.inner, kind.unit(system))


def show(value: float, kind: QuantityKind, system: str = "us", digits: int | None = None) -> str:
    """Return an inner value as text for a person, such as ``12 ft 6 in`` or ``250 psi``.

    >>> show(3.81, LENGTH)
    '12 ft 6 in'
    >>> show(1723689.3, PRESSURE)
    '250 psi'
    """
    if kind is LENGTH and system == "us" and digits is None:
        return feet_and_inches(value)
    number = in_unit(value, kind, system)
    return f"{significant(number, 3 if digits is None else digits)} {kind.unit(system)}"


def feet_and_inches(metres: float, fraction: int = 2) -> str:
    """Return a length as feet and inches, rounded to 1/``fraction`` of an inch.

    >>> feet_and_inches(0.2201, 1)
    '9 in'
    >>> feet_and_inches(-3.81)
    '-12 ft 6 in'
    """
    if not abs(metres) < 1e9:
        return f"{significant(metres / FOOT, 3)} ft"
    steps = round(abs(metres) / INCH * fraction)
    feet, rest = divmod(steps, 12 * fraction)
    inches, part = divmod(rest, fraction)
    sign = "-" if metres < 0 and steps else ""
    inch_text = f"{inches}" if not part else f"{inches + part / fraction:g}"
    if feet and rest:
        return f"{sign}{feet} ft {inch_text} in"
    return f"{sign}{feet} ft" if feet else f"{sign}{inch_text} in"


def significant(number: float, digits: int) -> str:
    """Return a number rounded to ``digits`` significant figures, thousands marked.

    Without exponent from 1e-9 to 1e15, which is all that a person meets here.

    >>> significant(12345.6, 3)
    '12,300'
    >>> significant(0.07225, 3)
    '0.0722'
    """
    if number == 0 or not math.isfinite(number):
        return "0" if number == 0 else str(number)
    if not 1e-9 <= abs(number) < 1e15:
        return f"{number:.{digits - 1}e}"
    places = digits - 1 - math.floor(math.log10(abs(number)))
    rounded = round(number, places)
    text = f"{rounded:,.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
