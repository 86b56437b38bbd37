"""The surfaces, buildings and walls of a ground plan, with their names."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import GREY, INK, Pen, group, line, write
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.ground_pieces import GroundPiece, draw_piece
from sightwash.papers.drawings.labels import Box, along, around, centred, within_box
from sightwash.papers.drawings.legend import DRIP
from sightwash.papers.drawings.lettering import PLAIN, SMALL, apart, fitted, text_width
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView
from sightwash.planning.regions import region_of, shape_of
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

Window = tuple[float, float, float, float]
NAMED = ("building", "keep-out", "surface", "not-washed", "neighbour", "parked", "planting")


def draw_ground(
    sheet: Sheet, plan: VisitPlan, site: Site, pieces: tuple[GroundPiece, ...], frame: PlanFrame, window: Window
) -> None:
    """Draw every piece of ground that the window holds, then the names and the way that water runs."""
    edge = shapely.box(*window)
    shown: list[tuple[GroundPiece, shapely.Geometry]] = []
    for piece in pieces:
        whole = _inside(piece, window)
        part = None if whole else shape_of(piece.region).intersection(edge)
        region = piece.region if part is None else region_of(part)
        if not region:
            continue
        made = draw_piece(sheet, sheet.layers["ground"], piece, region, frame.at)
        if piece.style == "keep-out":
            marks.stop_bar(made, frame.box(shapely.Polygon(region[0][0]).bounds))
        if piece.style in NAMED:
            shown.append((piece, shapely.Polygon(region[0][0], region[0][1:])))
        if piece.style in ("post", "object"):
            sheet.labels.keep_clear(frame.box(shapely.Polygon(region[0][0]).bounds))
    _gum(sheet, plan, frame, window)
    _falls(sheet, site, shown, frame)
    for piece, area in sorted(shown, key=lambda pair: NAMED.index(pair[0].style)):
        _name(sheet, plan, piece, area, frame)


def _inside(piece: GroundPiece, window: Window) -> bool:
    left, bottom, right, top = window
    return all(left <= x <= right and bottom <= y <= top for rings in piece.region for x, y in rings[0])


def _name(sheet: Sheet, plan: VisitPlan, piece: GroundPiece, area: shapely.Geometry, frame: PlanFrame) -> None:
    """Write what a piece is on it, or beside it with a line to it."""
    lines = [apart(fitted(words, 170.0, SMALL)) for words in _words(plan, piece)]
    bounds = frame.box(area.bounds)
    middle = shapely.point_on_surface(area)
    target = frame.at(middle.x, middle.y)
    ink = INK if piece.style in ("building", "keep-out", "surface") else GREY
    for rows in (lines, lines[:1]):
        size = label_size(rows, SMALL)
        places = [place for place in within_box(bounds, *size) if _holds(area, place, frame)]
        beside = around(target, *size, min(bounds.height, 40.0) / 2 + 2.0)
        if sheet.label(rows, [*places, *beside], target=target if not places else None, ink=ink, part=piece.id):
            return


def _holds(area: shapely.Geometry, place: Box, frame: PlanFrame) -> bool:
    """Whether a label's middle lies in the area, so that it names the right one."""
    x = frame.left + (place.middle[0] - frame.x) / frame.points
    y = frame.bottom - (place.middle[1] - frame.y) / frame.points
    return bool(shapely.contains_xy(area, x, y))


def _words(plan: VisitPlan, piece: GroundPiece) -> list[str]:
    words = [piece.words if piece.style != "building" else piece.words.split(": ", 1)[1]]
    takeoff = next((each for each in plan.ground if each.surface == piece.id), None)
    if takeoff is not None and piece.style in ("surface", "not-washed"):
        for gum in takeoff.gum:
            words.append(f"gum: {gum.door_spots} at doors by hand, about {gum.open_spots:.0f} in the open")
    return words


def _gum(sheet: Sheet, plan: VisitPlan, frame: PlanFrame, window: Window) -> None:
    for takeoff in plan.ground:
        for gum in takeoff.gum:
            for x, y in gum.marked_at_doors:
                if window[0] <= x <= window[2] and window[1] <= y <= window[3]:
                    at = frame.at(x, y)
                    marks.gum(group(sheet.layers["marks"], "gum", "gum at a door"), at)
                    sheet.labels.keep_clear(centred(at, 3.5, 3.5))
                    sheet.show("gum")


