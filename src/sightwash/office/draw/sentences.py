"""The sentences that a person fills in, by hand or by drawing: one for each kind of element that can be added.

A sentence is words with blanks: ``{key}`` is a key of the element, ``{*key}`` one that must be filled, ``{on}`` the
element that carries it, ``{~length}`` and ``{~toward}`` say where a run ends. What may stand in a blank comes from the
schema of the site document, so that the page and the reader never differ.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from sightwash.site.element_tree import element_lists
from sightwash.site.model import Site
from sightwash.site.site_file import document_schema

REFERENCES: Final = {"building": "buildings", "along": "walls", "surface": "surfaces"}
BLANK: Final = re.compile(r"\{([*~]?)([a-z_.]+)\}")
LABELS: Final = {
    "at": "place",
    "left": "from the wall's left end",
    "bottom": "bottom above the ground",
    "top": "top above the ground",
    "on": "wall",
    "toward": "compass bearing",
    "per_day": "people or vehicles a day",
    "base": "ground at both ends",
    "profile": "stepped top, `left height; left height`",
    "excluded": "left out, because",
    "count": "how many",
    "gap": "clear of the wall",
    "out": "out from the wall",
}
"""What a blank is called where its key is not the plain word."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """What can be added: its slug, the list it goes into, what carries it, how drawing fills it, its words.

    ``hand`` is ``run`` (a start, then an end), ``point``, ``points``, ``ring``, ``path``, ``box`` or ``spot`` on a
    wall, or nothing; ``given`` are values that the kind brings along.
    """

    slug: str
    what: str
    list: str
    hand: str
    words: str
    on: str = ""
    given: dict[str, Any] | None = None


FROM_LEFT: Final = "{*left} from its left end"
SENTENCES: Final = (
    Sentence("wall", "wall", "walls", "run",
             "from {*start} going {~length} {~toward}, {height} high, of {material}, called {name}"),
    Sentence("building", "building with its walls", "buildings", "ring",
             "round {*outline}, {height} high, called {name}"),
    Sentence("walk", "walk along a wall", "surfaces", "",
             "along {*along}, {*width} wide, of {material}, called {name}"),
    Sentence("surface", "walk, drive or pad", "surfaces", "ring",
             "a {use} over {*outline}, of {material}, called {name}"),
    Sentence("stalls", "row of stalls", "stalls", "run",
             "{*count} of them from {*at} toward {*toward}, each {*width} wide and {*length} long, "
             "{accessible} accessible, {van} of those for vans"),
    Sentence("drain", "drain", "drains", "point", "at {*at}, leading to {leads_to}"),
    Sentence("planting", "planting", "planting", "ring", "a {kind} over {*outline}, {height} high"),
    Sentence("gum", "gum", "gum", "points", "on {*surface}, at {at}, about {density}"),
    Sentence("marking", "painted line or words", "markings", "path",
             "a {*kind} along {*path}, {width} wide, {colour}, {state}"),
    Sentence("post", "post, bench or planter", "posts", "point", "at {*at}, {*size} across, {height} high"),
    Sentence("tap", "water tap", "taps", "point", "at {*at}, giving {flow}, owned by {owner}"),
    Sentence("rig", "place for the rig", "rig_places", "point", "at {*at}"),
    Sentence("parked", "parked vehicles", "parked", "ring", "over {*outline}, {height} high"),
    Sentence("fence", "fence", "fences", "path", "along {*path}, {*height} high"),
    Sentence("neighbour", "neighbour", "neighbours", "ring", "over {*outline}: {*what}, {height} high"),
    Sentence("keep-out", "place to keep out of", "keep_outs", "ring", "over {*outline}, because {*reason}"),
    Sentence("line", "overhead line", "overhead_lines", "", "from {*start} to {*end}, sagging {sag}"),
    Sentence("eye", "place or road that people look from", "eyes", "path",
             "a {*kind} along {*path}, eyes {height} up, at {speed}, {per_day} a day, called {name}"),
    Sentence("opening", "window or vent", "openings", "box",
             f"a {{*kind}} on {{on}}, {FROM_LEFT}, {{*width}} wide, {{*bottom}} up, {{*height}} high", "walls"),
    Sentence("door", "door", "doors", "box",
             f"on {{on}}, {FROM_LEFT}, {{*width}} wide, {{*height}} high, threshold {{threshold}}, "
             "swinging {swing}, tenant {tenant}", "walls"),
    Sentence("projection", "canopy, sign or what stands out", "projections", "box",
             f"a {{*kind}} on {{on}}, {FROM_LEFT}, {{*width}} wide, {{*bottom}} up, {{*height}} thick, "
             "{*depth} deep, {gap} clear of the wall, of {material}", "walls"),
    Sentence("fixture", "light or fixture", "fixtures", "spot",
             f"a {{*kind}} on {{on}}, {FROM_LEFT}, {{*height}} up, {{count}} of them, one every {{spacing}}", "walls"),
    Sentence("soiling", "dirt on a wall", "soiling", "box",
             "{degree} {*kind} on {on}, from {left} for {width}, from {bottom} up to {top}", "walls"),
    Sentence("ground-soiling", "dirt on the ground", "soiling", "", "{degree} {*kind} on {on}", "surfaces"),
)  # fmt: skip
"""In the order in which a page offers them: walls first, then the ground, then what is on the walls."""


def blank_label(key: str) -> str:
    """Return what a blank is called.

    >>> blank_label("leads_to"), blank_label("paint.state")
    ('leads to', 'paint state')
    """
    return LABELS.get(key) or key.replace("_", " ").replace(".", " ")


def sentence_parts(sentence: Sentence) -> list[str | dict[str, Any]]:
    """Return a sentence as words and blanks in their order."""
    parts: list[str | dict[str, Any]] = []
    at = 0
    for found in BLANK.finditer(sentence.words):
        parts.append(sentence.words[at : found.start()])
        parts.append({"key": found[2], "needed": found[1] == "*", "made": found[1] == "~"})
        at = found.end()
    return [part for part in (*parts, sentence.words[at:]) if part]


@cache
def blanks_of(list_name: str, on: str) -> dict[str, dict[str, Any]]:
    """Return every key of the elements of a list as a blank: its form, its label, its choices or its unit."""
    carrier = element_lists(Site)[on] if on else Site
    record = element_lists(carrier)[list_name].__name__
    return dict(_blanks(record, ""))


def _blanks(record: str, prefix: str) -> Iterator[tuple[str, dict[str, Any]]]:
    schema = document_schema("site")["$defs"][record]
    for name, node in schema["properties"].items():
        key = f"{prefix}{name}"
        inner = _inner(node)
        if "$ref" in inner:
            yield from _blanks(inner["$ref"].rsplit("/", 1)[-1], f"{key}.")
        elif name != "id" and (form := _form(name, inner)):
            needed = name in schema.get("required", ())
            yield key, {**form, "label": blank_label(key), "default": inner.get("default"), "needed": needed}


def _inner(node: dict[str, Any]) -> dict[str, Any]:
    options = [option for option in node.get("anyOf", (node,)) if option.get("type") != "null"]
    return {**options[0], "default": node.get("default")}


def _form(name: str, node: dict[str, Any]) -> dict[str, Any] | None:
    """Return the form of a value; None for what the page does not change."""
    if name in REFERENCES:
        return {"form": "reference", "list": REFERENCES[name]}
    if name == "profile":
        return {"form": "profile"}
    if "enum" in node:
        return {"form": "choice", "choices": node["enum"]}
    if "x-quantity" in node:
        return {"form": "quantity", "us": node["x-unit-us"], "metric": node["x-unit-metric"]}
    kind = node.get("type")
    if kind == "array":
        items = node.get("items", {})
        return {"form": "point"} if "prefixItems" in node else {"form": "points"} if "prefixItems" in items else None
    forms = {"boolean": "flag", "integer": "count", "number": "number", "string": "text"}
    return {"form": forms[kind]} if kind in forms else None


def all_sentences() -> list[dict[str, Any]]:
    """Return every sentence with its parts and blanks, ready for a page."""
    return [
        {
            "slug": each.slug,
            "what": each.what,
            "list": each.list,
            "hand": each.hand,
            "on": each.on,
            "parts": sentence_parts(each),
        }
        for each in SENTENCES
    ]


def all_blanks() -> dict[str, dict[str, dict[str, Any]]]:
    """Return the blanks of every list, by ``list`` for the site's and ``carrier.list`` for those of its elements."""
    found = {}
    for sentence in SENTENCES:
        name = f"{sentence.on}.{sentence.list}" if sentence.on else sentence.list
        found[name] = blanks_of(sentence.list, sentence.on)
    return found
