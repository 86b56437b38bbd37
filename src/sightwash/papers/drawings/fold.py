"""The ground before a wall, folded down below it: surfaces, what stands on them, where to stand and to look from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final
from xml.etree.ElementTree import Element

import numpy as np
import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import ACCENT, GREY, INK, LIGHT, Pen, Point, box, clip, group, line
from sightwash.papers.drawings.frames import WallFrame, local_places, local_shape
from sightwash.papers.drawings.ground_pieces import GroundPiece, draw_piece
from sightwash.papers.drawings.labels import Box, along, centred, within_box
from sightwash.papers.drawings.legend import DRIP, WALK
from sightwash.papers.drawings.lettering import SMALL, fitted, length_words, named, wrapped
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import StripView, WallView, short_remedy
from sightwash.planning.regions import region_of, shape_of
from sightwash.planning.standing import StandingSpot
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

LEAST_DEPTH: Final = 3.6
MOST_DEPTH: Final = 9.8
SPOT_KEYS: Final = {"sure": "spot-sure", "likely": "spot-likely"}
BEYOND: Final = 13.0
"""Height of the row of arrows to what lies beyond the fold [pt]."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What every fold of a site shares: the pieces of ground, single places, how deep the fold is [m]."""

    pieces: tuple[GroundPiece, ...]
    gum: tuple[tuple[float, float], ...]
    drains: tuple[tuple[str, tuple[float, float]], ...]
    standoff: float
    depth: float


def folded_ground(site: Site, plan: VisitPlan, pieces: tuple[GroundPiece, ...]) -> Ground:
    """Return the ground that is folded down before the walls, deep enough for every standing spot."""
    outs = [spot.out for standing in plan.standing for spot in standing.spots]
    deep = max([LEAST_DEPTH, site.crew_eye.standoff + 0.6, *(out + 1.0 for out in outs)])
    gum = tuple(place for takeoff in plan.ground for work in takeoff.gum for place in work.marked_at_doors)
    drains = tuple((drain.id, drain.at) for drain in site.drains)
    return Ground(pieces, gum, drains, float(site.crew_eye.standoff), min(deep, MOST_DEPTH))


