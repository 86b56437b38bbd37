"""The timeline as a drawing: each person a line along the unrolled wall, time running down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import GREY, HAIR, LIGHT, PALE, Canvas, Pen, Point, box, group, line, write
from sightwash.papers.drawings.lettering import HEADING, PLAIN, SMALL, counted, fitted
from sightwash.planning.night_entries import NightSpan, TimelineEntry
from sightwash.planning.timeline import Timeline
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls

WIDTH: Final = 540.0
CLOCKS: Final = 34.0
AROUND: Final = 44.0
"""Width of the strip for what belongs to no wall [pt]."""
HOUR: Final = 44.0
TOP: Final = 46.0
BETWEEN: Final = 34.0
FOOT: Final = 40.0
PENS: Final = (Pen(0.9), Pen(0.9, dash="5 2"), Pen(0.9, dash="1.2 1.8"), Pen(0.9, GREY), Pen(0.9, GREY, "5 2"))
LETTERS: Final = {
    "treat": "T",
    "rinse": "R",
    "power rinse": "P",
    "rinse glass": "G",
    "surface clean": "S",
    "trim": "E",
    "gum by hand": "H",
    "gum by hot wand": "W",
    "brush": "B",
    "look": "L",
    "break": "rest",
}
MEANINGS: Final = (
    "T treat  R rinse  P power rinse  G glass  S surface clean  E trim  H gum by hand  W gum by wand  B brush  L look"
)
HEAVIER: Final = 1.4
LEAST_LETTER: Final = timedelta(minutes=6)


@dataclass(frozen=True, slots=True)
class _Strip:
    """The unrolled walls across the sheet: where each begins [pt] and the scale [pt/m]."""

    starts: Mapping[str, float]
    lengths: Mapping[str, float]
    scale: float

    def x(self, wall: str, along: float) -> float:
        return self.starts[wall] + along * self.scale


def timeline_drawing(site: Site, timeline: Timeline) -> str:
    """Return the timeline as SVG, one panel a night; an empty sheet says that there is no timeline."""
    nights = timeline.nights
    height = TOP + sum(_night_height(night) + BETWEEN for night in nights) + FOOT
    words = f"Each person's way along the walls, {counted(len(nights), 'night')}, time running down."
    canvas = Canvas(WIDTH, height, f"{site.name}: timeline", words)
    head = group(canvas.root, "head")
    write(head, (4.0, 14.0), fitted(f"{site.name}: who is where, when", WIDTH - 8.0, HEADING), HEADING, bold=True)
    if not nights:
        write(head, (4.0, 30.0), "There is no timeline: see what to relax.", PLAIN)
        return canvas.text()
    strip = _strip(site, timeline)
    top = TOP
    for night in nights:
        _panel(canvas, strip, site, timeline, night, top)
        top += _night_height(night) + BETWEEN
    _legend(canvas, timeline, top - BETWEEN / 2)
    return canvas.text()


def _night_height(night: NightSpan) -> float:
    return max(night.on_site / 3600.0 * HOUR, HOUR)


def _strip(site: Site, timeline: Timeline) -> _Strip:
    used = {entry.along for entry in timeline.entries}
    lengths = {wall.wall.id: wall.length for wall in placed_walls(site) if wall.wall.id in used}
    gap = 5.0
    room = WIDTH - CLOCKS - AROUND - 8.0 - gap * max(len(lengths), 1)
    scale = room / max(sum(lengths.values()), 1.0)
    starts, x = {}, CLOCKS + AROUND
    for name, length in lengths.items():
        starts[name] = x + gap
        x += length * scale + gap
    return _Strip(starts, lengths, scale)


def _panel(canvas: Canvas, strip: _Strip, site: Site, timeline: Timeline, night: NightSpan, top: float) -> None:
    made = group(canvas.root, "night", f"night {night.night}")
    bottom = top + _night_height(night)
    names = {wall.id: wall.name or wall.id for wall in site.walls}
    for wall, left in strip.starts.items():
        width = strip.lengths[wall] * strip.scale
        box(made, (left, top), width, bottom - top, Pen(0.4, LIGHT))
        write(made, (left + 1.0, top - 3.0), fitted(names[wall], width, SMALL), SMALL)
    write(made, (CLOCKS + 2.0, top - 3.0), "around", SMALL, ink=GREY)
    _hours(made, night, top)
    for person in range(1, timeline.people + 1):
        own = [e for e in timeline.entries if e.person == person and e.night == night.night and e.action != "drive"]
        _person(made, strip, night, top, person, own)


def _hours(made: Element, night: NightSpan, top: float) -> None:
    first = night.arrives.replace(minute=0, second=0)
    for number in range(26):
        hour = first + timedelta(hours=number)
        if night.arrives <= hour <= night.ends:
            y = _y(night, top, hour)
            line(made, [(CLOCKS, y), (WIDTH - 4.0, y)], HAIR)
            write(made, (CLOCKS - 3.0, y + 2.4), f"{hour:%H:%M}", SMALL, "end")
    date = f"{night.arrives:%a %d %b}"
    write(made, (4.0, top - 14.0), date, SMALL, bold=True)


def _y(night: NightSpan, top: float, moment: datetime) -> float:
    return top + (moment - night.arrives) / timedelta(hours=1) * HOUR


def _person(
    made: Element, strip: _Strip, night: NightSpan, top: float, person: int, entries: Sequence[TimelineEntry]
) -> None:
    """Draw one person's way: heavier where the machine runs, a hair line from place to place."""
    lines = group(made, "person", f"person {person}", person=str(person))
    pen = PENS[(person - 1) % len(PENS)]
    reached: Point | None = None
    for entry in entries:
        start, end = _ends(strip, night, top, person, entry)
        if entry.action == "break":
            box(lines, (CLOCKS, start[1]), WIDTH - CLOCKS - 4.0, end[1] - start[1], None, PALE)
        if reached is not None and reached != start:
            line(lines, [reached, start], HAIR)
        line(lines, [start, end], Pen(pen.width + (HEAVIER if entry.machine else 0.0), pen.ink, pen.dash))
        reached = end
        letter = LETTERS.get(entry.action)
        if letter and entry.end - entry.start >= LEAST_LETTER:
            middle = ((start[0] + end[0]) / 2 + 3.0, (start[1] + end[1]) / 2 + 2.0)
            write(lines, middle, letter, SMALL, halo=True)


def _ends(strip: _Strip, night: NightSpan, top: float, person: int, entry: TimelineEntry) -> tuple[Point, Point]:
    y, until = _y(night, top, entry.start), _y(night, top, entry.end)
    if entry.along in strip.starts:
        return (strip.x(entry.along, entry.left), y), (strip.x(entry.along, entry.right), until)
    x = CLOCKS + 8.0 + (person - 1) * 7.0
    return (x, y), (x, until)


def _legend(canvas: Canvas, timeline: Timeline, top: float) -> None:
    made = group(canvas.root, "legend", "legend")
    x = 6.0
    for words, pen in _keys(timeline):
        line(made, [(x, top + 8.0), (x + 24.0, top + 8.0)], pen)
        write(made, (x + 28.0, top + 10.5), words, SMALL)
        x += 40.0 + 4.2 * len(words)
    write(made, (6.0, top + 24.0), MEANINGS, SMALL)


def _keys(timeline: Timeline) -> Iterator[tuple[str, Pen]]:
    for person in range(1, timeline.people + 1):
        yield f"person {person}", PENS[(person - 1) % len(PENS)]
    yield "machine on", Pen(PENS[0].width + HEAVIER)
    yield "from place to place", HAIR
