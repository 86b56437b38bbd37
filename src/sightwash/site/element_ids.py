"""The elements of a document that have an id, and ids that stand twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from sightwash.site.tree import KeyPath, key_text
from sightwash.site.wall_checks import Finding


def doubled_ids(document: Any) -> Iterator[Finding]:
    """Yield every element whose id another element has already."""
    first: dict[str, KeyPath] = {}
    for path, item in identified(document, ()):
        if item.id in first:
            yield Finding(
                "doubled-id",
                f"the id {item.id!r} stands twice, first at {key_text(first[item.id])}",
                (*path, "id"),
                "an id of its own for every element",
                f"write `{item.id[:60]}-2`",
            )
        first.setdefault(item.id, path)


def identified(item: Any, path: KeyPath) -> Iterator[tuple[KeyPath, Any]]:
    """Yield every element that has an id, with its key path, outer elements first."""
    if isinstance(item, tuple):
        for index, part in enumerate(item):
            if is_dataclass(part):
                yield from identified(part, (*path, index))
    elif is_dataclass(item):
        names = _field_names(item.__class__)
        if path and "id" in names:
            yield path, item
        for name in names:
            value = getattr(item, name)
            if isinstance(value, tuple) or is_dataclass(value):
                yield from identified(value, (*path, name))


@cache
def _field_names(record: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(record))
