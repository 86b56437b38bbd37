"""What a science function says about itself, read from its docstring.

The docstrings of ``sightwash.science`` follow numpydoc with a few habits of our own: the formula stands in
double backticks below the summary, each description ends with its unit in square brackets, the notes hold a
sentence that begins with ``Range:``, and the references are ids of the register of sources, one a line.

A result of several values lists each as ``name : type``. When all are of one type and one unit, a single entry
with the name of their class stands for all of them.
"""

from __future__ import annotations

import dataclasses
import inspect
import itertools
import re
import typing
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

_UNDERLINE = re.compile(r"-{3,}\s*$")
_FORMULA = re.compile(r"``(.+?)``", re.DOTALL)
_UNIT = re.compile(r"\s*\[([^\[\]]+)\]\.?$")
_RANGE = re.compile(r"Range:\s*(.+?)(?:\n\s*\n|\Z)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class ParameterDoc:
    """One argument of a sum. ``unit`` is ``-`` for a pure number and empty when the docstring gives none."""

    name: str
    text: str
    unit: str
    required: bool
    default: Any


@dataclass(frozen=True, slots=True)
class ReturnDoc:
    """One value that comes back; ``name`` is the field of a result of several values, else empty."""

    name: str
    text: str
    unit: str


@dataclass(frozen=True, slots=True)
class SumDoc:
    """A science function in words: enough to ask for its arguments and to show where the answer comes from."""

    summary: str
    formula: str
    parameters: tuple[ParameterDoc, ...]
    returns: tuple[ReturnDoc, ...]
    range_text: str
    sources: tuple[str, ...]


def read_docstring(function: Callable[..., Any]) -> SumDoc:
    """Return what a function's docstring says, with its defaults; parts that are not there come back empty.

    The arguments are listed as the docstring has them, so that a difference from the code can be seen.

    >>> def area(width: float, height: float = 2.5) -> float:
    ...     '''Area of a plain wall.
    ...
    ...     ``A = w h``
    ...
    ...     Parameters
    ...     ----------
    ...     width : float
    ...         Width along the ground [m]
    ...     height : float
    ...         Height [m]
    ...
    ...     Returns
    ...     -------
    ...     float
    ...         Area [m2]
    ...     '''
    ...     return width * height
    >>> sum_doc = read_docstring(area)
    >>> sum_doc.summary, sum_doc.formula, sum_doc.returns
    ('Area of a plain wall.', 'A = w h', (ReturnDoc(name='', text='Area', unit='m2'),))
    >>> [(entry.name, entry.unit, entry.default) for entry in sum_doc.parameters if not entry.required]
    [('height', 'm', 2.5)]
    """
    sections = docstring_sections(function)
    opening = sections[""]
    summary, _, explanation = opening.partition("\n\n")
    limits = _RANGE.search(sections.get("Notes", ""))
    return SumDoc(
        summary=_one_line(summary),
        formula="\n".join(_one_line(formula) for formula in _formulas(explanation)),
        parameters=_parameters(function, sections.get("Parameters", "")),
        returns=_returns(sections.get("Returns", ""), result_fields(function)),
        range_text=_one_line(limits[1]) if limits else "",
        sources=tuple(line.strip() for line in sections.get("References", "").splitlines() if line.strip()),
    )


def docstring_sections(function: Callable[..., Any]) -> dict[str, str]:
    """Return the sections of a docstring by title; what stands before the first title has the title ``""``."""
    lines = (inspect.getdoc(function) or "").splitlines()
    starts = [i for i in range(len(lines) - 1) if lines[i].strip() and _UNDERLINE.match(lines[i + 1])]
    ends = [*starts, len(lines)]
    sections = {"": "\n".join(lines[: ends[0]]).strip()}
    for start, end in itertools.pairwise(ends):
        sections[lines[start].strip()] = "\n".join(lines[start + 2 : end]).strip("\n")
    return sections


def _formulas(explanation: str) -> list[str]:
    """Return the paragraphs that begin with a formula in double backticks, without the backticks."""
    paragraphs = (paragraph.strip() for paragraph in re.split(r"\n\s*\n", explanation))
    return [
        paragraph.replace("``", "").removesuffix("::").rstrip() for paragraph in paragraphs if _FORMULA.match(paragraph)
    ]


def _entries(section: str) -> list[tuple[str, str]]:
    """Return (headline, description) of each entry; an entry's description is indented below its headline."""
    entries: list[tuple[str, list[str]]] = []
    for line in section.splitlines():
        if not line.strip():
            continue
        if line[0].isspace() and entries:
            entries[-1][1].append(line.strip())
        else:
            entries.append((line.strip(), []))
    return [(headline, " ".join(description)) for headline, description in entries]


def _parameters(function: Callable[..., Any], section: str) -> tuple[ParameterDoc, ...]:
    arguments = inspect.signature(function).parameters
    found = []
    for headline, description in _entries(section):
        name = headline.partition(":")[0].strip()
        argument = arguments.get(name)
        required = argument is None or argument.default is inspect.Parameter.empty
        text, unit = _text_and_unit(description)
        default = None if argument is None or required else argument.default
        found.append(ParameterDoc(name, text, unit, required, default))
    return tuple(found)


def result_fields(function: Callable[..., Any]) -> dict[str, Any]:
    """Return names and types of the values in a function's result; nothing for a single value.

    >>> result_fields(read_docstring)["formula"]
    <class 'str'>
    >>> result_fields(docstring_sections)
    {}
    """
    hint = typing.get_type_hints(function).get("return")
    result = typing.get_origin(hint) or hint
    if dataclasses.is_dataclass(result):
        names = [field.name for field in dataclasses.fields(result)]
    else:
        names = list(getattr(result, "_fields", ()))
    types = typing.get_type_hints(result) if names else {}
    return {name: types[name] for name in names}


def _returns(section: str, fields: dict[str, Any]) -> tuple[ReturnDoc, ...]:
    found = []
    for headline, description in _entries(section):
        name, colon, _ = headline.partition(" : ")
        text, unit = _text_and_unit(description)
        found.append(ReturnDoc(name if colon else "", text, unit))
    alike = len({str(kind) for kind in fields.values()}) == 1
    if alike and len(found) == 1 and not found[0].name and not re.search(r"\[[^\[\]]+\]", found[0].text):
        return tuple(dataclasses.replace(found[0], name=name) for name in fields)
    return tuple(found)


def _text_and_unit(description: str) -> tuple[str, str]:
    """Split ``Width along the ground [m]`` into its words and its unit."""
    match = _UNIT.search(description)
    return (description[: match.start()], match[1]) if match else (description, "")


def _one_line(text: str) -> str:
    return " ".join(text.split())
