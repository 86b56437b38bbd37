"""The kinds of value that a document's keys can hold.

A quantity key is ``Annotated[float, Quantity(kind, low, high)]``: text with a unit or a bare number
goes in, a ``Measure`` in the inner unit comes out, and a value outside ``low`` to ``high`` is refused
with what was probably meant. This module and ``site_file`` are the only ones here that know pydantic.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from functools import cached_property
from typing import Annotated, Any, Final

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError, core_schema

from sightwash.basis import units
from sightwash.basis.errors import InputError
from sightwash.basis.units import Measure, QuantityKind, parse_quantity, show
from sightwash.site.nodes import UNWRITABLE

FORBID_UNKNOWN: Final = {"extra": "forbid"}


def brief(value: Any) -> str:
    """Return a value as it may stand in a message: short, and printable whatever it holds."""
    if value is None or isinstance(value, bool):
        return {None: "nothing", True: "`true`", False: "`false`"}[value]
    if isinstance(value, dict):
        return f"a mapping of {len(value)} key{'' if len(value) == 1 else 's'}"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)} value{'' if len(value) == 1 else 's'}"
    if isinstance(value, int) and value.bit_length() > 120:
        return "a huge number"
    text = repr(value[:60] if isinstance(value, str) else value)
    return text if len(text) <= 40 else f"{text[:37]}..."


class Record:
    """Base of every frozen dataclass of a document: an unknown key is refused."""

    __slots__ = ()
    __pydantic_config__ = FORBID_UNKNOWN


@dataclass(frozen=True)
class Quantity:
    """What a key measures and the range that is not absurd, both ends allowed."""

    kind: QuantityKind
    low: str
    high: str

    @cached_property
    def bounds(self) -> tuple[float, float]:
        """The range in the inner unit."""
        return float(parse_quantity(self.low, self.kind)), float(parse_quantity(self.high, self.kind))

    def validate(self, value: Any, info: core_schema.ValidationInfo) -> Measure:
        """Return the value in the inner unit or refuse it with what to write instead."""
        system = (info.context or {}).get("system", "us")
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            message = f"{brief(value)} is not {self.kind.a_name}"
            raise refusal("not-a-quantity", message, self._expected(system), self._wish)
        self._refuse_fraction(value, system)
        try:
            measure = parse_quantity(value, self.kind, system)
        except InputError as error:
            problem = error.problems[0]
            raise refusal(problem.code, problem.message, self._expected(system), problem.fix) from None
        low, high = self.bounds
        slack = 1e-9 * max(abs(low), abs(high))
        if not low - slack <= measure <= high + slack:
            message = f"{measure.typed} ({show(measure, self.kind, system)}) is outside the range"
            raise refusal("out-of-range", message, self._expected(system), self._meant(measure.typed))
        return measure

    def _refuse_fraction(self, value: str | int | float, system: str) -> None:
        """Refuse a bare share from 0 to 1: it can be meant as a part of 1 or as a percent."""
        if self.kind.name != "share" or not re.fullmatch(r"0?\.\d+|1|1\.0+", str(value).strip()):
            return
        part = float(value)
        if part > 0.0:
            fix = f"write `{100 * part:g} %` or `{part:g} %`"
            message = f"{brief(value)} can be {100 * part:g} % or {part:g} %"
            raise refusal("share-or-percent", message, self._expected(system), fix)

    def _expected(self, system: str) -> str:
        return f"{self.low} to {self.high}; a bare number is in {self.kind.unit(system)}"

    def _meant(self, typed: str) -> str:
        """Suggest the unit that would bring a bare number into the range."""
        low, high = self.bounds
        if re.fullmatch(r"[\d.]+", typed):
            for unit in _OTHER_UNITS.get(self.kind.name, ()):
                if low <= parse_quantity(f"{typed} {unit}", self.kind) <= high:
                    return f"if you mean {typed} {unit}, write `{typed} {unit}`"
        return self._wish

    @property
    def _wish(self) -> str:
        return f"write {self.kind.a_name} from {self.low} to {self.high}"

    def __get_pydantic_core_schema__(self, _source: Any, _handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(self.validate)

    def __get_pydantic_json_schema__(
        self, _schema: core_schema.CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {
            "type": ["number", "string"],
            "description": f"{self.kind.name}, {self.low} to {self.high}; "
            f"a bare number is in {self.kind.us} (units: us) or {self.kind.metric} (units: metric)",
            "x-quantity": self.kind.name,
            "x-unit-us": self.kind.us,
            "x-unit-metric": self.kind.metric,
        }


@dataclass(frozen=True)
class OneLine:
    """Lets a record also be written as one line of text, which ``parts`` takes apart into keys and values."""

    parts: Callable[[str], dict[str, str]]
    example: str

    def _taken_apart(self, value: Any) -> Any:
        return self.parts(_check_text(value)) if isinstance(value, str) else value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self._taken_apart, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [handler(schema), {"type": "string", "description": f"one line such as `{self.example}`"}]}


_OTHER_UNITS: Final = {
    "length": ("in", "ft", "mm", "m"),
    "small length": ("in", "ft", "mm", "m"),
    "pressure": ("psi", "bar", "kPa"),
    "temperature": ("F", "C"),
    "flow": ("gal/min", "L/min"),
    "share": ("%",),
}


def refusal(code: str, message: str, expected: str, fix: str | None = None) -> PydanticCustomError:
    """Return a pydantic error that carries what was expected and what to write instead."""
    context = {"expected": expected, "fix": fix or "", "text": message}
    return PydanticCustomError(code, "{text}", context)


_ID: Final = re.compile(r"[a-z0-9](?:[a-z0-9._-]{0,62}[a-z0-9])?")


def _check_id(value: Any) -> str:
    if isinstance(value, str) and _ID.fullmatch(value):
        return value
    wish = re.sub(r"[^a-z0-9._-]+", "-", str(value).lower()).strip("-._")[:64] or "front-wall"
    raise refusal(
        "bad-id", f"{brief(value)} is not an id", "1 to 64 of a-z, 0-9, dot, dash, underscore", f"write `{wish}`"
    )


Id = Annotated[str, PlainValidator(_check_id), WithJsonSchema({"type": "string", "pattern": f"^{_ID.pattern}$"})]


def _check_text(value: Any) -> str:
    if not isinstance(value, str):
        fix = "write the words" if value is None else "put the value in quotation marks"
        raise refusal("not-a-text", f"{brief(value)} is not a text", "words", fix)
    if not value.strip():
        raise refusal("empty-text", "nothing is written here", "words", "leave the key out, or write the words")
    if len(value) > 4000:
        message = f"the text has {len(value)} characters"
        raise refusal("text-too-long", message, "at most 4000 characters", "shorten it")
    plain = value.replace("\r\n", "\n")
    found = UNWRITABLE.search(plain) or ("\r" in plain and re.search("\r", plain))
    if found:
        raise refusal("control-character", f"the text holds {found[0]!r}", "plain text", "take it out")
    return plain


Text = Annotated[
    str, PlainValidator(_check_text), WithJsonSchema({"type": "string", "minLength": 1, "maxLength": 4000})
]


def _check_time(value: Any) -> time:
    match = re.fullmatch(r"([01]?\d|2[0-3]):([0-5]\d)", value) if isinstance(value, str) else None
    if match is None:
        raise refusal(
            "not-a-time",
            f"{brief(value)} is not a time of day",
            "hours and minutes, 00:00 to 23:59",
            "write it such as `22:00`",
        )
    return time(int(match[1]), int(match[2]))


ClockTime = Annotated[
    time, PlainValidator(_check_time), WithJsonSchema({"type": "string", "pattern": r"^\d{1,2}:\d{2}$"})
]


FIRST_YEAR: Final = 1990
LAST_YEAR: Final = 2098
"""First and last year of a date; the sun is worked out to the end of 2099, and a night runs into the next day."""


def _check_day(value: Any) -> date:
    match = re.fullmatch(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", value.strip()) if isinstance(value, str) else None
    try:
        day = None if match is None else date(int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        day = None
    if day is None:
        message = f"{brief(value)} is not a date" if match is None else f"{brief(value)} is in no calendar"
        raise refusal("not-a-date", message, "year-month-day", "write it such as `2026-07-11`")
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        message = f"{brief(value)} lies far from any day of work"
        raise refusal("out-of-range", message, f"a day from {FIRST_YEAR} to {LAST_YEAR}", "mend the year")
    return day


CalendarDay = Annotated[date, PlainValidator(_check_day), WithJsonSchema({"type": "string", "format": "date"})]


def _check_moment(value: Any) -> datetime:
    match = re.fullmatch(r"([0-9]{4}-[0-9]{2}-[0-9]{2})[ T]([0-9]{1,2}:[0-9]{2})", brief(value).strip("'\""))
    if match is None:
        message = f"{brief(value)} is not a day and an hour"
        raise refusal("not-a-moment", message, "year-month-day hour:minute", "write it such as `2026-07-13 08:00`")
    return datetime.combine(_check_day(match[1]), _check_time(match[2]))


Moment = Annotated[
    datetime,
    PlainValidator(_check_moment),
    WithJsonSchema({"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}[ T]\d{1,2}:\d{2}$"}),
]


def _check_count(value: Any) -> int:
    text = value.strip() if isinstance(value, str) else brief(value)
    if not re.fullmatch(r"[0-9]{1,6}", text):
        raise refusal(
            "not-a-count", f"{brief(value)} is not a count", "a whole number, 0 to 999999", "write it such as `12`"
        )
    return int(text)


Count = Annotated[int, PlainValidator(_check_count), WithJsonSchema({"type": "integer", "minimum": 0})]


_NUMBER: Final = re.compile(r"[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?|\.[0-9]+")


def _check_number(value: Any) -> float:
    text = value.strip() if isinstance(value, str) else brief(value)
    number = float(text) if len(text) <= 40 and _NUMBER.fullmatch(text) else math.inf
    if not number < 1e12:
        raise refusal(
            "not-a-number", f"{brief(value)} is not a number", "a plain number, 0 or more", "write it such as `4.5`"
        )
    return number


Number = Annotated[float, PlainValidator(_check_number), WithJsonSchema({"type": "number", "minimum": 0})]


_MONEY: Final = re.compile(r"\$?\s*([0-9]{1,9}|[0-9]{1,3}(?:,[0-9]{3}){1,2})(\.[0-9]{1,4})?")


def _check_money(value: Any) -> Decimal:
    match = _MONEY.fullmatch(value.strip() if isinstance(value, str) else brief(value))
    if match is None:
        message = f"{brief(value)} is not an amount of money"
        raise refusal(
            "not-an-amount", message, "0 to 999999999.9999", "write it such as `24.50`; a comma marks thousands"
        )
    return Decimal(match[1].replace(",", "") + (match[2] or ""))


Money = Annotated[
    Decimal, PlainValidator(_check_money), WithJsonSchema({"type": ["string", "number"], "x-quantity": "money"})
]


STRENGTH_TERMS: Final = ("trade %", "g/L", "wt % chlorine", "wt % hypochlorite")
_STRENGTH = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(.*)")


@dataclass(frozen=True, slots=True)
class Strength:
    """A strength as its label says it: the number and the term it is said in."""

    value: float
    term: str
    typed: str


def _check_strength(value: Any) -> Strength:
    typed = value.strip() if isinstance(value, str) else brief(value)
    match = _STRENGTH.fullmatch(typed) if len(typed) <= 60 else None
    expected = "a number and one of: " + ", ".join(STRENGTH_TERMS)
    if match is None:
        raise refusal(
            "not-a-strength", f"{brief(value)} is not a strength", expected, "write it such as `12.5 trade %`"
        )
    number, term = float(match[1]), " ".join(match[2].split())
    if term in ("", "%", "percent", "per cent"):
        raise refusal(
            "strength-without-term",
            f"{brief(value)} does not say which percent: 12.5 % can be 125, 138 or 145 g/L of chlorine",
            expected,
            "read the label and write `12.5 trade %`, `125 g/L`, `10.8 wt % chlorine` or `11.3 wt % hypochlorite`",
        )
    if term not in STRENGTH_TERMS:
        near = difflib.get_close_matches(term, STRENGTH_TERMS, 1, 0.4)
        fix = f"write `{match[1]} {near[0] if near else STRENGTH_TERMS[0]}`"
        raise refusal("unknown-strength-term", f"{term!r} is not a strength term", expected, fix)
    if not 0 < number <= (220 if term == "g/L" else 22):
        message = (
            f"{brief(value)} is nothing" if number == 0 else f"{brief(value)} is stronger than liquid bleach exists"
        )
        raise refusal("out-of-range", message, "above 0, up to 22 % or 220 g/L", "read the label again")
    return Strength(number, term, typed)


StrengthText = Annotated[
    Strength,
    PlainValidator(_check_strength),
    WithJsonSchema({"type": "string", "description": "such as `12.5 trade %`; a number without its term is refused"}),
]


# Quantity keys that several documents share, named by what they measure.
Coordinate = Annotated[float, Quantity(units.LENGTH, "-20000 ft", "20000 ft")]
Level = Annotated[float, Quantity(units.LENGTH, "-500 ft", "500 ft")]
Along = Annotated[float, Quantity(units.LENGTH, "0 ft", "3000 ft")]
RunLength = Annotated[float, Quantity(units.LENGTH, "1 ft", "3000 ft")]
WallHeight = Annotated[float, Quantity(units.LENGTH, "3 ft", "120 ft")]
Height = Annotated[float, Quantity(units.LENGTH, "0 ft", "120 ft")]
DoorWidth = Annotated[float, Quantity(units.LENGTH, "1 ft", "30 ft")]
DoorHeight = Annotated[float, Quantity(units.LENGTH, "2 ft", "30 ft")]
OpeningSize = Annotated[float, Quantity(units.LENGTH, "4 in", "200 ft")]
Projecting = Annotated[float, Quantity(units.LENGTH, "0.5 in", "40 ft")]
Width = Annotated[float, Quantity(units.LENGTH, "0.25 in", "3000 ft")]
Thickness = Annotated[float, Quantity(units.LENGTH, "0.1 in", "120 ft")]
Gap = Annotated[float, Quantity(units.LENGTH, "0 in", "40 ft")]
EyeHeight = Annotated[float, Quantity(units.LENGTH, "1 ft", "100 ft")]
Bearing = Annotated[float, Quantity(units.ANGLE, "-360 deg", "360 deg")]
Angle = Annotated[float, Quantity(units.ANGLE, "0 deg", "180 deg")]
Share = Annotated[float, Quantity(units.RATIO, "0 %", "100 %")]
Slope = Annotated[float, Quantity(units.RATIO, "0 %", "50 %")]
Speed = Annotated[float, Quantity(units.SPEED, "0 mph", "150 mph")]
AirTemperature = Annotated[float, Quantity(units.TEMPERATURE, "-40 F", "140 F")]
Pressure = Annotated[float, Quantity(units.PRESSURE, "5 psi", "10000 psi")]
Flow = Annotated[float, Quantity(units.FLOW, "0.05 gal/min", "60 gal/min")]
Bore = Annotated[float, Quantity(units.BORE, "1/16 in", "4 in")]
Volume = Annotated[float, Quantity(units.VOLUME, "0.01 gal", "10000 gal")]
Age = Annotated[float, Quantity(units.YEARS, "0 year", "200 year")]
WorkingTime = Annotated[float, Quantity(units.DURATION, "0 min", "24 h")]
Point = tuple[Coordinate, Coordinate]
Point3 = tuple[Coordinate, Coordinate, Level]


def _check_schema(value: Any) -> int:
    if isinstance(value, bool) or value not in (1, "1"):
        message = f"the schema {brief(value)} is not known here"
        raise refusal("unknown-schema", message, "1", "write `schema: 1`")
    return 1


SchemaVersion = Annotated[int, PlainValidator(_check_schema), WithJsonSchema({"const": 1})]
