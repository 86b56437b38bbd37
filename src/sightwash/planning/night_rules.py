"""The rules of a night: when work may begin and must end, quiet hours, doors, darkness, shifts, people, machines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from typing import Final
from zoneinfo import ZoneInfo

from sightwash.basis.errors import InputError, OutOfRange, Problem
from sightwash.science.sun import sun_times, utc_seconds
from sightwash.site.conditions import Conditions
from sightwash.site.model import QuietHours, Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

EVENING: Final = time(20, 0)
"""Start taken where none is given; common practice, a plain guess."""
DAY: Final = timedelta(days=1)
Interval = tuple[int, int]


@dataclass(frozen=True, slots=True)
class NightRules:
    """What a night must keep to; times of the day are local clock, lengths of time in minutes.

    ``drive`` is out and back together and counts into the longest shift. With ``quiet_leave`` the machine may run in
    the quiet hours all the same. ``breaks`` is how many breaks the last night has at least.
    """

    on: date
    start: time
    end: time | None
    zone: str | None
    latitude: float | None
    longitude: float | None
    quiet: QuietHours | None
    doors: tuple[tuple[str, time, time], ...]
    longest_shift: int
    drive: int
    people: int
    machines: int = 1
    nights: int = 1
    break_length: int = 30
    break_before: int = 330
    breaks: int = 0
    start_given: bool = True
    quiet_leave: bool = False


@dataclass(frozen=True, slots=True)
class Night:
    """One night on site: its clock times and where it lies on the line of minutes that all nights share."""

    opens: datetime
    closes: datetime
    offset: int
    length: int
    bound_by: str


def night_rules(site: Site, rig: Rig, rates: Rates, conditions: Conditions, on: date) -> NightRules:
    """Return the rules that the documents state; doors without hours bind nothing."""
    doors = tuple(
        (door.id, door.hours.open, door.hours.close)
        for wall in site.walls
        if wall.excluded is None
        for door in wall.doors
        if door.hours is not None
    )
    rules = NightRules(
        on,
        conditions.start or EVENING,
        conditions.end,
        site.place.time_zone,
        site.place.latitude,
        site.place.longitude,
        site.quiet_hours,
        doors,
        round(rig.crew.longest_shift * 60),
        round(float(rates.travel.time) / 60),
        rig.crew.people,
        rig.machine.count,
        conditions.nights,
        start_given=conditions.start is not None,
        quiet_leave=site.quiet_hours is not None and site.quiet_hours.leave is not None,
    )
    check_rules(rules)
    return rules


def check_rules(rules: NightRules) -> None:
    """Raise InputError where a rule cannot be meant: no people, no time, hours that end when they begin."""
    problems: list[Problem] = []
    for key, value in (("people", rules.people), ("machines", rules.machines), ("nights", rules.nights)):
        if value < 1:
            problems.append(Problem("too-few", f"{value} {key}", key=key, expected="1 or more", fix="write `1`"))
    if rules.start == rules.end:
        problems.append(_same("end", "the window closes when it opens"))
    for name, opens, closes in rules.doors:
        if opens == closes:
            problems.append(_same(f"{name}.hours", "the door closes when it opens"))
    if rules.quiet is not None and rules.quiet.start == rules.quiet.end:
        problems.append(_same("quiet_hours", "the quiet hours end when they begin"))
    if rules.longest_shift <= rules.drive:
        words = f"the drive of {rules.drive} min fills the longest shift of {rules.longest_shift} min"
        problems.append(Problem("shift-length", words, key="crew.longest_shift", expected="more than the drive"))
    if problems:
        raise InputError(problems)


def _same(key: str, words: str) -> Problem:
    return Problem("no-hours", words, key=key, expected="two different times", fix="leave it out, or mend it")


def plan_nights(rules: NightRules, apart: int) -> tuple[Night, ...]:
    """Return the nights, ``apart`` empty minutes between two of them on the shared line."""
    found: list[Night] = []
    offset = 0
    for number in range(rules.nights):
        opens = _local(rules, rules.on + number * DAY, rules.start)
        by_shift = _after(opens, rules.longest_shift - rules.drive)
        closes, bound = by_shift, "the longest shift, drive included"
        if rules.end is not None:
            day = rules.on + number * DAY + (DAY if rules.end <= rules.start else timedelta())
            stated = _local(rules, day, rules.end)
            if stated <= by_shift:
                closes, bound = stated, "the stated end"
        length = round((closes - opens) / timedelta(minutes=1))
        if length <= 0:
            words = f"the window closes at {closes:%H:%M}, before it opens at {opens:%H:%M}"
            raise InputError(Problem("window-order", words, key="end", expected="opening before closing"))
        found.append(Night(opens, closes, offset, length, bound))
        offset += length + apart
    return tuple(found)


def _local(rules: NightRules, day: date, at: time) -> datetime:
    moment = datetime.combine(day, at)
    if rules.zone is None:
        return moment
    return moment.replace(tzinfo=ZoneInfo(rules.zone)).astimezone(UTC)


def moment_of(rules: NightRules, when: datetime) -> datetime:
    """Return a time on the site's clock as a moment that can be compared with those of the nights."""
    if rules.zone is None:
        return when.replace(tzinfo=None)
    return (when if when.tzinfo else when.replace(tzinfo=ZoneInfo(rules.zone))).astimezone(UTC)


