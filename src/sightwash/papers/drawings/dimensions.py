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
MOST_STRIPS: Final = 3
"""With more missed strips their heights are left to the words beside each [-]."""
APART: Final = 10.0
"""Least clear distance between two heights written beside a wall [pt]."""


def dimension(
    parent: Element, start: Point, end: Point, words: str, *, beside: float = 4.0, bold: bool = False
) -> None:
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
    x = frame.up(0.0, 0.0)[0]
    levels = [frame.up(0.0, height)[1] for height in heights]
    for height, y, shown in zip(heights, levels, spread(levels, APART), strict=True):
        words = length_words(height, sheet.units) if height else "ground here"
        line(made, [(x - 2.0, y), (x - 4.0, y), (x - 8.0, shown), (x - 10.0, shown)], HAIR)
        write(made, (x - 11.5, shown + 2.5), words, SMALL, "end", ink=INK)
        width = text_width(words, SMALL)
        sheet.labels.keep_clear(centred((x - 11.0 - width / 2, shown), width, 9.0))


def spread(places: list[float], apart: float) -> list[float]:
    """Return places in rising order moved as little as they need to lie apart.

    >>> spread([0.0, 1.0, 50.0], 10.0)
    [-4.5, 5.5, 50.0]
    """
    blocks: list[list[float]] = []
    for index, place in enumerate(places):
        blocks.append([place - index * apart])
        while len(blocks) > 1 and _mean(blocks[-2]) > _mean(blocks[-1]):
            last = blocks.pop()
            blocks[-1] += last
    starts = [_mean(block) for block in blocks for _ in block]
    return [start + index * apart for index, start in enumerate(starts)]


def _mean(block: list[float]) -> float:
    return sum(block) / len(block)


def _heights(view: WallView) -> set[float]:
    """Return the heights of the top edge, of canopies and awnings, and of missed strips."""
    found = {0.0} | {
        round(z, 3) for _, z in view.placed.outline.exterior.coords if z > view.placed.ground_at(0.0) + 0.3
    }
    overhangs = (p for p in view.wall.projections if p.kind in ("canopy", "awning", "ledge") and p.depth >= 0.3)
    found |= {round(p.bottom + p.height - p.outer_drop, 3) for p in overhangs}
    for strip in view.strips if len(view.strips) <= MOST_STRIPS else ():
        found |= {round(strip.strip.bottom, 3), round(strip.strip.top, 3)}
    return found
