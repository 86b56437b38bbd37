"""Single sums at the tailgate: every science function that takes plain numbers, with units at the door.

A sum is found, asked for and explained by its docstring (see ``sum_docs``): units, range and source come
back with the answer, and every constant is an input with a default.
"""

from __future__ import annotations

import difflib
import importlib
import inspect
import math
import pkgutil
import re
import warnings
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from sightwash import science
from sightwash.basis import units
from sightwash.basis.errors import InputError, OutOfRange, OutsidePublishedRange, Problem
from sightwash.basis.sources import source
from sightwash.basis.units import QuantityKind, parse_quantity, show
from sightwash.planning.sum_docs import ParameterDoc, SumDoc, read_docstring, result_fields

STRENGTH: Final = QuantityKind("strength", "mg/L", "mg/L", "mg/L")
EVAPORATION: Final = QuantityKind("evaporation", "kg/m2/s", "lb/ft2/h", "kg/m2/h")
_KINDS: Final[dict[str, QuantityKind]] = {
    "m": units.LENGTH,
    "m2": units.AREA,
    "L": units.VOLUME,
    "Pa": units.PRESSURE,
    "L/s": units.FLOW,
    "degC": units.TEMPERATURE,
    "K": units.TEMPERATURE_RISE,
    "m/s": units.SPEED,
    "s": units.DURATION,
    "deg": units.ANGLE,
    "kg": units.MASS,
    "N": units.FORCE,
    "m2/L": units.COVERAGE,
    "m/L": QuantityKind("length a volume", "m/L", "ft/gal", "m/L"),
    "mg/L": STRENGTH,
    "kg/m2/s": EVAPORATION,
}
_SMALL: Final = re.compile(r"bore|diameter|film|thickness|line_width|roughness|drop|gap|edge_gap|head_width|letter")
_LONG_TIME: Final = re.compile(r"age|half_life|time_until|durations")
_SCALARS: Final = (float, int, str, bool)


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum: its name at the door, its group, its function and its docstring."""

    name: str
    group: str
    function: Callable[..., Any]
    doc: SumDoc


@dataclass(frozen=True, slots=True)
class SumValue:
    """One input or result: inner value and unit, as a person reads it, and whether it is a default."""

    name: str
    text: str
    value: float | str | bool | tuple[float | str, ...]
    unit: str
    shown: str
    default: bool


@dataclass(frozen=True, slots=True)
class SumAnswer:
    """A worked sum with everything needed to check it by hand."""

    schema_version: int
    sum: str
    summary: str
    formula: str
    inputs: tuple[SumValue, ...]
    results: tuple[SumValue, ...]
    range: str
    sources: tuple[str, ...]
    warnings: tuple[str, ...]


@cache
def sums() -> dict[str, Sum]:
    """Return every sum by name, in the order of modules and of their functions."""
    found: dict[str, Sum] = {}
    for info in pkgutil.iter_modules(science.__path__):
        if info.name.startswith("_"):
            continue
        module = importlib.import_module(f"{science.__name__}.{info.name}")
        for name, function in vars(module).items():
            public = (
                inspect.isfunction(function) and not name.startswith("_") and function.__module__ == module.__name__
            )
            if public and _askable(function):
                found[name.replace("_", "-")] = Sum(
                    name.replace("_", "-"), info.name.replace("_", " "), function, read_docstring(function)
                )
    return found


def _askable(function: Callable[..., Any]) -> bool:
    """Return whether all arguments are plain numbers, words, or lists of numbers, and numbers come back."""
    arguments = inspect.signature(function).parameters.values()
    if not arguments:
        return False
    texts = [str(argument.annotation) for argument in arguments]
    back = str(inspect.signature(function).return_annotation)
    plain = all(_plain_annotation(text) for text in texts)
    shapes = (
        "Polygon", "Frame", "Facing", "Geometry", "Shapes", "NDArray", "Floats", "Array", "ReachSplit", "Mapping",
        "dict",
    )  # fmt: skip
    arrays = any("ndarray" in str(kind) for kind in result_fields(function).values())
    return plain and not arrays and not any(word in back for word in shapes)


def _plain_annotation(text: str) -> bool:
    return text in ("float", "int", "str", "bool", "Real", "Series", "float | None") or text.startswith(
        "Sequence[float]"
    )


def find_sum(name: str) -> Sum:
    """Return a sum by name; InputError names the nearest ones."""
    if name in sums():
        return sums()[name]
    near = difflib.get_close_matches(name, sums(), 3, 0.4)
    fix = f"write `{near[0]}`" if near else "see `sightwash work-out --list`"
    raise InputError(
        Problem("unknown-sum", f"no sum is called {name!r}", key=name, expected=", ".join(near) or None, fix=fix)
    )


def work_out(name: str, given: Mapping[str, str], system: str = "us") -> SumAnswer:
    """Return the answer of a sum for inputs typed with or without units.

    Raises InputError for an unknown sum, an unknown, missing or unreadable input, or one out of range.
    """
    wanted = find_sum(name)
    keys = {parameter.name: parameter for parameter in wanted.doc.parameters}
    typed = {key.replace("-", "_"): text for key, text in given.items()}
    problems = [*_unknown(typed, keys, name), *_missing(typed, keys, name)]
    if problems:
        raise InputError(problems)
    annotations = inspect.signature(wanted.function).parameters
    values = {key: _read(keys[key], str(annotations[key].annotation), text, system) for key, text in typed.items()}
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("error", RuntimeWarning)
        warnings.simplefilter("always", OutsidePublishedRange)
        result = _call(wanted, values, system)
    inputs = tuple(
        _value(p.name, p.text, values.get(p.name, p.default), p.unit, system, p.name not in values)
        for p in wanted.doc.parameters
    )
    return SumAnswer(
        1,
        name,
        wanted.doc.summary,
        wanted.doc.formula,
        inputs,
        tuple(_results(wanted.doc, result, system)),
        wanted.doc.range_text,
        tuple(source(name).citation for name in wanted.doc.sources),
        tuple(str(warning.message) for warning in caught),
    )


def _call(wanted: Sum, values: dict[str, Any], system: str) -> Any:
    try:
        return wanted.function(**values)
    except OutOfRange as error:
        problem = error.problems[0]
        unit = next((p.unit for p in wanted.doc.parameters if p.name == error.parameter), "")
        kind = kind_of(error.parameter, unit)
        shown = (
            show(float(error.value), kind, system) if kind and isinstance(error.value, (int, float)) else error.value
        )
        message = f"{shown} is outside the range of this sum"
        raise InputError(
            Problem(
                problem.code,
                message,
                key=error.parameter,
                expected=in_door_units(problem.expected or "", kind, system) or None,
                fix=wanted.doc.range_text,
            )
        ) from None
    except (ArithmeticError, ValueError, RuntimeWarning):
        raise _too_extreme() from None


def _too_extreme() -> InputError:
    message = "these inputs are too large or too small for this sum"
    return InputError(Problem("out-of-range", message, fix="see what it says of its range"))


def in_door_units(text: str, kind: QuantityKind | None, system: str) -> str:
    """Return words about a range with their inner figures turned into the door's units.

    >>> in_door_units("above 1.8288 m", units.LENGTH, "us")
    'above 6 ft'
    """
    if kind is None or kind is STRENGTH:
        return text
    figure = re.compile(rf"(-?[0-9][0-9.,]*(?:e[+-]?[0-9]+)?) {re.escape(kind.inner)}(?![a-zA-Z0-9/])")
    return figure.sub(lambda match: _shown_short(float(match[1].replace(",", "")), kind, system), text)


def _shown_short(value: float, kind: QuantityKind, system: str) -> str:
    return f"{units.in_unit(value, kind, system):.6g} {kind.unit(system)}"


def shown_default(parameter: ParameterDoc, system: str) -> str:
    """Return an input's default as a person reads it."""
    kind = kind_of(parameter.name, parameter.unit)
    if kind is None or not isinstance(parameter.default, (int, float)) or isinstance(parameter.default, bool):
        unit = "" if parameter.unit in ("-", "") else f" {parameter.unit}"
        return f"{parameter.default}{unit}"
    return _shown_short(float(parameter.default), kind, system)


