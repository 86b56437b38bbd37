"""A JSON text as a tree, and the place of each of its nodes.

The tree comes from the standard library. Places are looked up only when something is wrong, by a scan of
the tokens, which also finds where a text holds a doubled key, a number that is none, or half a character.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from dataclasses import dataclass, field
from typing import Any, Final, NoReturn

from sightwash.site.nodes import DEEPEST, KeyPath, Place, Places, Tree, refuse, refuse_depth, refuse_doubled

_TOKEN: Final = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[{}\[\],:]|[^\s{}\[\],:"]+', re.DOTALL)
_HALVES: Final = re.compile(r"\\u[dD][89a-fA-F]|[\ud800-\udfff]")
_HALF: Final = re.compile("[\ud800-\udfff]")
_STRINGS: Final = json.JSONDecoder(strict=False)
_LONGEST_NUMBER: Final = 400


class _Doubt(ValueError):
    """Something that only the scan can place."""


def json_tree(text: str, file: str) -> Tree:
    """Return the tree of a JSON text."""
    tree: Tree = None
    doubt = _HALVES.search(text) is not None
    try:
        tree = json.loads(text, parse_constant=_doubtful, object_pairs_hook=_pairs)
    except json.JSONDecodeError as error:
        at = (error.lineno, error.colno)
        refuse(file, "not-json", error.msg[:1].lower() + error.msg[1:], "one JSON object", "mend the text here", at)
    except (RecursionError, ValueError):
        doubt, tree = True, None
    if doubt or _too_deep(tree):
        json_places(text, file)
        if tree is None:
            refuse(file, "not-json", "cannot be read as JSON", "one JSON object")
    return tree


def _doubtful(_name: str) -> NoReturn:
    raise _Doubt


def _pairs(items: list[tuple[str, Any]]) -> dict[str, Any]:
    keys = dict(items)
    if len(keys) < len(items):
        raise _Doubt
    return keys


def _too_deep(tree: Tree) -> bool:
    level: list[Tree] = [tree]
    for _ in range(DEEPEST + 1):
        level = [
            child
            for node in level
            for child in (node.values() if isinstance(node, dict) else node if isinstance(node, list) else ())
        ]
        if not level:
            return False
    return True


@dataclass(slots=True)
class _Open:
    """An object or array that is open; ``step`` is the key or index of its present value."""

    array: bool
    path: KeyPath
    step: str | int | None
    keys: set[str] = field(default_factory=set)


def json_places(text: str, file: str) -> Places:
    """Return the place of each node of a JSON text; refuses what JSON's grammar lets through and we do not."""
    starts = [0, *(match.end() for match in re.finditer("\n", text))]
    places: Places = {}
    stack: list[_Open] = []
    for token in _TOKEN.finditer(text):
        line = bisect_right(starts, token.start())
        at = (line, token.start() - starts[line - 1] + 1)
        top = stack[-1] if stack else None
        if token[0] == "," and top is not None:
            top.step = top.step + 1 if isinstance(top.step, int) else None
        elif token[0] in "}]" and stack:
            stack.pop()
        elif token[0] not in ",:":
            _value(token[0], at, stack, places, file)
    return places


def _value(token: str, at: Place, stack: list[_Open], places: Places, file: str) -> None:
    """Take one token that is a key, opens a value, or is one."""
    top = stack[-1] if stack else None
    word = _word(token, at, file)
    if top is not None and not top.array and top.step is None:
        if word in top.keys:
            refuse_doubled(file, word, at)
        top.keys.add(word)
        top.step = word
        places[(*top.path, word)] = at
        return
    path: KeyPath = () if top is None or top.step is None else (*top.path, top.step)
    if top is None or top.array:
        places[path] = at
    if token in "{[":
        if len(stack) >= DEEPEST:
            refuse_depth(file, at)
        stack.append(_Open(token == "[", path, 0 if token == "[" else None))


def _word(token: str, at: Place, file: str) -> str:
    """Return a token's text; refuses what is no finite number and no whole character."""
    if not token.startswith('"'):
        if token.lstrip("-") in ("NaN", "Infinity"):
            refuse(file, "not-finite", f"{token} is not a number here", "finite numbers", "leave the key out", at)
        if len(token) > _LONGEST_NUMBER:
            refuse(file, "not-finite", f"a number of {len(token)} digits", "finite numbers", "write fewer digits", at)
        return token
    word = str(_STRINGS.decode(token)) if "\\" in token else token[1:-1]
    if _HALF.search(word):
        refuse(file, "half-character", "a text holds half a character", "whole characters", "type the text again", at)
    return word
