"""What an eye sees, drawn: walls with what is missed on them, all that stands before them, the ground."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final
from xml.etree.ElementTree import Element

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings.canvas import (
    GREY,
    HAIR,
    MEDIUM,
    PALE,
    PAPER,
    THIN,
    Pen,
    group,
    line,
    shape,
)
from sightwash.papers.drawings.ground_pieces import STYLES
from sightwash.papers.drawings.labels import centred
from sightwash.papers.drawings.legend import FENCE, OVERHEAD
from sightwash.papers.drawings.marks import FIXTURES
from sightwash.papers.drawings.perspective import Picture
from sightwash.papers.drawings.plan_places import stall_lines
from sightwash.papers.drawings.sheet import Sheet
from sightwash.papers.drawings.views import WallView
from sightwash.planning.eye_view import EyeScene, SeenFace
from sightwash.planning.regions import Region, region_of, shape_of
from sightwash.site.model import Site
from sightwash.site.walls import Opening

OUTLINE: Final = Pen(1.2)
PLANTED: Final = ("hedge", "bed", "tree", "lawn", "pots")
DOUBT: Final = 0.002
"""Share of a wall below which what is hidden from the public or missed is the tolerance of sight along a path [-]."""
TOUCH: Final = 0.1
"""Edges nearer together than this on paper are one [pt]."""
SPECK: Final = 0.05
"""What looks smaller than this on paper is not drawn [pt2]."""


def draw_scene(
    sheet: Sheet,
    site: Site,
    scene: EyeScene,
    views: dict[str, WallView],
    picture: Picture,
    missed: dict[str, Region],
) -> None:
    """Draw everything that the eye sees; no face hides another, for hidden parts are gone already.

    ``missed`` is what is missed of faces that are no walls, by their id.
    """
    _ground(sheet, site, scene, picture)
    drawn = [(face, picture.region(face, face.region)) for face in scene.faces]
    drawn = [(face, found) for face, found in drawn if found.area > SPECK]
    for face, found in drawn:
        view = views.get(face.wall or "")
        if face.kind == "wall" and face.face == "front" and view is not None:
            _wall(sheet, view, face, found, picture)
        else:
            made = _face(sheet, face, found, view is not None and view.wall.excluded is not None)
            _sight(sheet, made, face, {"missed": missed.get(face.facet, ())}, face.area, picture)
    _outlines(sheet, drawn, views, picture)
    _horizon(sheet, picture, drawn)
    _lines(sheet, scene, picture)
    _fixtures(sheet, scene, picture)


def _fill(sheet: Sheet, face: SeenFace, excluded: bool) -> str:
    if face.kind in PLANTED:
        sheet.show("planting")
        return sheet.fill("planting")
    return PALE if excluded else PAPER


def _face(sheet: Sheet, face: SeenFace, found: BaseGeometry, excluded: bool) -> Element:
    made = group(sheet.layers["walls"], "face", f"{face.owner}: {face.kind}, {face.face}", facet=face.facet)
    shape(made, region_of(found), _same, None, _fill(sheet, face, excluded), owner=face.owner)
    return made


def _sight(
    sheet: Sheet, parent: Element, face: SeenFace, regions: dict[str, Region], whole: float, picture: Picture
) -> None:
    """Hatch what of a face is hidden from the public or missed by the crew, as far as this eye sees it."""
    for name, region in (item for item in regions.items() if item[1]):
        part = shape_of(region).intersection(shape_of(face.region))
        if part.area > DOUBT * whole:
            place = region_of(picture.shape(face, part))
            if shape(parent, place, _same, None, sheet.fill(name), sight=name, facet=face.facet) is not None:
                sheet.show(name)


def _wall(sheet: Sheet, view: WallView, face: SeenFace, found: BaseGeometry, picture: Picture) -> None:
    made = group(sheet.layers["walls"], "wall", view.name, facet=face.facet, wall=view.wall.id)
    excluded = view.wall.excluded is not None
    shape(made, region_of(found), _same, None, PALE if excluded else PAPER, owner=face.owner)
    seen = shape_of(face.region)
    if excluded:
        sheet.show("excluded")
    elif view.sight_known:
        regions = {"hidden": view.sight.hidden, "missed": view.sight.missed}
        _sight(sheet, made, face, regions, view.sight.area, picture)
    for opening in view.wall.openings:
        _opening(made, opening, seen, face, picture)
    for door in view.wall.doors:
        middle = door.left + door.width / 2
        part = shapely.box(door.left, door.bottom, door.left + door.width, door.bottom + door.height)
        own = group(made, "door", f"{door.id}: {door.tenant or 'door'}", door=door.id)
        _cut_out(own, picture.shape(face, part.intersection(seen)), picture, MEDIUM)
        if door.width > 1.5:
            leaf = shapely.LineString([(middle, door.bottom), (middle, door.bottom + door.height)])
            _strokes(own, picture.shape(face, leaf.intersection(seen)), THIN)


def _opening(parent: Element, opening: Opening, seen: BaseGeometry, face: SeenFace, picture: Picture) -> None:
    left, low, width, height = opening.left, opening.bottom, opening.width, opening.height
    made = group(parent, "opening", f"{opening.id}: {opening.kind}", id=opening.id)
    part = shapely.box(left, low, left + width, low + height).intersection(seen)
    _cut_out(made, picture.shape(face, part), picture, THIN)
    size = 0.3 * min(width, height)
    marks = [
        [(left + 0.3 * size, low + height - start * size), (left + start * size, low + height - 0.3 * size)]
        for start in (0.9, 1.4)
    ]
    if opening.kind != "glass":
        marks = [[(left, low + share * height), (left + width, low + share * height)] for share in (0.25, 0.5, 0.75)]
    for mark in marks:
        _strokes(made, picture.shape(face, shapely.LineString(mark).intersection(seen)), HAIR)


def _cut_out(parent: Element, found: BaseGeometry, picture: Picture, pen: Pen) -> None:
    """Draw a door or an opening: white, so that no hatch of the wall lies on it, with its edge."""
    if found.area > SPECK:
        shape(parent, region_of(found), _same, None, PAPER)
        _strokes(parent, _edges(found, picture), pen)


def _outlines(
    sheet: Sheet, drawn: list[tuple[SeenFace, BaseGeometry]], views: dict[str, WallView], picture: Picture
) -> None:
    """Draw the edges of faces: thin ones of each flat face, a heavy one round each building and all that is on it."""
    flat: dict[tuple[object, ...], list[BaseGeometry]] = {}
    whole: dict[str, list[BaseGeometry]] = {}
    others: list[BaseGeometry] = []
    for face, found in drawn:
        view = views.get(face.wall or "")
        building = (view.wall.building if view else None) or (face.owner if face.kind == "building" else None)
        flat.setdefault(_plane(face, building), []).append(found)
        if building is None:
            others.append(found)
        else:
            whole.setdefault(building, []).append(found)
    made = group(sheet.layers["walls"], "edges")
    for key, shapes in flat.items():
        _strokes(made, _edges(_union(shapes), picture), (STYLES["parked"].pen or THIN) if key[0] == "parked" else THIN)
    before = _union(others).buffer(TOUCH)
    for shapes in whole.values():
        _strokes(made, _edges(_union(shapes), picture).difference(before), OUTLINE)


def _edges(found: BaseGeometry, picture: Picture) -> BaseGeometry:
    """Return the outline of a shape on paper without what only the picture's own edge cuts off."""
    lines = found.boundary.difference(picture.frame.boundary.buffer(TOUCH))
    merged = shapely.line_merge(lines)
    assert isinstance(merged, BaseGeometry)
    return merged


