"""Dimension lines with their lengths in words."""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import HAIR, INK, THIN, Pen, Point, group, line, write
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.labels import centred
from sightwash.papers.drawings.lettering import SMALL, length_words, text_width
from sightwash.papers.drawings.sheet import Sheet
from sightwash.papers.drawings.views import WallView

SLASH: Final = 2.6
APART: Final = 10.0
"""Least clear distance between two heights written beside a wall [pt]."""


def dimension(parent: Element, start: Point, end: Point, words: str, *, beside: float = 4.0, bold: bool = False) -> None:
    """Draw a level or upright dimension line with its words over it, or to the right of it."""
    line(parent, [start, end], THIN)
    for x, y in (start, end):
        line(parent, [(x - SLASH, y + SLASH), (x + SLASH, y - SLASH)], Pen(0.9))
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    if abs(start[1] - end[1]) < 1e-6:
        write(parent, (middle[0], middle[1] - 2.5), words, SMALL, "middle", bold=bold, halo=True)
    else:
        anchor = "start" if beside > 0 else "end"
        write(parent, (middle[0] + beside, middle[1] + 2.5), words, SMALL, anchor, bold=bold, halo=True)


def length_below(sheet: Sheet, frame: WallFrame, top: float) -> None:
    """Draw a wall's length below its drawing."""
    made = group(sheet.layers["marks"], "dimension", "length of the wall")
    y = top + 14.0
    words = length_words(frame.placed.length, sheet.units)
    dimension(made, (frame.x, y), (frame.x + frame.width, y), words)


def heights_beside(sheet: Sheet, view: WallView, frame: WallFrame) -> None:
    """Write the heights that matter to the left of a wall, each with a line to the wall; near ones move apart."""
    heights = sorted(_heights(view), reverse=True)
    made = group(sheet.layers["marks"], "heights", "heights above the ground at the left end")
    last = -1e9
    for height in heights:
        x, y = frame.up(0.0, height)
        shown = max(y, last + APART)
        if shown > frame.up(0.0, 0.0)[1] + 6.0:
            continue
        last = shown
        words = length_words(height, sheet.units)
        line(made, [(x - 2.0, y), (x - 5.0, y), (x - 9.0, shown)], HAIR)
        write(made, (x - 11.0, shown + 2.5), words, SMALL, "end", ink=INK)
        width = text_width(words, SMALL)
        sheet.labels.keep_clear(centred((x - 11.0 - width / 2, shown), width, 9.0))


def _heights(view: WallView) -> set[float]:
    """Return the heights of the top edge, of what stands out far, and of missed strips."""
    found = {round(z, 3) for _, z in view.placed.outline.exterior.coords if z > view.placed.ground_at(0.0) + 0.3}
    found |= {round(p.bottom + p.height - p.outer_drop, 3) for p in view.wall.projections if p.depth >= 0.3}
    for strip in view.strips:
        found |= {round(strip.strip.bottom, 3), round(strip.strip.top, 3)}
    return found
