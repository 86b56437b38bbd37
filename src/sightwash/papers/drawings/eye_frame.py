"""Where a view from an eye looks and what it takes in, and its scales of degrees."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.basis.units import FOOT
from sightwash.papers.drawings.canvas import GREY, HAIR, INK, Pen, box, group, line, write
from sightwash.papers.drawings.labels import Box
from sightwash.papers.drawings.lettering import SMALL, length_words
from sightwash.papers.drawings.perspective import Picture, Sighting, sighting
from sightwash.papers.drawings.scale import PAGE, POINTS_PER_INCH
from sightwash.papers.drawings.sheet import HEAD, Sheet
from sightwash.planning.eye_view import EyeScene, SeenFace
from sightwash.planning.largest_view import solid_angles_of
from sightwash.site.shapes import PlacedWall

SIDE: Final = 30.0
"""Room beside the picture for the scale of degrees [pt]."""
HIGHEST: Final = 380.0
SKY: Final = 40.0
"""Room over what is looked at, for words [pt]."""
FOREGROUND: Final = 70.0
"""Room at most below what is looked at, for what lies before it [pt]."""
WIDEST: Final = 50.0
"""Nothing farther than this from straight ahead is drawn: beyond it a flat picture stretches too much [deg]."""
TILTED: Final = 25.0
"""What is looked at lies this far above or below the level before the picture plane tilts [deg]."""
QUARTER: Final = POINTS_PER_INCH / 4
TICKS: Final = (1.0, 2.0, 5.0, 10.0, 15.0)
TICK_ROOM: Final = 30.0


def main_wall(scene: EyeScene, walls: Sequence[PlacedWall]) -> PlacedWall | None:
    """Return the wall that looks largest from the eye; None if no wall is seen."""
    by_id = {placed.wall.id: placed for placed in walls}
    faces = [face for face in scene.faces if face.kind == "wall" and face.wall in by_id]
    eye = np.array(scene.eye)
    largest = max(
        faces,
        key=lambda face: (float(solid_angles_of(face.points, [face.region], eye[None])[0]), face.facet),
        default=None,
    )
    return by_id[largest.wall or ""] if largest else None


def looks_at(scene: EyeScene, target: PlacedWall | None, focus: Sequence[SeenFace]) -> Sighting:
    """Return which way the eye looks: square at the target where it stands before it, else at the middle of all."""
    places = np.array([place for face in focus for ring in face.places(face.region) for place in ring[0]])
    if not len(places):
        return sighting(scene.eye, math.pi / 2)
    offsets = places - np.array(scene.eye)
    bearings = np.arctan2(offsets[:, 1], offsets[:, 0])
    middle = bearings[0] + float(np.mean(_range(bearings - bearings[0])))
    if target is not None:
        s, out = target.local(scene.eye[:2])
        if 0.0 <= s <= target.length and out > 0.0:
            middle = math.atan2(-float(target.outward[1]), -float(target.outward[0]))
    heights = np.degrees(np.arctan2(offsets[:, 2], np.hypot(offsets[:, 0], offsets[:, 1])))
    tilt = float(heights.min() + heights.max()) / 2
    return sighting(scene.eye, middle, math.radians(tilt) if abs(tilt) > TILTED else 0.0)


def _range(turns: NDArray[np.float64]) -> tuple[float, float]:
    wrapped = (turns + math.pi) % (2 * math.pi) - math.pi
    return float(wrapped.min()), float(wrapped.max())


def pictured(way: Sighting, focus: Sequence[SeenFace]) -> Picture:
    """Return the picture that takes in what is looked at, as large as a letter sheet on its side holds it."""
    most = math.tan(math.radians(WIDEST))
    unit = Picture(way, 0.0, 0.0, 1.0, Box(-most, -most, most, most))
    seen = shapely.GeometryCollection([unit.region(face, face.region) for face in focus])
    left, top, right, bottom = (-0.5, -0.2, 0.5, 0.2) if seen.is_empty else seen.bounds
    width, height = max(right - left, 0.02), max(bottom - top, 0.02)
    left, right = max(left - 0.03 * width, -most), min(right + 0.03 * width, most)
    reach = max((HIGHEST - SKY - FOREGROUND) / height, HIGHEST / (2 * most))
    reach = min((PAGE[0] - 2 * SIDE) / (right - left), reach)
    reach = max(math.floor(reach / QUARTER), 1) * QUARTER
    first = max(top - SKY / reach, -most)
    last = min(bottom + min(max(0.5 * height, SKY / reach), FOREGROUND / reach), most)
    wide = (right - left) * reach
    x = (PAGE[0] - wide) / 2 - left * reach
    y = HEAD + 6.0 - first * reach
    return Picture(way, x, y, reach, Box(x + left * reach, HEAD + 6.0, x + right * reach, y + last * reach))


def draw_scales(sheet: Sheet, picture: Picture) -> float:
    """Draw the picture's edge, the horizon's height and the scales of degrees; return where they end."""
    made = group(sheet.layers["marks"], "degrees", "degrees from straight ahead", **_camera(picture))
    window = picture.window
    box(made, (window.left, window.top), window.width, window.height, Pen(0.6))
    step = next((each for each in TICKS if picture.reach * math.tan(math.radians(each)) >= TICK_ROOM), TICKS[-1])
    for count in range(-80, 81):
        angle = count * step
        if abs(angle) > WIDEST + 5.0:
            continue
        away = picture.reach * math.tan(math.radians(angle))
        words = f"{abs(angle):g}" if angle else "0"
        if window.left <= picture.x + away <= window.right:
            x = picture.x + away
            line(made, [(x, window.bottom), (x, window.bottom + 4.0)], HAIR)
            write(made, (x, window.bottom + 11.5), words + "°", SMALL, "middle")
        if window.top <= picture.y - away <= window.bottom:
            y = picture.y - away
            line(made, [(window.left - 4.0, y), (window.left, y)], HAIR)
            write(made, (window.left - 5.5, y + 2.5), words + "°", SMALL, "end")
    words = "degrees from straight ahead"
    write(made, (min(max(picture.x, 140.0), PAGE[0] - 140.0), window.bottom + 21.0), words, SMALL, "middle", ink=GREY)
    _eye_level(sheet, picture)
    return window.bottom + 26.0


def _camera(picture: Picture) -> dict[str, str]:
    """Return what a program needs to project a site point into the picture, as ``data-`` keys [m, pt]."""
    way = picture.sighting
    numbers: dict[str, list[float]] = {
        "eye": way.eye.tolist(),
        "ahead": way.forward.tolist(),
        "centre": [picture.x, picture.y],
        "reach": [picture.reach],
    }
    return {key: " ".join(f"{value:.9g}" for value in values) for key, values in numbers.items()}


def _eye_level(sheet: Sheet, picture: Picture) -> None:
    y = picture.horizon
    window = picture.window
    if window.top < y < window.bottom:
        made = group(sheet.layers["marks"], "horizon", "eye level")
        line(made, [(window.right, y), (window.right + 4.0, y)], Pen(0.8))
        write(made, (window.right + 5.5, y - 1.0), "eye", SMALL, ink=INK)
        write(made, (window.right + 5.5, y + 6.5), "level", SMALL, ink=INK)


def distance_words(metres: float, units: str) -> str:
    """Return a distance for a title: whole feet from 10 ft on, whole metres from 10 m on.

    >>> distance_words(91.44, "us"), distance_words(91.44, "metric"), distance_words(1.0, "us")
    ('300 ft', '91 m', '3 ft 3 in')
    """
    if units == "us" and metres >= 10 * FOOT:
        return f"{metres / FOOT:.0f} ft"
    return f"{metres:.0f} m" if units != "us" and metres >= 10.0 else length_words(metres, units)
