"""When the work is near each door and each wall: read from the night's timeline, nothing added."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final, NamedTuple

from sightwash.planning.night import NightPlan
from sightwash.site.walls import Door, Wall

WET: Final = ("treat", "rinse", "power rinse", "rinse glass", "trim", "surface clean", "gum by hot wand", "gum by hand")
NEAR: Final = 1.5
"""Work nearer to a door than this along the wall is at the door [m]."""


class WorkTime(NamedTuple):
    """Work at one place in one night: from, until."""

    start: datetime
    end: datetime


def door_times(night: NightPlan, wall: Wall, door: Door) -> tuple[WorkTime, ...]:
    """Return for each night from when until when there is water, mix or a scraper at a door."""
    left, right = float(door.left) - NEAR, float(door.left + door.width) + NEAR
    found: dict[int, WorkTime] = {}
    for entry in night.timeline.entries:
        whole_length = entry.right <= entry.left
        at_door = entry.along == wall.id and (whole_length or (entry.left < right and entry.right > left))
        if entry.action in WET and at_door:
            old = found.get(entry.night, WorkTime(entry.start, entry.end))
            found[entry.night] = WorkTime(min(old.start, entry.start), max(old.end, entry.end))
    return tuple(found[number] for number in sorted(found))


def nights_on_site(night: NightPlan) -> tuple[WorkTime, ...]:
    """Return for each night when the crew is on site."""
    return tuple(WorkTime(span.arrives, span.ends) for span in night.timeline.nights)


def outward(moment: datetime, up: bool) -> datetime:
    """Return a moment at the quarter hour before it, or after it, so that a notice never promises too much.

    >>> outward(datetime(2026, 7, 11, 21, 3), True), outward(datetime(2026, 7, 11, 21, 3), False)
    (datetime.datetime(2026, 7, 11, 21, 15), datetime.datetime(2026, 7, 11, 21, 0))
    """
    quarter = timedelta(minutes=15)
    low = moment - timedelta(minutes=moment.minute % 15, seconds=moment.second, microseconds=moment.microsecond)
    return low + quarter if up and low != moment else low