def _unknown(typed: Mapping[str, str], keys: Mapping[str, ParameterDoc], name: str) -> Iterator[Problem]:
    for key in typed:
        if key not in keys:
            near = difflib.get_close_matches(key, keys, 1, 0.3)
            fix = f"write `{near[0]}=`" if near else f"see `sightwash work-out {name}`"
            yield Problem(
                "unknown-key", f"{name} has no input {key!r}", key=key, expected="one of: " + ", ".join(keys), fix=fix
            )


def _missing(typed: Mapping[str, str], keys: Mapping[str, ParameterDoc], name: str) -> Iterator[Problem]:
    for key, parameter in keys.items():
        if parameter.required and key not in typed:
            kind = kind_of(key, parameter.unit)
            unit = f" in {kind.us} (or {kind.metric})" if kind else ""
            yield Problem(
                "missing-key",
                f"{name} needs {key}: {parameter.text}",
                key=key,
                expected=f"a value{unit}",
                fix=f"add `{key}=...`",
            )


def kind_of(name: str, unit: str) -> QuantityKind | None:
    """Return the kind of quantity that an argument is, by its inner unit and its name; None for pure numbers."""
    if unit == "m" and _SMALL.search(name):
        return units.BORE
    if unit == "s" and _LONG_TIME.search(name):
        return units.DAYS
    return _KINDS.get(unit)


