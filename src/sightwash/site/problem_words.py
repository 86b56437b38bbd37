"""What is said to a person about each value that a document's schema refuses."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from sightwash.site.fields import brief
from sightwash.site.nodes import KeyPath

_SHAPES = {"tuple_type": "a list", "dataclass_type": "a mapping of keys to values", "bool_type": "true or false",
           "bool_parsing": "true or false"}  # fmt: skip


class Words(NamedTuple):
    """The parts of a problem that are words."""

    code: str
    message: str
    expected: str | None
    fix: str | None


def words_for(
    kind: str, value: object, context: Mapping[str, Any], path: KeyPath, allowed: Callable[[KeyPath], list[str]]
) -> Words:
    """Return what to say for one refused value.

    ``kind`` and ``context`` are the validator's, ``allowed`` returns the keys that may stand at a path.
    """
    given = brief(value)
    if "expected" in context and "text" in context:
        return Words(kind, context["text"], context["expected"], context["fix"] or None)
    if kind == "unexpected_keyword_argument":
        return _unknown_key(str(path[-1]), allowed(path[:-1]))
    if kind in ("missing", "too_long", "too_short"):
        if kind == "missing" and isinstance(path[-1], str):
            return Words("missing-key", f"the key {path[-1]!r} is missing", "this key", f"add `{path[-1]}:`")
        most = context.get("max_length")
        expected = f"{most} values" if most else "one value more"
        return Words("wrong-length", _length_message(kind, given), expected, "write as many as belong here")
    if kind == "literal_error":
        return _unknown_word(value, given, context["expected"])
    shape = _SHAPES.get(kind, "what the schema says")
    fix = "leave the key out" if value is None else f"write {shape}"
    return Words("wrong-type", f"{given} is not {shape}", shape, fix)


def _length_message(kind: str, given: str) -> str:
    return "a value is missing" if kind == "missing" else f"{given} is too {'long' if kind == 'too_long' else 'short'}"


def _unknown_key(key: str, allowed: list[str]) -> Words:
    near = difflib.get_close_matches(key[:64].lower(), allowed, 1)
    fix = f"write `{near[0]}`" if near else "leave it out, or put the words into `note`"
    return Words("unknown-key", f"the key {brief(key)} is not known here", "one of: " + ", ".join(allowed), fix)


def _unknown_word(value: object, given: str, expected: str) -> Words:
    words = expected.replace("'", "").replace(" or ", ", ").split(", ")
    near = difflib.get_close_matches(str(value)[:64].lower() if isinstance(value, str) else "", words, 1, 0.4)
    fix = f"write `{near[0]}`" if near else "choose one of these"
    return Words("unknown-word", f"{given} is not known here", "one of: " + ", ".join(words), fix)
