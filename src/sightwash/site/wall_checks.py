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
LOOSE = 0.05
HAIR = 1e-6
SHORTEST = 0.05
STEEPEST = 0.5
LOWEST_TOP = 0.5
ABOVE = 1.0
OVER_THE_TOP = ("cap", "blade sign", "flat sign", "column", "pipe", "gutter")


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
    profile = tuple(_profile(wall, path))
    yield from profile
    length = math.dist(wall.start, wall.end) if wall.start and wall.end else wall.length
    if length is None or length < SHORTEST or profile:
        return
    length = float(length)
    found = tuple(_ground(wall, path, length))
    yield from found or _spikes(wall, path, length)
    yield from _openings(wall, path, length)
    yield from _projections(wall, path, length)
    yield from _soiling(wall, path, length)
    yield from _fixtures(wall, path, length)


def wall_top(wall: Wall, length: float) -> tuple[tuple[float, float], ...]:
    """Return the top edge of a wall as (s, z) corners from left to right; empty if no height is known."""
    if not wall.profile:
        return () if wall.height is None else ((0.0, float(wall.height)), (length, float(wall.height)))
    corners = [(min(float(p.left), length), float(p.height)) for p in wall.profile]
    if corners[0][0] > 0.0:
        corners.insert(0, (0.0, corners[0][1]))
    if corners[-1][0] < length:
        corners.append((length, corners[-1][1]))
    return tuple(corners)


def top_at(wall: Wall, left: float, right: float) -> float | None:
    """Return the lowest top of a wall between two places along it; None where no height is known.

    A step that stands exactly at one of the two places counts only on the side between them.
    """
    return min(_tops(wall, left, right), default=None)


def highest_top(wall: Wall, left: float, right: float) -> float | None:
    """Return the highest top of a wall between two places along it; None where no height is known."""
    return max(_tops(wall, left, right), default=None)


def _tops(wall: Wall, left: float, right: float) -> list[float]:
    """Return the heights of the top edge at both places and at every corner between them."""
    if not wall.profile:
        return [] if wall.height is None else [float(wall.height)]
    if right - left > 4 * HAIR:
        left, right = left + HAIR, right - HAIR
    first, last = wall.profile[0], wall.profile[-1]
    heights = [float(corner.height) for corner in wall.profile if left <= corner.left <= right]
    heights += [float(first.height)] if left < first.left else []
    heights += [float(last.height)] if right > last.left else []
    for a, b in pairwise(wall.profile):
        heights += [
            float(a.height + (b.height - a.height) * (place - a.left) / (b.left - a.left))
            for place in (left, right)
            if a.left <= place <= b.left and b.left > a.left
        ]
    return heights


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
    if length < SHORTEST:
        yield Finding(
            "zero-length", "the wall has no length", (*path, "end"), "two different ends", "measure the far end"
        )
    elif wall.length is not None and abs(wall.length - length) > max(0.02 * length, 0.05):
        yield Finding(
            "length-differs",
            f"the ends are {show(length, LENGTH)} apart, the length says {show(wall.length, LENGTH)}",
            (*path, "length"),
            "a length that agrees within 2 %",
            "leave `length` out or measure again",
        )


def _profile(wall: Wall, path: KeyPath) -> Iterator[Finding]:
    if not wall.profile:
        return
    here = (*path, "profile")
    if wall.height is not None:
        yield Finding(
            "two-heights", "has both a height and a profile", (*path, "height"), "one of them", "leave one out"
        )
    if len(wall.profile) < 2 or any(b.left < a.left for a, b in pairwise(wall.profile)):
        yield Finding(
            "profile-order",
            "the profile does not run from left to right",
            here,
            "two corners or more, `left` never falling",
            "sort them by `left`",
        )
    length = math.dist(wall.start, wall.end) if wall.start and wall.end else wall.length
    for index, corner in enumerate(wall.profile):
        if corner.height < LOWEST_TOP:
            yield Finding(
                "profile-low",
                f"the wall is only {show(corner.height, LENGTH)} high here",
                (*here, index, "height"),
                f"{show(LOWEST_TOP, LENGTH)} or more above the ground at the left end",
                "measure from the ground",
            )
        if length is not None and corner.left > length + LOOSE:
            yield Finding(
                "outside-wall",
                f"the corner stands {show(corner.left, LENGTH)} along a wall of {show(length, LENGTH)}",
                (*here, index, "left"),
                f"at most {show(length, LENGTH)}",
                "measure from the wall's left end",
            )


