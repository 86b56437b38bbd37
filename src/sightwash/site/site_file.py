"""Reading and writing the four documents: site, rig, rates, conditions.

``read_document`` returns a checked frozen dataclass or raises InputError with every problem found,
each with its line and column. JSON is the canonical form; YAML is accepted.
"""

from __future__ import annotations

import difflib
import json
from dataclasses import fields, is_dataclass
from datetime import date, time
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any, Final, Literal

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.units import Measure
from sightwash.site.checks import check_rates, check_rig, check_site
from sightwash.site.conditions import Conditions
from sightwash.site.fields import Strength
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.tree import KeyPath, Parsed, parse, read_text

Document = Site | Rig | Rates | Conditions
Kind = Literal["site", "rig", "rates", "conditions"]
KINDS: Final[dict[str, type[Document]]] = {"site": Site, "rig": Rig, "rates": Rates, "conditions": Conditions}
MOST_PROBLEMS: Final = 50


@cache
def adapter(kind: str) -> TypeAdapter[Document]:
    """Return the validator of one kind of document, built once."""
    return TypeAdapter(KINDS[kind])


def document_schema(kind: str) -> dict[str, Any]:
    """Return the JSON schema of one kind of document."""
    return adapter(kind).json_schema()


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
        details = error.errors(include_url=False, include_input=True)[:MOST_PROBLEMS]
        raise InputError([_problem(detail, parsed, found) for detail in details]) from None
    broken = [
        Problem(
            finding.code,
            finding.message,
            parsed.file,
            *_place(parsed, finding.path),
            _key(finding.path),
            finding.expected,
            finding.fix,
        )
        for finding in _cross_checks(document)
    ]
    if broken:
        raise InputError(broken[:MOST_PROBLEMS])
    return document


def _cross_checks(document: Document) -> tuple[Any, ...]:
    if isinstance(document, Site):
        return check_site(document)
    if isinstance(document, Rig):
        return check_rig(document)
    return check_rates(document) if isinstance(document, Rates) else ()


def _kind_of(parsed: Parsed, wanted: str | None) -> str:
    tree = parsed.tree
    if not isinstance(tree, dict):
        raise InputError(_root_problem(parsed, "not-a-mapping", "the document is not a mapping of keys to values"))
    kind = tree.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        raise InputError(_root_problem(parsed, "unknown-kind", f"the kind of document is {kind!r}", ("kind",)))
    if wanted is not None and kind != wanted:
        message = f"this is a {kind} document where a {wanted} document is wanted"
        raise InputError(_root_problem(parsed, "wrong-kind", message, ("kind",), f"kind: {wanted}"))
    return kind


def _root_problem(parsed: Parsed, code: str, message: str, path: KeyPath = (), expected: str | None = None) -> Problem:
    line, column = _place(parsed, path)
    expected = expected or "kind: one of " + ", ".join(KINDS)
    return Problem(code, message, parsed.file, line, column, _key(path), expected, "write `kind: site` at the top")


def _place(parsed: Parsed, path: KeyPath) -> tuple[int | None, int | None]:
    return parsed.place(path) or (None, None)


def _key(path: KeyPath) -> str | None:
    """Return a key path as a person reads it: ``walls[0].doors[1].width``."""
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path)
    return text.lstrip(".") or None


def _problem(detail: ErrorDetails, parsed: Parsed, kind: str) -> Problem:
    path = tuple(detail["loc"])
    code, message, expected, fix = _words(detail, path, kind)
    line, column = _place(parsed, path)
    return Problem(code, message, parsed.file, line, column, _key(path), expected, fix)


def _words(detail: ErrorDetails, path: KeyPath, kind: str) -> tuple[str, str, str | None, str | None]:
    """Return code, message, what was expected and what to write, for one of pydantic's errors."""
    context = detail.get("ctx", {})
    given = repr(detail["input"])
    given = given if len(given) <= 40 else f"{given[:37]}..."
    if "expected" in context and "text" in context:
        return detail["type"], context["text"], context["expected"], context["fix"] or None
    if detail["type"] == "unexpected_keyword_argument":
        allowed = _keys_at(kind, path[:-1])
        near = difflib.get_close_matches(str(path[-1]), allowed, 1)
        fix = f"write `{near[0]}`" if near else "leave it out, or put the words into `note`"
        return "unknown-key", f"the key {path[-1]!r} is not known here", "one of: " + ", ".join(allowed), fix
    if detail["type"] == "missing":
        return "missing-key", f"the key {path[-1]!r} is missing", "this key", f"add `{path[-1]}:`"
    if detail["type"] == "literal_error":
        near = difflib.get_close_matches(str(detail["input"]), context["expected"].replace("'", "").split(", "), 1, 0.4)
        fix = f"write `{near[0]}`" if near else "choose one of these"
        return "unknown-word", f"{given} is not known here", "one of: " + context["expected"].replace("'", ""), fix
    if detail["type"] in ("tuple_type", "dataclass_type"):
        what = "a list" if detail["type"] == "tuple_type" else "a mapping of keys to values"
        return "wrong-type", f"{given} is not {what}", what, f"write {what}"
    if detail["type"] in ("too_long", "too_short", "missing_argument"):
        return "wrong-length", detail["msg"], "as many values as this key holds", "count the values"
    return (
        "wrong-type",
        detail["msg"],
        None,
        f"instead of {given}, write what the schema says: `sightwash schema {kind}`",
    )


def _keys_at(kind: str, path: KeyPath) -> list[str]:
    """Return the keys that the schema allows at a path."""
    schema = document_schema(kind)
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


def plain(value: Any) -> Any:
    """Return a document as a plain tree: quantities as typed, what equals its default left out."""
    if is_dataclass(value) and not isinstance(value, (type, Strength)):
        pairs = ((field.name, getattr(value, field.name), field) for field in fields(value))
        return {
            name: plain(item)
            for name, item, field in pairs
            if item is not None and item != () and (isinstance(item, Measure) or item != field.default)
        }
    if isinstance(value, (Measure, Strength)):
        return value.typed
    if isinstance(value, tuple):
        return [plain(item) for item in value]
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return str(value) if isinstance(value, (date, Decimal)) else value


def document_text(document: Document) -> str:
    """Return a document's canonical JSON text."""
    return json.dumps(plain(document), indent=2, ensure_ascii=False) + "\n"
