"""Reading and writing the documents: site, rig, rates, conditions, firm.

``read_document`` returns a checked frozen dataclass or raises InputError with every problem found,
each with its line and column. JSON is the canonical form; YAML is accepted.
"""

from __future__ import annotations

import difflib
import json
from copy import deepcopy
from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from decimal import Decimal
from functools import cache, partial
from pathlib import Path
from typing import Any, Final, Literal, TypeVar, get_args, get_type_hints

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.units import Measure
from sightwash.site.checks import Finding, check_conditions, check_rates, check_rig, check_site
from sightwash.site.conditions import Conditions
from sightwash.site.fields import Quantity, Record, Strength, brief
from sightwash.site.firm import Firm, check_firm
from sightwash.site.model import Site
from sightwash.site.problem_words import Words, words_for
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.tree import KeyPath, Parsed, key_text, parse, read_text

Document = Site | Rig | Rates | Conditions | Firm
Kind = Literal["site", "rig", "rates", "conditions", "firm"]
KINDS: Final[dict[str, type[Document]]] = {
    "site": Site,
    "rig": Rig,
    "rates": Rates,
    "conditions": Conditions,
    "firm": Firm,
}
MOST_PROBLEMS: Final = 50
AnyRecord = TypeVar("AnyRecord", bound=Record)


@cache
def adapter(kind: str) -> TypeAdapter[Document]:
    """Return the validator of one kind of document, built once."""
    return TypeAdapter(KINDS[kind])


@cache
def _schema(kind: str) -> dict[str, Any]:
    return adapter(kind).json_schema()


def document_schema(kind: str) -> dict[str, Any]:
    """Return the JSON schema of one kind of document."""
    return deepcopy(_schema(kind))


def read_document(path: Path | str, kind: str | None = None) -> Document:
    """Read a document from a file; ``kind`` refuses another kind than the wanted one."""
    return document_from(parse(read_text(Path(path)), str(path)), kind)


def read_site(path: Path | str) -> Site:
    """Read a site file."""
    document = read_document(path, "site")
    assert isinstance(document, Site)
    return document


def document_from(parsed: Parsed, kind: str | None = None) -> Document:
    """Return the document that a parsed text holds, or raise InputError with all that is wrong."""
    found = _kind_of(parsed, kind)
    tree = parsed.tree
    assert isinstance(tree, dict)
    system = tree.get("units")
    try:
        document = adapter(found).validate_python(
            tree, context={"system": system if system in ("us", "metric") else "us"}
        )
    except ValidationError as error:
        raise InputError(_refusals(error, parsed, _schema(found))) from None
    broken = [
        _problem(parsed, finding.path, Words(finding.code, finding.message, finding.expected, finding.fix))
        for finding in _cross_checks(document)[:MOST_PROBLEMS]
    ]
    if broken:
        raise InputError(broken)
    return document


def _cross_checks(document: Document) -> tuple[Finding, ...]:
    if isinstance(document, Site):
        return check_site(document)
    if isinstance(document, Rig):
        return check_rig(document)
    if isinstance(document, Firm):
        return check_firm(document)
    return check_rates(document) if isinstance(document, Rates) else check_conditions(document)


def _kind_of(parsed: Parsed, wanted: str | None) -> str:
    tree = parsed.tree
    expected = "kind: one of " + ", ".join(KINDS)
    if not isinstance(tree, dict):
        message = f"{brief(tree)} is no document"
        raise InputError(_problem(parsed, (), Words("not-a-mapping", message, "keys and values", "begin with `kind:`")))
    if "kind" not in tree:
        words = Words("missing-key", "the document does not say its kind", expected, f"add `kind: {wanted or 'site'}`")
        raise InputError(_problem(parsed, ("kind",), words))
    kind = tree["kind"]
    if not isinstance(kind, str) or kind not in KINDS:
        near = difflib.get_close_matches(kind[:40].lower(), KINDS, 1) if isinstance(kind, str) else []
        message = f"{brief(kind)} is no kind of document"
        words = Words("unknown-kind", message, expected, f"write `kind: {near[0] if near else wanted or 'site'}`")
        raise InputError(_problem(parsed, ("kind",), words))
    if wanted is not None and kind != wanted:
        message = f"this is a {kind} document where a {wanted} document is wanted"
        words = Words("wrong-kind", message, f"kind: {wanted}", f"give the {wanted} document in its place")
        raise InputError(_problem(parsed, ("kind",), words))
    return kind


