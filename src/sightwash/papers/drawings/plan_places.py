"""Single places of a ground plan: drains, taps, rigs, overhead lines, fences and stalls."""

from __future__ import annotations

import math
from functools import partial
from typing import Final

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import GREY, INK, MEDIUM, THIN, Pen, Point, disc, group, line
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.labels import along, around, centred
from sightwash.papers.drawings.legend import FENCE, OVERHEAD
from sightwash.papers.drawings.lettering import SMALL, counted, fitted, length_words
from sightwash.papers.drawings.plan_ground import Window
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.science.stalls import stall_curb_length
from sightwash.site.ground import OverheadLine, StallRow
from sightwash.site.model import Site

PARALLEL: Final = 1.0
"""Stalls at a smaller angle than this lie along the aisle [deg]."""
Segment = tuple[tuple[float, float], tuple[float, float]]


def stall_lines(row: StallRow, north: float) -> list[Segment]:
    """Return the lines of a row of stalls, to the right of the way that the row runs."""
    turned, angle = math.radians(row.toward - north), math.radians(row.angle)
    along_x, along_y = math.sin(turned), math.cos(turned)
    acute = min(float(row.angle), 180.0 - float(row.angle))
    if acute < PARALLEL:
        angle, length, step = math.pi / 2, float(row.width), float(row.length)
    else:
        length, step = float(row.length), stall_curb_length(float(row.width), acute)
    away_x = along_y * math.sin(angle) + along_x * math.cos(angle)
    away_y = -along_x * math.sin(angle) + along_y * math.cos(angle)
    starts = [
        (row.at[0] + number * step * along_x, row.at[1] + number * step * along_y) for number in range(row.count + 1)
    ]
    return [((x, y), (x + length * away_x, y + length * away_y)) for x, y in starts]


def draw_places(sheet: Sheet, site: Site, frame: PlanFrame, window: Window) -> None:
    """Draw what has one place in the plan; its name comes later."""
    for drain in site.drains:
        words = f"{drain.id}: to {drain.leads_to}"
        _marked(sheet, frame.at(*drain.at), (7.0, 7.0), marks.drain, "drain", words, drain.id)
    for tap in site.taps:
        _marked(sheet, frame.at(*tap.at), (9.0, 9.0), marks.lettered("T"), "tap", tap.id, tap.id)
    for place in site.rig_places:
        _marked(sheet, frame.at(*place.at), (15.0, 10.0), marks.rig, "rig", place.id, place.id)
    for wire in site.overhead_lines:
        _wire(sheet, wire, frame)
    for row in site.stalls:
        _stalls(sheet, row, float(site.place.north), frame)
    for fence in site.fences:
        seen = shapely.intersection(shapely.LineString(fence.path), shapely.box(*window))
        for part in shapely.get_parts(seen).tolist():
            corners = [frame.at(x, y) for x, y in shapely.get_coordinates(part).tolist()]
            line(group(sheet.layers["lines"], "fence", fence.id, id=fence.id), corners, FENCE)
            sheet.labels.avoid_line(corners)
            sheet.show("fence")


def _marked(
    sheet: Sheet, at: Point, size: tuple[float, float], mark: marks.Mark, kind: str, words: str, name: str
) -> None:
    """Draw a mark at its place, or tied to it where the place is taken."""
    made = group(sheet.layers["marks"], kind, words, id=name)
    here = centred(at, *size)
    place = sheet.labels.first_free([here, *around(at, *size, 3.0, 4)]) or here
    if place != here:
        disc(made, at, 1.2, None, INK)
        line(made, [at, place.nearest(at)], THIN)
    mark(made, place.middle)
    sheet.show(kind)
    sheet.later(1, partial(_named, sheet, place.middle, max(size), words, name))


def _named(sheet: Sheet, at: Point, size: float, words: str, name: str) -> None:
    shown = fitted(words, 150.0, SMALL)
    if sheet.label([shown], around(at, *label_size([shown]), size / 2), target=at, id=name) is None:
        sheet.note(words)


def _wire(sheet: Sheet, wire: OverheadLine, frame: PlanFrame) -> None:
    a, b = frame.at(*wire.start[:2]), frame.at(*wire.end[:2])
    made = group(sheet.layers["lines"], "overhead", wire.note or wire.id, id=wire.id)
    line(made, [a, b], OVERHEAD)
    sheet.labels.avoid_line([a, b])
    for end in (a, b):
        disc(made, end, 1.8, MEDIUM)
    low, high = sorted((wire.start[2], wire.end[2]))
    words = f"{wire.id}: {length_words(low, sheet.units)} to {length_words(high, sheet.units)} up"
    sheet.later(1, partial(_named, sheet, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), 6.0, words, wire.id))
    sheet.show("overhead")


def _stalls(sheet: Sheet, row: StallRow, north: float, frame: PlanFrame) -> None:
    lines = [(frame.at(*a), frame.at(*b)) for a, b in stall_lines(row, north)]
    made = group(sheet.layers["lines"], "stalls", row.id, id=row.id)
    for a, b in lines:
        line(made, [a, b], Pen(0.4, GREY))
    words = f"{row.id}: {counted(row.count, 'stall')}"
    if row.accessible:
        words += f", {row.accessible} accessible"
    ends = [(a[0] + 0.3 * (b[0] - a[0]), a[1] + 0.3 * (b[1] - a[1])) for a, b in (lines[0], lines[-1])]
    size = label_size([words])
    places = list(along(ends[0], ends[1], *size))
    sheet.later(8, partial(sheet.label, [words], places, ink=GREY, id=row.id))
