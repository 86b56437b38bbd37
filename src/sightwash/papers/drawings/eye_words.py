"""Words in a view from an eye: the letters of missed strips, the names of walls and of what stands before them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shapely.geometry.base import BaseGeometry

from sightwash.basis.units import AREA, show
from sightwash.papers.drawings import marks
from sightwash.papers.drawings.callouts import MARK
from sightwash.papers.drawings.canvas import ACCENT, GREY
from sightwash.papers.drawings.labels import Box, around, box_around, centred, within_box
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
    _things(sheet, scene, picture)


def _strips(sheet: Sheet, view: WallView, face: SeenFace, picture: Picture) -> None:
    seen = shape_of(face.region)
    for strip, area in seen_strips(view, seen):
        found = areas_of(picture.shape(face, shape_of(strip.strip.region).intersection(seen)))
        if not found:
            continue
        place = Box(*found[0].bounds)
        lines = [f"{strip.letter}  missed by the crew: {show(area, AREA, sheet.units)} of what is seen here"]
        if not _plate(sheet, strip, lines, place, picture):
            _plate(sheet, strip, [strip.letter], place, picture)
        sheet.labels.lines.append(place)


def _plate(sheet: Sheet, strip: StripView, lines: list[str], area: Box, picture: Picture) -> bool:
    width, height = label_size(lines, SMALL, True)
    width, height = width + MARK, height + 2.0
    places = _over(area, width, height, picture)
    name = strip.strip.id
    found = sheet.label(lines, places, target=area.middle, ink=ACCENT, bold=True, plate=True, strip=name)
    if found is not None:
        sheet.labels.avoid_line([found.nearest(area.middle), area.middle])
        marks.decision(sheet.layers["words"], (found.right - 5.0, found.middle[1]))
        sheet.show("decision")
    return found is not None


def _over(area: Box, width: float, height: float, picture: Picture) -> Iterator[Box]:
    """Yield places in the sky over a strip, then on it, then anywhere near."""
    x = min(max(area.middle[0], picture.window.left + width / 2), picture.window.right - width / 2)
    for row in range(3):
        for shift in (0.0, 40.0, -40.0, 90.0, -90.0, 150.0, -150.0):
            yield centred((x + shift, picture.window.top + height / 2 + 3.0 + row * (height + 3.0)), width, height)
    yield from within_box(area, width, height)
    yield from around(area.middle, width, height, area.height / 2 + 3.0)


def _wall_name(sheet: Sheet, view: WallView, face: SeenFace, picture: Picture) -> None:
    found = areas_of(picture.region(face, face.region))
    if not found:
        return
    place = box_around([(x, y) for part in found for x, y in part.exterior.coords])
    words = [named(view.name, 140.0, SMALL)]
    width, height = label_size(words)
    over = [
        centred((place.middle[0] + shift * place.width, place.top - height / 2 - up), width, height)
        for up in (2.0, 8.0, 16.0)
        for shift in (0.0, -0.2, 0.2, -0.35, 0.35)
    ]
    inside = found[0].point_on_surface()
    target = (inside.x, inside.y) if place.width < width else (place.middle[0], place.top)
    if sheet.label(words, over, target=target, ink=GREY, wall=view.wall.id) is None:
        sheet.label(words, within_box(place, width, height), ink=GREY, wall=view.wall.id)


def _things(sheet: Sheet, scene: EyeScene, picture: Picture) -> None:
    """Name each thing once, on its largest face."""
    largest: dict[tuple[str, str], Box] = {}
    for face in scene.faces:
        if face.wall is None and face.kind in NAMES:
            for part in areas_of(picture.region(face, face.region)):
                kind = "roof" if face.kind == "building" and face.face == "top" else face.kind
                place, key = Box(*part.bounds), (kind, face.owner)
                if key not in largest or place.width * place.height > largest[key].width * largest[key].height:
                    largest[key] = place
    for (kind, owner), place in sorted(largest.items()):
        words = [NAMES[kind]]
        sheet.label(words, within_box(place, *label_size(words)), ink=GREY, id=owner)