def _plane(face: SeenFace, building: str | None) -> tuple[object, ...]:
    """Return what faces have in common that meet without an edge: one plane of one thing, or one round post."""
    if face.kind == "post" and face.face == "side":
        return face.kind, face.owner
    if face.kind in ("wall", "building"):
        normal = tuple(round(value, 3) for value in (*face.along, *face.up))
        ahead = face.along[1] * face.origin[0] - face.along[0] * face.origin[1] if face.up[2] > 0.5 else face.origin[2]
        return face.kind if building is None else "building", building or face.owner, normal, round(ahead, 2)
    normal = tuple(round(value, 3) for value in (*face.along, *face.up))
    return face.kind, face.owner, face.face, normal


def _union(shapes: list[BaseGeometry]) -> BaseGeometry:
    union = shapely.union_all(shapes, grid_size=1e-4)
    assert isinstance(union, BaseGeometry)
    return union


def _ground(sheet: Sheet, site: Site, scene: EyeScene, picture: Picture) -> None:
    layer = sheet.layers["ground"]
    for face in scene.ground:
        found = picture.region(face, face.region)
        if found.area > SPECK:
            made = group(layer, "surface", f"{face.owner}: {face.face}", facet=face.facet)
            shape(made, region_of(found), _same, Pen(0.4, GREY), PAPER, owner=face.owner)
    earth = scene.earth
    if earth is None:
        return
    seen = shape_of(earth.region)
    for row in site.stalls:
        made = group(layer, "stalls", row.id, id=row.id)
        for ends in stall_lines(row, float(site.place.north)):
            _strokes(made, picture.shape(earth, shapely.LineString(ends).intersection(seen)), Pen(0.5, GREY))
    for marking in site.markings:
        if len(marking.path) > 1 and marking.kind in ("line", "kerb", "stop bar"):
            made = group(layer, "marking", f"{marking.id}: {marking.kind}", id=marking.id)
            found = shapely.LineString(marking.path).intersection(seen)
            _strokes(made, picture.shape(earth, found), Pen(0.7 if marking.kind == "kerb" else 0.5))


