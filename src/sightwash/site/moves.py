"""Moving an element: which of its keys change and to what, exactly, in words that read back as the same length."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from sightwash.basis.errors import InputError
from sightwash.basis.units import FOOT, LENGTH, feet_and_inches, parse_quantity
from sightwash.site.element_tree import Found, Node, element, elements
from sightwash.site.operations import Change, Move, refused

PLAN_KEYS: Final = ("at", "start", "end", "outline", "holes", "path")
"""The keys that say where an element lies in the plan."""
ALONG_KEYS: Final = ("left",)
UP_KEYS: Final = ("bottom", "top")
EXACT: Final = 1e-9


def move_changes(tree: Node, move: Move) -> tuple[Change, ...]:
    """Return a move as changes of keys; a building takes its walls with it."""
    found = element(tree, move.id)
    system = str(tree.get("units", "us"))
    right, up = (_length(part, system) for part in move.by)
    if found.carrier is not tree:
        return (Change(move.id, _on_wall(found, right, up, system)),)
    moved = [found]
    if found.list_name == "buildings":
        moved += [wall for wall in elements(tree) if wall.node.get("building") == move.id and "start" in wall.node]
    return tuple(Change(str(each.node["id"]), _in_plan(each, (right, up), system)) for each in moved)


def _length(part: Any, system: str) -> float:
    try:
        return float(parse_quantity(part, LENGTH, system))
    except InputError as error:
        problem = error.problems[0]
        raise refused(problem.code, problem.message, problem.expected or "a length", problem.fix, "by") from None


def _in_plan(found: Found, by: tuple[float, float], system: str) -> dict[str, Any]:
    keys: dict[str, Any] = {key: _shifted(found.node[key], by, system) for key in PLAN_KEYS if key in found.node}
    if not keys:
        words = f"{found.node['id']} has no place of its own in the plan"
        raise refused("no-place", words, "an element with a place", "give its place first", "id")
    return keys


def _shifted(value: Any, by: tuple[float, float], system: str) -> Any:
    """Return a point, or a list of points however deep, moved; a third coordinate stays."""
    if not isinstance(value, list):
        raise refused("no-place", "a place is missing", "a point", "give its place first", "id")
    if value and all(isinstance(part, list) for part in value):
        return [_shifted(part, by, system) for part in value]
    moved = [_moved(part, step, system) for part, step in zip(value, by, strict=False)]
    return [*moved, *value[len(moved) :]]


def _on_wall(found: Found, along: float, up: float, system: str) -> dict[str, Any]:
    node = found.node
    keys: dict[str, Any] = {}
    if along:
        keys.update((key, _moved(node[key], along, system)) for key in ALONG_KEYS if key in node)
    if up:
        names = ("height",) if found.list_name == "fixtures" else UP_KEYS
        wanted = {name: node.get(name, 0 if found.list_name == "doors" else None) for name in names if name != "top"}
        wanted["top"] = node.get("top")
        keys.update((key, _moved(value, up, system)) for key, value in wanted.items() if value is not None)
    if not keys:
        words = f"{node['id']} has nothing that moves so"
        raise refused("no-place", words, "an element with a place on the wall", "change its keys instead", "id")
    return keys


def _moved(typed: Any, by: float, system: str) -> Any:
    return length_text(float(parse_quantity(typed, LENGTH, system)) + by, system) if by else typed


def length_text(metres: float, system: str) -> str:
    """Return a length as a person types it, exactly: feet and inches where they are whole, else a decimal number.

    >>> length_text(3.81, "us"), length_text(1.0, "us"), length_text(1.25, "metric")
    ('12 ft 6 in', '3.280839895013 ft', '1.25 m')
    """
    if system != "us":
        return f"{_decimal(metres)} m"
    words = feet_and_inches(metres, 16)
    if abs(float(parse_quantity(words, LENGTH)) - metres) <= EXACT:
        return words
    return f"{_decimal(metres / FOOT)} ft"


def _decimal(number: float) -> str:
    return f"{number:.12f}".rstrip("0").rstrip(".") or "0"


def touched_by_move() -> Iterator[str]:
    """Yield the keys that a move may change."""
    yield from (*PLAN_KEYS, *ALONG_KEYS, *UP_KEYS, "height")
