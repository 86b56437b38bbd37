"""What an operation does to a site, and what takes it back."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from sightwash.basis.errors import InputError, Problem
from sightwash.site.element_tree import (
    FIXED,
    FIXED_ON_SITE,
    Node,
    carrier,
    element,
    element_lists,
    first_missing,
    list_for,
    set_at,
    steps_of,
    value_at,
)
from sightwash.site.model import Site
from sightwash.site.moves import move_changes
from sightwash.site.operations import SITE, Add, Change, Move, Operation, Remove, Together, refused
from sightwash.site.site_file import document_from, plain
from sightwash.site.tree import Parsed


def apply(site: Site, operation: Operation) -> Site:
    """Return the changed site; InputError says what is wrong, each key as ``element.key``, and nothing is changed."""
    tree: Node = plain(site)
    _done(tree, operation)
    return _read(tree)


def inverse(site: Site, operation: Operation) -> Operation:
    """Return the operation that takes ``operation`` back once it has been done to ``site``."""
    return _inverse(plain(site), operation)


def _read(tree: Node) -> Site:
    try:
        site = document_from(Parsed("the site", tree, dict), "site")
    except InputError as error:
        raise InputError([_about_element(tree, problem) for problem in error.problems]) from None
    assert isinstance(site, Site)
    return site


def _about_element(tree: Node, problem: Problem) -> Problem:
    """Return a problem with its key said from the element that it is about, without a file and a line."""
    key, node = problem.key or "", tree
    record: type = Site
    name = None
    while (step := _element_step(key, node, record)) is not None:
        key, node, record = step
        name = str(node.get("id"))
    whole = ".".join(part for part in (name, key) if part) or None
    return Problem(problem.code, problem.message, key=whole, expected=problem.expected, fix=problem.fix)


def _element_step(key: str, node: Node, record: type) -> tuple[str, Node, type] | None:
    """Return what is left of ``walls[0].height`` beyond the element that it begins with; None if with none."""
    name, bracket, rest = key.partition("[")
    number, _, rest = rest.partition("]")
    lists = element_lists(record)
    if not bracket or name not in lists or not number.isdigit():
        return None
    siblings = node.get(name)
    if not isinstance(siblings, list) or int(number) >= len(siblings) or not isinstance(siblings[int(number)], dict):
        return None
    return rest.removeprefix("."), siblings[int(number)], lists[name]


def _done(tree: Node, operation: Operation) -> None:
    """Do an operation to a tree."""
    match operation:
        case Add(to, new, on, at):
            siblings = list_for(tree, on, to)
            siblings.insert(len(siblings) if at is None else at, deepcopy(new))
        case Change(id, keys):
            _change(tree, id, keys)
        case Move():
            for change in move_changes(tree, operation):
                _done(tree, change)
        case Remove(id):
            found = element(tree, id)
            del found.siblings[found.place]
        case Together(operations):
            for each in operations:
                _done(tree, each)


def _change(tree: Node, id: str | None, keys: dict[str, Any]) -> None:
    node, record = carrier(tree, id)
    lists = element_lists(record)
    fixed = FIXED_ON_SITE if id is None else FIXED
    for key, value in keys.items():
        first = steps_of(key)[0]
        if key in fixed:
            raise refused("fixed-key", f"{key!r} of {id or SITE} never changes", "another key", None, key)
        if first in lists:
            fix = "add and remove its elements one by one"
            raise refused("list-of-elements", f"{key!r} is a list of elements", "a key with a value", fix, key)
        if any(other != key and steps_of(key)[: len(steps_of(other))] == steps_of(other) for other in keys):
            raise refused("doubled-key", f"{key!r} is set twice", "each key once", "keep one of them", key)
        set_at(node, key, deepcopy(value))


def _inverse(tree: Node, operation: Operation) -> Operation:
    match operation:
        case Add(_, new, _, _):
            return Remove(str(new.get("id")))
        case Change(id, keys):
            node, _ = carrier(tree, id)
            return Change(id, dict(_before(node, key) for key in keys))
        case Move():
            return _inverse(tree, Together(move_changes(tree, operation)))
        case Remove(id):
            found = element(tree, id)
            on = None if found.carrier is tree else str(found.carrier["id"])
            return Add(found.list_name, deepcopy(found.node), on, found.place)
        case Together(operations):
            return _inverse_of_all(deepcopy(tree), operations)


def _inverse_of_all(tree: Node, operations: tuple[Operation, ...]) -> Together:
    """Return what takes several operations back, last first, each as the tree was before it."""
    back: list[Operation] = []
    for each in operations:
        undone = _inverse(tree, each)
        back[:0] = undone.operations if isinstance(undone, Together) else (undone,)
        _done(tree, each)
    return Together(tuple(back))


def _before(node: Node, key: str) -> tuple[str, Any]:
    """Return what a key must be set to, to be what it is now: the record that holds it goes if it is not there yet."""
    missing = first_missing(node, key)
    return (key, deepcopy(value_at(node, key))) if missing is None else (missing, None)


def operation_words(site: Site, operation: Operation) -> str:
    """Return an operation in a few words for a person, such as ``row-front: height 20 ft``."""
    match operation:
        case Add(to, new, on, _):
            return f"{new.get('id')} added to the {to}" + (f" of {on}" if on else "")
        case Change(id, keys):
            said = ", ".join(f"{key} {value if isinstance(value, (str, int, float)) else '...'}" if value is not None
                             else f"{key} taken out" for key, value in keys.items())  # fmt: skip
            return f"{id or SITE}: {said}"
        case Move(id, by):
            return f"{id} moved by {by[0]}, {by[1]}"
        case Remove(id):
            return f"{id} removed"
        case Together(operations):
            return "; ".join(operation_words(site, each) for each in operations)
