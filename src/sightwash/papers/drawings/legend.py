"""The legend: one small sample with its words for everything that a sheet shows."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import (
    ACCENT,
    GREY,
    INK,
    MEDIUM,
    PALE,
    PAPER,
    THIN,
    Pen,
    Point,
    box,
    disc,
    line,
    write,
)
from sightwash.papers.drawings.hatches import Hatching
from sightwash.papers.drawings.labels import Box
from sightwash.papers.drawings.lettering import SMALL, text_width

ROW: Final = 13.0
SWATCH: Final = (16.0, 8.0)
COVERED: Final = Pen(0.8, "#8c8c8c")
EXCLUDED: Final = Pen(0.8, GREY, "4 2")
WALK: Final = Pen(0.5, INK, "6 2 1 2")
DRIP: Final = Pen(0.5, GREY, "2 1.5")
TRIM: Final = Pen(5.4, "#8a8a8a")
OVERHEAD: Final = Pen(0.8, INK, "10 2 2 2")
CREW_LINE: Final = Pen(0.9)
PUBLIC_LINE: Final = Pen(0.9, INK, "5 2")
FENCE: Final = Pen(0.9, INK, "1 2")

Sample = Callable[[Element, Hatching, Point], None]


def _hatch(name: str) -> Sample:
    def draw(parent: Element, hatching: Hatching, at: Point) -> None:
        box(parent, at, *SWATCH, THIN, hatching.fill(name))

    return draw


def _outline(pen: Pen, fill: str = PAPER) -> Sample:
    def draw(parent: Element, _hatching: Hatching, at: Point) -> None:
        box(parent, at, *SWATCH, pen, fill)

    return draw


def _stroke(pen: Pen) -> Sample:
    def draw(parent: Element, _hatching: Hatching, at: Point) -> None:
        line(parent, [(at[0], at[1] + 4.0), (at[0] + SWATCH[0], at[1] + 4.0)], pen)

    return draw


def _mark(mark: marks.Mark) -> Sample:
    def draw(parent: Element, _hatching: Hatching, at: Point) -> None:
        mark(parent, (at[0] + SWATCH[0] / 2, at[1] + 4.0))

    return draw


def _spot(verdict: str) -> Sample:
    return _mark(lambda parent, at: marks.spot(parent, at, "1", verdict))


def _soiling(parent: Element, hatching: Hatching, at: Point) -> None:
    for part, degree in enumerate(("light", "moderate", "heavy")):
        box(
            parent,
            (at[0] + part * 6.0 - 1.0, at[1]),
            6.0,
            SWATCH[1],
            Pen(0.3, GREY),
            hatching.fill(f"soiling-{degree}"),
        )


def _serves(parent: Element, _hatching: Hatching, at: Point) -> None:
    y = at[1] + 6.0
    line(parent, [(at[0], y), (at[0] + SWATCH[0], y)], Pen(0.7))
    for x in (at[0], at[0] + SWATCH[0]):
        line(parent, [(x, y - 1.6), (x, y + 1.6)], Pen(0.7))
    line(parent, [(at[0] + 8.0, at[1]), (at[0] + 8.0, y)], Pen(0.5))
    disc(parent, (at[0] + 8.0, y), 1.5, None, INK)


def _keep_out(parent: Element, _hatching: Hatching, at: Point) -> None:
    box(parent, at, *SWATCH, Pen(1.5), PAPER)
    marks.stop_bar(parent, Box(at[0], at[1], at[0] + SWATCH[0], at[1] + SWATCH[1]))


def _fall(parent: Element, _hatching: Hatching, at: Point) -> None:
    marks.arrow(parent, (at[0], at[1] + 4.0), (at[0] + SWATCH[0], at[1] + 4.0), Pen(0.6))


def _path(parent: Element, _hatching: Hatching, at: Point) -> None:
    marks.arrow(parent, (at[0], at[1] + 4.0), (at[0] + 11.0, at[1] + 4.0), Pen(0.7))
    line(parent, [(at[0] + 11.0, at[1] + 4.0), (at[0] + SWATCH[0], at[1] + 4.0)], Pen(0.7))


def _push(parent: Element, _hatching: Hatching, at: Point) -> None:
    marks.arrow(parent, (at[0], at[1] + 4.0), (at[0] + SWATCH[0], at[1] + 4.0), Pen(1.6))


ENTRIES: Final[dict[str, tuple[Sample, str]]] = {
    "missed": (_hatch("missed"), "missed: the public sees it, the crew does not"),
    "hidden": (_hatch("hidden"), "hidden from every public eye"),
    "covered": (_outline(COVERED), "covered by what touches the wall"),
    "hand": (_hatch("hand"), "work by hand"),
    "soiling": (_soiling, "soiling: light, moderate, heavy"),
    "excluded": (_outline(EXCLUDED, PALE), "excluded from the work"),
    "not-washed": (_outline(EXCLUDED), "ground that is not washed"),
    "cleaner": (_hatch("cleaner"), "ground that the surface cleaner reaches"),
    "path": (_path, "pass of the cleaner, the way it goes"),
    "path-swing": (_stroke(Pen(0.6, INK, "2 1.2")), "back along an edge"),
    "path-move": (_stroke(Pen(0.5, INK, "0.6 1.6")), "move over washed ground"),
    "path-carry": (_stroke(Pen(0.9, INK, "5 1.5 1 1.5")), "carry, water off"),
    "start": (_mark(marks.start), "start of the cleaner's path"),
    "finish": (_mark(marks.finish), "finish of it"),
    "door-zone": (_outline(Pen(0.5, INK, "1 2")), "5 ft before a door"),
    "push": (_push, "push water this way"),
    "sector": (_hatch("sector"), "where the jet may point"),
    "stand-jet": (_mark(marks.person), "stand here, jet along the line"),
    "trim": (_stroke(TRIM), "trimmed with the wand"),
    "corners": (_outline(Pen(0.3), INK), "corner that the disc cannot enter"),
    "keep-out": (_keep_out, "keep out"),
    "planting": (_hatch("planting"), "planting"),
    "walk": (_stroke(WALK), "where the crew looks from"),
    "drip": (_stroke(DRIP), "edge of what stands out above"),
    "fall": (_fall, "water runs this way"),
    "overhead": (_stroke(OVERHEAD), "overhead line: keep clear"),
    "fence": (_stroke(FENCE), "fence"),
    "spot-sure": (_spot("sure"), "stand here: the reach is sure"),
    "spot-likely": (_spot("likely"), "stand here: the reach is likely"),
    "spot-test": (_spot("test on site"), "stand here: test the reach on site"),
    "serves": (_serves, "the stretch of wall that a spot serves"),
    "eye": (_mark(marks.eye), "eye"),
    "gum": (_mark(marks.gum), "gum at a door"),
    **{f"gum-{letter}": (_mark(marks.gum_lettered(letter)), f"gum: {words}") for letter, words in marks.GUM.items()},
    "drain": (_mark(marks.drain), "drain"),
    "tap": (_mark(marks.lettered("T")), "water tap"),
    "rig": (_mark(marks.rig), "place for the rig"),
    **{words: (_mark(mark), words) for mark, words in marks.FIXTURES.values()},
    "cut": (_hatch("cut"), "cut through"),
    "crew-line": (_stroke(CREW_LINE), "lowest line of sight of the crew over the edge"),
    "public-line": (_stroke(PUBLIC_LINE), "lowest line of sight of the public over the edge"),
    "decision": (_mark(marks.decision), "needs a decision"),
}
"""What a legend can name, in its order."""


def _placed(shown: Collection[str], width: float) -> Iterator[tuple[str, float, int]]:
    """Yield the entries of a legend with their left edge and row."""
    x, row = 4.0, 0
    for key, (_, words) in ENTRIES.items():
        if key not in shown:
            continue
        needed = SWATCH[0] + 5.0 + text_width(words, SMALL) + 11.0
        if x + needed > width and x > 4.0:
            x, row = 4.0, row + 1
        yield key, x, row
        x += needed


def legend_height(shown: Collection[str], width: float) -> float:
    """Return the height that a legend takes [pt]."""
    rows = [row for _, _, row in _placed(shown, width)]
    return (max(rows) + 1) * ROW + 8.0 if rows else 0.0


def draw_legend(parent: Element, hatching: Hatching, shown: Collection[str], top: float, width: float) -> None:
    """Draw the legend of what is shown below ``top``."""
    if shown:
        line(parent, [(4.0, top + 2.0), (width - 4.0, top + 2.0)], MEDIUM)
    for key, x, row in _placed(shown, width):
        sample, words = ENTRIES[key]
        y = top + 6.0 + row * ROW
        sample(parent, hatching, (x, y))
        ink = ACCENT if key == "decision" else INK
        write(parent, (x + SWATCH[0] + 4.0, y + 6.5), words, SMALL, ink=ink)
