"""The ground before a wall, folded down below it: surfaces, what stands on them, where to stand and to look from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final
from xml.etree.ElementTree import Element

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import GREY, LIGHT, Pen, Point, box, clip, group, line
from sightwash.papers.drawings.frames import WallFrame, local_places, local_shape
from sightwash.papers.drawings.ground_pieces import GroundPiece, draw_piece
from sightwash.papers.drawings.labels import Box, centred, within_box
from sightwash.papers.drawings.legend import DRIP, WALK
from sightwash.papers.drawings.lettering import SMALL, fitted, named
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView
from sightwash.planning.regions import region_of, shape_of
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

LEAST_DEPTH: Final = 3.6
MOST_DEPTH: Final = 9.8


@dataclass(frozen=True, slots=True)
class Ground:
    """What the folds of a site share: pieces of ground with corners and shapes, places, how deep a fold is [m]."""

    pieces: tuple[tuple[GroundPiece, NDArray[np.float64], BaseGeometry], ...]
    gum: tuple[tuple[float, float], ...]
    drains: tuple[tuple[str, tuple[float, float]], ...]
    standoff: float
    depth: float


def folded_ground(site: Site, plan: VisitPlan, pieces: tuple[GroundPiece, ...]) -> Ground:
    """Return the ground that is folded down before the walls, deep enough for every standing spot."""
    outs = [spot.out for standing in plan.standing for spot in standing.spots]
    deep = max([LEAST_DEPTH, site.crew_eye.standoff + 0.6, *(out + 0.7 for out in outs)])
    gum = tuple(place for takeoff in plan.ground for work in takeoff.gum for place in work.marked_at_doors)
    drains = tuple((drain.id, drain.at) for drain in site.drains)
    ready = tuple((piece, piece.corners, shape_of(piece.region)) for piece in pieces)
    return Ground(ready, gum, drains, float(site.crew_eye.standoff), min(deep, MOST_DEPTH))


def draw_fold(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    """Draw the ground before one stretch of wall, with the spots on it."""
    made = group(sheet.layers["ground"], "fold", f"ground before {view.name}", wall=view.wall.id)
    corner = frame.out(frame.first, 0.0)
    inner = group(made, "ground")
    inner.set("clip-path", clip(sheet.canvas, f"{sheet.prefix}-fold", corner, frame.width, ground.depth * frame.points))
    for piece, corners, shape in ground.pieces:
        if piece.along in (None, view.wall.id):
            places = local_places(frame.placed, corners)
            low, high = places.min(axis=0), places.max(axis=0)
            if low[0] < frame.last and high[0] > frame.first and low[1] < ground.depth and high[1] > 0.0:
                _draw_part(sheet, inner, piece, shape, frame, ground.depth)
    box(made, corner, frame.width, ground.depth * frame.points, Pen(0.4, LIGHT, "2 2"))
    _drip_lines(sheet, made, view, frame, ground.depth)
    if ground.standoff <= ground.depth and view.wall.excluded is None:
        line(made, _across(frame, ground.standoff), WALK)
        sheet.labels.avoid_line(_across(frame, ground.standoff))
        sheet.show("walk")
    sheet.labels.avoid_line(_across(frame, ground.depth))
    _single_places(sheet, frame, ground)
    _door_names(sheet, view, frame, ground.depth)


def _draw_part(
    sheet: Sheet, parent: Element, piece: GroundPiece, shape: BaseGeometry, frame: WallFrame, depth: float
) -> None:
    window = shapely.box(frame.first, 0.0, frame.last, depth)
    part = local_shape(frame.placed, shape).intersection(window)
    region = region_of(part)
    if not region:
        return
    made = draw_piece(sheet, parent, piece, region, frame.out)
    if piece.style in ("surface", "not-washed"):
        sheet.labels.avoid_line(_paper_box(frame, part.bounds).ring)
        words = named(piece.words, frame.width - 8.0, SMALL)
        free = list(within_box(_paper_box(frame, part.bounds), *label_size([words])))
        sheet.later(5, partial(sheet.label, [words], free, ink=GREY, clear=True, part=piece.id))
    if piece.style == "keep-out":
        marks.stop_bar(made, _paper_box(frame, part.bounds))
    if piece.style in ("keep-out", "post", "object"):
        sheet.labels.keep_clear(_paper_box(frame, part.bounds))


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
