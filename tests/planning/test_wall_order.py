"""The order of walls: against every order and every beginning tried one by one.

Closed form: for up to four walls all orders, each wall begun at once, at its first hour that need not be avoided or at
its dearest-last hour, are summed up here in plain minutes; nothing of the search is shared but what an hour costs.
"""

from __future__ import annotations

import itertools
import math
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.sources import Why
from sightwash.planning.wall_clock import WallClock, WallHour
from sightwash.planning.wall_order import AVOIDED, WAITING, WallTurn, plan_wall_order
from sightwash.science.sections import section_time

START = datetime(2026, 7, 11, 8, tzinfo=UTC)
HOURS = 6
WET = 3600.0
DWELL = 600.0


def clock(name: str, length: float, sections: list[float], lit: list[float]) -> WallClock:
    """Return a wall with a longest section for each hour, 0 where it is to be avoided."""
    hours = tuple(
        WallHour(START + timedelta(hours=k), 0.0, 0.0, lit[k], 20.0, WET, WET, WET, WET, each, each, each == 0.0, "w")
        for k, each in enumerate(sections)
    )
    return WallClock(name, 0.0, length, 4.0, 1.0, 2e-4, 0.5, DWELL, 0.02, 0.03, hours, (), "08:00", Why("test", ()))


def hour_cost(wall: WallClock, k: int) -> float:
    section = wall.hours[k].section
    return math.ceil(wall.length / section - 1e-9) if section else AVOIDED * (1.0 + DWELL / WET)


def wall_cost(wall: WallClock, begin: float, last: float) -> float:
    """Return the cost of a wall begun so many seconds after the start: the mean of the hours that it touches."""
    end = begin + section_time(wall.length, DWELL, 0.02, 0.03)
    touched = [k for k in range(HOURS) if k * 3600 < end and (k + 1 == HOURS or (k + 1) * 3600 > begin)] or [HOURS - 1]
    return sum(hour_cost(wall, k) for k in touched) / len(touched) + (AVOIDED if end > last else 0.0)


def beginnings(wall: WallClock, now: float, last: float) -> list[float]:
    later = [k * 3600.0 for k in range(HOURS) if k * 3600 > now]
    good = [at for at in later if wall_cost(wall, at, last) < AVOIDED][:1]
    return [now, *good, *sorted(later, key=lambda at: wall_cost(wall, at, last))[:1]]


def least_of_all(walls: list[WallClock], now: float, last: float) -> float:
    if not walls:
        return 0.0
    found = math.inf
    for wall in walls:
        rest = [other for other in walls if other is not wall]
        for begin in beginnings(wall, now, last):
            own = wall_cost(wall, begin, last) + WAITING * (begin - now) / 3600.0
            end = begin + section_time(wall.length, DWELL, 0.02, 0.03)
            found = min(found, own + least_of_all(rest, end, last))
    return found


def cost_of(walls: list[WallClock], turns: tuple[WallTurn, ...], last: float) -> float:
    by_name, now, total = {wall.wall: wall for wall in walls}, 0.0, 0.0
    for turn in turns:
        begin = (turn.starts - START).total_seconds()
        total += wall_cost(by_name[turn.wall], begin, last) + WAITING * (begin - now) / 3600.0
        now = (turn.ends - START).total_seconds()
    return total


SECTIONS = st.lists(st.sampled_from([0.0, 5.0, 9.0, 20.0]), min_size=HOURS, max_size=HOURS)
LIT = st.lists(st.sampled_from([0.0, 0.5, 1.0]), min_size=HOURS, max_size=HOURS)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([12.0, 20.0, 31.0]), SECTIONS, LIT), min_size=1, max_size=4))
def test_no_other_order_is_cheaper(drawn: list[tuple[float, list[float], list[float]]]) -> None:
    walls = [clock(f"wall-{k}", *each) for k, each in enumerate(drawn)]
    last = HOURS * 3600.0
    turns = plan_wall_order(walls, START, START + timedelta(seconds=last))
    assert sorted(turn.wall for turn in turns) == [wall.wall for wall in walls]
    assert all(one.ends <= other.starts for one, other in itertools.pairwise(turns))
    assert cost_of(walls, turns, last) == pytest.approx(least_of_all(walls, 0.0, last), abs=1e-3)


def test_the_hour_that_comes_twice_counts_twice() -> None:
    """On the night when clocks go back two hours are called one o'clock; a wall takes as long as ever."""
    from zoneinfo import ZoneInfo

    zone = ZoneInfo("America/Chicago")
    start = datetime(2026, 11, 1, 0, 30, tzinfo=zone)
    wall = clock("front", 60.0, [60.0] * HOURS, [0.0] * HOURS)
    (turn,) = plan_wall_order([wall], start, datetime(2026, 11, 1, 6, tzinfo=zone))
    taken = turn.ends.astimezone(UTC) - turn.starts.astimezone(UTC)
    assert taken.total_seconds() == pytest.approx(section_time(60.0, DWELL, 0.02, 0.03), abs=1e-5)
