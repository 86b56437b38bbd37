"""One sheet in the making: its layers, its hatches, its labels and the legend of what it shows."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import (
    ACCENT,
    GREY,
    INK,
    PAPER,
    Canvas,
    Pen,
    Point,
    box,
    group,
    line,
    number,
    write,
)
from sightwash.papers.drawings.hatches import Hatching
from sightwash.papers.drawings.labels import LEADER, Box, Labels, text_box
from sightwash.papers.drawings.legend import draw_legend, legend_height
from sightwash.papers.drawings.lettering import HEADING, LINE, PLAIN, SMALL, apart, fitted, text_width, wrapped
from sightwash.papers.drawings.scale import Scale, scale_bar

LAYERS: Final = ("ground", "walls", "lines", "marks", "words")
NOTE_LINE: Final = 9.5
HEAD: Final = 30.0
"""Height of the head of a sheet: title, scale bar [pt]."""


class Sheet:
    """A page of a width [pt]; its height is settled when it is finished."""

    def __init__(self, width: float, title: str, description: str, prefix: str, units: str, scale: Scale) -> None:
        self.canvas = Canvas(width, 1.0, title, description)
        self.hatching = Hatching(self.canvas, prefix)
        self.labels = Labels(Box(2.0, HEAD, width - 2.0, 1e6))
        self.layers = {name: group(self.canvas.root, name) for name in LAYERS}
        self.units = units
        self.scale = scale
        self.prefix = prefix
        self.shown: set[str] = set()
        self.head_end = width
        self.notes: list[tuple[str, str]] = []
        self._later: list[tuple[int, int, Callable[[], object]]] = []

    def head(self, name: str, rest: str, words: str, room: float = 0.0) -> None:
        """Write the head: whose drawing it is and what it shows, and the scale bar; ``room`` is left free before it."""
        made = group(self.canvas.root, "head")
        self.head_end = scale_bar(made, self.canvas.width - 4.0, 16.0, self.scale, self.units)
        right = self.head_end - room - 12.0
        shown = fitted(name, right - text_width(rest, HEADING) * 1.07, HEADING)
        write(made, (4.0, 12.0), apart(shown) + rest, HEADING, bold=True)
        write(made, (4.0, 23.0), words, PLAIN, ink=GREY)

    def show(self, *keys: str) -> None:
        """Note that something is on the sheet, so that the legend names it."""
        self.shown.update(keys)

    def fill(self, hatch: str) -> str:
        """Return what fills with a hatch."""
        return self.hatching.fill(hatch)

    def later(self, turn: int, write_it: Callable[[], object]) -> None:
        """Keep something to be written for when every mark has its place; lower turns go first."""
        self._later.append((turn, len(self._later), write_it))

    def settle(self) -> None:
        """Write what was kept for later."""
        waiting, self._later = sorted(self._later, key=lambda each: each[:2]), []
        for _, _, write_it in waiting:
            write_it()

    def finish(self, height: float) -> str:
        """Write the notes and the legend below ``height`` and return the sheet as SVG text."""
        height = self._write_notes(height)
        total = self.canvas.height = height + legend_height(self.shown, self.canvas.width)
        made = group(self.canvas.root, "legend", "legend")
        draw_legend(made, self.hatching, self.shown, height, self.canvas.width)
        root = self.canvas.root
        root.set("height", f"{number(total)}pt")
        root.set("viewBox", f"0 0 {number(self.canvas.width)} {number(total)}")
        root.set("data-points-per-metre", f"{self.scale.points:.9g}")
        paper = root.find("rect")
        if paper is not None:
            paper.set("height", number(total))
        return self.canvas.text()

    def note(self, words: str, decide: bool = False) -> None:
        """Keep words for the foot of the sheet: what found no place on the drawing."""
        self.notes.append((words, ACCENT if decide else INK))

    def _write_notes(self, top: float) -> float:
        """Write the notes and return where they end."""
        made = group(self.layers["words"], "notes")
        for note, ink in self.notes:
            for words in wrapped(note, self.canvas.width - 12.0, SMALL, 3):
                write(made, (6.0, top + SMALL), words, SMALL, ink=ink)
                top += NOTE_LINE
        return top

    def label(
        self,
        lines: Sequence[str],
        places: Iterable[Box],
        *,
        target: Point | None = None,
        size: float = SMALL,
        ink: str = INK,
        bold: bool = False,
        plate: bool = False,
        turn: float = 0.0,
        clear: bool = False,
        **data: str,
    ) -> Box | None:
        """Write lines in the first free place, tied to ``target`` if it lies apart; None if no place is free.

        With ``clear`` a place that crosses a line counts as taken.
        """
        place = self.labels.first_free(places, target, clear)
        if place is None:
            return None
        made = group(self.layers["words"], "label", "", **data)
        if target is not None:
            _leader(self.layers["lines"], place, target, ink)
        if plate:
            box(made, (place.left, place.top), place.width, place.height, Pen(0.4, ink), PAPER)
        _write_lines(made, lines, place, size, ink, bold, turn, plate)
        return place


def _leader(layer: Element, place: Box, target: Point, ink: str) -> None:
    """Tie a label to what it names, below all words."""
    near = place.nearest(target)
    if math.dist(near, target) > LEADER:
        line(group(layer, "leader"), [near, target], Pen(0.35, ink))


def _write_lines(
    parent: Element, lines: Sequence[str], place: Box, size: float, ink: str, bold: bool, turn: float, plate: bool
) -> None:
    middle_x, middle_y = place.middle
    if turn:
        angle = math.radians(turn)
        at = middle_x - math.sin(angle) * 0.35 * size, middle_y + math.cos(angle) * 0.35 * size
        write(parent, at, lines[0], size, "middle", bold=bold, ink=ink, turn=turn, halo=True)
        return
    top = middle_y - len(lines) * size * LINE / 2
    for row, words in enumerate(lines):
        at = (place.left + 3.0 if plate else middle_x, top + (row * LINE + 0.93) * size)
        anchor = "start" if plate else "middle"
        write(parent, at, words, size, anchor, bold=bold and row == 0, ink=ink, halo=not plate)


def label_size(lines: Sequence[str], size: float = SMALL, bold: bool = False, turn: float = 0.0) -> tuple[float, float]:
    """Return the width and height that a label takes, turned or not [pt]."""
    width, height = text_box(lines, size)
    width = width * (1.07 if bold else 1.0) + (3.0 if len(lines) == 1 else 6.0)
    if not turn:
        return width, height
    angle = math.radians(turn)
    across, down = abs(math.cos(angle)), abs(math.sin(angle))
    return width * across + height * down, width * down + height * across
