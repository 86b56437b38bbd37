"""Every public science function says what it computes, in which units, how far it holds and where it comes from.

Form: numpydoc, "Style guide" (published), with the habits that ``sightwash.planning.sum_docs`` names. Units are
those of ``sightwash.basis.units``, sources those of the register; examples run as doctests.
"""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import pytest

import sightwash.science
from sightwash.basis.sources import register
from sightwash.basis.units import convert
from sightwash.planning.sum_docs import SumDoc, read_docstring, result_fields

Function = Callable[..., Any]

NOT_AT_THE_DOORS = ("J", "V", "dB", "mol", "sr")


def public_functions() -> Iterator[Function]:
    """Yield the functions that the public science modules define and do not keep to themselves."""
    for info in pkgutil.walk_packages(sightwash.science.__path__, "sightwash.science."):
        if "._" in info.name:
            continue
        module = importlib.import_module(info.name)
        for name, thing in vars(module).items():
            plain = inspect.unwrap(thing) if callable(thing) else thing
            if inspect.isfunction(plain) and plain.__module__ == info.name and not name.startswith("_"):
                yield plain


def known_unit(unit: str) -> bool:
    """Tell whether a unit is ``-`` or one that ``basis.units`` can convert, apart from those that no door takes."""
    if unit == "-":
        return True
    parts = "/".join("1" if part in NOT_AT_THE_DOORS else part for part in unit.split("/"))
    try:
        convert(1.0, parts, parts)
    except (KeyError, ValueError):
        return False
    return True


def defects(function: Function) -> list[str]:
    """Return everything that is wrong with a docstring, in words."""
    doc = read_docstring(function)
    found = [f"{part} is missing" for part, text in missing_parts(doc) if not text]
    documented, arguments = [entry.name for entry in doc.parameters], list(inspect.signature(function).parameters)
    if documented != arguments:
        found.append(f"Parameters are {documented}, the arguments {arguments}")
    returned, fields = [entry.name for entry in doc.returns], list(result_fields(function)) or [""]
    if returned != fields:
        found.append(f"Returns lists {returned}, not {fields}")
    for entry in (*doc.parameters, *doc.returns):
        if not entry.text:
            found.append(f"{entry.name or 'the result'} is not described")
        if not known_unit(entry.unit):
            found.append(f"{entry.name or 'the result'}: the unit [{entry.unit}] is not known")
    found += [
        f"source {source_id!r} is not in the register" for source_id in doc.sources if source_id not in register()
    ]
    if not doctest.DocTestParser().get_examples(inspect.getdoc(function) or ""):
        found.append("there is no example")
    return found


def missing_parts(doc: SumDoc) -> list[tuple[str, object]]:
    """Return the parts that every docstring has, with what was found for each."""
    return [
        ("the summary", doc.summary),
        ("Returns", doc.returns),
        ("the sentence 'Range: ...' in Notes", doc.range_text),
        ("References", doc.sources),
    ]


@pytest.mark.parametrize("function", [pytest.param(f, id=f"{f.__module__}.{f.__name__}") for f in public_functions()])
def test_docstring_is_complete(function: Function) -> None:
    found = defects(function)
    assert not found, "\n".join(found)


class Pair(NamedTuple):
    first: float
    second: float


def careless(height: float, depth: float) -> Pair:
    """Something or other.

    Parameters
    ----------
    depth : float
        Depth [furlong]
    height : float
        Height

    Returns
    -------
    Pair
        First [m] and second [m]

    Notes
    -----
    No limits given.

    References
    ----------
    no-such-source
    """
    return Pair(height, depth)


def test_careless_docstring_is_refused_for_each_of_its_faults() -> None:
    assert defects(careless) == [
        "the sentence 'Range: ...' in Notes is missing",
        "Parameters are ['depth', 'height'], the arguments ['height', 'depth']",
        "Returns lists [''], not ['first', 'second']",
        "depth: the unit [furlong] is not known",
        "height: the unit [] is not known",
        "source 'no-such-source' is not in the register",
        "there is no example",
    ]


@pytest.mark.parametrize(
    ("unit", "known"),
    [("-", True), ("kg/m2/s", True), ("L/mol/s", True), ("degC", True), ("1/s", True), ("", False), ("furlong", False)],
)
def test_units_are_known_or_not(unit: str, known: bool) -> None:
    assert known_unit(unit) is known


def test_silent_function_is_refused() -> None:
    def silent(width: float) -> float:
        return width

    assert "the summary is missing" in defects(silent)
    assert "References is missing" in defects(silent)
