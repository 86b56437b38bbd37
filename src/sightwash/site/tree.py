"""A document's text as a plain tree of mappings, lists and scalars, with the place of each node.

YAML scalars are taken as text, so that ``22:00`` stays a time and ``no`` a word; JSON is read by the
JSON grammar and its places are looked up only when something is wrong. Anchors, aliases, tags and
doubled keys are refused, and so are documents that are too large or too deep.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, NoReturn

import yaml

from sightwash.basis.errors import InputError, Problem

LARGEST_DOCUMENT: Final = 5_000_000
DEEPEST: Final = 40

Tree = dict[str, "Tree"] | list["Tree"] | str | int | float | bool | None
KeyPath = tuple[str | int, ...]
Places = dict[KeyPath, tuple[int, int]]

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Parsed:
    """A parsed text: its tree and a function that returns the (line, column) of a key path."""

    file: str
    tree: Tree
    places: Callable[[], Places]

    def place(self, path: KeyPath) -> tuple[int, int] | None:
        """Return where ``path`` stands, or the nearest place above it."""
        places = self.places()
        for size in range(len(path), -1, -1):
            if path[:size] in places:
                return places[path[:size]]
        return None


def read_text(path: Path) -> str:
    """Return a document's text; refuses what is missing, too large, empty or not UTF-8."""
    file = str(path)
    try:
        size = path.stat().st_size
        if size > LARGEST_DOCUMENT:
            _refuse(file, "too-large", f"the file holds {size:,} bytes", f"at most {LARGEST_DOCUMENT:,} bytes")
        data = path.read_bytes()
    except OSError as error:
        _refuse(file, "unreadable", f"cannot be read: {error.strerror}", "a file that exists and may be read")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        _refuse(file, "not-utf-8", f"byte {error.start + 1} is not UTF-8", "a text file in UTF-8")
    if not text.strip():
        _refuse(file, "empty", "the file is empty", "a document", "start from `sightwash new`")
    return text


def parse(text: str, file: str) -> Parsed:
    """Return the tree of a JSON or YAML text."""
    if text.lstrip().startswith("{"):
        return _parse_json(text, file)
    tree, places = _parse_yaml(text, file)
    return Parsed(file, tree, lambda: places)


def _refuse(
    file: str, code: str, message: str, expected: str, fix: str | None = None, at: tuple[int, int] | None = None
) -> NoReturn:
    line, column = at or (None, None)
    raise InputError(Problem(code, message, file, line, column, None, expected, fix))


def _parse_json(text: str, file: str) -> Parsed:
    def constant(name: str) -> NoReturn:
        _refuse(file, "not-finite", f"{name} is not a number here", "finite numbers")

    def pairs(items: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = dict(items)
        if len(keys) < len(items):
            names = [name for name, _ in items]
            doubled = next(name for name in names if names.count(name) > 1)
            _refuse(file, "doubled-key", f"the key {doubled!r} stands twice", "each key once")
        return keys

    try:
        tree = json.loads(text, parse_constant=constant, object_pairs_hook=pairs)
    except json.JSONDecodeError as error:
        _refuse(file, "not-json", error.msg, "one JSON object", "mend the text here", (error.lineno, error.colno))
    except (RecursionError, ValueError) as error:
        _refuse(file, "not-json", f"cannot be read as JSON: {error}", "one JSON object")
    _check_depth(tree, file)

    def places() -> Places:
        try:
            return _parse_yaml(text, file)[1]
        except InputError:
            return {}

    return Parsed(file, tree, places)


def _check_depth(tree: Tree, file: str) -> None:
    level: list[Tree] = [tree]
    for _ in range(DEEPEST):
        level = [
            child
            for node in level
            for child in (node.values() if isinstance(node, dict) else node if isinstance(node, list) else ())
        ]
        if not level:
            return
    _refuse(file, "too-deep", f"more than {DEEPEST} levels lie in one another", "a document of this kind")


def _parse_yaml(text: str, file: str) -> tuple[Tree, Places]:
    places: Places = {}
    loader = None
    try:
        _scan_events(text, file)
        loader = _Loader(text)
        node = loader.get_single_node()
        tree = _plain(node, (), places, file) if node is not None else None
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        at = (mark.line + 1, mark.column + 1) if mark else None
        _refuse(file, "not-yaml", str(error.problem or error.context), "one YAML mapping", "mend the text here", at)
    except (yaml.YAMLError, RecursionError, ValueError) as error:
        message = str(error).splitlines()[0] if str(error) else type(error).__name__
        _refuse(file, "not-yaml", message, "one YAML mapping")
    finally:
        if loader is not None:
            loader.dispose()
    return tree, places


def _scan_events(text: str, file: str) -> None:
    """Refuse aliases, anchors, tags and depth before any tree is built, so that nothing can explode."""
    depth = 0
    for event in yaml.parse(text, Loader=_Loader):
        mark = event.start_mark
        at = (mark.line + 1, mark.column + 1) if mark else None
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            _refuse(file, "alias", "anchors and aliases are not taken", "plain values", "write the value out", at)
        tag = getattr(event, "tag", None)
        if tag:
            _refuse(file, "tag", f"the tag {tag!r} is not taken", "plain values", "leave the tag out", at)
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > DEEPEST:
                _refuse(file, "too-deep", f"more than {DEEPEST} levels lie in one another", "a document", None, at)
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1


def _plain(node: yaml.Node, path: KeyPath, places: Places, file: str) -> Tree:
    at = (node.start_mark.line + 1, node.start_mark.column + 1)
    places.setdefault(path, at)
    if isinstance(node, yaml.ScalarNode):
        empty = node.style is None and node.value in ("", "~", "null")
        return None if empty else str(node.value)
    if isinstance(node, yaml.SequenceNode):
        return [_plain(child, (*path, index), places, file) for index, child in enumerate(node.value)]
    tree: dict[str, Tree] = {}
    for key_node, value_node in node.value:
        key_at = (key_node.start_mark.line + 1, key_node.start_mark.column + 1)
        if not isinstance(key_node, yaml.ScalarNode):
            _refuse(file, "bad-key", "a key must be a word", "plain keys", None, key_at)
        key = str(key_node.value)
        if key in tree:
            _refuse(file, "doubled-key", f"the key {key!r} stands twice", "each key once", "keep one", key_at)
        places[(*path, key)] = key_at
        tree[key] = _plain(value_node, (*path, key), places, file)
    return tree
