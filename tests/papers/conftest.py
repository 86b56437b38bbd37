"""Plans for the tests of papers, and the text of a PDF as ``pypdf`` (independent program) reads it."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pypdf
import pytest

from sightwash.papers.plan_document import PlanDocument, plan_document
from sightwash.planning.night import plan_night
from sightwash.planning.visit import plan_visit
from sightwash.site.firm import Firm
from sightwash.site.site_file import document_from, plain, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
KINDS = ("site", "rig", "rates", "conditions")
ON = date(2026, 7, 11)
FRONT: dict[str, Any] = {
    "id": "front", "name": "Front", "start": [0, 0], "end": [60, 0], "height": 14, "material": "stucco",
    "paint": {"state": "sound", "before_1978": False},
    "doors": [{"id": "door", "left": 20, "width": 3, "height": 7, "threshold": "0.5 in", "tenant": "Tea & Co"}],
    "projections": [
        {"id": "roof-edge", "kind": "canopy", "left": 0, "width": 60, "bottom": 9, "height": 1, "depth": 5},
    ],
}  # fmt: skip
SMALL: dict[str, dict[str, Any]] = {
    "site": {
        "id": "place", "name": "Place", "walls": [FRONT],
        "place": {"time_zone": "America/Chicago", "latitude": 38.7, "longitude": -91.4},
        "surfaces": [{"id": "walk", "name": "Walk", "along": "front", "width": 8, "material": "concrete"}],
        "eyes": [{"id": "road", "name": "Mill Road", "kind": "road", "path": [[-100, -150], [160, -150]]}],
        "local": {"discharge": "To the clean-out, agreed in writing."},
    },
    "rig": {
        "id": "rig", "name": "Rig", "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi"},
        "hoses": [{"id": "hose", "length": "150 ft", "bore": "3/8 in"}],
        "tips": [
            {"id": "soap", "size": 40, "fan": 0, "use": "soap"},
            {"id": "rinse", "size": 20, "fan": 25, "use": "rinse"},
        ],
        "surface_cleaners": [{"id": "disc", "diameter": "20 in"}],
        "tanks": [
            {"id": "batch", "volume": "50 gal", "holds": "mix"},
            {"id": "water", "volume": "300 gal", "holds": "water"},
        ],
        "bleach": {"strength": "12.5 trade %", "dated": "2026-07-01"}, "crew": {"people": 2},
    },
    "rates": {
        "id": "rates", "name": "Rates", "labour": {"wage": "24.00"},
        "taxes": [{"name": "Sales tax", "rate": "7.225 %"}],
    },
    "conditions": {"id": "night", "date": "2026-07-11", "start": "20:00", "end": "06:00"},
}  # fmt: skip
"""One wall with a canopy, a walk before it and a road: all that a night needs, planned in a moment."""


def read(kind: str, tree: dict[str, Any]) -> Any:
    """Return a document from a tree, through the reader as a user's own would be."""
    return document_from(parse(json.dumps({"kind": kind, "schema": 1, **tree}), f"{kind}.json"), kind)


def planned(trees: dict[str, dict[str, Any]], night: bool = False) -> PlanDocument:
    """Return the plan of four trees, with its night if wanted."""
    documents = [read(kind, trees[kind]) for kind in KINDS]
    plan = plan_visit(*documents, ON)
    return plan_document(plan, *documents, plan_night(*documents, plan) if night else None)


@pytest.fixture(scope="session")
def plan_of() -> Callable[..., PlanDocument]:
    """Return a maker of plans: keywords replace keys of the small site, ``kinds`` those of other documents."""

    def make(night: bool = False, kinds: dict[str, dict[str, Any]] | None = None, **site: Any) -> PlanDocument:
        trees = {kind: {**tree, **(kinds or {}).get(kind, {})} for kind, tree in SMALL.items()}
        return planned({**trees, "site": {**trees["site"], **site}}, night)

    return make


@pytest.fixture(scope="session")
def demo_document() -> PlanDocument:
    """Return the plan of the demo, without its night."""
    trees = {kind: plain(read_document(DEMO / f"{kind}.yaml", kind)) for kind in KINDS}
    return planned(trees)


@pytest.fixture(scope="session")
def night_document() -> PlanDocument:
    """Return the plan of the small site with its night."""
    return planned(SMALL, night=True)


@pytest.fixture(scope="session")
def demo_firm() -> Firm:
    """Return the invented firm."""
    firm = read_document(DEMO / "firm.yaml", "firm")
    assert isinstance(firm, Firm)
    return firm


@lru_cache(maxsize=64)
def pages_of(pdf: bytes) -> tuple[str, ...]:
    """Return the text of each page of a PDF with its white space drawn together."""
    return tuple(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def words_of(pdf: bytes) -> str:
    """Return the text of a PDF with its white space drawn together, page feet left in."""
    return " ".join(pages_of(pdf))


@pytest.fixture(scope="session")
def pages() -> Callable[[bytes], tuple[str, ...]]:
    """Return a reader of the text of each page of a PDF."""
    return pages_of


@pytest.fixture(scope="session")
def text_of() -> Callable[[bytes], str]:
    """Return a reader of the text of a PDF."""
    return words_of


@pytest.fixture(scope="session")
def holds() -> Callable[[bytes, str], bool]:
    """Return whether a PDF holds some words, however they are broken into lines."""

    @lru_cache(maxsize=64)
    def drawn_together(pdf: bytes) -> str:
        return re.sub(r"\s+", "", words_of(pdf))

    def found(pdf: bytes, words: str) -> bool:
        return re.sub(r"\s+", "", words) in drawn_together(pdf)

    return found
