"""A YAML text as a tree with places, built from the parser's events in one pass.

Every scalar is taken as text, so that ``22:00`` stays a time and ``no`` a word. Anchors, aliases and
tags are refused before anything is built from them, so that no alias can explode.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import yaml

from sightwash.site.nodes import (
    DEEPEST,
    UNWRITABLE,
    KeyPath,
    Places,
    Tree,
    place_of,
    refuse,
    refuse_depth,
    refuse_doubled,
)

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NULLS: Final = ("", "~", "null", "Null", "NULL")
_MEND: Final = "mend the text here"


@dataclass(slots=True)
class _Open:
    """A mapping or list that is being filled; ``key`` is the mapping's key that waits for its value."""

    node: dict[str, Tree] | list[Tree]
    path: KeyPath
    key: str | None = None


def yaml_tree(text: str, file: str) -> tuple[Tree, Places]:
    """Return the tree of a YAML text and the place of each of its nodes."""
    found = UNWRITABLE.search(text)
    if found:
        at = place_of(text, found.start())
        refuse(file, "control-character", f"the text holds {found[0]!r}", "plain text", "take it out", at)
    builder = _Builder(file)
    try:
        for event in yaml.parse(text, Loader=_Loader):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = (mark.line + 1, mark.column + 1) if mark else None
        reason = str(error.problem or error.context)
        if "nesting depth" in reason:
            refuse_depth(file, place)
        if "\t" in text and "cannot start any token" in reason:
            reason = "a tab cannot indent"
        refuse(file, "not-yaml", reason, "one YAML mapping", _MEND, place)
    except (yaml.YAMLError, ValueError) as error:
        refuse(file, "not-yaml", str(error).splitlines()[0] if str(error) else "cannot be read", "one YAML mapping")
    return builder.root, builder.places


class _Builder:
    """Fills a tree from parser events; the nodes that are still open stand on a stack."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.root: Tree = None
        self.places: Places = {}
        self.documents = 0
        self.open: list[_Open] = []

    def take(self, event: Any) -> None:
        """Take the next event."""
        at = (event.start_mark.line + 1, event.start_mark.column + 1)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            refuse(self.file, "alias", "anchors and aliases are not taken", "plain values", "write the value out", at)
        if getattr(event, "tag", None):
            refuse(self.file, "tag", f"the tag {event.tag[:60]!r} is not taken", "plain values", "take it out", at)
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event, at)
        elif isinstance(event, yaml.CollectionStartEvent):
            if len(self.open) >= DEEPEST:
                refuse_depth(self.file, at)
            node: dict[str, Tree] | list[Tree] = {} if isinstance(event, yaml.MappingStartEvent) else []
            self.open.append(_Open(node, self._place(node, at)))
        elif isinstance(event, yaml.CollectionEndEvent):
            self.open.pop()
        elif isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                refuse(self.file, "not-yaml", "a second document begins", "one document a file", "split the file", at)

    def _scalar(self, event: Any, at: tuple[int, int]) -> None:
        top = self.open[-1] if self.open else None
        if top is not None and isinstance(top.node, dict) and top.key is None:
            key = str(event.value)
            if key in top.node:
                refuse_doubled(self.file, key, at)
            top.key = key
            self.places[(*top.path, key)] = at
            return
        empty = event.style in (None, "") and event.value in _NULLS
        self._place(None if empty else str(event.value), at)

    def _place(self, node: Tree, at: tuple[int, int]) -> KeyPath:
        """Put a node into the one that is open, and return its key path."""
        if not self.open:
            self.root = node
            self.places[()] = at
            return ()
        top = self.open[-1]
        if isinstance(top.node, list):
            path: KeyPath = (*top.path, len(top.node))
            top.node.append(node)
            self.places[path] = at
            return path
        if top.key is None:
            refuse(self.file, "bad-key", "a key is a list or a mapping", "plain words as keys", "write a word", at)
        path = (*top.path, top.key)
        top.node[top.key] = node
        top.key = None
        return path
