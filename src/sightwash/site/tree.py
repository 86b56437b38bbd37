"""A document's text as a plain tree of mappings, lists and scalars, with the place of each node.

JSON is read by the JSON grammar, everything else as YAML; what is too large or too deep is refused.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

from sightwash.site.json_text import json_places, json_tree
from sightwash.site.nodes import DEEPEST, KeyPath, Places, Tree, refuse
from sightwash.site.yaml_text import yaml_tree

__all__ = ["DEEPEST", "LARGEST_DOCUMENT", "KeyPath", "Parsed", "Places", "Tree", "key_text", "parse", "read_text"]

LARGEST_DOCUMENT: Final = 5_000_000


@dataclass(frozen=True, slots=True)
class Parsed:
    """A parsed text: its tree and a function that returns the (line, column) of each key path."""

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


def key_text(path: KeyPath) -> str | None:
    """Return a key path as a person reads it: ``walls[0].doors[1].width``; None for the whole document.

    >>> key_text(("walls", 0, "height"))
    'walls[0].height'
    """
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{_readable(part)}" for part in path)
    return text.removeprefix(".") or None


def _readable(key: str) -> str:
    shown = key if key.isprintable() else repr(key)[1:-1]
    return shown if len(shown) <= 60 else f"{shown[:57]}..."


def read_text(path: Path, largest: int = LARGEST_DOCUMENT) -> str:
    """Return a document's text; refuses what is missing, too large, empty or not UTF-8."""
    file = str(path)
    try:
        with path.open("rb") as stream:
            data = stream.read(largest + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        refuse(file, "unreadable", f"cannot be read: {reason}", "a file that exists and may be read", "check the path")
    if len(data) > largest:
        most = f"{largest:,} bytes"
        refuse(file, "too-large", f"the file holds more than {most}", f"at most {most}", "split the property")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        at = (data.count(b"\n", 0, error.start) + 1, error.start - data.rfind(b"\n", 0, error.start))
        message = f"byte {error.start + 1} of the file is not UTF-8"
        refuse(file, "not-utf-8", message, "a text file in UTF-8", "save it as UTF-8", at)
    if not text.strip():
        refuse(file, "empty", "the file is empty", "a document", "start from `sightwash new`")
    return text


def parse(text: str, file: str) -> Parsed:
    """Return the tree of a JSON or YAML text."""
    if text.lstrip().startswith("{"):
        return Parsed(file, json_tree(text, file), cache(lambda: json_places(text, file)))
    tree, places = yaml_tree(text, file)
    if tree is None:
        refuse(file, "empty", "the text holds no document", "a document", "start from `sightwash new`")
    return Parsed(file, tree, lambda: places)
