"""The docstring reader, held against docstrings whose parts are written out here and against numpydoc's own layout.

Layout of sections and entries: numpydoc, "Style guide", sections Parameters, Returns, Notes (published).
"""

from __future__ import annotations

import inspect
from dataclasses import dataclass
from typing import Generic, NamedTuple, TypeVar

import pytest

from sightwash.planning.sum_docs import ParameterDoc, ReturnDoc, docstring_sections, read_docstring, result_fields


class Point(NamedTuple):
    flow: float
    pressure: float


def working_point(bore: float, *, coefficient: float = 0.95, name: str | None = None) -> Point:
    """Flow and pressure at which
    pump and nozzle agree.

    ``q = C A sqrt(2 p / rho)``

    The curve is taken as straight.

    ``A = pi d^2 / 4
      + 0``

    Parameters
    ----------
    bore : float
        Bore of the nozzle, measured
        across the outlet [m]
    coefficient : float, optional
        Share of the ideal flow [-].
    name : str or None
        Label without a unit

    Returns
    -------
    flow : float
        Flow [L/s]
    pressure : float
        Pressure at the nozzle [Pa]

    Raises
    ------
    OutOfRange
        If the bore is zero.

    Notes
    -----
    The coefficient depends on shape.

    Range: bore from 0.5 to 5 mm;
    water only.

    Measured at 20 degC.

    References
    ----------
    first-source
    second-source

    Examples
    --------
    >>> 1 + 1
    2
    """
    del name
    return Point(bore * coefficient, bore)


@dataclass(frozen=True)
class Band:
    low: float
    high: float


@dataclass(frozen=True)
class NamedBand:
    low: float
    name: str


def band() -> Band:
    """Ends of a band.

    Returns
    -------
    Band
        Ends [mg/L]
    """
    return Band(1.0, 2.0)


def mixed_units() -> Band:
    """Two things.

    Returns
    -------
    Band
        Lower end [m] and upper end [s]
    """
    return Band(1.0, 2.0)


def mixed_types() -> NamedBand:
    """Two things.

    Returns
    -------
    NamedBand
        Lower end and name [m]
    """
    return NamedBand(1.0, "a")


Number = TypeVar("Number", float, complex)


class Angles(NamedTuple, Generic[Number]):
    zenith: Number
    azimuth: Number


def angles(time: Number) -> Angles[Number]:
    """Two angles.

    Returns
    -------
    Angles
        Angles [deg]
    """
    return Angles(time, time)


def undocumented(width):
    return width


def test_summary_and_formulas_are_joined_to_single_lines() -> None:
    doc = read_docstring(working_point)
    assert doc.summary == "Flow and pressure at which pump and nozzle agree."
    assert doc.formula == "q = C A sqrt(2 p / rho)\nA = pi d^2 / 4 + 0"


def test_parameters_carry_unit_and_default() -> None:
    assert read_docstring(working_point).parameters == (
        ParameterDoc("bore", "Bore of the nozzle, measured across the outlet", "m", True, None),
        ParameterDoc("coefficient", "Share of the ideal flow", "-", False, 0.95),
        ParameterDoc("name", "Label without a unit", "", False, None),
    )


def test_several_returned_values_keep_their_names() -> None:
    assert read_docstring(working_point).returns == (
        ReturnDoc("flow", "Flow", "L/s"),
        ReturnDoc("pressure", "Pressure at the nozzle", "Pa"),
    )


def test_one_entry_stands_for_values_of_one_type_and_unit() -> None:
    assert read_docstring(band).returns == (ReturnDoc("low", "Ends", "mg/L"), ReturnDoc("high", "Ends", "mg/L"))
    assert [entry.name for entry in read_docstring(angles).returns] == ["zenith", "azimuth"]


def test_one_entry_does_not_stand_for_several_units_or_types() -> None:
    assert [entry.name for entry in read_docstring(mixed_units).returns] == [""]
    assert [entry.name for entry in read_docstring(mixed_types).returns] == [""]


def test_result_fields_are_those_of_tuple_or_dataclass() -> None:
    assert result_fields(working_point) == {"flow": float, "pressure": float}
    assert result_fields(mixed_types) == {"low": float, "name": str}
    assert list(result_fields(angles)) == ["zenith", "azimuth"]
    assert result_fields(undocumented) == {}


def test_range_ends_with_its_paragraph_and_sources_are_listed() -> None:
    doc = read_docstring(working_point)
    assert doc.range_text == "bore from 0.5 to 5 mm; water only."
    assert doc.sources == ("first-source", "second-source")


def test_sections_hold_every_title_once() -> None:
    titles = ["", "Parameters", "Returns", "Raises", "Notes", "References", "Examples"]
    assert list(docstring_sections(working_point)) == titles


def test_documented_names_need_not_be_arguments() -> None:
    def renamed(height: float) -> float:
        """Same height.

        Parameters
        ----------
        width : float
            Old name [m]
        """
        return height

    assert read_docstring(renamed).parameters == (ParameterDoc("width", "Old name", "m", True, None),)


def test_function_without_docstring_reads_as_empty() -> None:
    doc = read_docstring(undocumented)
    assert (doc.summary, doc.formula, doc.parameters, doc.returns, doc.range_text, doc.sources) == (
        "",
        "",
        (),
        (),
        "",
        (),
    )


@pytest.mark.parametrize("function", [inspect.cleandoc, read_docstring])
def test_plain_docstrings_have_one_section_without_title(function: object) -> None:
    assert callable(function)
    assert list(docstring_sections(function)) == [""]
