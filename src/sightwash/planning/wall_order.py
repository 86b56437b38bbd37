"""The order of the walls: each where it costs the fewest sections, so that shade goes before sun.

A wall may wait for a better hour, at a price; other work fills the time.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.wall_clock import WallClock, WallHour
from sightwash.science.sections import section_time

MOST_EXACT: Final = 8
"""Up to so many walls the order is the best of all; above, each next wall is the best at its hour."""
AVOIDED: Final = 1000.0
"""Cost of an hour that is to be avoided, more the sooner the film dries in it; an ordinary section costs 1."""
WAITING: Final = 2.0
"""Cost of an hour of waiting, in sections."""
TICK: Final = timedelta(microseconds=1)
"""The search counts time in these, so that equal moments are equal whatever came before them."""
TICKS_AN_HOUR: Final = timedelta(hours=1) // TICK
ALIKE: Final = 1e-9
"""Costs that differ by no more than this are equal."""


@dataclass(frozen=True, slots=True)
class WallTurn:
    """One wall's turn: when, how much of it is then in the sun [-], how long its sections are [m], how many."""

    wall: str
    starts: datetime
    ends: datetime
    lit: float
    section: float
    sections: int
    avoid: bool
    fits: bool
    words: str
    why: Why


def plan_wall_order(clocks: Sequence[WallClock], start: datetime, end: datetime) -> tuple[WallTurn, ...]:
    """Return the walls in the order of least sections over the window; equals: shade first, then the site's order."""
    if not clocks:
        return ()
    search = _Search([_Wall(clock, start) for clock in clocks], _ticks(start, end))
    order = search.best() if len(clocks) <= MOST_EXACT else search.greedy()
    turns: list[WallTurn] = []
    now = 0
    for index, begin in order:
        until = begin + search.walls[index].time
        turns.append(_turn(clocks[index], _later(start, begin), _later(start, until), until <= search.end, begin > now))
        now = until
    return tuple(turns)


def _later(moment: datetime, ticks: int) -> datetime:
    return (moment.astimezone(UTC) + ticks * TICK).astimezone(moment.tzinfo)


def _ticks(start: datetime, moment: datetime) -> int:
    """Return the time between two moments, also where the clock is put back, in whole ticks."""
    return (moment.astimezone(UTC) - start.astimezone(UTC)) // TICK


def _time(clock: WallClock) -> float:
    """Return the time that a wall takes in one piece, treatments included [s]."""
    return clock.passes * section_time(clock.length, clock.dwell, clock.treat_speed, clock.rinse_speed)


def hours_between(clock: WallClock, start: datetime, end: datetime) -> list[WallHour]:
    """Return the hours of a wall that a stretch of time touches; beyond the window its last one."""
    touched = [
        hour
        for hour, after in zip(clock.hours, [*(h.start for h in clock.hours[1:]), None], strict=True)
        if hour.start < end and (after is None or after > start)
    ]
    return touched or [clock.hours[-1]]


def _hour_cost(clock: WallClock, hour: WallHour) -> float:
    if hour.avoid or hour.section <= 0.0:
        return AVOIDED * (1.0 + clock.dwell / max(hour.wet_low, 60.0))
    return float(math.ceil(clock.length / hour.section - 1e-9))


Plan = tuple[tuple[int, int], ...]


class _Wall:
    """One wall's figures for the search: its time, its hours' starts, costs and lit shares; ticks from a start."""

    def __init__(self, clock: WallClock, start: datetime) -> None:
        self.time = round(_time(clock) * 1e6)
        self.starts = [_ticks(start, hour.start) for hour in clock.hours]
        self.costs = [_hour_cost(clock, hour) for hour in clock.hours]
        self.lit = [hour.lit for hour in clock.hours]
        self.least = min(self.costs)

    def touched(self, start: int, end: int) -> slice:
        """Return which of its hours a stretch of time touches; beyond the window the last one."""
        first, stop = max(bisect_right(self.starts, start) - 1, 0), bisect_left(self.starts, end)
        return slice(first, stop) if first < stop else slice(len(self.starts) - 1, None)