@cache
def _record_adapter(record: type) -> TypeAdapter[Any]:
    return TypeAdapter(record)


def record_from(parsed: Parsed, record: type[AnyRecord], system: str = "us") -> AnyRecord:
    """Return a record of another kind than the documents, read and refused in the same manner."""
    kind: type = record
    reader = _record_adapter(kind)
    try:
        found: AnyRecord = reader.validate_python(parsed.tree, context={"system": system})
    except ValidationError as error:
        raise InputError(_refusals(error, parsed, reader.json_schema())) from None
    return found


def _refusals(error: ValidationError, parsed: Parsed, schema: dict[str, Any]) -> list[Problem]:
    return [_refused(detail, parsed, schema) for detail in error.errors()[:MOST_PROBLEMS]]


def _refused(detail: ErrorDetails, parsed: Parsed, schema: dict[str, Any]) -> Problem:
    path = tuple(detail["loc"])
    allowed = partial(_keys_at, schema)
    return _problem(parsed, path, words_for(detail["type"], detail["input"], detail.get("ctx", {}), path, allowed))


def _problem(parsed: Parsed, path: KeyPath, words: Words) -> Problem:
    line, column = parsed.place(path) or (None, None)
    return Problem(words.code, words.message, parsed.file, line, column, key_text(path), words.expected, words.fix)


def _keys_at(schema: dict[str, Any], path: KeyPath) -> list[str]:
    """Return the keys that a schema allows at a path."""
    node: dict[str, Any] = schema
    for part in path:
        node = _resolved(node, schema)
        node = node.get("items", {}) if isinstance(part, int) else node.get("properties", {}).get(part, {})
    return list(_resolved(node, schema).get("properties", {}))


def _resolved(node: dict[str, Any], schema: dict[str, Any]) -> dict[str, Any]:
    for option in node.get("anyOf", (node,)):
        if "$ref" in option:
            found: dict[str, Any] = schema["$defs"][option["$ref"].rsplit("/", 1)[-1]]
            return found
    return node


def plain(value: Any, unit: str | None = None) -> Any:
    """Return a document as a plain tree: quantities as typed, what equals its default left out.

    A quantity that nobody typed is written with its inner unit, so that it reads back as itself.
    """
    if is_dataclass(value) and not isinstance(value, (type, Strength)):
        inner = _inner_units(type(value))
        pairs = ((field.name, getattr(value, field.name), field) for field in fields(value))
        return {
            name: plain(item, inner.get(name))
            for name, item, field in pairs
            if item is not None and item != () and (isinstance(item, Measure) or item != field.default)
        }
    if isinstance(value, (Measure, Strength)):
        return value.typed
    if isinstance(value, tuple):
        return [plain(item, unit) for item in value]
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, datetime):
        return f"{value:%Y-%m-%d %H:%M}"
    if unit is not None and isinstance(value, (int, float)):
        return f"{value!r} {'m/m' if unit == '1' else unit}"
    return str(value) if isinstance(value, (date, Decimal)) else value


@cache
def _inner_units(record: type) -> dict[str, str]:
    """Return the inner unit of each key of a record that holds quantities."""
    hints = get_type_hints(record, include_extras=True)
    return {name: found.kind.inner for name, hint in hints.items() if (found := _quantity_in(hint)) is not None}


def _quantity_in(hint: Any) -> Quantity | None:
    for part in (*getattr(hint, "__metadata__", ()), *get_args(hint)):
        found = part if isinstance(part, Quantity) else _quantity_in(part)
        if found is not None:
            return found
    return None


def document_text(document: Document) -> str:
    """Return a document's canonical JSON text."""
    return json.dumps(plain(document), indent=2, ensure_ascii=False) + "\n"
