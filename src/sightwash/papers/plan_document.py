"""A visit plan as a document: one JSON object with its inputs, the plan and the sources it names."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final, NoReturn

from pydantic import TypeAdapter, ValidationError

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.sources import source
from sightwash.book.learning import Lesson
from sightwash.planning.night import NightPlan
from sightwash.planning.tailgate import SumAnswer
from sightwash.planning.visit import VisitPlan
from sightwash.site.conditions import Conditions
from sightwash.site.gaps import Gap
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import Document, document_from, plain
from sightwash.site.tree import Parsed, key_text, read_text

SCHEMA_VERSION: Final = 1
DIGITS: Final = 10
"""Significant figures of a number in a document."""
LARGEST_PLAN: Final = 200_000_000
_AGAIN: Final = "plan the visit again with `sightwash plan ... --out`, and give its plan.json"


@dataclass(frozen=True, slots=True)
class PlanInputs:
    """The four documents that a plan was made from, in canonical form."""

    site: dict[str, Any]
    rig: dict[str, Any]
    rates: dict[str, Any]
    conditions: dict[str, Any]


@dataclass(frozen=True, slots=True)
class PlanDocument:
    """A plan with what it was made from and the sources it rests on, by id."""

    schema_version: int
    kind: str
    inputs: PlanInputs
    plan: VisitPlan
    night: NightPlan | None
    sources: dict[str, str]


@dataclass(frozen=True, slots=True)
class ProblemLine:
    """One error in the form of the outside contract."""

    code: str
    message: str
    file: str | None
    line: int | None
    column: int | None
    key: str | None
    expected: str | None
    fix: str | None


@dataclass(frozen=True, slots=True)
class CheckLine:
    """What ``check --json`` prints for one file."""

    schema_version: int
    file: str
    kind: str | None
    ok: bool
    errors: tuple[ProblemLine, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True, slots=True)
class ErrorDocument:
    """What any command prints with ``--json`` when it fails."""

    schema_version: int
    kind: str
    errors: tuple[ProblemLine, ...]


@dataclass(frozen=True, slots=True)
class SumLine:
    """One sum that can be worked out, as ``work-out --list`` shows it."""

    name: str
    group: str
    summary: str
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SumList:
    """What ``work-out --list --json`` prints."""

    schema_version: int
    sums: tuple[SumLine, ...]


@dataclass(frozen=True, slots=True)
class LessonDocument:
    """What ``learn --json`` prints: the lesson, and the same with each visit left out if that was asked for."""

    schema_version: int
    lesson: Lesson
    without: dict[str, Lesson]


OUTPUTS: Final[dict[str, type[Any]]] = {
    "plan": PlanDocument,
    "check": CheckLine,
    "error": ErrorDocument,
    "sum": SumAnswer,
    "sums": SumList,
    "lesson": LessonDocument,
}


@cache
def output_adapter(kind: str) -> TypeAdapter[Any]:
    """Return the writer of one kind of output, built once."""
    return TypeAdapter(OUTPUTS[kind])


def output_schema(kind: str) -> dict[str, Any]:
    """Return the JSON schema of one kind of output."""
    return output_adapter(kind).json_schema(mode="serialization")


def output_text(kind: str, value: Any, indent: int | None = 1) -> str:
    """Return an output as JSON text; the same value gives the same text."""
    tree = _rounded(output_adapter(kind).dump_python(value, mode="json"))
    return json.dumps(tree, indent=indent, ensure_ascii=False, allow_nan=False) + "\n"


def _rounded(tree: Any) -> Any:
    """Return a tree with its floats at DIGITS figures, so that the last bits of a machine's sums do not show."""
    if isinstance(tree, float):
        return float(f"{tree:.{DIGITS}g}")
    if isinstance(tree, dict):
        return {key: _rounded(value) for key, value in tree.items()}
    return [_rounded(value) for value in tree] if isinstance(tree, list) else tree


def plan_document(
    plan: VisitPlan,
    site: Document,
    rig: Document,
    rates: Document,
    conditions: Document,
    night: NightPlan | None = None,
) -> PlanDocument:
    """Return a plan with its inputs, its night if it was planned, and the citations of every source it names."""
    inputs = PlanInputs(*(plain(document) for document in (site, rig, rates, conditions)))
    names = sorted(_source_ids(plan) | (_source_ids(night) if night is not None else set()))
    return PlanDocument(SCHEMA_VERSION, "plan", inputs, plan, night, {name: source(name).citation for name in names})


def _source_ids(value: Any) -> set[str]:
    """Return the ids in every field called ``source`` or ``sources`` of a plan's records."""
    if is_dataclass(value):
        found: set[str] = set()
        for field in fields(value):
            item = getattr(value, field.name)
            if field.name == "sources":
                found.update(item)
            elif field.name == "source":
                found.add(item)
            else:
                found |= _source_ids(item)
        return found
    return set().union(*map(_source_ids, value)) if isinstance(value, tuple) else set()


@dataclass(frozen=True, slots=True)
class PlannedFrom:
    """The documents that a plan was made from, read again."""

    site: Site
    rig: Rig
    rates: Rates
    conditions: Conditions


def read_plan(path: Path) -> PlanDocument:
    """Return the plan that ``plan --out`` or ``plan --json`` wrote; InputError for a broken or foreign file."""
    text = read_text(path, LARGEST_PLAN)
    try:
        tree = json.loads(text)
    except (ValueError, RecursionError) as error:
        line, column = getattr(error, "lineno", None), getattr(error, "colno", None)
        problem = Problem("not-json", "the file is no JSON document", str(path), line, column, None, "a plan", _AGAIN)
        raise InputError(problem) from None
    if not isinstance(tree, dict) or tree.get("kind") != "plan":
        _no_plan(path, "wrong-kind", "this is no plan of a visit", None)
    if tree.get("schema_version") != SCHEMA_VERSION:
        _no_plan(path, "unknown-schema", "the plan was written by another version", "schema_version")
    try:
        document: PlanDocument = output_adapter("plan").validate_json(text)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        _no_plan(path, "broken-plan", f"the plan is not whole here: {first['msg']}", key_text(first["loc"]))
    return document


def _no_plan(path: Path, code: str, message: str, key: str | None) -> NoReturn:
    raise InputError(Problem(code, message, str(path), key=key, expected="a plan of this version", fix=_AGAIN))


def planned_from(document: PlanDocument) -> PlannedFrom:
    """Return the site, rig, rates and conditions that a plan carries."""
    site, rig, rates, conditions = (
        document_from(Parsed(f"{kind} of the plan", getattr(document.inputs, kind), dict), kind)
        for kind in ("site", "rig", "rates", "conditions")
    )
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    return PlannedFrom(site, rig, rates, conditions)