def _horizon(sheet: Sheet, picture: Picture, drawn: list[tuple[SeenFace, BaseGeometry]]) -> None:
    window, y = picture.window, picture.horizon
    if window.top < y < window.bottom:
        whole = shapely.LineString([(window.left, y), (window.right, y)])
        free = whole.difference(_union([found for _, found in drawn])) if drawn else whole
        _strokes(group(sheet.layers["ground"], "horizon", "horizon, at eye level"), free, Pen(0.4, GREY))


def _lines(sheet: Sheet, scene: EyeScene, picture: Picture) -> None:
    for seen in scene.lines:
        made = group(sheet.layers["lines"], seen.kind, seen.owner, id=seen.owner)
        found = picture.line(seen.points[0], seen.points[-1])
        if not found.is_empty:
            _strokes(made, found, OVERHEAD if seen.kind == "overhead" else FENCE)
            sheet.show(seen.kind)


def _fixtures(sheet: Sheet, scene: EyeScene, picture: Picture) -> None:
    """Mark the fixtures that are seen, near ones first; a mark that would lie on another is left out."""
    for piece in sorted(scene.fixtures, key=lambda each: (math.dist(each.place, scene.eye), each.owner)):
        at = picture.place(piece.place)
        if at is not None and sheet.labels.is_free(centred(at, 5.0, 5.0)):
            mark, words = FIXTURES[piece.kind]
            mark(group(sheet.layers["marks"], "fixture", f"{piece.owner}: {piece.kind}", id=piece.owner), at)
            sheet.labels.keep_clear(centred(at, 6.0, 6.0))
            sheet.show(words)


def _strokes(parent: Element, found: BaseGeometry, pen: Pen) -> None:
    for part in _parts(found):
        line(parent, [(x, y) for x, y in shapely.get_coordinates(part).tolist()], pen)


def _parts(found: BaseGeometry) -> Iterable[BaseGeometry]:
    return [part for part in shapely.get_parts(found).tolist() if part.length > 0.0]


def _same(x: float, y: float) -> tuple[float, float]:
    return x, y
