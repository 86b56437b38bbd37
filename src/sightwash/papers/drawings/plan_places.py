"""Single places of a ground plan: drains, taps, rigs, eyes, overhead lines, stalls, standing and look spots."""

from __future__ import annotations

import math
from typing import Final

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import ACCENT, GREY, INK, MEDIUM, PAPER, Pen, Point, disc, group, line
from sightwash.papers.drawings.far import EYE_PATH, path_of
from sightwash.papers.drawings.fold import spot_number
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.labels import Box, along, around, centred
from sightwash.papers.drawings.legend import FENCE, OVERHEAD
from sightwash.papers.drawings.lettering import SMALL, apart, counted, fitted, length_words
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView
from sightwash.science.stalls import stall_curb_length
from sightwash.site.eyes import Eye
from sightwash.site.ground import OverheadLine, StallRow
from sightwash.site.model import Site

PARALLEL: Final = 1.0
"""Stalls at a smaller angle than this lie along the aisle [deg]."""
Segment = tuple[tuple[float, float], tuple[float, float]]


def stall_lines(row: StallRow, north: float = 0.0) -> list[Segment]:
    """Return the lines of a row of stalls, to the right of the way that the row runs."""
    turned = math.radians(row.toward - north)
    along_x, along_y = math.sin(turned), math.cos(turned)
    angle = math.radians(row.angle)
    length, step = row.length, row.width
    if min(row.angle, 180.0 - row.angle) < PARALLEL:
        angle, length, step = math.pi / 2, row.width, row.length
    else:
        step = stall_curb_length(float(row.width), min(float(row.angle), 180.0 - float(row.angle)))
    side = math.sin(angle), math.cos(angle)
    found = []
    for number in range(row.count + 1):
        x, y = row.at[0] + number * step * along_x, row.at[1] + number * step * along_y
        away_x = along_y * side[0] + along_x * side[1]
        away_y = -along_x * side[0] + along_y * side[1]
        found.append(((x, y), (x + length * away_x, y + length * away_y)))
    return found


def draw_places(sheet: Sheet, site: Site, frame: PlanFrame) -> None:
    """Draw what has one place in the plan, each with its name."""
    for drain in site.drains:
        at = frame.at(*drain.at)
        marks.drain(group(sheet.layers["marks"], "drain", drain.note or drain.id, id=drain.id), at)
        sheet.show("drain")
        _named(sheet, at, 7.0, f"{drain.id}: to {drain.leads_to}", drain.id)
    for tap in site.taps:
        at = frame.at(*tap.at)
        marks.lettered("T")(group(sheet.layers["marks"], "tap", tap.id, id=tap.id), at)
        sheet.show("tap")
        _named(sheet, at, 9.0, tap.id, tap.id)
    for place in site.rig_places:
        at = frame.at(*place.at)
        marks.rig(group(sheet.layers["marks"], "rig", place.note or place.id, id=place.id), at)
        sheet.show("rig")
        _named(sheet, at, 14.0, place.id, place.id)
    for wire in site.overhead_lines:
        _wire(sheet, wire, frame)
    for row in site.stalls:
        _stalls(sheet, row, float(site.place.north), frame)
    for fence in site.fences:
        made = group(sheet.layers["lines"], "fence", fence.id, id=fence.id)
        line(made, [frame.at(*corner) for corner in fence.path], FENCE)
        sheet.show("fence")


def _named(sheet: Sheet, at: Point, size: float, words: str, name: str) -> None:
    """Keep a mark's own place clear and write its name beside it."""
    sheet.labels.keep_clear(centred(at, size, 8.0))
    shown = fitted(words, 150.0, SMALL)
    sheet.label([shown], around(at, *label_size([shown]), size / 2), target=at, id=name)


def _wire(sheet: Sheet, wire: OverheadLine, frame: PlanFrame) -> None:
    a, b = frame.at(*wire.start[:2]), frame.at(*wire.end[:2])
    made = group(sheet.layers["lines"], "overhead", wire.note or wire.id, id=wire.id)
    line(made, [a, b], OVERHEAD)
    for end in (a, b):
        disc(made, end, 1.8, MEDIUM)
    low, high = sorted((wire.start[2], wire.end[2]))
    words = f"{wire.id}: {length_words(low, sheet.units)} to {length_words(high, sheet.units)} up"
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    sheet.label([words], around(middle, *label_size([words])), target=middle, id=wire.id)
    sheet.show("overhead")


