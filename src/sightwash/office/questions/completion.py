"""Is it done? Ticks part by part, missed strips closed by id, photographs, water and chlorine, the next visit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sightwash.book.done_record import DoneRecord, PlannedIds, open_misses
from sightwash.office.questions.figures import Figure, Line, figure, said
from sightwash.office.questions.panel import Panel, Section
from sightwash.office.questions.parts import part_names
from sightwash.office.questions.strip import Marks
from sightwash.papers.drawings.lettering import length_words
from sightwash.papers.drawings.views import strip_letters
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

TICKS = {"as planned": "✓", "otherwise": "✓ otherwise", "not done": "not done"}


@dataclass(frozen=True, slots=True)
class PartTick:
    """A part of the work with how it was done, for the form."""

    id: str
    words: str
    how: str
    note: str


@dataclass(frozen=True, slots=True)
class MissLine:
    """A missed strip with its letter and words, and what was written about it."""

    id: str
    letter: str
    words: str
    closed: bool
    said: str


def completion_panel(site: Site, plan: VisitPlan, done: DoneRecord | None, ids: PlannedIds) -> Panel:
    """Return the answer to whether it is done."""
    how = {} if done is None else {part.part: part.how for part in done.parts}
    marks = Marks(on_parts={part: TICKS[word] for part, word in how.items()})
    left = [part for part in ids.parts if how.get(part) in (None, "not done")]
    still_open = ids.misses if done is None else open_misses(done, ids)
    names = part_names(site, plan)
    figures = tuple(_figures(done, ids, len(left), len(still_open)))
    sections = (
        Section("Water and chlorine", tuple(_readings(done))),
        Section("Said", tuple(_remarks(done))),
    )
    decide = tuple(
        said(
            f"{names.get(part.part, part.part)} was not done: {part.note or 'no reason is written down'}.", decide=True
        )
        for part in (() if done is None else done.parts)
        if part.how == "not done"
    )
    caption = (
        "A tick stands on a part that is done; bold diagonals are the missed strips. Tap a part for all six answers."
    )
    return Panel(figures, tuple(section for section in sections if section.lines), decide, caption, marks)


def _figures(done: DoneRecord | None, ids: PlannedIds, left: int, still_open: int) -> Iterator[Figure]:
    parts, misses = len(ids.parts), len(ids.misses)
    yield figure("Parts done", f"{parts - left} of {parts}", (), "walls and ground of the plan")
    yield figure("Missed strips looked at again", f"{misses - still_open} of {misses}", (), "closed when seen clean")
    if done is not None and done.water is not None:
        yield figure("Water used", getattr(done.water, "typed", f"{float(done.water):g}"))


def _readings(done: DoneRecord | None) -> Iterator[Line]:
    if done is None:
        return
    if done.water_went:
        yield said(f"The water went: {done.water_went}.")
    for reading in done.chlorine:
        limit = "" if reading.limit is None else f", agreed limit {reading.limit:g} mg/L"
        over = reading.limit is not None and reading.free_chlorine > reading.limit
        words = f"{reading.where}: {reading.free_chlorine:g} mg/L free chlorine by {reading.method}{limit}"
        yield said(f"{words}{'. Above the limit.' if over else ''}", decide=over)


def _remarks(done: DoneRecord | None) -> Iterator[Line]:
    if done is None:
        return
    if done.start and done.end:
        yield said(f"Worked {done.start:%H:%M} to {done.end:%H:%M}; crew: {', '.join(done.crew)}.")
    yield from (said(f"Damage: {words}", decide=True) for words in done.damage)
    if done.note:
        yield said(done.note)


def part_ticks(site: Site, plan: VisitPlan, done: DoneRecord | None, ids: PlannedIds) -> tuple[PartTick, ...]:
    """Return every part of the work for the form of ticks."""
    names = part_names(site, plan)
    written = {} if done is None else {part.part: part for part in done.parts}
    return tuple(
        PartTick(part, names.get(part, part), written[part].how if part in written else "",
                 (written[part].note or "") if part in written else "")
        for part in ids.parts
    )  # fmt: skip


def miss_lines(site: Site, plan: VisitPlan, done: DoneRecord | None) -> tuple[MissLine, ...]:
    """Return every missed strip of the plan with what was written about it."""
    names, letters = part_names(site, plan), strip_letters(plan)
    looks = {} if done is None else {look.miss: look for look in done.misses}
    found = []
    for strip in plan.missed:
        up = f"{length_words(strip.bottom, plan.units)} to {length_words(strip.top, plan.units)} up"
        look = looks.get(strip.id)
        words = ""
        if look is not None:
            words = f"{look.looked_by} looked from {look.stood}: {'clean' if look.clean else 'not clean'}"
        closed = look is not None and look.clean
        found.append(MissLine(strip.id, letters[strip.id], f"{names[strip.wall]}, {up}", closed, words))
    return tuple(found)
