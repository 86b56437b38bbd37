"""What is said of each missed strip on a wall: its letter, how high, how far up, what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import ACCENT, INK
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.labels import Box, around, centred, within_box
from sightwash.papers.drawings.lettering import SMALL, wrapped
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import StripView, WallView, look_words, short_remedy, strip_height_words

LINE_WIDTH: Final = 190.0
MARK: Final = 9.0
"""Room for the mark that says that something is to be decided [pt]."""


def strip_lines(view: WallView, strip: StripView, units: str, every_remedy: bool = False) -> list[str]:
    """Return what is said of a strip; with ``every_remedy`` each on a line of its own."""
    first = f"{strip.letter}  missed: {strip_height_words(view, strip.strip, units)}"
    if not every_remedy:
        return [f"{first}; {look_words(strip, units)}"]
    seen = wrapped(f"seen by {', '.join(strip.strip.seen_by)}", LINE_WIDTH, SMALL, 2)
    planned = wrapped(f"planned: {look_words(strip, units)}", LINE_WIDTH, SMALL, 2)
    ways = ", ".join(short_remedy(remedy, units) for remedy in strip.strip.remedies)
    return [first, *seen, *planned, *(wrapped(f"ways: {ways}", LINE_WIDTH, SMALL, 3) if ways else ())]


def draw_callouts(sheet: Sheet, view: WallView, frame: WallFrame, every_remedy: bool = False) -> list[StripView]:
    """Write what is said of each strip of a stretch on it or above it; return those named by their letter only."""
    homeless: list[StripView] = []
    for strip in view.strips:
        left, right = max(strip.strip.left, frame.first), min(strip.strip.right, frame.last)
        if left >= right or not frame.holds(min((left + right) / 2, frame.placed.length)):
            continue
        area = frame.bounds(left, right, strip.strip.bottom, strip.strip.top)
        lines = strip_lines(view, strip, sheet.units, every_remedy)
        if _place(sheet, strip, lines, area, _on_or_above(area, frame, *_size(strip, lines))) is None:
            short = [f"{strip.letter}  missed"]
            size = _size(strip, short)
            near = [*within_box(area, *size), *around(area.middle, *size, area.height / 2 + 3.0)]
            _place(sheet, strip, short, area, near)
            homeless.append(strip)
    return homeless


def _size(strip: StripView, lines: list[str]) -> tuple[float, float]:
    width, height = label_size(lines, SMALL, True)
    return width + (MARK if strip.open else 0.0), height + 2.0


def _place(sheet: Sheet, strip: StripView, lines: list[str], area: Box, places: Iterable[Box]) -> Box | None:
    place = sheet.label(
        lines,
        places,
        target=area.middle,
        ink=ACCENT if strip.open else INK,
        bold=True,
        plate=True,
        strip=strip.strip.id,
    )
    if place is not None and strip.open:
        marks.decision(sheet.layers["words"], (place.right - 5.0, place.middle[1]))
        sheet.show("decision")
    return place


def _on_or_above(area: Box, frame: WallFrame, width: float, height: float) -> Iterator[Box]:
    """Yield places on the strip itself, then above the wall."""
    yield from within_box(area, width, height)
    top = min(y for _, y in frame.top_line()) - height / 2 - 4.0
    for row in range(4):
        for shift in (0.0, *(side * share * width for share in (0.15, 0.3, 0.45, 0.55) for side in (1, -1))):
            yield centred((area.middle[0] + shift, top - row * (height + 2.0)), width, height)
