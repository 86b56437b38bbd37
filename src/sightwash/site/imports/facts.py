"""What a feature's properties say of a building: its name, its height, its storeys."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sightwash.basis.errors import InputError
from sightwash.basis.units import FOOT, LENGTH, parse_quantity, show
from sightwash.site.tree import KeyPath, Tree
from sightwash.site.wall_checks import Finding

STOREY_HEIGHT: Final = 12 * FOOT
LOWEST: Final = 3 * FOOT
HIGHEST: Final = 120 * FOOT
LONGEST_NAME: Final = 120


@dataclass(frozen=True, slots=True)
class Facts:
    """Name and height of one building, the height with its unit and with where it comes from."""

    name: str | None = None
    height: str | None = None
    metres_high: float | None = None
    note: str | None = None
    guessed: bool = False


def plain_name(value: Tree) -> str | None:
    """Return a name on one line, without what no paper can print; None where there is none."""
    text = str(value) if isinstance(value, (str, int, float)) and not isinstance(value, bool) else ""
    printable = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(printable.split())[:LONGEST_NAME] or None


def facts(
    properties: Mapping[str, Tree], path: KeyPath, storey_height: float, system: str
) -> tuple[Facts, tuple[Finding, ...]]:
    """Return what the properties say and what is wrong with it.

    ``height`` is a number of metres or a quantity with its unit; failing that, ``building:levels``
    times ``storey_height`` is a guess that is marked as one.
    """
    name = plain_name(properties.get("name"))
    height, levels = properties.get("height"), properties.get("building:levels")
    if height not in (None, ""):
        metres = _metres(height)
        if metres is None:
            expected = "a number of metres or a quantity, 3 ft to 120 ft"
            return Facts(name), (_bad_value("height", height, path, expected),)
        typed = str(height).strip()
        bare = re.fullmatch(r"[\d.eE+]+", typed) is not None
        said = "a bare number, read as metres" if bare else typed
        note = f"Height from the file ({said}); measure it."
        return Facts(name, f"{typed} m" if bare else typed, metres, note), ()
    if levels in (None, ""):
        return Facts(name), ()
    count = _storeys(levels)
    if count is None or not LOWEST <= count * storey_height <= HIGHEST:
        expected = f"a number of storeys that come to 3 ft to 120 ft at {show(storey_height, LENGTH, system)} each"
        return Facts(name), (_bad_value("building:levels", levels, path, expected),)
    each = show(storey_height, LENGTH, system)
    note = f"Height guessed: {count:g} storeys in the file at {each} each (common practice, no source); measure it."
    return Facts(name, f"{count * storey_height:.4f} m", count * storey_height, note, True), ()


def _metres(value: Tree) -> float | None:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return None
    try:
        metres = float(parse_quantity(value, LENGTH, "metric"))
    except InputError:
        return None
    return metres if LOWEST - 1e-9 <= metres <= HIGHEST + 1e-9 else None


def _storeys(value: Tree) -> float | None:
    text = str(value).strip()
    return float(text) if not isinstance(value, bool) and re.fullmatch(r"\d{1,3}(\.\d{1,2})?", text) else None


def _bad_value(key: str, value: Tree, path: KeyPath, expected: str) -> Finding:
    shown = repr(value) if len(repr(value)) <= 40 else f"{repr(value)[:37]}..."
    return Finding(
        "bad-height", f"{shown} is not taken", (*path, key), expected, f"mend it or take `{key}` out and measure"
    )
