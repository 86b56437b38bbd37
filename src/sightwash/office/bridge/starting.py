"""A first site from what a person types, from a footprint, or from nothing but a name."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any, Final

from sightwash.basis.errors import InputError, Problem
from sightwash.office.bridge.documents import canonical, problem_words
from sightwash.site.imports.geojson import site_from_geojson
from sightwash.site.model import Site
from sightwash.site.site_file import document_text

MOST_WALLS: Final = 60
LARGEST_FILE: Final = 5_000_000
EXAMPLE: Final = "Front 120 ft x 14 ft"
_ENTRY: Final = re.compile(
    r"(?:(?P<name>[^:]{1,60}):\s*|(?P<plain>\D{1,60}?)\s*)?(?P<length>\d[^x×]*?)\s*(?:x|×|\bby\b)\s*(?P<height>\d.*)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class TypedWall:
    """A wall as typed: its name, its length and its height, still as text."""

    name: str
    length: str
    height: str


def typed_walls(text: str) -> tuple[TypedWall, ...]:
    """Return the walls of a text, one for each line or between semicolons.

    >>> typed_walls("Front 120 ft x 14 ft; 60 x 14")
    (TypedWall(name='Front', length='120 ft', height='14 ft'), TypedWall(name='Wall 2', length='60', height='14'))
    >>> typed_walls("Shop 2: 12 ft 6 in by 10")[0]
    TypedWall(name='Shop 2', length='12 ft 6 in', height='10')
    """
    entries = [entry.strip(" ,\t\r") for entry in re.split(r"[\n;]", text)]
    walls: list[TypedWall] = []
    problems: list[Problem] = []
    for entry in filter(None, entries):
        match = _ENTRY.fullmatch(entry)
        if match is None:
            message = f"{entry[:60]!r} is no wall"
            problems.append(Problem("not-a-wall", message, expected="a length x a height", fix=f"write `{EXAMPLE}`"))
            continue
        name = (match["name"] or match["plain"] or "").strip(" -,:") or ("Front" if not walls else "")
        walls.append(TypedWall(name or f"Wall {len(walls) + 1}", match["length"].strip(), match["height"].strip()))
    if len(walls) > MOST_WALLS:
        problems.append(Problem("too-many", f"{len(walls)} walls", expected=f"at most {MOST_WALLS} to begin with"))
    if problems:
        raise InputError(problems)
    return tuple(walls)


def site_of_walls(name: str, units: str, walls: tuple[TypedWall, ...], walk: str) -> str:
    """Return the canonical text of a site with these walls, and a walk of this width before the first of them."""
    tree = _bare(name, units)
    tree["walls"] = []
    for wall in walls:
        taken = {each["id"] for each in tree["walls"]}
        tree["walls"].append(
            {"id": _own_id(wall.name, taken), "name": wall.name, "length": wall.length, "height": wall.height}
        )
    if walk and walls:
        first = tree["walls"][0]["id"]
        tree["surfaces"] = [{"id": f"{first}-walk"[:64], "name": "Walk", "along": first, "width": walk}]
    return _site_text(tree)


def site_of_nothing(name: str, units: str) -> str:
    """Return the canonical text of a site that is still to be drawn."""
    return _site_text(_bare(name, units))


def site_of_footprint(data: bytes, file_name: str, units: str, crs: str = "") -> str:
    """Return the canonical text of a site made from a GeoJSON file."""
    shown = _plain_file_name(file_name)
    if len(data) > LARGEST_FILE:
        most = f"at most {LARGEST_FILE:,} bytes"
        raise InputError(
            Problem("too-large", "the file is too large", shown, expected=most, fix="cut it to one property")
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        problem = Problem(
            "not-utf-8", "this is no text file in UTF-8", shown, expected="GeoJSON", fix="export it as GeoJSON"
        )
        raise InputError(problem) from None
    return document_text(site_from_geojson(text, shown, crs.strip() or None, units))


def wall_problems(error: InputError, walls: tuple[TypedWall, ...]) -> list[tuple[str, str]]:
    """Return what is wrong, as the form's field and words that name the wall as it was typed."""
    found = []
    for problem in error.problems:
        words = problem_words(problem)
        match = re.match(r"walls\[(\d+)\]\.(\w+)", problem.key or "")
        if match and int(match[1]) < len(walls):
            wall = walls[int(match[1])]
            found.append(("walls", f"{wall.name}, {match[2]}: {words}"))
        else:
            field = (
                "walk" if (problem.key or "").startswith("surfaces") else "name" if problem.key == "name" else "walls"
            )
            found.append((field, words))
    return found


def _bare(name: str, units: str) -> dict[str, Any]:
    return {"kind": "site", "schema": 1, "id": _own_id(name, set()), "name": name, "units": units}


def _site_text(tree: dict[str, Any]) -> str:
    return canonical(json.dumps(tree, ensure_ascii=False), Site, "site")


def _own_id(name: str, taken: set[str]) -> str:
    """Return an id made of a name's letters that no other element has."""
    stem = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:50].strip("-") or "part"
    found, number = stem, 2
    while found in taken:
        found, number = f"{stem}-{number}", number + 1
    return found


def _plain_file_name(name: str) -> str:
    """Return the last part of a file's name without anything that is not to be shown or followed."""
    last = PurePath(name.replace("\\", "/")).name
    kept = "".join(letter for letter in last if letter.isalnum() or letter in " ._-()")
    return kept[:80].strip(" .") or "footprint"
