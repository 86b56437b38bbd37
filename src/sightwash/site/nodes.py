"""The plain tree of a document's text, and how a text is refused."""

from __future__ import annotations

import re
from typing import Final, NoReturn

from sightwash.basis.errors import InputError, Problem

DEEPEST: Final = 40

Tree = dict[str, "Tree"] | list["Tree"] | str | int | float | bool | None
KeyPath = tuple[str | int, ...]
Place = tuple[int, int]
Places = dict[KeyPath, Place]

UNWRITABLE: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def refuse(
    file: str, code: str, message: str, expected: str, fix: str | None = None, at: Place | None = None
) -> NoReturn:
    """Raise the InputError of a text that is no document, with its place where one is known."""
    line, column = at or (None, None)
    raise InputError(Problem(code, message, file, line, column, None, expected, fix))


def refuse_depth(file: str, at: Place | None) -> NoReturn:
    """Refuse a text that nests deeper than any document does."""
    refuse(file, "too-deep", f"more than {DEEPEST} levels lie in one another", "a document of this kind", None, at)


def refuse_doubled(file: str, key: str, at: Place) -> NoReturn:
    """Refuse a mapping that holds a key twice."""
    shown = key if len(key) <= 40 else f"{key[:37]}..."
    refuse(file, "doubled-key", f"the key {shown!r} stands twice", "each key once", "keep one of them", at)


def place_of(text: str, position: int) -> Place:
    """Return line and column, from 1, of a position in a text."""
    return text.count("\n", 0, position) + 1, position - text.rfind("\n", 0, position)
