"""The cleaner's path on a surface: its passes with arrows and numbers, turns, swings, moves, carries, both ends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import INK, Pen, Point, group, line, write
from sightwash.papers.drawings.labels import around, centred
from sightwash.papers.drawings.lettering import SMALL
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.surface_frame import Band, Turned
from sightwash.planning.ground_path import GroundPath, PathLeg

PENS: Final[dict[str, Pen]] = {
    "pass": Pen(0.7),
    "edge": Pen(0.7),
    "turn": Pen(0.7),
    "loop": Pen(0.7),
    "swing": Pen(0.6, INK, "2 1.2"),
    "move": Pen(0.5, INK, "0.6 1.6"),
    "carry": Pen(0.9, INK, "5 1.5 1 1.5"),
}
"""How each kind of leg is drawn; the legend names passes, swings, moves and carries."""
LEGEND: Final = {"swing": "path-swing", "move": "path-move", "carry": "path-carry"}
ROOM: Final = 8.0
"""Passes nearer together than this share numbers [pt]."""
TIGHT: Final = 3.6
"""Passes nearer together than this share arrows [pt]."""
HEAD: Final = 4.2
LONG: Final = 26.0
"""A pass shorter than this on paper has no arrow unless it has none in another band [pt]."""


def draw_path(sheet: Sheet, path: GroundPath, turned: Turned, band: Band) -> None:
    """Draw the part of a path that lies in a band."""
    made = group(sheet.layers["lines"], "path", f"{path.name}: path of the cleaner", path=path.id)
    window = shapely.box(*band.window)
    numbered, arrowed = (_every(room, path.pitch * band.points) for room in (ROOM, TIGHT))
    number = 0
    for leg in path.legs:
        sheet.show(LEGEND.get(leg.kind, "path"))
        passing = leg.kind in ("pass", "edge")
        number += passing
        for corners in _parts(leg, turned, window):
            points = [band.at(u, v) for u, v in corners]
            line(made, points, PENS[leg.kind])
            if passing and (number - 1) % arrowed == 0:
                _arrow(sheet, points, number // arrowed)
        if passing and (number - 1) % numbered == 0:
            _number(sheet, leg, number, turned, band)
    for place, words in ((path.start, "START"), (path.finish, "FINISH")):
        _end(sheet, place, words, turned, band)


def _every(room: float, apart: float) -> int:
    """Return every which pass is marked: an odd number, so that marked passes run both ways."""
    count = max(1, math.ceil(room / max(apart, 0.1)))
    return count if count % 2 else count + 1


def _parts(leg: PathLeg, turned: Turned, window: shapely.Polygon) -> Iterator[list[Point]]:
    """Yield the corners of what a window holds of a leg, in the way that the leg runs."""
    whole = turned.shape(shapely.LineString(leg.line))
    for part in shapely.get_parts(whole.intersection(window)).tolist():
        if part.geom_type == "LineString" and part.length > 1e-6:
            yield [(float(u), float(v)) for u, v in part.coords]


def _arrow(sheet: Sheet, points: list[Point], number: int) -> None:
    """Draw one arrow head on a pass, farther along from pass to pass so that heads do not stand in a row."""
    whole = shapely.LineString(points)
    if whole.length < LONG:
        return
    at = whole.length * (0.3 + 0.09 * (number % 5))
    tip, foot = (shapely.line_interpolate_point(whole, at + shift) for shift in (HEAD / 2, -HEAD / 2))
    head(sheet, (foot.x, foot.y), (tip.x, tip.y))


def head(sheet: Sheet, foot: Point, tip: Point) -> None:
    """Draw a filled arrow head from a foot to a tip."""
    long = math.dist(foot, tip) or 1.0
    x, y = (tip[0] - foot[0]) / long, (tip[1] - foot[1]) / long
    wide = 0.42 * HEAD
    sides = [(foot[0] - wide * y, foot[1] + wide * x), (foot[0] + wide * y, foot[1] - wide * x)]
    line(sheet.layers["lines"], [sides[0], tip, sides[1]], Pen(0.3), closed=True, fill=INK)


def _number(sheet: Sheet, leg: PathLeg, number: int, turned: Turned, band: Band) -> None:
    """Write the number of a pass where it begins."""
    (u, v), (to, _) = (turned.place(leg.line[end]) for end in (0, -1))
    if band.holds(u, v):
        x, y = band.at(u, v)
        shift = 5.0 if to >= u else -5.0
        sheet.labels.keep_clear(centred((x + shift, y), 8.0, 6.5))
        write(sheet.layers["words"], (x + shift, y + 2.4), str(number), SMALL, "middle", halo=True)


def _end(sheet: Sheet, place: Point, words: str, turned: Turned, band: Band) -> None:
    u, v = turned.place(place)
    if not band.holds(u, v):
        return
    x, y = band.at(u, v)
    made = group(sheet.layers["marks"], words.lower(), words)
    (marks.start if words == "START" else marks.finish)(made, (x, y))
    sheet.labels.keep_clear(centred((x, y), 7.0, 7.0))
    sheet.show(words.lower())
    size = label_size([words], SMALL, bold=True)
    sheet.later(1, lambda: sheet.label([words], around((x, y), *size, 4.0), target=(x, y), bold=True))
