"""What is wrong with one wall and the things on it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from sightwash.basis.units import LENGTH, show
from sightwash.site.tree import KeyPath
from sightwash.site.walls import Wall

SLACK = 0.005


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong, with the key path where it stands."""

    code: str
    message: str
    path: KeyPath
    expected: str | None = None
    fix: str | None = None


def check_wall(wall: Wall, path: KeyPath) -> Iterator[Finding]:
    """Yield what is wrong with one wall."""
    yield from _ends(wall, path)
    yield from _profile(wall, path)
    length = math.dist(wall.start, wall.end) if wall.start and wall.end else wall.length
    if length is None or length <= 0:
        return
    yield from _things_along(wall, path, float(length))
    yield from _soiling(wall, path, float(length))
    yield from _fixtures(wall, path, float(length))


def top_at(wall: Wall, left: float, right: float) -> float | None:
    """Return the lowest top of a wall between two places along it; None where no height is known."""
    if not wall.profile:
        return None if wall.height is None else float(wall.height)
    heights = [float(p.height) for p in wall.profile if left <= p.left <= right]
    for a, b in pairwise(wall.profile):
        heights += [
            a.height + (b.height - a.height) * (place - a.left) / (b.left - a.left)
            for place in (left, right)
            if a.left <= place <= b.left and b.left > a.left
        ]
    return min(heights) if heights else min(float(p.height) for p in wall.profile)


def _ends(wall: Wall, path: KeyPath) -> Iterator[Finding]:
    if (wall.start is None) != (wall.end is None):
        missing = "end" if wall.end is None else "start"
        yield Finding(
            "half-a-wall", f"`{missing}` is missing", path, "both ends, or only a `length`", f"add `{missing}:`"
        )
        return
    if wall.start is None or wall.end is None:
        return
    length = math.dist(wall.start, wall.end)
    if length < 0.05:
        yield Finding(
            "zero-length", "the wall has no length", (*path, "end"), "two different ends", "measure the far end"
        )
    elif wall.length is not None and abs(wall.length - length) > max(0.02 * length, 0.05):
        yield Finding(
            "length-differs",
            f"the ends are {show(length, LENGTH)} apart, the length says {wall.length:.2f} m",
            (*path, "length"),
            "a length that agrees within 2 %",
            "leave `length` out or measure again",
        )


def _profile(wall: Wall, path: KeyPath) -> Iterator[Finding]:
    if wall.profile and wall.height is not None:
        yield Finding(
            "two-heights", "has both a height and a profile", (*path, "height"), "one of them", "leave one out"
        )
    if not wall.profile:
        return
    if len(wall.profile) < 2 or any(b.left < a.left for a, b in pairwise(wall.profile)):
        yield Finding(
            "profile-order",
            "the profile does not run from left to right",
            (*path, "profile"),
            "two corners or more, `left` never falling",
            "sort them by `left`",
        )
    for index, corner in enumerate(wall.profile):
        if corner.height < 0.5:
            yield Finding(
                "profile-low",
                "the wall is lower than 2 ft here",
                (*path, "profile", index, "height"),
                "a height above the ground at the left end",
            )


def _things_along(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    for name in ("openings", "doors"):
        for index, thing in enumerate(getattr(wall, name)):
            yield from _within(
                wall, (*path, name, index), length, thing.left, thing.width, thing.bottom + thing.height, True
            )
    for index, thing in enumerate(wall.projections):
        here = (*path, "projections", index)
        over = thing.kind in ("cap", "blade sign", "flat sign", "column", "pipe", "gutter")
        reach = float("inf") if over else thing.bottom + thing.height
        yield from _within(wall, here, length, thing.left, thing.width, 0.0 if over else reach, False)
        if thing.outer_drop > thing.height + SLACK:
            yield Finding(
                "outer-drop",
                "drops more than its whole height",
                (*here, "outer_drop"),
                f"at most its height, {show(thing.height, LENGTH)}",
                "`height` runs from its lowest to its highest edge",
            )


def _within(
    wall: Wall, path: KeyPath, length: float, left: float, width: float, top: float, inside: bool
) -> Iterator[Finding]:
    if left > length + SLACK or (inside and left + width > length + SLACK):
        yield Finding(
            "outside-wall",
            f"reaches {show(left + width, LENGTH)} along a wall of {show(length, LENGTH)}",
            (*path, "left"),
            f"left + width at most {show(length, LENGTH)}",
            "measure from the wall's left end",
        )
        return
    wall_top = top_at(wall, left, min(left + width, length))
    if wall_top is not None and top > wall_top + SLACK:
        yield Finding(
            "above-wall",
            f"reaches {show(top, LENGTH)} up a wall of {show(wall_top, LENGTH)}",
            (*path, "height"),
            f"bottom + height at most {show(wall_top, LENGTH)}",
            "measure from the ground at the left end",
        )


def _soiling(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    for index, patch in enumerate(wall.soiling):
        here = (*path, "soiling", index)
        if (patch.left or 0.0) + (patch.width or 0.0) > length + SLACK:
            yield Finding(
                "outside-wall",
                "the patch runs past the wall's right end",
                (*here, "left"),
                f"left + width at most {show(length, LENGTH)}",
                "leave `width` out to reach the end",
            )
        wall_top = top_at(wall, patch.left or 0.0, length)
        top = patch.top if patch.top is not None else wall_top
        if top is not None and (patch.bottom or 0.0) >= top:
            yield Finding(
                "no-height", "the patch ends below where it begins", (*here, "top"), "top above bottom", "swap them"
            )


def _fixtures(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    for index, fixture in enumerate(wall.fixtures):
        here = (*path, "fixtures", index)
        last = fixture.left + (fixture.spacing or 0.0) * max(fixture.count - 1, 0)
        if last > length + SLACK:
            yield Finding(
                "outside-wall",
                f"the last of them is {show(last, LENGTH)} along",
                (*here, "left"),
                f"at most {show(length, LENGTH)}",
                "check `left`, `count` and `spacing`",
            )
        if fixture.count > 1 and fixture.spacing is None:
            yield Finding(
                "no-spacing",
                f"{fixture.count} pieces without a spacing",
                (*here, "count"),
                "`spacing` from one to the next",
                "add `spacing:`",
            )
        wall_top = top_at(wall, fixture.left, length)
        if wall_top is not None and fixture.height > wall_top + 1.0:
            yield Finding(
                "above-wall",
                f"hangs {show(fixture.height, LENGTH)} up",
                (*here, "height"),
                f"at most {show(wall_top + 1.0, LENGTH)}",
                "measure from the ground at the left end",
            )
