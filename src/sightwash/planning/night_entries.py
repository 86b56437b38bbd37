"""A schedule as clock times for each person, with the drive out and home."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from sightwash.planning.night_bounds import CLOSING
from sightwash.planning.night_model import NightModel
from sightwash.planning.night_pieces import Piece
from sightwash.planning.night_rules import Interval, NightRules, clock, dark_minutes, night_number, quiet_minutes, shown
from sightwash.planning.scheduling import Schedule

LEAST_GAP: Final = 3
"""A gap between two tasks shorter than this is not written down [min]."""
MINDING: Final = "mind hose, doors and people; keep planting, glass and what is treated wet"


@dataclass(frozen=True, slots=True)
class TimelineEntry:
    """One line of one person's night, on the site's clock; ``left`` and ``right`` [m] lie on the wall ``along``."""

    person: int
    night: int
    start: datetime
    end: datetime
    action: str
    words: str
    part: str
    along: str
    left: float
    right: float
    machine: bool
    quiet: bool
    dark: bool | None
    piece: str


@dataclass(frozen=True, slots=True)
class NightSpan:
    """One night: when the crew leaves, arrives, ends and is home; time on site, of the shift, of the machine [s]."""

    night: int
    leaves: datetime
    arrives: datetime
    ends: datetime
    home: datetime
    closes: datetime
    bound_by: str
    on_site: float
    shift: float
    machine: float


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece with its start [min] and the people who do it."""

    piece: Piece
    start: int
    end: int
    people: tuple[int, ...]


def placed_pieces(rules: NightRules, model: NightModel, schedule: Schedule) -> tuple[Placed, ...]:
    """Return the pieces in order of time with who does each: the machine stays with one person until a break."""
    order = sorted(model.pieces, key=lambda piece: (schedule.starts[piece.id], -model.minutes[piece.id], piece.id))
    uses = {activity.id: dict(activity.uses) for activity in model.problem.activities}
    starts = _drawn_together(model, schedule)
    free_at = dict.fromkeys(range(1, rules.people + 1), 0)
    at_machine, last_part = 1, dict.fromkeys(free_at, "")
    found: list[Placed] = []
    for piece in sorted(order, key=lambda piece: starts[piece.id]):
        start = starts[piece.id]
        free = [person for person, until in free_at.items() if until <= start]
        liked = sorted(
            free,
            key=lambda person: (
                (person != at_machine) if piece.machine else (person == at_machine),
                last_part[person] != piece.part,
                person,
            ),
        )
        people = tuple(sorted(liked[: uses[piece.id]["people"]]))
        if piece.machine:
            at_machine = people[0]
        if piece.action == "break":
            at_machine = at_machine % rules.people + 1
        for person in people:
            free_at[person] = start + model.minutes[piece.id]
            last_part[person] = piece.part
        found.append(Placed(piece, start, start + model.minutes[piece.id], people))
    return tuple(found)


def _drawn_together(model: NightModel, schedule: Schedule) -> dict[str, int]:
    """Return the starts, the break-down of each night but the last moved up to the end of that night's work."""
    starts = dict(schedule.starts)
    for name in list(starts):
        if not name.startswith(f"{CLOSING}-night"):
            continue
        number = night_number(model.nights, starts[name])
        ends = [
            starts[piece.id] + model.minutes[piece.id]
            for piece in model.pieces
            if piece.id != name and night_number(model.nights, starts[piece.id]) == number
        ]
        starts[name] = max(ends, default=starts[name])
    return starts


def timeline_entries(rules: NightRules, model: NightModel, placed: Sequence[Placed]) -> tuple[TimelineEntry, ...]:
    """Return every person's lines in order of time, gaps and drives filled in."""
    quiet = quiet_minutes(rules, model.nights)
    dark = dark_minutes(rules, model.nights)
    found = [
        _entry(rules, model, each.piece, each.start, each.end, person, quiet, dark)
        for each in placed
        for person in each.people
    ]
    for person in range(1, rules.people + 1):
        found += _between(rules, model, placed, person, quiet, dark)
        found += _drives(rules, model, placed, person)
    return tuple(sorted(found, key=lambda entry: (entry.night, entry.person, entry.start, entry.end)))


def _entry(
    rules: NightRules,
    model: NightModel,
    piece: Piece,
    start: int,
    end: int,
    person: int,
    quiet: Sequence[Interval],
    dark: Sequence[Interval] | None,
) -> TimelineEntry:
    first = clock(rules, model.nights, start)
    return TimelineEntry(
        person, night_number(model.nights, start) + 1, first, first + timedelta(minutes=end - start), piece.action,
        piece.words, piece.part, piece.along, piece.left, piece.right, piece.machine, _inside(start, quiet),
        None if dark is None else _inside(start, dark), piece.id,
    )  # fmt: skip


def _inside(minute: int, spans: Sequence[Interval]) -> bool:
    return any(low <= minute < high for low, high in spans)


def _between(
    rules: NightRules,
    model: NightModel,
    placed: Sequence[Placed],
    person: int,
    quiet: Sequence[Interval],
    dark: Sequence[Interval] | None,
) -> Iterator[TimelineEntry]:
    """Yield what a person does between two tasks of one night: minds hose, doors and people."""
    for number, night in enumerate(model.nights):
        own = [each for each in placed if night_number(model.nights, each.start) == number]
        if not own:
            continue
        last = max(each.end for each in own)
        busy = sorted((each.start, each.end) for each in own if person in each.people)
        reached = night.offset
        for start, end in (*busy, (last, last)):
            if start - reached >= LEAST_GAP:
                piece = Piece(f"mind-{number + 1}-{person}-{reached}", "", 0.0, "mind", MINDING, "site")
                yield _entry(rules, model, piece, reached, start, person, quiet, dark)
            reached = max(reached, end)


def _drives(rules: NightRules, model: NightModel, placed: Sequence[Placed], person: int) -> Iterator[TimelineEntry]:
    if rules.drive <= 0:
        return
    half = timedelta(minutes=rules.drive / 2)
    for number, night in enumerate(model.nights):
        ends = [each.end for each in placed if night_number(model.nights, each.start) == number]
        if not ends:
            continue
        arrives, leaves = clock(rules, model.nights, night.offset), clock(rules, model.nights, max(ends))
        for start, words in ((arrives - half, "drive out"), (leaves, "drive home")):
            yield TimelineEntry(
                person, number + 1, start, start + half, "drive", words, "road", "", 0.0, 0.0, False, False, None, words
            )


def night_spans(rules: NightRules, model: NightModel, placed: Sequence[Placed]) -> tuple[NightSpan, ...]:
    """Return when each night begins and ends."""
    half = timedelta(minutes=rules.drive / 2)
    found = []
    for number, night in enumerate(model.nights):
        own = [each for each in placed if night_number(model.nights, each.start) == number]
        last = max((each.end for each in own), default=night.offset)
        arrives, ends = clock(rules, model.nights, night.offset), clock(rules, model.nights, last)
        on_site = (last - night.offset) * 60.0
        machine = sum(each.end - each.start for each in own if each.piece.machine) * 60.0
        found.append(
            NightSpan(
                number + 1,
                arrives - half,
                arrives,
                ends,
                ends + half,
                shown(rules, night.closes),
                night.bound_by,
                on_site,
                on_site + rules.drive * 60.0,
                machine,
            )
        )
    return tuple(found)