def draw_fold(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Draw the ground before one stretch of wall, with the spots on it."""
    made = group(sheet.layers["ground"], "fold", f"ground before {view.name}", wall=view.wall.id)
    corner = frame.out(frame.first, 0.0)
    inner = group(made, "ground")
    inner.set("clip-path", clip(sheet.canvas, f"{sheet.prefix}-fold", corner, frame.width, ground.depth * frame.points))
    for piece in ground.pieces:
        if piece.along in (None, view.wall.id):
            _draw_part(sheet, inner, piece, frame, ground.depth)
    box(made, corner, frame.width, ground.depth * frame.points, Pen(0.4, LIGHT, "2 2"))
    _drip_lines(sheet, made, view, frame, ground.depth)
    if ground.standoff <= ground.depth and view.wall.excluded is None:
        line(made, _across(frame, ground.standoff), WALK)
        sheet.labels.avoid_line(_across(frame, ground.standoff))
        sheet.show("walk")
    sheet.labels.avoid_line(_across(frame, ground.depth))
    _single_places(sheet, frame, ground)
    _door_names(sheet, view, frame, ground.depth)


def _draw_part(sheet: Sheet, parent: Element, piece: GroundPiece, frame: WallFrame, depth: float) -> None:
    places = local_places(frame.placed, np.array([corner for rings in piece.region for corner in rings[0]]))
    low, high = places.min(axis=0), places.max(axis=0)
    if low[0] >= frame.last or high[0] <= frame.first or low[1] >= depth or high[1] <= 0.0:
        return
    window = shapely.box(frame.first, 0.0, frame.last, depth)
    part = local_shape(frame.placed, shape_of(piece.region)).intersection(window)
    region = region_of(part)
    if not region:
        return
    made = draw_piece(sheet, parent, piece, region, frame.out)
    if piece.style in ("surface", "not-washed"):
        words = named(piece.words, frame.width - 8.0, SMALL)
        free = list(within_box(_paper_box(frame, part.bounds), *label_size([words])))
        sheet.later(5, partial(sheet.label, [words], free, ink=GREY, clear=True, part=piece.id))
    if piece.style == "keep-out":
        marks.stop_bar(made, _paper_box(frame, part.bounds))


def _paper_box(frame: WallFrame, bounds: tuple[float, float, float, float]) -> Box:
    a, b = frame.out(bounds[0], bounds[1]), frame.out(bounds[2], bounds[3])
    return Box(a[0], a[1], b[0], b[1])


def _across(frame: WallFrame, out: float) -> list[Point]:
    """Return a line along the wall on paper."""
    return [frame.out(frame.first, out), frame.out(frame.last, out)]


def _drip_lines(sheet: Sheet, parent: Element, view: WallView, frame: WallFrame, depth: float) -> None:
    for item in view.wall.projections:
        edge = item.gap + item.depth
        left, right = max(item.left, frame.first), min(item.left + item.width, frame.last)
        if item.kind in ("canopy", "awning", "ledge", "other") and 0.3 <= edge <= depth and left < right:
            corners = [(left, 0.0), (left, edge), (right, edge), (right, 0.0)]
            edges = [frame.out(s, out) for s, out in corners]
            line(parent, edges, DRIP)
            sheet.labels.avoid_line(edges)
            sheet.show("drip")


def _single_places(sheet: Sheet, frame: WallFrame, ground: Ground) -> None:
    for at in _inside(frame, ground.depth, ground.gum):
        marks.gum(group(sheet.layers["marks"], "gum", "gum at a door"), at)
        sheet.labels.keep_clear(centred(at, 3.0, 3.0))
        sheet.show("gum")
    for name, place in ground.drains:
        for at in _inside(frame, ground.depth, (place,)):
            marks.drain(group(sheet.layers["marks"], "drain", name, id=name), at)
            sheet.labels.keep_clear(centred(at, 7.0, 7.0))
            sheet.show("drain")


def _inside(frame: WallFrame, depth: float, places: tuple[tuple[float, float], ...]) -> Iterator[Point]:
    for place in places:
        s, out = frame.placed.local(place)
        if frame.first <= s <= frame.last and 0.0 <= out <= depth:
            yield frame.out(s, out)


def _door_names(sheet: Sheet, view: WallView, frame: WallFrame, depth: float) -> None:
    for door in view.wall.doors:
        middle = door.left + door.width / 2
        if not frame.holds(middle):
            continue
        words = fitted(door.id, 48.0, SMALL)
        size = label_size([words])
        x, y = frame.out(middle, 0.0)
        places = [
            centred((x + across, y + 6.8 + row * 9.0), *size)
            for row in range(4)
            for across in (0.0, -8.0, 8.0, -18.0, 18.0)
            if 6.8 + row * 9.0 < depth * frame.points
        ]
        sheet.later(0, partial(sheet.label, [words], places, target=(x, y), door=door.id))


def draw_spots(sheet: Sheet, view: WallView, frame: WallFrame) -> None:
    """Draw the standing spots of a stretch, each with the stretch of wall that it serves."""
    if view.standing is None:
        return
    for spot in view.standing.spots:
        left, right = max(spot.left, frame.first), min(spot.right, frame.last)
        if left >= right:
            continue
        made = group(sheet.layers["marks"], "spot", spot_words(spot, sheet.units), spot=spot.id, verdict=spot.verdict)
        _stretch(made, frame, left, right, spot.out)
        sheet.labels.avoid_line(_across(frame, spot.out))
        if frame.holds(spot.s):
            at = frame.out(spot.s, spot.out)
            marks.spot(made, at, spot_number(spot), spot.verdict)
            sheet.labels.keep_clear(centred(at, 10.0, 10.0))
        sheet.show(SPOT_KEYS.get(spot.verdict, "spot-test"))
    _out_words(sheet, view.standing.spots, frame)


def spot_words(spot: StandingSpot, units: str) -> str:
    """Return what a spot serves in words."""
    out, stretch, up = (length_words(value, units) for value in (spot.out, spot.right - spot.left, spot.needed))
    return f"stand {out} out: serves {stretch} of wall, {spot.verdict} to {up} up"


def spot_number(spot: StandingSpot) -> str:
    """Return the number that a spot bears on a drawing: the one at the end of its id."""
    return spot.id.rsplit("-", 1)[-1]


def _stretch(parent: Element, frame: WallFrame, left: float, right: float, out: float) -> None:
    a, b = frame.out(left, out), frame.out(right, out)
    line(parent, [(a[0] + 1.5, a[1]), (b[0] - 1.5, b[1])], Pen(0.6))
    for x in (a[0] + 1.5, b[0] - 1.5):
        line(parent, [(x, a[1] - 3.0), (x, a[1] + 3.0)], Pen(0.6))


def _out_words(sheet: Sheet, spots: tuple[StandingSpot, ...], frame: WallFrame) -> None:
    """Say once how far out the spots of a stretch lie."""
    shown = [spot for spot in spots if frame.holds(spot.s)]
    if not shown:
        return
    words = f"{length_words(shown[0].out, sheet.units)} out"
    width, height = label_size([words])
    if width > frame.width:
        return
    y = frame.out(0.0, shown[0].out)[1]
    ends = frame.out(frame.first, 0.0)[0] + width / 2, frame.out(frame.last, 0.0)[0] - width / 2
    rows = (y + 10.6, y - 10.6, y + 16.0)
    places = (place for row in rows for place in along((ends[0], row), (ends[1], row), width, height))
    sheet.later(1, partial(sheet.label, [words], list(places), ink=GREY))


def draw_looks(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Draw the places to look at missed strips from; those beyond the fold as an arrow with their distance."""
    for strip in view.strips:
        look = strip.look
        if look is None:
            continue
        s, out = frame.placed.local(look.place)
        if not frame.holds(min(max(s, 0.0), frame.placed.length)):
            continue
        if out <= ground.depth:
            _look_here(sheet, strip, frame.out(s, out), look.allowed)
        else:
            _look_beyond(sheet, strip, frame, s, out, ground.depth)


def look_words(strip: StripView, units: str) -> str:
    """Return what a look spot is for and how to look from it."""
    return f"{strip.letter}: {short_remedy(strip.strip.remedies[0], units)}"


def _look_here(sheet: Sheet, strip: StripView, at: Point, allowed: bool) -> None:
    assert strip.look is not None
    made = group(sheet.layers["marks"], "look", look_words(strip, sheet.units), look=strip.look.id)
    ink = INK if allowed else ACCENT
    marks.eye(made, at, ink)
    sheet.labels.keep_clear(centred(at, 11.0, 7.0))
    sheet.show("eye")
    words = look_words(strip, sheet.units)
    size = label_size([words])
    offsets = [(0.0, 9.0), (0.0, -9.0), (size[0] / 2 + 8, 0.0), (-size[0] / 2 - 8, 0.0), (0.0, 18.0), (0.0, -18.0)]
    places = (centred((at[0] + x, at[1] + y), *size) for x, y in offsets)
    sheet.label([words], places, target=at, ink=ink, look=strip.look.id)


def _look_beyond(sheet: Sheet, strip: StripView, frame: WallFrame, s: float, out: float, depth: float) -> None:
    assert strip.look is not None
    words = f"{strip.letter}: look from {length_words(out, sheet.units)} back"
    width, height = label_size([words])
    x, y = frame.out(s, depth)
    middle = y + BEYOND / 2
    shifts = sorted((sign * step * 8.0 for step in range(60) for sign in (1, -1)), key=abs)
    ink = INK if strip.look.allowed else ACCENT
    place = sheet.label(
        [words], (centred((x + shift, middle), width + 14.0, height) for shift in shifts), ink=ink, look=strip.look.id
    )
    if place is not None:
        made = group(sheet.layers["marks"], "look", words)
        start = (place.left + 3.0, middle - 5.0)
        marks.arrow(made, start, (start[0], middle + 5.0), Pen(0.8, ink))


def draw_unreached(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Say in the fold what no standing spot reaches: somebody has to decide."""
    if view.standing is None or not frame.holds(0.0):
        return
    corner = frame.out(frame.first, 0.0)
    area = Box(corner[0], corner[1], corner[0] + frame.width, corner[1] + ground.depth * frame.points)
    for words in view.standing.unreached:
        lines = wrapped(words, max(area.width - 22.0, 40.0), SMALL, 3)
        width, height = label_size(lines)
        place = sheet.label(lines, within_box(area, width + 12.0, height), ink=ACCENT, wall=view.wall.id)
        if place is not None:
            marks.decision(sheet.layers["words"], (place.right - 4.0, place.middle[1]))
            sheet.show("decision")
