"""The surfaces and what lies on them in a ground plan, with their names and the way that water runs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import GREY, INK, Pen, group, write
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.ground_pieces import GroundPiece, draw_piece
from sightwash.papers.drawings.labels import Box, around, centred, within_box
from sightwash.papers.drawings.lettering import SMALL, apart, fitted, text_width
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.ground_path import GroundPath
from sightwash.planning.regions import region_of, shape_of
from sightwash.planning.visit import VisitPlan
from sightwash.site.ground import Fall
from sightwash.site.model import Site

Window = tuple[float, float, float, float]
NAMED = ("keep-out", "building", "surface", "not-washed", "neighbour", "parked", "planting")
GUM_WAYS = {
    "surface cleaner": "by cleaner",
    "wand": "by wand",
    "wand from allowed bearings": "by jet at an angle",
    "scraper": "by scraper",
    "low-water machine": "by low-water machine",
    "leave": "left",
}
NARROW = 9.0
"""A piece of which less than this can be seen gets no name [pt]."""


def draw_ground(
    sheet: Sheet, site: Site, plan: VisitPlan, pieces: tuple[GroundPiece, ...], frame: PlanFrame, window: Window
) -> None:
    """Draw every piece of ground that the window holds; names and the way that water runs come later."""
    edge = shapely.box(*window)
    falls = {surface.id: surface.fall for surface in site.surfaces}
    takeoffs = {takeoff.surface: takeoff for takeoff in plan.ground}
    for piece in pieces:
        region = piece.region
        if not _inside(piece, window):
            region = region_of(shape_of(region).intersection(edge))
        if not region:
            continue
        made = draw_piece(sheet, sheet.layers["ground"], piece, region, frame.at)
        area = shapely.Polygon(region[0][0], region[0][1:])
        bounds = frame.box(area.bounds)
        if piece.style == "keep-out":
            marks.stop_bar(made, bounds)
        if piece.style in ("post", "object", "keep-out"):
            sheet.labels.keep_clear(bounds)
        takeoff = takeoffs.get(piece.id) if piece.style in ("surface", "not-washed") else None
        fall = falls.get(piece.id) if takeoff else None
        if fall is not None:
            sheet.later(3, partial(_fall, sheet, piece, fall, site.place.north, area, frame))
        if piece.style in NAMED and min(bounds.width, bounds.height) >= NARROW / 3:
            sheet.later(
                4 + NAMED.index(piece.style), partial(_name, sheet, piece, _words(piece, takeoff, plan), area, frame)
            )
    _gum(sheet, plan, frame, window)
    for path in plan.ground_paths:
        sheet.later(3, partial(_ends, sheet, path, frame, window))


def _ends(sheet: Sheet, path: GroundPath, frame: PlanFrame, window: Window) -> None:
    """Mark where a path begins and ends."""
    for place, kind, mark in ((path.start, "start", marks.start), (path.finish, "finish", marks.finish)):
        if window[0] <= place[0] <= window[2] and window[1] <= place[1] <= window[3]:
            at = frame.at(*place)
            mark(group(sheet.layers["marks"], kind, f"{path.name}: {kind} of the path", path=path.id), at)
            sheet.labels.keep_clear(centred(at, 6.5, 6.5))
            sheet.show(kind)


def _inside(piece: GroundPiece, window: Window) -> bool:
    left, bottom, right, top = window
    return all(left <= x <= right and bottom <= y <= top for rings in piece.region for x, y in rings[0])


def _words(piece: GroundPiece, takeoff: GroundTakeoff | None, plan: VisitPlan) -> list[str]:
    name = piece.words if piece.style != "building" else piece.words.split(": ", 1)[1]
    lines, ways = [name], dict.fromkeys(GUM_WAYS, 0.0)
    for spot in plan.gum_spots:
        if takeoff is not None and spot.surface == takeoff.surface:
            ways[spot.how] += spot.spots
    said = ", ".join(f"{spots:.0f} {GUM_WAYS[how]}" for how, spots in ways.items() if spots)
    if said:
        lines.append(f"gum: {said}")
    return [apart(fitted(line, 190.0, SMALL)) for line in lines]


def _name(sheet: Sheet, piece: GroundPiece, words: list[str], area: shapely.Polygon, frame: PlanFrame) -> None:
    """Write what a piece is on it, level or upright, else beside it with a line to it."""
    bounds = frame.box(area.bounds)
    ink = INK if piece.style in ("building", "keep-out", "surface") else GREY
    ways: list[tuple[list[str], float]] = [(["; ".join(words)], 0.0), (words, 0.0), (words[:1], 0.0)]
    if bounds.height > 1.5 * bounds.width:
        ways.append((words[:1], -90.0))
    for lines, turn in ways:
        size = label_size(lines, SMALL, turn=turn)
        places = (place for place in within_box(bounds, *size) if _holds(area, place, frame))
        if sheet.label(lines, places, ink=ink, turn=turn, part=piece.id):
            return
    middle = shapely.point_on_surface(area)
    target = frame.at(middle.x, middle.y)
    size = label_size(words[:1], SMALL)
    beside = around(target, *size, min(bounds.width, bounds.height, 30.0) / 2 + 1.0)
    if sheet.label(words[:1], beside, target=target, ink=ink, part=piece.id) is None:
        sheet.note("; ".join(words))


def _holds(area: shapely.Polygon, place: Box, frame: PlanFrame) -> bool:
    """Whether a label's middle lies in the area, so that it names the right one."""
    x = frame.left + (place.middle[0] - frame.x) / frame.points
    y = frame.bottom - (place.middle[1] - frame.y) / frame.points
    return bool(shapely.contains_xy(area, x, y))


