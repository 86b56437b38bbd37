"""The plan of one surface, large enough to work from: kinds of work, path, doors, gum, water, start and finish."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import InputError, Problem
from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import GREY, INK, LIGHT, Pen, box, group, write
from sightwash.papers.drawings.ground_pieces import GroundPiece, draw_piece, ground_pieces
from sightwash.papers.drawings.gum_marks import draw_gum
from sightwash.papers.drawings.labels import Box, around, box_around
from sightwash.papers.drawings.lettering import PLAIN, SMALL, fitted, wrapped
from sightwash.papers.drawings.path_lines import draw_path
from sightwash.papers.drawings.scale import PAGE, north_arrow
from sightwash.papers.drawings.sheet import HEAD, NOTE_LINE, Sheet, label_size
from sightwash.papers.drawings.surface_doors import draw_doors
from sightwash.papers.drawings.surface_frame import Band, Turned, bands, largest_bands, shown_window
from sightwash.papers.drawings.surface_water import draw_water
from sightwash.papers.drawings.surface_words import surface_words
from sightwash.papers.drawings.views import WallView, wall_views
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.ground_path import GroundPath
from sightwash.planning.gum import GumSpot
from sightwash.planning.push import bearing_of
from sightwash.planning.regions import areas_of, region_of, shape_of
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

LEGEND: Final = 62.0
"""Room for the legend [pt]."""
LEAST: Final = 150.0
"""The drawing itself has at least this height, however long its notes are [pt]."""
NAMED: Final = ("object", "planting", "keep-out", "neighbour", "parked")


@dataclass(frozen=True, slots=True, eq=False)
class _Scene:
    """What the plan of one surface shows."""

    site: Site
    plan: VisitPlan
    takeoff: GroundTakeoff
    path: GroundPath | None
    spots: tuple[GumSpot, ...]
    turned: Turned
    ground: BaseGeometry
    pieces: tuple[GroundPiece, ...]
    views: tuple[WallView, ...]


def surface_plan(site: Site, plan: VisitPlan, surface: str, height: float = PAGE[1], notes: bool = True) -> str:
    """Return one surface as one SVG drawing: water is pushed down the sheet, doors are at the top.

    The drawing is as wide as a letter sheet on its side and as high as that or another ``height`` at most [pt].
    A long surface is cut into bands that stand below each other, so that the scale stays readable. Raises InputError
    where the plan has no such surface.
    """
    scene = _scene(site, plan, surface)
    said = list(surface_words(site, plan, scene.takeoff, scene.path, scene.spots)) if notes else []
    rows = sum(len(wrapped(text, PAGE[0] - 12.0, SMALL, 3)) for text, _ in said)
    room = max(height - HEAD - LEGEND - rows * NOTE_LINE - 12.0, LEAST)
    scale, count = largest_bands(scene.ground.bounds, plan.units, PAGE[0] - 16.0, room)
    name = scene.takeoff.name
    prefix = "surface-" + re.sub(r"[^a-z0-9]+", "-", surface.lower())
    sheet = Sheet(PAGE[0], f"{site.name}: {name}", _description(scene), prefix, plan.units, scale)
    sheet.head(site.name, f": {name}", f"how this ground is washed; for {plan.on}", 26.0)
    made = bands(shown_window(scene.ground.bounds, scale.points), scale, count, PAGE[0] - 16.0, HEAD + 6.0)
    for number, band in enumerate(made):
        _draw_band(sheet, scene, band, (number > 0, number < count - 1))
    down = math.radians(scene.turned.heading)
    up = bearing_of(-np.array([math.cos(down), math.sin(down)]), float(site.place.north))
    north_arrow(sheet.canvas.root, (sheet.head_end - 14.0, 19.0), up)
    for text, decide in said:
        sheet.note(text, decide)
    return sheet.finish(made[-1].box.bottom + 6.0)


def _scene(site: Site, plan: VisitPlan, surface: str) -> _Scene:
    takeoff = next((each for each in plan.ground if each.surface == surface), None)
    if takeoff is None:
        expected = ", ".join(each.surface for each in plan.ground) or "none has a size"
        words = f"the plan has no surface {surface!r}"
        raise InputError(Problem("unknown-surface", words, key="surface", expected=expected))
    path = next((each for each in plan.ground_paths if each.surface == surface), None)
    spots = tuple(spot for spot in plan.gum_spots if spot.surface == surface)
    whole = shape_of(takeoff.region)
    turned = Turned(path.push.heading if path else _heading(site, whole))
    views = wall_views(site, plan)
    pieces = tuple(piece for piece in ground_pieces(site, plan, views) if piece.along is None or _near(piece, whole))
    return _Scene(site, plan, takeoff, path, spots, turned, turned.shape(whole), pieces, views)


def _near(piece: GroundPiece, whole: BaseGeometry) -> bool:
    corners, bounds = piece.corners, np.array(whole.bounds)
    if (corners.max(axis=0) < bounds[:2] - 0.5).any() or (corners.min(axis=0) > bounds[2:] + 0.5).any():
        return False
    return bool(shape_of(piece.region).dwithin(whole, 0.5))


def _heading(site: Site, whole: BaseGeometry) -> float:
    """Return the way down the sheet for a surface without a path: square to its long side, away from the buildings."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(whole))[:3]
    one, other = corners[1] - corners[0], corners[2] - corners[1]
    short = one if np.hypot(*one) < np.hypot(*other) else other
    built = shapely.union_all([shapely.Polygon(building.outline) for building in site.buildings])
    if not built.is_empty:
        away = np.array(whole.centroid.coords[0]) - np.array(built.centroid.coords[0])
        short = -short if float(short @ away) < 0.0 else short
    return math.degrees(math.atan2(short[1], short[0]))


