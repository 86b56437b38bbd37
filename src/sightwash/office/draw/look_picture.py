"""The view from an eye as path data: every seen face in perspective, what is missed on it, doors and windows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings.eye_frame import looks_at, main_wall, pictured
from sightwash.papers.drawings.perspective import Picture
from sightwash.planning.eye_view import EyeScene, SeenFace
from sightwash.planning.regions import Region, shape_of
from sightwash.site.shapes import PlacedWall

SPECK: Final = 0.2
"""What looks smaller than this on the screen is not sent [pt2]."""
PLANTED: Final = ("hedge", "bed", "tree", "lawn", "pots")
DETAIL: Final = 60.0
"""A wall that looks smaller than this gets no doors and windows [pt2]."""


def eye_picture(
    scene: EyeScene, walls: tuple[PlacedWall, ...], missed: dict[str, Region], target: str | None
) -> dict[str, Any]:
    """Return the picture: its window, the horizon, and shapes in the order in which they are drawn."""
    picture = _picture(scene, walls, target)
    by_id = {placed.wall.id: placed for placed in walls}
    window = picture.window
    return {
        "window": [round(v, 1) for v in (window.left, window.top, window.width, window.height)],
        "horizon": round(picture.horizon, 1),
        "ahead": [round(float(v), 4) for v in picture.sighting.forward[:2]],
        "shapes": [*_ground(scene, picture), *_faces(scene, picture, by_id, missed)],
    }


def _picture(scene: EyeScene, walls: tuple[PlacedWall, ...], target: str | None) -> Picture:
    """Return the picture that holds the chosen wall, or all walls that are washed."""
    fronts = {face.wall for face in scene.faces if face.kind == "wall" and face.face == "front"}
    seen = [placed for placed in walls if placed.wall.id in fronts]
    washed = [placed for placed in seen if placed.wall.excluded is None]
    chosen = [placed for placed in seen if placed.wall.id == target] or washed or seen
    names = {placed.wall.id for placed in chosen}
    focus = tuple(face for face in scene.faces if face.wall in names and face.face != "back") or scene.faces
    return pictured(looks_at(scene, main_wall(scene, chosen), focus), focus)


def _ground(scene: EyeScene, picture: Picture) -> Iterator[list[str]]:
    for face in scene.ground:
        if data := _path(picture.region(face, face.region)):
            yield ["planting" if face.kind in PLANTED else "ground", data, face.owner]


def _faces(
    scene: EyeScene, picture: Picture, walls: dict[str, PlacedWall], missed: dict[str, Region]
) -> Iterator[list[str]]:
    for face in scene.faces:
        found = picture.region(face, face.region)
        data = _path(found)
        if not data:
            continue
        placed = walls.get(face.wall or "")
        front = face.kind == "wall" and face.face == "front" and placed is not None
        excluded = placed is not None and placed.wall.excluded is not None
        kind = "planting" if face.kind in PLANTED else "excluded" if excluded else "wall" if front else "solid"
        yield [kind, data, face.owner]
        if front and placed is not None and not excluded:
            yield from _on_wall(face, placed, picture, missed.get(placed.wall.id, ()), found.area)


def _on_wall(face: SeenFace, placed: PlacedWall, picture: Picture, missed: Region, size: float) -> Iterator[list[str]]:
    seen = shape_of(face.region)
    if missed and (data := _path(picture.shape(face, shape_of(missed).intersection(seen)))):
        yield ["missed", data, placed.wall.id]
    if size < DETAIL:
        return
    holes = [(hole.id, hole.left, hole.bottom, hole.width, hole.height) for hole in placed.wall.openings]
    doors = [(door.id, door.left, door.bottom, door.width, door.height) for door in placed.wall.doors]
    for name, left, bottom, width, height in (*holes, *doors):
        box = shapely.box(left, bottom, left + width, bottom + height).intersection(seen)
        if data := _path(picture.shape(face, box)):
            yield ["detail", data, name]


def _path(shape: BaseGeometry) -> str:
    """Return a shape as path data, to a tenth of a point; empty where there is nothing to see."""
    if shape.area < SPECK:
        return ""
    parts = []
    for polygon in shapely.get_parts(shape).tolist():
        if isinstance(polygon, shapely.Polygon) and polygon.area >= SPECK:
            for ring in (polygon.exterior, *polygon.interiors):
                corners = shapely.get_coordinates(ring)[:-1].round(1).tolist()
                parts.append("M" + "L".join(f"{x:g} {y:g}" for x, y in corners) + "Z")
    return "".join(parts)
