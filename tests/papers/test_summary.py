"""The plan as text tables: every figure is the plan's, columns line up, units are the site's own."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from sightwash.papers.summary import money, summary, table
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
KINDS = ("site", "rig", "rates", "conditions")
FOOT = 0.3048


@pytest.fixture(scope="module")
def demo() -> VisitPlan:
    documents: list[Any] = [read_document(DEMO / f"{kind}.yaml") for kind in KINDS]
    return plan_visit(*documents, date(2026, 7, 11))


@pytest.fixture(scope="module")
def text(demo: VisitPlan) -> str:
    return summary(demo)


def block(text: str, head: str) -> list[str]:
    """Return the lines under a head, up to the next empty one."""
    lines = text.splitlines()
    start = lines.index(head) + 1
    return lines[start : next((k for k in range(start, len(lines)) if not lines[k]), len(lines))]


def row(text: str, first: str) -> str:
    return next(line for line in text.splitlines() if line.startswith(first + " "))


def test_columns_are_set_under_their_heads() -> None:
    lines = table(("name", "area"), [["a", "1,200"], ["long name", "5"]], [1])
    assert lines == ["name        area", "---------  -----", "a          1,200", "long name      5"]


def test_money_has_its_thousands_and_its_currency() -> None:
    assert money(Decimal("1234567.50"), "USD") == "1,234,567.50 USD"


def test_the_first_words_are_the_price_and_the_hours(demo: VisitPlan, text: str) -> None:
    head = text.splitlines()[:2]
    assert "Larkspur Corner shops" in head[0]
    assert "Saturday 11 July 2026" in head[0]
    assert f"{demo.price.price:,.2f} USD" in head[1]
    assert f"{demo.price.total:,.2f} USD" in head[1]
    assert f"{demo.hours.labour_p50 / 3600:.1f}" in head[1]


def test_the_cost_table_adds_up_as_printed(text: str) -> None:
    """Summing the printed amounts by hand gives the printed cost, price and total."""
    lines = block(text, "WHAT DOES IT COST? (USD)")
    amounts = [
        Decimal(match[0].replace(",", "")) for line in lines[2:] if (match := re.search(r"-?[\d,]+\.\d\d$", line))
    ]
    names = [line.split("  ")[0] for line in lines[2:] if re.search(r"-?[\d,]+\.\d\d$", line)]
    cost, price, total = (names.index(name) for name in ("cost", "PRICE", "TOTAL"))
    assert sum(amounts[:cost]) == amounts[cost]
    assert amounts[cost] + amounts[cost + 1] == amounts[price]
    assert sum(amounts[price:total]) == amounts[total]


def test_the_scope_adds_up_to_the_price(demo: VisitPlan, text: str) -> None:
    lines = text.splitlines()
    start = next(k for k, line in enumerate(lines) if line.startswith("scope "))
    amounts = []
    for line in lines[start + 2 :]:
        if not line:
            break
        amounts.append(Decimal(line.rsplit(" ", 1)[1].replace(",", "")))
    assert sum(amounts) == demo.price.price


def test_every_wall_method_and_task_has_its_line(demo: VisitPlan, text: str) -> None:
    assert len(block(text, "WHO SEES IT?")) == 2 + len(demo.sight)
    assert len(block(text, "WITH WHAT? (walls)")) >= 2 + len(demo.methods)
    for task in demo.hours.tasks:
        assert any(task.words in line and task.part in line for line in block(text, "HOW LONG?"))
    for caution in demo.cautions:
        assert f"{'STOP ' if caution.stop else '  -  '}{caution.words}" in text
    for gap in demo.gaps:
        assert gap.missing in text


def test_what_stops_the_work_is_on_top_of_the_cautions(text: str) -> None:
    marks = [line.startswith("STOP") for line in block(text, "CAUTIONS")]
    assert marks == sorted(marks, reverse=True)
    assert marks[0]


def test_areas_in_square_feet(demo: VisitPlan, text: str) -> None:
    """row-east: 60 x 20 ft are 1,200 ft2; the soft wash of the pad's west side 44 x 18 = 792 ft2."""
    assert "1,200 ft2" in row(text, "row-east")
    assert "792 ft2" in row(text, "pad-west-growth")
    assert demo.units == "us"


def test_a_metric_site_is_told_in_metres(demo: VisitPlan) -> None:
    """No foot, inch, gallon or psi in the tables of a plan in metric units."""
    found = summary(replace(demo, units="metric"))
    for head in ("WHO SEES IT?", "WITH WHAT? (walls)", "WITH WHAT? (ground)"):
        for line in block(found, head):
            assert not re.search(r"\d (ft2?|in|gal|psi)\b(?! the)", line), line
    assert "111 m2" in row(found, "row-east")  # 60 x 20 ft are 111.48 m2
    assert "73.6 m2" in row(found, "pad-west")  # 44 x 18 ft are 73.58 m2


def test_a_bare_plan_still_has_words() -> None:
    """No tips, no bleach, no cleaner, no eyes: what cannot be told is left out, and nothing falls over."""
    rig = {
        "kind": "rig", "schema": 1, "id": "r", "name": "R", "machine": {"flow": "5", "pressure": "3000"},
    }  # fmt: skip
    bare: list[Any] = [
        document_from(parse(json.dumps(tree), "x"), tree["kind"])
        for tree in (
            {
                "kind": "site",
                "schema": 1,
                "id": "s",
                "name": "S",
                "walls": [{"id": "front", "length": 60, "height": 14}],
            },
            rig,
            {"kind": "rates", "schema": 1, "id": "x", "name": "X", "labour": {"wage": 20}},
            {"kind": "conditions", "schema": 1, "id": "c"},
        )
    ]
    found = summary(plan_visit(*bare, date(2026, 7, 11)))
    assert "None" not in found
    assert "nan" not in found
    assert "no bleach on the rig" in found
    assert "NOT KNOWN YET" in found
    assert "840 ft2" in found  # 60 x 14


def test_no_inner_unit_or_python_word_shows(text: str) -> None:
    for word in ("None", "True", "False", "nan", "inf ", "Decimal", "degC", "{", "}"):
        assert word not in text, word


def test_lines_have_no_blanks_at_their_ends(text: str) -> None:
    assert all(line == line.rstrip() for line in text.splitlines())
    assert text.endswith("\n")
    assert "\n\n\n" not in text
