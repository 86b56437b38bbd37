"""Operations: how a site changes, element by element, so that two people can work on one property.

::

    Add       a new element in a list of the site, of a wall or of a surface
    Change    keys of one element, each set to a typed value or taken out (None)
    Move      one element by two lengths: in the plan, or along and up its wall
    Remove    one element with all that is on it
    Together  several of these, all or none

``apply`` returns the changed site, read again by the one reader, so that a broken value is refused with its key, what
was expected and what to write instead. ``inverse`` returns the operation that takes one back.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, Literal

from sightwash.basis.errors import InputError, Problem
from sightwash.site.fields import brief

SITE: Final = "the site"
"""What an operation that names no element is about."""
MOST_TOGETHER: Final = 200


@dataclass(frozen=True, slots=True)
class Add:
    """A new element in the list ``to`` of the element ``on`` (None: of the site), at a place in it (None: last)."""

    to: str
    element: dict[str, Any]
    on: str | None = None
    at: int | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """Keys of one element (None: of the site itself) and what they become; ``paint.state`` reaches into a record."""

    id: str | None
    keys: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Move:
    """One element moved by two typed lengths: right and up in the plan, or along and up its wall."""

    id: str
    by: tuple[str | float | int, str | float | int]


@dataclass(frozen=True, slots=True)
class Remove:
    """One element, with all that is on it."""

    id: str


@dataclass(frozen=True, slots=True)
class Together:
    """Several operations, all of them or none."""

    operations: tuple[Operation, ...]


Operation = Add | Change | Move | Remove | Together
Word = Literal["add", "change", "move", "remove", "together"]
_KEYS: Final[dict[str, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    "add": (("to", "element"), ("on", "at")),
    "change": (("keys",), ("id",)),
    "move": (("id", "by"), ()),
    "remove": (("id",), ()),
    "together": (("operations",), ()),
}
"""The keys that each kind of operation must and may have beside ``do``."""


def operation_tree(operation: Operation) -> dict[str, Any]:
    """Return an operation as a plain tree, ready for JSON.

    >>> operation_tree(Change("front", {"height": "20 ft"}))
    {'do': 'change', 'id': 'front', 'keys': {'height': '20 ft'}}
    """
    match operation:
        case Add(to, element, on, at):
            extra = {key: value for key, value in (("on", on), ("at", at)) if value is not None}
            return {"do": "add", "to": to, "element": element, **extra}
        case Change(id, keys):
            return {"do": "change", **({} if id is None else {"id": id}), "keys": keys}
        case Move(id, by):
            return {"do": "move", "id": id, "by": list(by)}
        case Remove(id):
            return {"do": "remove", "id": id}
        case Together(operations):
            return {"do": "together", "operations": [operation_tree(each) for each in operations]}


def operation_from(tree: Any, nested: bool = False) -> Operation:
    """Return the operation that a plain tree holds; InputError says what is wrong with it."""
    if not isinstance(tree, dict):
        raise refused("not-an-operation", f"{brief(tree)} is no operation", "`do` and its keys", "write `do: change`")
    do = tree.get("do")
    if not isinstance(do, str) or do not in _KEYS or (nested and do == "together"):
        known = ", ".join(word for word in _KEYS if not (nested and word == "together"))
        raise refused("unknown-operation", f"{brief(do)} is no operation", f"do: one of {known}", None, "do")
    needed, allowed = _KEYS[do]
    for key in needed:
        if key not in tree:
            raise refused("missing-key", f"`{do}` has no {key!r}", f"the key `{key}`", f"add `{key}:`", key)
    for key in tree:
        if key != "do" and key not in needed and key not in allowed:
            listed = ", ".join((*needed, *allowed))
            raise refused("unknown-key", f"an operation `{do}` knows no {brief(key)}", f"one of: {listed}", None, key)
    return _made(do, tree)


def _made(do: str, tree: dict[str, Any]) -> Operation:
    if do == "add":
        at = tree.get("at")
        if at is not None and (isinstance(at, bool) or not isinstance(at, int) or at < 0):
            raise refused("not-a-count", f"{brief(at)} is no place in a list", "0, 1, 2 ...", "leave it out", "at")
        return Add(_word(tree, "to"), _mapping(tree, "element"), _word(tree, "on") if "on" in tree else None, at)
    if do == "change":
        return Change(_word(tree, "id") if tree.get("id") is not None else None, _mapping(tree, "keys"))
    if do == "move":
        by = tree["by"]
        if not isinstance(by, list) or len(by) != 2 or not all(_is_length(part) for part in by):
            raise refused("not-a-move", f"{brief(by)} is no move", "two lengths", "write `[3 ft, 0]`", "by")
        return Move(_word(tree, "id"), (by[0], by[1]))
    if do == "remove":
        return Remove(_word(tree, "id"))
    parts = tree["operations"]
    if not isinstance(parts, list) or not 1 <= len(parts) <= MOST_TOGETHER:
        expected = f"a list of 1 to {MOST_TOGETHER} operations"
        raise refused("not-a-list", f"{brief(parts)} is no list of operations", expected, None, "operations")
    return Together(tuple(operation_from(part, nested=True) for part in parts))


def _is_length(part: Any) -> bool:
    return isinstance(part, (str, int, float)) and not isinstance(part, bool)


def _word(tree: dict[str, Any], key: str) -> str:
    value = tree[key]
    if not isinstance(value, str) or not value:
        raise refused("not-a-text", f"{brief(value)} is not an id", "an id of the site", "write the id", key)
    return value


def _mapping(tree: dict[str, Any], key: str) -> dict[str, Any]:
    value = tree[key]
    if not isinstance(value, dict) or not value or not all(isinstance(name, str) for name in value):
        raise refused("not-a-mapping", f"{brief(value)} has no keys", "keys and values", "write what it becomes", key)
    return value


def refused(code: str, message: str, expected: str, fix: str | None = None, key: str | None = None) -> InputError:
    """Return the error of an operation that cannot be, ready to be raised."""
    return InputError(Problem(code, message, key=key, expected=expected, fix=fix))
