"""Small marks with a meaning of their own: fixtures, spots, eyes, drains, stops and breaks."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import (
    ACCENT,
    INK,
    MEDIUM,
    PAPER,
    THIN,
    Pen,
    Point,
    box,
    disc,
    line,
    write,
)
from sightwash.papers.drawings.labels import Box
from sightwash.papers.drawings.lettering import SMALL

Mark = Callable[[Element, Point], None]


def luminaire(parent: Element, at: Point) -> None:
    """A lamp: a circle with a cross."""
    x, y = at
    reach = 2.4 * math.sqrt(0.5)
    disc(parent, at, 2.4, THIN)
    line(parent, [(x - reach, y - reach), (x + reach, y + reach)], THIN)
    line(parent, [(x - reach, y + reach), (x + reach, y - reach)], THIN)


def outlet(parent: Element, at: Point) -> None:
    """A socket outlet: a circle with two bars that stand out."""
    x, y = at
    disc(parent, at, 2.4, THIN)
    for side in (-0.9, 0.9):
        line(parent, [(x + side, y - 4.0), (x + side, y + 4.0)], THIN)


def intake(parent: Element, at: Point) -> None:
    """Air that goes in: a box with an arrow inward."""
    x, y = at
    box(parent, (x - 3.2, y - 3.2), 6.4, 6.4, MEDIUM, PAPER)
    line(parent, [(x, y - 6.5), (x, y + 1.0)], THIN)
    line(parent, [(x - 1.6, y - 1.2), (x, y + 1.6), (x + 1.6, y - 1.2)], THIN)


def vent(parent: Element, at: Point) -> None:
    """Air that goes out: a box with slats."""
    x, y = at
    box(parent, (x - 3.0, y - 3.0), 6.0, 6.0, THIN, PAPER)
    for down in (-1.2, 1.2):
        line(parent, [(x - 3.0, y + down), (x + 3.0, y + down)], THIN)


def weatherhead(parent: Element, at: Point) -> None:
    """The head where the service comes in: a mast with a hook."""
    x, y = at
    line(parent, [(x, y + 6.0), (x, y - 1.0), (x + 1.2, y - 3.4), (x + 3.4, y - 4.0), (x + 5.0, y - 2.2)], MEDIUM)
    for across in (3.2, 4.2, 5.2):
        line(parent, [(x + across, y - 2.2), (x + across, y + 0.4)], THIN)


def lettered(letter: str) -> Mark:
    """Return a mark that is a circle with a letter."""

    def draw(parent: Element, at: Point) -> None:
        disc(parent, at, 4.3, THIN)
        write(parent, (at[0], at[1] + 2.5), letter, SMALL, "middle")

    return draw


FIXTURES: Final[dict[str, tuple[Mark, str]]] = {
    "luminaire": (luminaire, "luminaire"),
    "lit sign": (luminaire, "luminaire"),
    "outlet": (outlet, "outlet"),
    "intake": (intake, "air intake"),
    "vent": (vent, "vent"),
    "weatherhead": (weatherhead, "weatherhead"),
    "sign transformer": (lettered("X"), "sign transformer"),
    "camera": (lettered("C"), "camera"),
    "meter": (lettered("M"), "meter"),
    "speaker": (lettered("S"), "speaker"),
    "gas riser": (lettered("G"), "gas riser"),
    "hose tap": (lettered("T"), "hose tap"),
    "alarm": (lettered("A"), "alarm"),
}
"""How each kind of fixture is marked, and what the legend calls the mark."""


def spot(parent: Element, at: Point, words: str, verdict: str) -> None:
    """A place to stand: black where the reach is sure, white where likely, dashed in the accent where untried."""
    sure = verdict == "sure"
    tested = verdict in ("sure", "likely")
    pen = MEDIUM if tested else Pen(1.0, ACCENT, "1.6 1.2")
    disc(parent, at, 5.0, pen, INK if sure else PAPER)
    write(parent, (at[0], at[1] + 2.5), words, SMALL, "middle", bold=True, ink=PAPER if sure else INK)


def eye(parent: Element, at: Point, ink: str = INK) -> None:
    """An eye: a lens with a pupil."""
    x, y = at
    lens = [(x - 5.0, y), (x - 2.5, y - 2.3), (x, y - 3.0), (x + 2.5, y - 2.3), (x + 5.0, y), (x + 2.5, y + 2.3)]
    line(parent, [*lens, (x, y + 3.0), (x - 2.5, y + 2.3)], Pen(0.8, ink), closed=True, fill=PAPER)
    disc(parent, at, 1.4, None, ink)


def drain(parent: Element, at: Point) -> None:
    """A drain: a square with bars."""
    x, y = at
    box(parent, (x - 3.2, y - 3.2), 6.4, 6.4, MEDIUM, PAPER)
    for across in (-1.1, 1.1):
        line(parent, [(x + across, y - 3.2), (x + across, y + 3.2)], THIN)


def rig(parent: Element, at: Point) -> None:
    """A place for the rig: a long box on wheels, seen from the side."""
    x, y = at
    box(parent, (x - 7.0, y - 4.5), 14.0, 6.5, MEDIUM, PAPER)
    for across in (-3.5, 3.5):
        disc(parent, (x + across, y + 2.6), 1.7, THIN)


def gum(parent: Element, at: Point) -> None:
    """Gum at a door: a small black diamond."""
    x, y = at
    line(parent, [(x - 1.5, y), (x, y - 1.5), (x + 1.5, y), (x, y + 1.5)], Pen(0.3), closed=True, fill=INK)


def start(parent: Element, at: Point) -> None:
    """Where a path begins: a black disc."""
    disc(parent, at, 3.0, Pen(0.8), INK)


def finish(parent: Element, at: Point) -> None:
    """Where a path ends: a white square."""
    box(parent, (at[0] - 2.8, at[1] - 2.8), 5.6, 5.6, Pen(1.2), PAPER)


def person(parent: Element, at: Point) -> None:
    """Where a person stands for a jet: a circle with a P."""
    disc(parent, at, 4.2, MEDIUM, PAPER)
    write(parent, (at[0], at[1] + 2.5), "P", SMALL, "middle", bold=True)


GUM: Final[dict[str, str]] = {
    "C": "surface cleaner, slowly",
    "W": "hot wand",
    "J": "jet from the bearings shown",
    "S": "by hand with a scraper",
    "M": "low-water machine",
    "X": "left",
}
"""The letter of each way to take gum, and what the legend calls it."""


def gum_lettered(letter: str) -> Mark:
    """Return the mark of gum with the letter of the way that it is taken."""

    def draw(parent: Element, at: Point) -> None:
        gum(parent, (at[0] - 4.0, at[1]))
        write(parent, (at[0] + 2.5, at[1] + 2.5), letter, SMALL, "middle", bold=True)

    return draw


def decision(parent: Element, at: Point) -> None:
    """Something to decide: a diamond in the accent, with a bar that survives any printer."""
    x, y = at
    line(parent, [(x - 3.2, y), (x, y - 3.2), (x + 3.2, y), (x, y + 3.2)], Pen(0.6, ACCENT), closed=True, fill=ACCENT)
    line(parent, [(x, y - 1.8), (x, y + 1.8)], Pen(0.9, PAPER))


def stop_bar(parent: Element, place: Box) -> None:
    """The bar across ground where nobody may stand."""
    x, y = place.middle
    half = min(max(place.width * 0.3, 3.0), 14.0)
    line(parent, [(x - half, y), (x + half, y)], Pen(2.6))


def arrow(parent: Element, start: Point, end: Point, pen: Pen = THIN) -> None:
    """A straight arrow from ``start`` to ``end``."""
    away = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    across, down = (end[0] - start[0]) / away, (end[1] - start[1]) / away
    foot = end[0] - 4.0 * across, end[1] - 4.0 * down
    line(parent, [start, foot], pen)
    sides = [(foot[0] - 1.6 * down, foot[1] + 1.6 * across), (foot[0] + 1.6 * down, foot[1] - 1.6 * across)]
    line(parent, [sides[0], end, sides[1]], Pen(0.3, pen.ink), closed=True, fill=pen.ink)


def break_line(parent: Element, start: Point, end: Point, pen: Pen = THIN) -> None:
    """A line with two short zigzags: something is left out between."""
    line(parent, zigzag(start, end), pen)


def zigzag(start: Point, end: Point) -> Sequence[Point]:
    """Return the corners of a break line."""
    length = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    across, down = (end[0] - start[0]) / length, (end[1] - start[1]) / length

    def at(share: float, forward: float, side: float) -> Point:
        x = start[0] + share * (end[0] - start[0]) + forward * across - side * down
        y = start[1] + share * (end[1] - start[1]) + forward * down + side * across
        return x, y

    corners = [start]
    for share in (0.33, 0.67) if length > 60.0 else (0.5,):
        corners += [at(share, -3.0, 0.0), at(share, -1.0, -4.0), at(share, 1.0, 4.0), at(share, 3.0, 0.0)]
    return [*corners, end]