def _ground(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    """Yield a ground line that no site has: too steep, or above the wall's top."""
    rise = float(wall.base[1] - wall.base[0])
    if abs(rise) > STEEPEST * length:
        yield Finding(
            "ground-steep",
            f"the ground changes by {show(abs(rise), LENGTH)} over {show(length, LENGTH)}",
            (*path, "base"),
            f"a change of at most {100 * STEEPEST:g} % of the length",
            "write the ground's level at both ends",
        )
        return
    for place in (0.0, *(min(float(corner.left), length) for corner in wall.profile), length):
        top = top_at(wall, place, place)
        if top is not None and top - rise * place / length < SLACK:
            yield Finding(
                "ground-above-wall",
                f"the ground reaches the top {show(place, LENGTH)} along",
                (*path, "base"),
                "a ground line below the top",
                "heights run from the ground at the wall's left end",
            )
            return


def _spikes(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    """Yield a top edge that runs up and back down at one place."""
    rise = float(wall.base[1] - wall.base[0])
    edge = ((0.0, 0.0), *wall_top(wall, length), (length, rise))
    for (a, low), (b, middle), (c, high) in zip(edge, edge[1:], edge[2:], strict=False):
        if a == b == c and (middle - low) * (high - middle) < 0.0:
            yield Finding(
                "profile-spike",
                f"the top edge runs up and back down {show(a, LENGTH)} along",
                (*path, "profile"),
                "a step up or a step down at one place",
                "take the corner between them out",
            )
            return


def _openings(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    for name in ("openings", "doors"):
        for index, thing in enumerate(getattr(wall, name)):
            here = (*path, name, index)
            found = tuple(_beside(here, length, thing.left, thing.width, thing.left + thing.width))
            yield from found or _above(wall, here, length, thing.left, thing.width, thing.bottom + thing.height)
    doors = sorted(enumerate(wall.doors), key=lambda pair: pair[1].left)
    for (_, left), (index, right) in pairwise(doors):
        if left.left + left.width > right.left + LOOSE and left.bottom == right.bottom:
            yield Finding(
                "doors-overlap",
                f"the door {right.id} begins inside the door {left.id}",
                (*path, "doors", index, "left"),
                f"{show(left.left + left.width, LENGTH)} or more",
                "measure both from the wall's left end",
            )


def _projections(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    for index, thing in enumerate(wall.projections):
        here = (*path, "projections", index)
        found = tuple(_beside(here, length, thing.left, thing.width, thing.left))
        if thing.kind in OVER_THE_TOP:
            yield from found or _above(wall, here, length, thing.left, thing.width, thing.bottom - ABOVE, "bottom")
        else:
            yield from found or _above(wall, here, length, thing.left, thing.width, thing.bottom + thing.height)
        if thing.outer_drop > thing.height + SLACK:
            yield Finding(
                "outer-drop",
                "drops more than its whole height",
                (*here, "outer_drop"),
                f"at most its height, {show(thing.height, LENGTH)}",
                "`height` runs from its lowest to its highest edge",
            )


def _beside(path: KeyPath, length: float, left: float, width: float, last: float) -> Iterator[Finding]:
    """Yield a thing whose ``last`` place lies past the wall's right end."""
    if last > length + SLACK:
        yield Finding(
            "outside-wall",
            f"reaches {show(left + width, LENGTH)} along a wall of {show(length, LENGTH)}",
            (*path, "left"),
            f"left + width at most {show(length, LENGTH)}",
            "measure from the wall's left end",
        )


def _above(
    wall: Wall, path: KeyPath, length: float, left: float, width: float, top: float, key: str = "height"
) -> Iterator[Finding]:
    wall_top = top_at(wall, left, min(left + width, length))
    if wall_top is not None and top > wall_top + SLACK:
        most = f"bottom + height at most {show(wall_top, LENGTH)}"
        yield Finding(
            "above-wall",
            f"reaches {show(top, LENGTH)} up a wall of {show(wall_top, LENGTH)}"
            if key == "height"
            else f"begins above a wall of {show(wall_top, LENGTH)}",
            (*path, key),
            most if key == "height" else f"at most {show(wall_top + ABOVE, LENGTH)}",
            "measure from the ground at the left end",
        )


def _soiling(wall: Wall, path: KeyPath, length: float) -> Iterator[Finding]:
    for index, patch in enumerate(wall.soiling):
        here = (*path, "soiling", index)
        left = float(patch.left or 0.0)
        right = length if patch.width is None else left + patch.width
        if max(left, right) > length + SLACK:
            yield Finding(
                "outside-wall",
                "the patch runs past the wall's right end",
                (*here, "left"),
                f"left + width at most {show(length, LENGTH)}",
                "leave `width` out to reach the end",
            )
            continue
        wall_top = highest_top(wall, left, right)
        if patch.top is not None and wall_top is not None and patch.top > wall_top + ABOVE:
            yield Finding(
                "above-wall",
                f"reaches {show(patch.top, LENGTH)} up a wall of {show(wall_top, LENGTH)}",
                (*here, "top"),
                f"at most {show(wall_top, LENGTH)}",
                "leave `top` out to reach the wall's top",
            )
        top = patch.top if patch.top is not None else wall_top
        if top is not None and (patch.bottom or 0.0) >= top:
            key, fix = ("top", "swap them") if patch.top is not None else ("bottom", "measure from the ground")
            yield Finding("no-height", "the patch ends below where it begins", (*here, key), "top above bottom", fix)


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
        wall_top = top_at(wall, fixture.left, max(fixture.left, min(last, length)))
        if wall_top is not None and fixture.height > wall_top + ABOVE:
            yield Finding(
                "above-wall",
                f"hangs {show(fixture.height, LENGTH)} up",
                (*here, "height"),
                f"at most {show(wall_top + ABOVE, LENGTH)}",
                "measure from the ground at the left end",
            )
