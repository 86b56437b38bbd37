"""A site as a plain tree whose elements are found by their ids: what operations work on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from difflib import get_close_matches
from functools import cache
from typing import Any, Final, get_args, get_type_hints

from sightwash.site.fields import brief
from sightwash.site.model import Site
from sightwash.site.operations import SITE, refused

Node = dict[str, Any]
FIXED: Final = ("id",)
FIXED_ON_SITE: Final = ("kind", "schema", "id", "units")
"""Keys that never change: ids are for good, and bare numbers mean what they meant in their units."""


@dataclass(frozen=True, slots=True)
class Found:
    """An element in a tree: itself, the list that holds it, its place there, and the element that carries it."""

    node: Node
    record: type
    list_name: str
    siblings: list[Any]
    place: int
    carrier: Node

    @property
    def ids(self) -> set[str]:
        """The ids of the element and of all that is on it."""
        return {str(found.node.get("id")) for found in elements(self.node, self.record)} | {str(self.node.get("id"))}


@cache
def element_lists(record: type) -> dict[str, type]:
    """Return the lists of elements with ids that a record carries, each with the record of its elements.

    >>> sorted(element_lists(Site))[:3]
    ['buildings', 'drains', 'eyes']
    """
    found: dict[str, type] = {}
    for name, hint in get_type_hints(record).items():
        item = next(iter(get_args(hint)), None)
        if isinstance(item, type) and is_dataclass(item) and any(field.name == "id" for field in fields(item)):
            found[name] = item
    return found


def elements(node: Node, record: type = Site) -> Iterator[Found]:
    """Yield every element under a node, carriers before what they carry."""
    for name, item in element_lists(record).items():
        siblings = node.get(name)
        for place, child in enumerate(siblings if isinstance(siblings, list) else ()):
            if isinstance(child, dict):
                yield Found(child, item, name, siblings or [], place, node)
                yield from elements(child, item)


def element(tree: Node, id: str) -> Found:
    """Return the element with an id; InputError names ids that are near."""
    known: list[str] = []
    for found in elements(tree):
        if found.node.get("id") == id:
            return found
        known.append(str(found.node.get("id")))
    near = get_close_matches(id[:64], known, 1)
    fix = f"write `{near[0]}`" if near else "it may have been removed: read the site again"
    raise refused("unknown-id", f"the site has no element {brief(id)}", "the id of an element", fix, "id")


def carrier(tree: Node, on: str | None) -> tuple[Node, type]:
    """Return the node and the record that carry a list: the site, or one of its elements."""
    if on is None:
        return tree, Site
    found = element(tree, on)
    return found.node, found.record


def list_for(tree: Node, on: str | None, name: str) -> list[Any]:
    """Return the list of elements of a carrier, made where it is not there yet."""
    node, record = carrier(tree, on)
    known = element_lists(record)
    if name not in known:
        listed = ", ".join(known) or "none"
        near = get_close_matches(name[:64], known, 1)
        fix = f"write `{near[0]}`" if near else None
        raise refused("unknown-list", f"{on or SITE} has no list {brief(name)}", f"one of: {listed}", fix, "to")
    siblings: list[Any] = node.setdefault(name, [])
    return siblings


def steps_of(key: str) -> tuple[str, ...]:
    """Return the steps of a dotted key.

    >>> steps_of("paint.state")
    ('paint', 'state')
    """
    return tuple(key.split("."))


def value_at(node: Node, key: str) -> Any:
    """Return the value at a dotted key; None where there is none."""
    value: Any = node
    for step in steps_of(key):
        value = value.get(step) if isinstance(value, dict) else None
    return value


def first_missing(node: Node, key: str) -> str | None:
    """Return the shortest beginning of a dotted key that is not there; None where all of it is."""
    steps = steps_of(key)
    value: Any = node
    for count, step in enumerate(steps, 1):
        if not isinstance(value, dict) or step not in value:
            return ".".join(steps[:count])
        value = value[step]
    return None


def set_at(node: Node, key: str, value: Any) -> None:
    """Set or, with None, take out the value at a dotted key."""
    *way, last = steps_of(key)
    for step in way:
        inner = node.setdefault(step, {}) if value is not None else node.get(step)
        if inner is None:
            return
        if not isinstance(inner, dict):
            raise refused("unknown-key", f"{brief(step)} holds no keys", "a key of the element", None, key)
        node = inner
    if value is None:
        node.pop(last, None)
    else:
        node[last] = value
