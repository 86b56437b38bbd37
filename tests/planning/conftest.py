"""Small documents for the planners' tests, read through the reader as a user's own would be."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.site_file import Document, document_from, plain, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parent.parent.parent / "examples" / "demo"
VISIT = date(2026, 7, 11)
SMALLEST: dict[str, dict[str, Any]] = {
    "site": {"id": "place", "name": "Place", "walls": [{"id": "front", "start": [0, 0], "end": [60, 0], "height": 16}]},
    "rig": {"id": "rig", "name": "Rig", "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi"}},
    "rates": {"id": "rates", "name": "Rates", "labour": {"wage": "24.00"}},
    "conditions": {"id": "night"},
}


class Maker:
    """Makes documents from a smallest one and what a test adds to it, and plans visits with them."""

    def __call__(self, kind: str, **more: Any) -> Any:
        tree = {"kind": kind, "schema": 1, **SMALLEST[kind], **more}
        return document_from(parse(json.dumps(tree), f"{kind}.json"), kind)

    def visit(self, on: date = VISIT, **documents: dict[str, Any]) -> VisitPlan:
        """Return the plan of a visit; a keyword gives what a document holds beyond the smallest."""
        return plan_visit(*(self(kind, **documents.get(kind, {})) for kind in SMALLEST), on)  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def make() -> Maker:
    return Maker()


@pytest.fixture(scope="session")
def demo() -> dict[str, Document]:
    return {kind: read_document(DEMO / f"{kind}.yaml") for kind in SMALLEST}


@pytest.fixture(scope="session")
def demo_tree(demo: dict[str, Document]) -> Callable[[str], dict[str, Any]]:
    """Return a demo document as a fresh tree that a test may change."""

    def tree(kind: str) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(json.dumps(plain(demo[kind])))
        return {key: value for key, value in found.items() if key not in ("kind", "schema")}

    return tree


@pytest.fixture(scope="session")
def demo_plan(demo: dict[str, Document]) -> VisitPlan:
    return plan_visit(*demo.values(), VISIT)  # type: ignore[arg-type]
