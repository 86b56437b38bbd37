"""The plan as a document: valid JSON by its own schema, complete, rounded alike, with every source that it names.

The validator is ``jsonschema`` (independent program).
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from sightwash.basis.errors import Problem
from sightwash.basis.sources import register
from sightwash.papers.plan_document import (
    OUTPUTS,
    CheckLine,
    ErrorDocument,
    PlanDocument,
    ProblemLine,
    output_schema,
    output_text,
    plan_document,
)
from sightwash.planning.visit import plan_visit
from sightwash.site.gaps import Gap
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
KINDS = ("site", "rig", "rates", "conditions")


@pytest.fixture(scope="module")
def documents() -> list[Any]:
    return [read_document(DEMO / f"{kind}.yaml") for kind in KINDS]


@pytest.fixture(scope="module")
def planned(documents: list[Any]) -> PlanDocument:
    return plan_document(plan_visit(*documents, date(2026, 7, 11)), *documents)


@pytest.fixture(scope="module")
def tree(planned: PlanDocument) -> Any:
    return json.loads(output_text("plan", planned))


def every(tree: Any, path: str = "") -> list[tuple[str, Any]]:
    """Return every value of a tree with the way to it."""
    if isinstance(tree, dict):
        return [pair for key, value in tree.items() for pair in every(value, f"{path}.{key}")]
    if isinstance(tree, list):
        return [pair for number, value in enumerate(tree) for pair in every(value, f"{path}[{number}]")]
    return [(path, tree)]


def fits(kind: str, text: str) -> None:
    jsonschema.Draft202012Validator(output_schema(kind)).validate(json.loads(text))


def test_the_plan_fits_its_schema(planned: PlanDocument) -> None:
    fits("plan", output_text("plan", planned))


@pytest.mark.parametrize("kind", OUTPUTS)
def test_schemas_say_what_they_are(kind: str) -> None:
    schema = output_schema(kind)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["type"] == "object"
    assert "schema_version" in schema["required"]
    assert schema == output_schema(kind)


def test_a_plan_with_something_missing_does_not_fit(tree: Any) -> None:
    """The schema is no mere word: without a key, or with a text for a number, it refuses."""
    validator = jsonschema.Draft202012Validator(output_schema("plan"))
    assert not list(validator.iter_errors(tree))
    for spoilt in (
        {**tree, "plan": {key: value for key, value in tree["plan"].items() if key != "price"}},
        {**tree, "schema_version": "one"},
        {**tree, "plan": {**tree["plan"], "walls": [{**tree["plan"]["walls"][0], "net": "much"}]}},
    ):
        assert list(validator.iter_errors(spoilt))


def test_the_inputs_read_back_as_they_were(tree: Any, documents: list[Any]) -> None:
    for kind, document in zip(KINDS, documents, strict=True):
        again = document_from(parse(json.dumps(tree["inputs"][kind]), "again.json"), kind)
        assert again == document


def test_exactly_the_named_sources_are_cited(tree: Any) -> None:
    """The list of sources holds every id named anywhere in the plan, no other, and cites what the register holds."""
    named = {value for path, value in every(tree["plan"]) if ".sources[" in path or path.endswith(".source")}
    assert set(tree["sources"]) == named
    known = register()
    assert all(tree["sources"][name] == known[name].citation for name in named)
    assert len(named) > 20
    assert list(tree["sources"]) == sorted(tree["sources"])


def test_numbers_are_finite_and_of_ten_figures(tree: Any) -> None:
    numbers = [value for _, value in every(tree) if isinstance(value, float)]
    assert len(numbers) > 1000
    for number in numbers:
        assert number == float(f"{number:.10g}")
    text = json.dumps(tree)
    assert "Infinity" not in text
    assert "NaN" not in text


def test_money_is_written_as_text_to_the_cent(tree: Any) -> None:
    price = tree["plan"]["price"]
    for amount in (price["price"], price["total"], *(line["amount"] for line in price["costs"])):
        assert isinstance(amount, str)
        whole, cents = amount.split(".")
        assert whole.lstrip("-").isdigit()
        assert len(cents) == 2


def test_the_day_is_a_plain_date(tree: Any) -> None:
    assert tree["plan"]["on"] == "2026-07-11"
    assert tree["schema_version"] == tree["plan"]["schema_version"] == 1


def test_ids_are_not_doubled(tree: Any) -> None:
    """What the papers refer to has one id: methods, patches, parts, tasks, spots, mixes, cautions, lines of cost."""
    plan = tree["plan"]
    lists = {
        "methods": plan["methods"],
        "patches": [patch for wall in plan["walls"] for patch in wall["patches"]],
        "parts": [part for surface in plan["ground"] for part in surface["parts"]],
        "tasks": plan["hours"]["tasks"],
        "spots": [spot for standing in plan["standing"] for spot in standing["spots"]],
        "mixes": plan["mixes"]["mixes"],
        "cautions": plan["cautions"],
        "costs": plan["price"]["costs"],
        "strips": plan["missed"],
        "add-ons": plan["add_ons"],
        "exclusions": plan["exclusions"],
    }
    for name, rows in lists.items():
        ids = [row["id"] for row in rows]
        assert ids, name
        assert len(ids) == len(set(ids)), name


def test_two_equal_plans_are_the_same_bytes(documents: list[Any], planned: PlanDocument) -> None:
    again = plan_document(plan_visit(*documents, date(2026, 7, 11)), *documents)
    assert output_text("plan", again) == output_text("plan", planned)


def test_a_number_that_json_does_not_know_is_our_fault_and_not_written(planned: PlanDocument) -> None:
    broken = replace(planned, plan=replace(planned.plan, air=replace(planned.plan.air, wind=float("nan"))))
    with pytest.raises(ValueError, match="JSON"):
        output_text("plan", broken)


def test_one_line_of_a_check() -> None:
    problem = Problem("unknown-key", "no key is called colour", "s.yaml", 3, 1, "colour", None, "write `color`")
    gap = Gap("eyes", "public eye points", "what the public sees", "every wall is taken as seen")
    line = CheckLine(1, "s.yaml", "site", False, (ProblemLine(**problem.as_dict()),), (gap,))  # type: ignore[arg-type]
    text = output_text("check", line, None)
    assert text.count("\n") == 1
    fits("check", text)
    fits("error", output_text("error", ErrorDocument(1, "error", line.errors)))
    assert json.loads(text)["errors"][0] == problem.as_dict()