class _Search:
    """The search for an order; what is left to do and the time by now fix what the rest costs."""

    def __init__(self, walls: list[_Wall], end: int) -> None:
        self.walls, self.end = walls, end
        self._known: dict[tuple[int, int], tuple[float, Plan]] = {}
        self._costs: dict[tuple[int, int], float] = {}
        self._starts: dict[tuple[int, int], list[int]] = {}

    def cost(self, index: int, start: int) -> float:
        """Return what a wall costs if it is begun at a moment: sections, dear in hours to avoid and past the end."""
        key = (index, start)
        if key not in self._costs:
            wall, until = self.walls[index], start + self.walls[index].time
            hours = wall.costs[wall.touched(start, until)]
            self._costs[key] = sum(hours) / len(hours) + (AVOIDED if until > self.end else 0.0)
        return self._costs[key]

    def starts(self, index: int, now: int) -> list[int]:
        """Return when a wall may be begun: now, at the first hour that need not be avoided, at its best hour."""
        wall = self.walls[index]
        first = bisect_right(wall.starts, now)
        if (index, first) not in self._starts:
            later = wall.starts[first:]
            good = [moment for moment in later if self.cost(index, moment) < AVOIDED]
            best = min(later, key=lambda moment: self.cost(index, moment), default=None)
            self._starts[index, first] = [*good[:1], *(() if best is None else (best,))]
        return list(dict.fromkeys([now, *self._starts[index, first]]))

    def by_shade(self, left: int, now: int) -> list[int]:
        """Return the walls that are left, those in shade first."""

        def lit(index: int) -> float:
            wall = self.walls[index]
            return round(max(wall.lit[wall.touched(now, now + 1_000_000)]), 3)

        return sorted(_members(left), key=lambda index: (lit(index), index))

    def best(self) -> list[tuple[int, int]]:
        """Return the cheapest order of all."""
        return list(self._rest((1 << len(self.walls)) - 1, 0)[1])

    def _rest(self, left: int, now: int) -> tuple[float, Plan]:
        """Return the least cost of the walls in a set (a bit for each) from a moment on, and their order.

        A beginning is let go when even the cheapest hours for all that follows would not make it the better one.
        """
        if not left:
            return 0.0, ()
        key = (left, now)
        if key in self._known:
            return self._known[key]
        best: tuple[float, Plan] = (math.inf, ())
        for index in self.by_shade(left, now):
            others = left & ~(1 << index)
            least = math.fsum(self.walls[other].least for other in _members(others))
            for begin in self.starts(index, now):
                own = self.cost(index, begin) + WAITING * (begin - now) / TICKS_AN_HOUR
                if own + least * (1.0 - ALIKE) >= best[0]:
                    continue
                after, order = self._rest(others, begin + self.walls[index].time)
                if own + after < best[0] - ALIKE:
                    best = (own + after, ((index, begin), *order))
        self._known[key] = best
        return best

    def greedy(self) -> list[tuple[int, int]]:
        """Return an order in which each next wall is the cheapest at its hour."""
        left, now = (1 << len(self.walls)) - 1, 0
        order: list[tuple[int, int]] = []
        while left:
            index = min(self.by_shade(left, now), key=lambda k: round(self.cost(k, now), 6))
            left &= ~(1 << index)
            order.append((index, now))
            now += self.walls[index].time
        return order


def _members(left: int) -> list[int]:
    """Return the walls of a set that has a bit for each."""
    return [index for index in range(left.bit_length()) if left >> index & 1]


def _turn(clock: WallClock, start: datetime, end: datetime, fits: bool, waited: bool) -> WallTurn:
    hours = hours_between(clock, start, end)
    section = min(hour.section for hour in hours)
    lit = max(hour.lit for hour in hours)
    avoid = any(hour.avoid for hour in hours)
    count = math.ceil(clock.length / section - 1e-9) if section > 0.0 else 0
    worst = min(hours, key=lambda hour: hour.section)
    words = worst.words if fits else f"{worst.words}; it does not fit into the window"
    if avoid and any(not hour.avoid for hour in clock.hours):
        words += f"; better at {clock.best}"
    if waited:
        words = f"not before {start:%H:%M}; {words}"
    rule = "fewest sections over the window, shade before sun; equal walls in the site's order"
    return WallTurn(clock.wall, start, end, lit, section, count, avoid, fits, words, Why(rule, ("section-timeline",)))