def _falls(
    sheet: Sheet, site: Site, shown: list[tuple[GroundPiece, shapely.Geometry]], frame: PlanFrame
) -> None:
    """Draw the way that water runs on each surface with a known fall."""
    falls = {surface.id: surface.fall for surface in site.surfaces}
    for piece, area in shown:
        fall = falls.get(piece.id) if piece.style in ("surface", "not-washed") else None
        if fall is None:
            continue
        angle = math.radians(fall.toward - site.place.north)
        across, down = math.sin(angle), -math.cos(angle)
        words = f"{100 * fall.slope:g} %"
        reach = min(16.0, max(frame.box(area.bounds).height * 0.7, 7.0))
        width, height = abs(across) * reach + text_width(words, SMALL) + 7.0, max(abs(down) * reach, 8.5) + 2.0
        bounds = frame.box(area.bounds)
        start = Box(bounds.left, bounds.top, bounds.left + bounds.width * 0.45, bounds.bottom)
        places = [place for place in (*within_box(start, width, height), *within_box(bounds, width, height))]
        place = sheet.labels.first_free(place for place in places if _holds(area, place, frame))
        if place is None:
            continue
        made = group(sheet.layers["marks"], "fall", f"{piece.id} falls {words}", surface=piece.id)
        x, y = place.left + 3.0 + abs(across) * reach / 2, place.middle[1]
        half = reach / 2
        marks.arrow(made, (x - across * half, y - down * half), (x + across * half, y + down * half), Pen(0.7))
        write(made, (place.right - 1.0, place.middle[1] + 2.5), words, SMALL, "end", halo=True)
        sheet.show("fall")


def draw_walls(sheet: Sheet, walls: tuple[WallView, ...], frame: PlanFrame, measured: bool) -> None:
    """Draw each wall as a heavy line, excluded ones broken, with its id inside the building."""
    for view in walls:
        a, b = frame.at(*view.placed.start), frame.at(*view.placed.end)
        made = group(sheet.layers["walls"], "wall", view.name, wall=view.wall.id)
        excluded = view.wall.excluded is not None
        line(made, [a, b], Pen(1.4, GREY, "4 2.5") if excluded else Pen(2.4))
        for item in view.wall.projections:
            if item.depth >= 0.3 and item.bottom >= 0.3:
                ends = ((item.left, 0.0), (item.left, item.gap + item.depth))
                right = item.left + item.width
                corners = [*ends, (right, item.gap + item.depth), (right, 0.0)]
                points = [view.placed.point(s, out) for s, out in corners]
                line(made, [frame.at(float(p[0]), float(p[1])) for p in points], DRIP)
                sheet.show("drip")
        words = view.wall.id + (" (excluded)" if excluded else "") + ("" if measured else " (no place in the plan yet)")
        _wall_name(sheet, view, words, frame)


def _wall_name(sheet: Sheet, view: WallView, words: str, frame: PlanFrame) -> None:
    """Write a wall's id along it, inside the building if there is room, else outside."""
    a, b = frame.at(*view.placed.start), frame.at(*view.placed.end)
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    turn = turn - 180.0 if turn > 90.0 else turn + 180.0 if turn <= -90.0 else turn
    turn = 0.0 if abs(turn) < 0.05 else turn
    size = label_size([words], PLAIN, True, turn)
    sheet.label(
        [words],
        _beside(view, a, b, size, frame),
        target=((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
        size=PLAIN,
        bold=True,
        turn=turn,
        wall=view.wall.id,
    )


def _beside(
    view: WallView, a: tuple[float, float], b: tuple[float, float], size: tuple[float, float], frame: PlanFrame
) -> Iterator[Box]:
    across, up = (float(value) for value in view.placed.outward[:2])
    reach = 8.0
    for away in (-1.0, -2.0, 1.0, -3.2, 2.0, 3.2):
        shift = across * away * reach, -up * away * reach
        start, end = ((p[0] + shift[0], p[1] + shift[1]) for p in (a, b))
        yield from along(start, end, *size)
    yield from around(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), *size)
