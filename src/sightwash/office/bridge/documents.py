"""The firm's records as documents of the core, read by the core's own reader, and back as text."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any, Final, TypeVar

from sightwash.basis.errors import InputError, Problem
from sightwash.office.models import Firm, FirmDocument, Property
from sightwash.site.conditions import Conditions
from sightwash.site.firm import Firm as FirmParticulars
from sightwash.site.gaps import document_gaps
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import Document, document_from, document_text
from sightwash.site.tree import parse

STARTING: Final = Path(__file__).resolve().parent.parent / "starting"
"""The documents that a new firm begins with: invented figures, each to be replaced."""
ONE = TypeVar("ONE", Site, Rig, Rates, Conditions, FirmParticulars)
_KINDS: Final = {Site: "site", Rig: "rig", Rates: "rates", Conditions: "conditions", FirmParticulars: "firm"}


def document(text: str, kind: type[ONE], file: str = "") -> ONE:
    """Return the document that a text holds; raises InputError with all that is wrong.

    Texts that were read before are not read again: documents are frozen.
    """
    found = _read(text, _KINDS[kind], file or _KINDS[kind])
    assert isinstance(found, kind)
    return found


@lru_cache(maxsize=256)
def _read(text: str, kind: str, file: str) -> Document:
    return document_from(parse(text, file), kind)


def site_of(record: Property) -> Site:
    """Return the site of a property."""
    return document(record.site, Site, "site")


def firm_rig(firm: Firm) -> Rig:
    """Return the firm's rig."""
    return document(firm_text(firm, FirmDocument.Kind.RIG), Rig)


def firm_rates(firm: Firm) -> Rates:
    """Return the firm's rates."""
    return document(firm_text(firm, FirmDocument.Kind.RATES), Rates)


def firm_particulars(firm: Firm) -> FirmParticulars:
    """Return what stands at the head of the firm's papers."""
    return document(firm_text(firm, FirmDocument.Kind.FIRM), FirmParticulars)


def firm_text(firm: Firm, kind: str) -> str:
    """Return the text of a document of the firm; the starting one where the firm has none."""
    kept = FirmDocument.objects.of(firm).filter(kind=kind).values_list("text", flat=True).first()
    return kept if kept is not None else starting_text(kind)


@lru_cache(maxsize=8)
def starting_text(kind: str) -> str:
    """Return a starting document as canonical JSON."""
    return document_text(document_from(parse((STARTING / f"{kind}.yaml").read_text(encoding="utf-8"), kind), kind))


def canonical(text: str, kind: type[ONE], file: str = "") -> str:
    """Return a text as canonical JSON; raises InputError with all that is wrong."""
    return document_text(document(text, kind, file))


def canonical_kind(text: str, kind: str, file: str = "") -> str:
    """Return a text as canonical JSON of the kind that a word names."""
    return document_text(_read(text, kind, file or kind))


def value_at(text: str, path: str) -> str:
    """Return what a canonical text holds at a path such as ``hoses.0.length``, as typed; empty where nothing stands."""
    node: Any = json.loads(text)
    for part in path.split("."):
        if isinstance(node, list):
            node = node[int(part)] if int(part) < len(node) else None
        else:
            node = node.get(part) if isinstance(node, dict) else None
    return "" if node is None else str(node)


def with_values(text: str, kind: str, values: Mapping[str, str]) -> str:
    """Return a canonical text with values put at their paths; an empty one takes the key away.

    Raises InputError with all that is wrong, each problem with its key (see ``problem_path``).
    """
    tree: Any = json.loads(text)
    for path, value in values.items():
        node, parts = tree, path.split(".")
        for part, following in pairwise(parts):
            if isinstance(node, list):
                if int(part) >= len(node):
                    node.append({})
                node = node[int(part)]
            else:
                node = node.setdefault(part, [] if following.isdigit() else {})
        if value.strip():
            node[parts[-1]] = value.strip()
        else:
            node.pop(parts[-1], None)
    return canonical_kind(json.dumps(tree, ensure_ascii=False), kind)


def problem_path(problem: Problem) -> str:
    """Return the path of a problem as ``value_at`` takes it."""
    return (problem.key or "").replace("[", ".").replace("]", "")


def field_problems(error: InputError) -> dict[str, list[str]]:
    """Return what is wrong by key, for the words beside each field; the key of the whole document is empty."""
    found: dict[str, list[str]] = {}
    for problem in error.problems:
        found.setdefault(problem.key or "", []).append(problem_words(problem))
    return found


def problem_words(problem: Problem) -> str:
    """Return a problem as a sentence for a person who looks at a form, not at a file."""
    words = problem.message
    if problem.expected:
        words += f"; expected {problem.expected}"
    if problem.fix:
        words += f"; {problem.fix}"
    return words[:1].upper() + words[1:] + "."


def document_gap_words(text: str, kind: str) -> list[str]:
    """Return what a document of the firm leaves open, as sentences."""
    return [
        f"{gap.missing}: changes {gap.changes}; taken instead: {gap.taken}."
        for gap in document_gaps(_read(text, kind, kind))
    ]
