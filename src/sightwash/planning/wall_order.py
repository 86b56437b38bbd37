"""The order of the walls: each where it costs the fewest sections, so that shade goes before sun.

A wall may wait for a better hour, at a price; other work fills the time.
"""

from __future__ import annotations

import math
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
    search = _Search(tuple(clocks), tuple(_time(clock) for clock in clocks), start, end)
    order = search.best() if len(clocks) <= MOST_EXACT else search.greedy()
    turns: list[WallTurn] = []
    now = start
    for index, begin in order:
        until = _later(begin, search.times[index])
        turns.append(_turn(clocks[index], begin, until, until <= end, begin > now))
        now = until
    return tuple(turns)


def _later(moment: datetime, seconds: float) -> datetime:
    return (moment.astimezone(UTC) + timedelta(seconds=seconds)).astimezone(moment.tzinfo)


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


Plan = tuple[tuple[int, datetime], ...]


class _Search:
    """The search for an order; what is left to do and the time by now fix what the rest costs."""

    def __init__(self, clocks: tuple[WallClock, ...], times: tuple[float, ...], start: datetime, end: datetime) -> None:
        self.clocks, self.times, self.start, self.end = clocks, times, start, end
        self._known: dict[tuple[frozenset[int], datetime], tuple[float, Plan]] = {}
        self._costs: dict[tuple[int, datetime], float] = {}

    def cost(self, index: int, start: datetime) -> float:
        """Return what a wall costs if it is begun at a moment: sections, dear in hours to avoid and past the end."""
        key = (index, start)
        if key not in self._costs:
            until = _later(start, self.times[index])
            hours = hours_between(self.clocks[index], start, until)
            cost = sum(_hour_cost(self.clocks[index], hour) for hour in hours) / len(hours)
            self._costs[key] = cost + (AVOIDED if until > self.end else 0.0)
        return self._costs[key]

    def starts(self, index: int, now: datetime) -> list[datetime]:
        """Return when a wall may be begun: now, at the first hour that need not be avoided, at its best hour."""
        later = [hour.start for hour in self.clocks[index].hours if hour.start > now]
        good = [moment for moment in later if self.cost(index, moment) < AVOIDED]
        best = min(later, key=lambda moment: self.cost(index, moment), default=now)
        return list(dict.fromkeys([now, *good[:1], best]))

    def by_shade(self, left: frozenset[int], now: datetime) -> list[int]:
        """Return the walls that are left, those in shade first."""

        def lit(index: int) -> float:
            return round(max(hour.lit for hour in hours_between(self.clocks[index], now, _later(now, 1.0))), 3)

        return sorted(left, key=lambda index: (lit(index), index))

    def best(self) -> list[tuple[int, datetime]]:
        """Return the cheapest order of all."""
        return list(self._rest(frozenset(range(len(self.clocks))), self.start)[1])

    def _rest(self, left: frozenset[int], now: datetime) -> tuple[float, Plan]:
        if not left:
            return 0.0, ()
        key = (left, now)
        if key not in self._known:
            best: tuple[float, Plan] | None = None
            for index in self.by_shade(left, now):
                for begin in self.starts(index, now):
                    after, order = self._rest(left - {index}, _later(begin, self.times[index]))
                    waited = (begin - now).total_seconds() / 3600.0
                    cost = self.cost(index, begin) + WAITING * waited + after
                    if best is None or cost < best[0] - 1e-9:
                        best = (cost, ((index, begin), *order))
            assert best is not None
            self._known[key] = best
        return self._known[key]

    def greedy(self) -> list[tuple[int, datetime]]:
        """Return an order in which each next wall is the cheapest at its hour."""
        left, order, now = frozenset(range(len(self.clocks))), [], self.start
        while left:
            index = min(self.by_shade(left, now), key=lambda k: round(self.cost(k, now), 6))
            left -= {index}
            order.append((index, now))
            now = _later(now, self.times[index])
        return order


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