def _gum(sheet: Sheet, plan: VisitPlan, frame: PlanFrame, window: Window) -> None:
    for spot in plan.gum_spots:
        if spot.at is None or spot.door is None:
            continue
        x, y = spot.at
        if window[0] <= x <= window[2] and window[1] <= y <= window[3]:
            at = frame.at(x, y)
            marks.gum(group(sheet.layers["marks"], "gum", f"{spot.id} at {spot.door}: {spot.how}"), at)
            sheet.labels.keep_clear(centred(at, 3.5, 3.5))
            sheet.show("gum")


def _fall(sheet: Sheet, piece: GroundPiece, fall: Fall, north: float, area: shapely.Polygon, frame: PlanFrame) -> None:
    """Draw the way that water runs on a surface, with its slope."""
    angle = math.radians(fall.toward - north)
    across, down = math.sin(angle), -math.cos(angle)
    words = f"{100 * fall.slope:.3g} %"
    bounds = frame.box(area.bounds)
    reach = min(16.0, max(bounds.height * 0.6, 7.0))
    width, height = abs(across) * reach + text_width(words, SMALL) + 8.0, max(abs(down) * reach, 8.5) + 1.0
    places = _fall_places(area, frame, width, height)
    place = sheet.labels.first_free(places)
    if place is None:
        return
    made = group(sheet.layers["marks"], "fall", f"{piece.id} falls {words}", surface=piece.id)
    x, y = place.left + 3.0 + abs(across) * reach / 2, place.middle[1]
    half = reach / 2
    marks.arrow(made, (x - across * half, y - down * half), (x + across * half, y + down * half), Pen(0.7))
    write(made, (place.right - 1.0, place.middle[1] + 2.5), words, SMALL, "end", halo=True)
    sheet.show("fall")


def _fall_places(area: shapely.Polygon, frame: PlanFrame, width: float, height: float) -> Iterator[Box]:
    """Yield places in the left part of a surface, then anywhere on it."""
    bounds = frame.box(area.bounds)
    left = Box(bounds.left, bounds.top, bounds.left + bounds.width * 0.45, bounds.bottom)
    for where in (left, bounds):
        yield from (place for place in within_box(where, width, height) if _holds(area, place, frame))