def _read(parameter: ParameterDoc, annotation: str, text: str, system: str) -> Any:
    try:
        if annotation == "str":
            return text
        if annotation == "bool":
            return {"yes": True, "true": True, "no": False, "false": False}[text.strip().lower()]
        if annotation.startswith("Sequence") or annotation == "Series":
            return tuple(_number(parameter, part, system) for part in text.split(","))
        if annotation == "int":
            return _whole(text)
        return _number(parameter, text, system)
    except InputError as error:
        first = error.problems[0]
        raise InputError(
            Problem(first.code, first.message, key=parameter.name, expected=first.expected, fix=first.fix)
        ) from None
    except (ValueError, KeyError):
        raise InputError(
            Problem(
                "wrong-type",
                f"{text!r} cannot be read",
                key=parameter.name,
                expected=annotation,
                fix="write a value such as `2`",
            )
        ) from None


def _whole(text: str) -> int:
    if not re.fullmatch(r"\s*[+-]?[0-9]{1,9}\s*", text):
        raise ValueError(text)
    return int(text)


def _number(parameter: ParameterDoc, text: str, system: str) -> float:
    kind = kind_of(parameter.name, parameter.unit)
    if kind is STRENGTH:
        return _strength(text)
    if kind is None and "%" in text:
        in_percent = parameter.unit == "%" or parameter.name == "percent"
        return float(parse_quantity(text, units.RATIO, system)) * (100.0 if in_percent else 1.0)
    return float(parse_quantity(text, kind or _PURE, system))


_PURE: Final = QuantityKind("number", "1", "1", "1")


def _strength(text: str) -> float:
    match = re.fullmatch(r"\s*([\d.]+)\s*(trade %|g/L|mg/L|ppm)\s*", text)
    if match is None:
        raise InputError(
            Problem(
                "strength-without-term",
                f"{text!r} does not say in which term",
                expected="a number and trade %, g/L, mg/L or ppm",
                fix="write `12.5 trade %` or `125 g/L`",
            )
        )
    return float(match[1]) * {"trade %": 10_000.0, "g/L": 1000.0, "mg/L": 1.0, "ppm": 1.0}[match[2]]


def _results(doc: SumDoc, result: Any, system: str) -> Iterator[SumValue]:
    if len(doc.returns) == 1 and not doc.returns[0].name:
        only = doc.returns[0]
        names = getattr(type(result), "_fields", getattr(type(result), "__match_args__", ()))
        if names:
            yield from (_value(n, n.replace("_", " "), getattr(result, n), only.unit, system, False) for n in names)
            return
        yield _value(doc_name(only.text), only.text, result, only.unit, system, False)
        return
    for entry in doc.returns:
        value = getattr(result, entry.name)
        parts = getattr(type(value[0]), "_fields", ()) if isinstance(value, tuple) and value else ()
        for part in parts:
            column = tuple(getattr(row, part) for row in value)
            yield _value(part, part.replace("_", " "), column, entry.unit, system, False)
        if not parts:
            yield _value(entry.name, entry.text, value, entry.unit, system, False)


def doc_name(text: str) -> str:
    """Return a result's key from its words: its first words, in snake case."""
    return "_".join(re.findall(r"[a-z]+", text.lower())[:4]) or "result"


def _value(name: str, text: str, value: Any, unit: str, system: str, default: bool) -> SumValue:
    kind = kind_of(name, unit)
    if isinstance(value, (tuple, list)):
        shown = ", ".join(v if isinstance(v, str) else _shown(float(v), kind, unit, system) for v in value)
        return SumValue(name, text, tuple(_plain(v) for v in value), unit, shown, default)
    if isinstance(value, (str, bool)) or value is None:
        return SumValue(name, text, "" if value is None else value, unit, "-" if value is None else str(value), default)
    return SumValue(name, text, _plain(value), unit, _shown(float(value), kind, unit, system), default)


def _plain(value: Any) -> float | str:
    """Return a number that JSON can hold: an infinite one is written as a word."""
    if isinstance(value, str):
        return value
    if math.isnan(value):
        raise _too_extreme()
    return float(value) if math.isfinite(value) else "infinite" if value > 0 else "minus infinite"


def _shown(value: float, kind: QuantityKind | None, unit: str, system: str) -> str:
    if not math.isfinite(value):
        return str(_plain(value))
    if kind is units.DAYS and abs(value) < 86_400.0:
        kind = units.DURATION
    if kind is STRENGTH and value >= 1000.0:
        return f"{value / 10_000:.4g} trade %"
    if kind is None:
        return f"{value:.6g}" + ("" if unit in ("-", "", "1") else f" {unit}")
    if kind is units.LENGTH and system == "us":
        feet = value / units.FOOT
        words = units.feet_and_inches(value) if abs(feet) >= 1 else f"{value / units.INCH:.3g} in"
        return f"{feet:.4g} ft ({words})"
    return show(value, kind, system, 4)
