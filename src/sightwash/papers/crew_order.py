"""The order of work with clock times, for the crew sheet: each night, each person."""

from __future__ import annotations

from typing import Final

from sightwash.basis.units import LENGTH, show
from sightwash.papers.clock_list import merged
from sightwash.papers.crew_layout import PAGES, lines_of
from sightwash.papers.job import Job
from sightwash.papers.phrases import PhraseBook
from sightwash.papers.printed_drawing import NARROWER
from sightwash.papers.typesetter import JSON
from sightwash.planning.night_entries import NightSpan, TimelineEntry
from sightwash.planning.timeline import Timeline

SIZES: Final = (10.5, 10.0, 9.5, 9.0)
"""Sizes of the text of the order of work, the first that finds room counts [pt]."""
COLUMNS_APART: Final = 20.0
NIGHT_HEAD: Final = 44.0
"""Height of the head of a night and of a person's list [pt]."""


def order_pages(job: Job, book: PhraseBook) -> list[JSON]:
    """Return each night with its hours and its people's lines."""
    if job.night is None:
        return []
    timeline = job.night.timeline
    return [_night(job, book, timeline, night) for night in timeline.nights]


def wall_order(job: Job, book: PhraseBook) -> list[str]:
    """Return the walls in the order of the drying clock, for a plan without clock times."""
    walls = {wall.id: wall.name or wall.id for wall in job.site.walls}
    turns = job.plan.drying.order
    return [
        f"{turn.starts:%H:%M}-{turn.ends:%H:%M}  {walls.get(turn.wall, turn.wall)}: {book.say(turn.words)}"
        for turn in turns
    ]


def night_hours(job: Job, night: NightSpan) -> str:
    """Return when the crew is on site and home again."""
    words = job.words("crew")["night_hours"]
    return words.format(start=f"{night.arrives:%H:%M}", end=f"{night.ends:%H:%M}", home=f"{night.home:%H:%M}")


def _night(job: Job, book: PhraseBook, timeline: Timeline, night: NightSpan) -> JSON:
    words = job.words("crew")
    people: list[JSON] = []
    people_lines: list[list[list[str]]] = []
    for person in range(1, timeline.people + 1):
        own = [each for each in timeline.entries if each.person == person and each.night == night.night]
        lines = [_line(job, book, entry) for entry in merged(own)]
        people_lines.append(lines)
        people.append({"name": words["person"].format(number=person), "lines": lines})
    name = words["night"].format(number=night.night, day=job.day(night.arrives.date()))
    return {"name": name, "hours": night_hours(job, night), "people": people, "size": _size(job, people_lines)}


def _size(job: Job, people: list[list[list[str]]]) -> float:
    """Return the largest size of text at which everybody's lines of a night find room on one page, else the smallest.

    Where even that does not do, a list goes on in the next column.
    """
    width, height = PAGES[job.paper]
    for size in SIZES:
        column = (width - COLUMNS_APART) / 2 - 8.4 * size - 12.0
        if all(sum(_row(line[1], column, size) for line in lines) <= height - NIGHT_HEAD for lines in people):
            return size
    return SIZES[-1]


def _row(words: str, width: float, size: float) -> float:
    """Return about how high a line of the order of work stands [pt]."""
    return 3.4 + 0.66 * size + 1.21 * size * (lines_of(words, width / NARROWER, size) - 1)


def _line(job: Job, book: PhraseBook, entry: TimelineEntry) -> list[str]:
    words, units = job.words("crew"), job.plan.units
    text = book.say(entry.words)
    if entry.right > entry.left:
        until = show(entry.right, LENGTH, units)
        if entry.left < 0.01:
            text += ", " + words["first_stretch"].format(length=until)
        else:
            text += ", " + words["stretch"].format(start=show(entry.left, LENGTH, units), end=until)
    marks = ("MQ" if entry.quiet else "M") if entry.machine else ""
    return [f"{entry.start:%H:%M}–{entry.end:%H:%M}", text, marks]