def _after(moment: datetime, minutes: float) -> datetime:
    return moment + timedelta(minutes=minutes)


def shown(rules: NightRules, moment: datetime) -> datetime:
    """Return a moment on the site's clock."""
    return moment if rules.zone is None else moment.astimezone(ZoneInfo(rules.zone))


def clock(rules: NightRules, nights: Sequence[Night], minute: float) -> datetime:
    """Return the local clock time of a minute on the shared line."""
    night = next((night for night in reversed(nights) if minute >= night.offset), nights[0])
    return shown(rules, _after(night.opens, minute - night.offset))


def night_number(nights: Sequence[Night], minute: float) -> int:
    """Return which night a minute on the shared line belongs to, from 0."""
    return max(number for number, night in enumerate(nights) if minute >= night.offset or number == 0)


def _daily(rules: NightRules, start: time, end: time) -> Iterator[tuple[datetime, datetime]]:
    """Yield a daily pair of clock times around the nights; a pair that ends before it starts crosses midnight."""
    for number in range(-1, rules.nights + 2):
        day = rules.on + number * DAY
        yield _local(rules, day, start), _local(rules, day + (DAY if end <= start else timedelta()), end)


def _on_line(nights: Sequence[Night], spans: Iterator[tuple[datetime, datetime]]) -> tuple[Interval, ...]:
    """Return the minutes of the nights that lie in any of the spans, whole minutes outward."""
    found: list[Interval] = []
    for begins, ends in spans:
        for night in nights:
            low, high = max(begins, night.opens), min(ends, night.closes)
            if low < high:
                first = (low - night.opens) // timedelta(minutes=1)
                last = -((night.opens - high) // timedelta(minutes=1))
                found.append((night.offset + first, night.offset + last))
    return tuple(sorted(found))


def quiet_minutes(rules: NightRules, nights: Sequence[Night]) -> tuple[Interval, ...]:
    """Return the minutes in which rules want quiet, whether there is leave to run the machine or not."""
    if rules.quiet is None:
        return ()
    return _on_line(nights, _daily(rules, rules.quiet.start, rules.quiet.end))


def door_minutes(rules: NightRules, nights: Sequence[Night]) -> dict[str, tuple[Interval, ...]]:
    """Return for each door with hours the minutes in which it is in use."""
    return {name: _on_line(nights, _daily(rules, opens, closes)) for name, opens, closes in rules.doors}


def dark_spans(rules: NightRules) -> tuple[tuple[datetime, datetime], ...] | None:
    """Return sunset to sunrise around the nights; None where the place, its clock or a sunrise is not known."""
    if rules.latitude is None or rules.longitude is None or rules.zone is None:
        return None
    suns = []
    for number in range(-1, rules.nights + 2):
        noon = _local(rules, rules.on + number * DAY, time(12, 0))
        try:
            suns.append(sun_times(utc_seconds(noon), rules.latitude, rules.longitude))
        except OutOfRange:
            return None
    return tuple(
        (datetime.fromtimestamp(a.sunset, UTC), datetime.fromtimestamp(b.sunrise, UTC)) for a, b in pairwise(suns)
    )


def dark_minutes(rules: NightRules, nights: Sequence[Night]) -> tuple[Interval, ...] | None:
    """Return the minutes from sunset to sunrise; None where they are not known."""
    spans = dark_spans(rules)
    return None if spans is None else _on_line(nights, iter(spans))


def free_windows(nights: Sequence[Night], taken: Sequence[Interval]) -> tuple[Interval, ...]:
    """Return the parts of the nights that none of the taken intervals covers."""
    found: list[Interval] = []
    for night in nights:
        low, end = night.offset, night.offset + night.length
        for begins, ends in sorted(taken):
            if ends <= low or begins >= end:
                continue
            if begins > low:
                found.append((low, begins))
            low = max(low, ends)
        if low < end:
            found.append((low, end))
    return tuple(found)
