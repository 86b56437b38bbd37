"""What is said of each missed strip on a wall: its letter, how high, how far up, what to do."""

from __future__ import annotations

from collections.abc import Iterator
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
    """Write what is said of each strip of a stretch on it or above it; return those that found no place."""
    homeless: list[StripView] = []
    for strip in view.strips:
        left, right = max(strip.strip.left, frame.first), min(strip.strip.right, frame.last)
        if left >= right or not frame.holds(min((left + right) / 2, frame.placed.length)):
            continue
        area = frame.bounds(left, right, strip.strip.bottom, strip.strip.top)
        lines = strip_lines(view, strip, sheet.units, every_remedy)
        if _place(sheet, strip, lines, area, frame) is None:
            short = [f"{strip.letter}  missed"]
            if _place(sheet, strip, short, area, frame) is None:
                homeless.append(strip)
    return homeless


def _place(sheet: Sheet, strip: StripView, lines: list[str], area: Box, frame: WallFrame) -> Box | None:
    width, height = label_size(lines, SMALL, True)
    width, height = width + (MARK if strip.open else 0.0), height + 2.0
    place = sheet.label(
        lines,
        _places(area, width, height, frame),
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


def _places(area: Box, width: float, height: float, frame: WallFrame) -> Iterator[Box]:
    """Yield places on the strip itself, then above the wall, then anywhere near."""
    yield from within_box(area, width, height)
    top = min(y for _, y in frame.top_line()) - height / 2 - 4.0
    x = area.middle[0]
    for row in range(4):
        for shift in (0.0, 30.0, -30.0, 70.0, -70.0, 120.0, -120.0):
            yield centred((x + shift, top - row * (height + 2.0)), width, height)
    yield from around(area.middle, width, height, area.height / 2 + 3.0)