def _draw_band(sheet: Sheet, scene: _Scene, band: Band, cut: tuple[bool, bool]) -> None:
    sheet.labels.bounds = band.box
    edge = group(sheet.layers["lines"], "window")
    box(edge, (band.box.left, band.box.top), band.box.width, band.box.height, Pen(0.4, LIGHT))
    for piece in scene.pieces:
        _piece(sheet, scene, piece, band)
    times = {door.door: door for door in scene.path.doors} if scene.path else {}
    draw_doors(sheet, scene.views, times, scene.turned, band)
    if scene.path is not None:
        draw_path(sheet, scene.path, scene.turned, band)
    numbers = {spot.id: number for number, spot in enumerate(scene.spots, 1)}
    draw_gum(sheet, scene.spots, numbers, float(scene.site.place.north), scene.turned, band)
    fall = next(each.fall for each in scene.site.surfaces if each.id == scene.takeoff.surface)
    draw_water(sheet, scene.site, scene.ground, fall, scene.path is not None, scene.turned, band)
    _cuts(sheet, band, cut)
    sheet.settle()


def _piece(sheet: Sheet, scene: _Scene, piece: GroundPiece, band: Band) -> None:
    """Draw what a band holds of a piece of ground; another surface only as an outline."""
    corners = scene.turned.places(piece.corners)
    low, high = corners.min(axis=0), corners.max(axis=0)
    if low[0] >= band.window[2] or high[0] <= band.window[0] or low[1] >= band.window[3] or high[1] <= band.window[1]:
        return
    here = scene.turned.shape(shape_of(piece.region)).intersection(shapely.box(*band.window))
    region = region_of(shapely.MultiPolygon(areas_of(here)))
    if not region:
        return
    own = piece.id == scene.takeoff.surface or piece.id in {part.id for part in scene.takeoff.parts}
    if not own and piece.style in ("surface", "cleaner", "trim", "corners", "wand"):
        return
    made = draw_piece(sheet, sheet.layers["ground"], piece, region, band.at)
    bounds = box_around([band.at(u, v) for rings in region for u, v in rings[0]])
    if piece.style == "keep-out":
        marks.stop_bar(made, bounds)
    if piece.style in ("post", "object", "keep-out"):
        sheet.labels.keep_clear(bounds)
    if piece.style in NAMED and not (piece.style == "planting" and bounds.height < 4.0):
        sheet.later(5, partial(_name, sheet, piece, bounds))


def _name(sheet: Sheet, piece: GroundPiece, bounds: Box) -> None:
    words = fitted(piece.words, 150.0, SMALL)
    size = label_size([words])
    clear = min(min(bounds.width, bounds.height) / 2, 20.0) + 2.0
    sheet.label([words], around(bounds.middle, *size, clear, 6), target=bounds.middle, ink=GREY, part=piece.id)


def _cuts(sheet: Sheet, band: Band, cut: tuple[bool, bool]) -> None:
    """Mark the ends of a band where the surface goes on in another."""
    for number, (here, x) in enumerate(zip(cut, (band.box.left, band.box.right), strict=True)):
        if here:
            marks.break_line(sheet.layers["lines"], (x, band.box.top), (x, band.box.bottom), Pen(0.8))
            words = "from above" if number == 0 else "on below"
            anchor = "start" if number == 0 else "end"
            at = (x + (4.0 if number == 0 else -4.0), band.box.bottom - 3.0)
            write(sheet.layers["words"], at, words, PLAIN, anchor, ink=INK, halo=True)


def _description(scene: _Scene) -> str:
    if scene.path is None:
        return f"Plan of {scene.takeoff.name}; no path of the cleaner."
    kinds = sorted({spot.how for spot in scene.spots})
    gum = f" Gum: {', '.join(kinds)}." if kinds else ""
    return f"Plan of {scene.takeoff.name}: {scene.path.passes} passes of the cleaner, {scene.path.turns} turns.{gum}"
