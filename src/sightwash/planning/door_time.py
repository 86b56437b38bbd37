"""Time that the surface cleaner spends in front of each threshold, against a limit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from sightwash.basis.sources import Why
from sightwash.science.ground_time import time_before
from sightwash.science.sweep import LaidPath
from sightwash.site.shapes import PlacedWall

LONGEST_STAY: Final = 60.0
"""Longest time before a threshold at one go [s]; a judgement."""
LONGEST_IN_ALL: Final = 300.0
"""Longest time before a threshold in all [s]; a judgement."""


@dataclass(frozen=True, slots=True)
class DoorTime:
    """Time within 5 ft of one threshold: in all, the longest stay, how often, turns there, and the limits [s]."""

    door: str
    wall: str
    time: float
    longest: float
    stays: int
    turns: int
    limit: float
    longest_limit: float
    within: bool
    words: str
    why: Why


def plan_door_times(
    walls: tuple[PlacedWall, ...], zones: dict[str, shapely.Polygon], laid: LaidPath, time: float
) -> tuple[DoorTime, ...]:
    """Return the time before each door of a surface; ``time`` is that of the whole path."""
    owner = {door.id: placed.wall.id for placed in walls for door in placed.wall.doors}
    return tuple(_door_time(name, owner[name], zone, laid, time) for name, zone in zones.items())


def _door_time(name: str, wall: str, zone: shapely.Polygon, laid: LaidPath, time: float) -> DoorTime:
    lines = [line for line, kind in zip(laid.lines, laid.kinds, strict=True) if kind != "carry"]
    points = [np.asarray(line.coords) for line in lines]
    ends = np.vstack([np.hstack([part[:-1], part[1:]]) for part in points]).reshape(-1, 2, 2)
    pieces = np.asarray(shapely.linestrings(ends))
    inside = shapely.length(shapely.intersection(pieces, zone))
    stays = _stays(inside)
    turning = [part[0] for part, kind in zip(points, laid.kinds, strict=False) if kind in ("turn", "swing")]
    turns = int(np.count_nonzero(shapely.intersects_xy(zone, *np.array(turning).T))) if turning else 0
    whole = time_before(float(inside.sum()), laid.length, time)
    longest = time_before(max(stays, default=0.0), laid.length, time)
    within = whole <= LONGEST_IN_ALL and longest <= LONGEST_STAY
    return DoorTime(
        name, wall, whole, longest, len(stays), turns, LONGEST_IN_ALL, LONGEST_STAY, within,
        _words(name, whole, longest, len(stays), turns, within),
        Why(
            "length of the path within 5 ft of the threshold at the production rate; the limits are judgements",
            ("practice-door-time", "practice-doors"),
        ),
    )  # fmt: skip


def _stays(inside: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[float]:
    """Return the lengths of the stretches of pieces that follow each other before a door."""
    stays: list[float] = []
    going = False
    for length in inside.tolist():
        if length <= 1e-9:
            going = False
        elif going:
            stays[-1] += length
        else:
            stays.append(length)
            going = True
    return stays


def _words(name: str, whole: float, longest: float, stays: int, turns: int, within: bool) -> str:
    often = "once" if stays == 1 else f"{stays} times"
    words = [f"{name}: {whole:.0f} s before it in all, {often}, {longest:.0f} s at most at one go"]
    if turns:
        fall = "a turn falls" if turns == 1 else f"{turns} turns fall"
        words.append(f"{fall} before it: run past the door and turn there")
    if not within:
        words.append("over the limit: barrier at the threshold, look inside, pass faster or scrub by hand")
    return "; ".join(words)