def _stalls(sheet: Sheet, row: StallRow, north: float, frame: PlanFrame) -> None:
    lines = [(frame.at(*a), frame.at(*b)) for a, b in stall_lines(row, north)]
    made = group(sheet.layers["lines"], "stalls", row.id, id=row.id)
    for a, b in lines:
        line(made, [a, b], Pen(0.4, GREY))
    words = f"{row.id}: {counted(row.count, 'stall')}"
    if row.accessible:
        words += f", {row.accessible} accessible"
    ends = [(a[0] + 0.5 * (b[0] - a[0]), a[1] + 0.5 * (b[1] - a[1])) for a, b in (lines[0], lines[-1])]
    sheet.label([words], along(*ends, *label_size([words])), ink=GREY, id=row.id)


def draw_near_eyes(sheet: Sheet, site: Site, frame: PlanFrame, window: tuple[float, float, float, float]) -> None:
    """Draw the eyes and paths that the window holds."""
    edge = shapely.box(*window)
    for eye in site.eyes:
        path = path_of(eye)
        if not path.intersects(edge):
            continue
        if len(eye.path) == 1:
            _eye(sheet, eye, frame.at(*eye.path[0]))
            continue
        made = group(sheet.layers["lines"], "eye-path", eye.name or eye.id, eye=eye.id)
        parts = shapely.get_parts(path.intersection(edge)).tolist()
        for part in parts:
            line(made, [frame.at(x, y) for x, y in shapely.get_coordinates(part).tolist()], EYE_PATH)
        middle = shapely.line_interpolate_point(max(parts, key=lambda part: part.length), 0.35, normalized=True)
        _eye(sheet, eye, frame.at(middle.x, middle.y))


def _eye(sheet: Sheet, eye: Eye, at: Point) -> None:
    marks.eye(group(sheet.layers["marks"], "eye", eye.name or eye.id, eye=eye.id), at)
    sheet.labels.keep_clear(centred(at, 11.0, 7.0))
    sheet.show("eye")
    words = apart(fitted(eye.name or eye.id, 150.0, SMALL))
    sheet.label([words], around(at, *label_size([words]), 5.0), target=at, eye=eye.id)


def draw_plan_spots(
    sheet: Sheet, walls: tuple[WallView, ...], frame: PlanFrame, window: tuple[float, float, float, float]
) -> None:
    """Draw where to stand and where to look from; spots too close for their numbers become dots."""
    taken: list[Box] = []
    for view in walls:
        if view.standing is None:
            continue
        for spot in view.standing.spots:
            at = frame.at(*spot.place)
            made = group(sheet.layers["marks"], "spot", spot.why.rule, spot=spot.id, verdict=spot.verdict)
            place = centred(at, 10.6, 10.6)
            if any(place.overlaps(other) for other in taken):
                disc(made, at, 1.8, MEDIUM, INK if spot.verdict == "sure" else PAPER)
            else:
                marks.spot(made, at, spot_number(spot), spot.verdict)
                taken.append(place)
            sheet.show({"sure": "spot-sure", "likely": "spot-likely"}.get(spot.verdict, "spot-test"))
        for strip in view.strips:
            if strip.look is not None and _holds(window, strip.look.place):
                at = frame.at(*strip.look.place)
                ink = INK if strip.look.allowed else ACCENT
                marks.eye(group(sheet.layers["marks"], "look", strip.look.words, look=strip.look.id), at, ink)
                sheet.labels.keep_clear(centred(at, 11.0, 7.0))
                words = f"look at {strip.letter}"
                sheet.label([words], around(at, *label_size([words]), 5.0), target=at, ink=ink, look=strip.look.id)
                sheet.show("eye")
    sheet.labels.keep_clear(*taken)


def _holds(window: tuple[float, float, float, float], place: tuple[float, float]) -> bool:
    return window[0] <= place[0] <= window[2] and window[1] <= place[1] <= window[3]
