"""Every gap that a document can have, found by asking documents that leave everything open."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sightwash.site.gaps import Gap, document_gaps
from sightwash.site.site_file import document_from
from sightwash.site.tree import parse
from source_list import cell

_HEAD = "kind: {kind}\nschema: 1\nid: bare\n"
BARE: dict[str, tuple[str, ...]] = {
    "site": (
        "name: Bare\n",
        "name: Bare\nwalls: [{id: wall}]\nsurfaces: [{id: walk}]\n",
        (
            "name: Bare\n"
            "walls:\n"
            "  - id: wall\n"
            "    length: 100\n"
            "    height: 20\n"
            "    material: painted block\n"
            "    fixtures: [{id: fixture, kind: luminaire, left: 5, height: 10}]\n"
            "    doors: [{id: door, left: 20, width: 3, height: 7}]\n"
            "surfaces: [{id: walk}]\n"
            "gum: [{id: gum, surface: walk}]\n"
            "drains: [{id: inlet, at: [0, -20]}]\n"
        ),
    ),
    "rig": (
        "name: Bare\nmachine: {flow: 4, pressure: 3000}\n",
        "name: Bare\nmachine: {flow: 4, pressure: 3000}\nbleach: {strength: 12.5 trade %}\n",
    ),
    "rates": ("name: Bare\nlabour: {wage: 20}\n",),
    "conditions": ("",),
    "firm": ("name: Bare\n",),
}
TITLES = {
    "site": "At the property",
    "rig": "On the rig",
    "rates": "In the office",
    "conditions": "For the day",
    "firm": "For the papers",
}


def every_gap(kind: str) -> tuple[Gap, ...]:
    """Return every gap of a kind of document once, those that bear on safety first."""
    found: dict[tuple[str, str], Gap] = {}
    for text in BARE[kind]:
        document = document_from(parse(_HEAD.format(kind=kind) + text, f"bare {kind}"), kind)
        for gap in document_gaps(document):
            found.setdefault((pattern(gap.key), gap.taken), gap)
    return tuple(sorted(found.values(), key=lambda gap: not gap.safety))


def pattern(key: str) -> str:
    """Return a key with its places in lists left open.

    >>> pattern("walls[0].doors[2].threshold")
    'walls[].doors[].threshold'
    """
    return re.sub(r"\[\d+\]", "[]", key)


def gap_table() -> str:
    """Return all gaps as tables, one for each kind of document."""
    return "\n".join(line for kind in BARE for line in _table(kind)).strip()


def _table(kind: str) -> Iterator[str]:
    yield from ("", f"### {TITLES[kind]}", "", "| not known | key | changes | taken instead |", "|---|---|---|---|")
    for gap in every_gap(kind):
        missing = f"**{cell(gap.missing)}**" if gap.safety else cell(gap.missing)
        yield f"| {missing} | `{pattern(gap.key)}` | {cell(gap.changes)} | {cell(gap.taken)} |"
