"""Words in a view from an eye: the letters of missed strips, the names of walls and of what stands before them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.units import AREA, show
from sightwash.papers.drawings import marks
from sightwash.papers.drawings.callouts import MARK
from sightwash.papers.drawings.canvas import ACCENT, GREY
from sightwash.papers.drawings.labels import Box, centred, within_box
from sightwash.papers.drawings.lettering import SMALL, named
from sightwash.papers.drawings.perspective import Picture
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import StripView, WallView
from sightwash.planning.eye_view import EyeScene, SeenFace
from sightwash.planning.regions import areas_of, shape_of

LEAST_SHARE: Final = 0.02
"""A strip of which less than this is seen is left to its hatch [-]."""
NAMES: Final = {"parked": "parked vehicles", "hedge": "hedge", "tree": "tree", "bed": "bed", "neighbour": "neighbour",
                "fence": "fence", "building": "building", "roof": "roof"}  # fmt: skip


def seen_strips(view: WallView, seen: BaseGeometry) -> Iterator[tuple[StripView, float]]:
    """Yield the missed strips of a wall of which something is seen, with the area seen [m2]."""
    for strip in view.strips:
        area = float(shape_of(strip.strip.region).intersection(seen).area)
        if area > LEAST_SHARE * strip.strip.area:
            yield strip, area


def draw_words(sheet: Sheet, scene: EyeScene, views: dict[str, WallView], picture: Picture) -> None:
    """Write what is said of each missed strip, then the names of walls and things, where there is room."""
    fronts = [face for face in scene.faces if face.kind == "wall" and face.face == "front" and face.wall in views]
    for face in scene.faces:
        for part in areas_of(picture.region(face, face.region)):
            sheet.labels.avoid_line([(x, y) for x, y in part.exterior.coords])
    for face in fronts:
        _strips(sheet, views[face.wall or ""], face, picture)
    for face in fronts:
        _wall_name(sheet, views[face.wall or ""], face, picture)
    _things(sheet, scene, views, picture)


def _strips(sheet: Sheet, view: WallView, face: SeenFace, picture: Picture) -> None:
    """Write on a plate in the sky how much of each strip is seen, tied to the strip; else only its letter."""
    seen = shape_of(face.region)
    found = [(strip, area, picture.shape(face, shape_of(strip.strip.region).intersection(seen)))
             for strip, area in seen_strips(view, seen)]  # fmt: skip
    shown = [(strip, area, Box(*areas_of(shape)[0].bounds)) for strip, area, shape in found if areas_of(shape)]
    sheet.labels.keep_clear(*(place for _, _, place in shown))
    for strip, area, place in shown:
        lines = [f"{strip.letter}  missed by the crew: {show(area, AREA, sheet.units)} of what is seen here"]
        if not _plate(sheet, strip, lines, place, picture) and not _plate(sheet, strip, [strip.letter], place, picture):
            sheet.note(lines[0])


def _plate(sheet: Sheet, strip: StripView, lines: list[str], area: Box, picture: Picture) -> bool:
    width, height = label_size(lines, SMALL, True)
    width, height = width + MARK, height + 2.0
    for clear in (True, False):
        for place in _sky(area, width, height, picture):
            at = min(max(place.middle[0], area.left + 1.0), area.right - 1.0), area.middle[1]
            name = strip.strip.id
            if sheet.label(lines, [place], target=at, ink=ACCENT, bold=True, plate=True, clear=clear, strip=name):
                sheet.labels.avoid_line([place.nearest(at), at])
                marks.decision(sheet.layers["words"], (place.right - 5.0, place.middle[1]))
                sheet.show("decision")
                return True
    return False


def _sky(area: Box, width: float, height: float, picture: Picture) -> Iterator[Box]:
    """Yield places along the top of the picture, those nearest over the strip first."""
    window = picture.window
    low, high = window.left + width / 2 + 3.0, window.right - width / 2 - 3.0
    steps = [area.middle[0] + 20.0 * number for number in range(-40, 41)]
    for row in range(3):
        y = window.top + height / 2 + 3.0 + row * (height + 3.0)
        for x in sorted((x for x in steps if low <= x <= high), key=lambda x: abs(x - area.middle[0])):
            yield centred((x, y), width, height)


def _wall_name(sheet: Sheet, view: WallView, face: SeenFace, picture: Picture) -> None:
    """Write a wall's name just over its top, or on it, or beside it with a line to it."""
    parts = areas_of(picture.region(face, face.region))
    if not parts:
        return
    words = [named(view.name, 140.0, SMALL)]
    width, height = label_size(words)
    whole = shapely.GeometryCollection(parts)
    place, window = Box(*whole.bounds), picture.window
    over = []
    for shift in (0.0, -0.2, 0.2, -0.35, 0.35):
        x = place.middle[0] + shift * place.width
        column = shapely.clip_by_rect(whole, x - width / 2, window.top, x + width / 2, window.bottom)
        if not column.is_empty:
            top = column.bounds[1] - height / 2
            over += [centred((x, top - up), width, height) for up in (2.0, 7.0, 14.0)]
    name = view.wall.id
    inside = parts[0].point_on_surface()
    target = (inside.x, inside.y) if place.width < width else None
    for places in (over, within_box(place, width, height)):
        if sheet.label(words, places, target=target, ink=GREY, wall=name) is not None:
            return


def _things(sheet: Sheet, scene: EyeScene, views: dict[str, WallView], picture: Picture) -> None:
    """Name each thing once, on its largest face; a building only where none of its walls is named."""
    told = {views[face.wall].wall.building for face in scene.faces if face.wall in views}
    largest: dict[tuple[str, str], shapely.Polygon] = {}
    for face in scene.faces:
        kind = "roof" if face.kind == "building" and face.face == "top" else face.kind
        if face.wall is not None or kind not in NAMES or (kind == "building" and face.owner in told):
            continue
        for part in areas_of(picture.region(face, face.region)):
            key = (kind, face.owner)
            if key not in largest or part.area > largest[key].area:
                largest[key] = part
    for (kind, owner), part in sorted(largest.items(), key=lambda item: item[0]):
        words = [NAMES[kind]]
        places = within_box(Box(*part.bounds), *label_size(words))
        sheet.label(words, (place for place in places if _holds(part, place)), ink=GREY, id=owner)


def _holds(part: shapely.Polygon, place: Box) -> bool:
    return part.covers(shapely.box(place.left + 2.0, place.top + 2.0, place.right - 2.0, place.bottom - 2.0))
