"""What lies far beyond a plan: drawn at its edge behind a break, with its distance in words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import INK, THIN, Pen, Point, group, line
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.labels import Box, along, centred
from sightwash.papers.drawings.lettering import SMALL, length_words, named
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView, look_letters, short_look
from sightwash.site.eyes import Eye

EYE_PATH: Final = Pen(0.9, INK, "9 3")
LANE: Final = 21.0
"""Width of the lane in which one far thing is drawn [pt]."""
ROOMY: Final = 290.0
"""Length of a lane in which words surely find room [pt]."""
LOOKS_A_LANE: Final = 2
SIDES: Final = ("below", "above", "left", "right")


@dataclass(frozen=True, slots=True)
class FarThing:
    """An eye or a look spot beyond the window: on which side, over what stretch of that side [m], in what words."""

    id: str
    kind: str
    side: str
    first: float
    last: float
    words: str


def far_eye(eye: Eye, window: shapely.Polygon, built: BaseGeometry, units: str) -> FarThing | None:
    """Return an eye as a far thing, or None where the window holds some of it."""
    path = path_of(eye)
    if in_window(path, window):
        return None
    name = named(eye.name or eye.id, 200.0, SMALL)
    distance = length_words(float(shapely.distance(path, built)), units)
    words = f"{name}: {distance} from the nearest wall" if not built.is_empty else name
    return _far(eye.id, "eye", path, window, words)


def path_of(eye: Eye) -> BaseGeometry:
    """Return an eye's place or path in the plan."""
    return shapely.Point(eye.path[0]) if len(eye.path) == 1 else shapely.LineString(eye.path)


def in_window(path: BaseGeometry, window: shapely.Polygon) -> bool:
    """Whether a window holds a place, or more than a touch of a path."""
    return path.intersects(window) and (path.length == 0.0 or path.intersection(window).length > 0.0)


def far_looks(views: tuple[WallView, ...], window: shapely.Polygon, units: str) -> list[FarThing]:
    """Return the places to look from that lie beyond the window."""
    found = []
    for view in views:
        if not view.placed.measured_place or view.standing is None:
            continue
        for look in view.standing.looks:
            place = shapely.Point(look.place)
            if not place.intersects(window):
                words = f"{look_letters(view, look)}: {short_look(look, units)} from {view.wall.id}"
                found.append(_far(look.id, "look", place, window, words))
    return found


def _far(name: str, kind: str, path: BaseGeometry, window: shapely.Polygon, words: str) -> FarThing:
    left, bottom, right, top = window.bounds
    near = shapely.shortest_line(window, path)
    x, y = (float(value) for value in shapely.get_coordinates(near)[-1])
    excess = {"below": bottom - y, "above": y - top, "left": left - x, "right": x - right}
    side = max(SIDES, key=lambda each: excess[each])
    low, high = (left, right) if side in ("below", "above") else (bottom, top)
    place, ends = (0, x) if side in ("below", "above") else (1, y)
    values = [corner[place] for corner in shapely.get_coordinates(path).tolist()]
    first, last = max(min(values), low), min(max(values), high)
    if first >= last:
        at = min(max(ends, low), high)
        first = last = at
    return FarThing(name, kind, side, first, last, words)


def lanes(things: list[FarThing]) -> dict[str, float]:
    """Return the room that far things need beyond each side of the window [pt]."""
    room = {}
    for side in SIDES:
        count = len(_lanes_of(things, side))
        room[side] = count * LANE + (8.0 if count else 0.0)
    return room


def _lanes_of(things: list[FarThing], side: str) -> list[list[FarThing]]:
    """Return the things beyond a side lane by lane: look spots share lanes, every eye has its own."""
    here = [thing for thing in things if thing.side == side]
    looks = sorted((thing for thing in here if thing.kind == "look"), key=lambda each: (each.first, each.id))
    shared = [looks[start : start + LOOKS_A_LANE] for start in range(0, len(looks), LOOKS_A_LANE)]
    return [*shared, *([thing] for thing in here if thing.kind == "eye")]


def draw_far(sheet: Sheet, things: list[FarThing], frame: PlanFrame, window: Box) -> None:
    """Draw what lies beyond each side in lanes of its own, behind a break."""
    for side in SIDES:
        rows = _lanes_of(things, side)
        if rows:
            _edge_break(sheet, side, window)
        for lane, row in enumerate(rows):
            for thing in row:
                _draw(sheet, thing, frame, window, 8.0 + lane * LANE)


def _edge_break(sheet: Sheet, side: str, window: Box) -> None:
    ends = {
        "below": ((window.left, window.bottom + 3.0), (window.right, window.bottom + 3.0)),
        "above": ((window.left, window.top - 3.0), (window.right, window.top - 3.0)),
        "left": ((window.left - 3.0, window.top), (window.left - 3.0, window.bottom)),
        "right": ((window.right + 3.0, window.top), (window.right + 3.0, window.bottom)),
    }
    marks.break_line(sheet.layers["lines"], *ends[side], THIN)


def _draw(sheet: Sheet, thing: FarThing, frame: PlanFrame, window: Box, away: float) -> None:
    flat = thing.side in ("below", "above")
    a, b = (_place(thing, frame, window, away + 7.0, value) for value in (thing.first, thing.last))
    made = group(sheet.layers["marks"], thing.kind, thing.words, **{thing.kind: thing.id})
    turn = 0.0 if flat else -90.0
    width, height = label_size([thing.words], SMALL, turn=turn)
    if thing.kind == "look":
        ends = _lane_ends(window, a, flat, (width, height), 0.0)
        places = _near(ends, a, (width + 12.0, height) if flat else (width, height + 12.0))
        place = sheet.label([thing.words], places, turn=turn, look=thing.id)
        if place is None:
            sheet.note(thing.words)
        else:
            _arrow(made, thing, (place.left + 2.0, place.middle[1]) if flat else (place.middle[0], place.bottom - 2.0))
        return
    line(made, [a, b], EYE_PATH)
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    marks.eye(made, middle)
    sheet.labels.keep_clear(centred(middle, 11.0, 7.0))
    sheet.show("eye")
    shift = 6.5 if thing.side in ("below", "right") else -6.5
    ends = _lane_ends(window, a, flat, (width, height), shift)
    if sheet.label([thing.words], _near(ends, middle, (width, height)), turn=turn, eye=thing.id) is None:
        sheet.note(thing.words)


def _near(ends: tuple[Point, Point], point: Point, size: tuple[float, float]) -> list[Box]:
    """Return places along a lane, those nearest a point first."""
    return sorted(along(*ends, *size, 61), key=lambda place: round(math.dist(place.middle, point), 3))


def _place(thing: FarThing, frame: PlanFrame, window: Box, away: float, value: float) -> Point:
    x, y = frame.at(value, value)
    return {
        "below": (x, window.bottom + away),
        "above": (x, window.top - away),
        "left": (window.left - away, y),
        "right": (window.right + away, y),
    }[thing.side]


def _arrow(parent: Element, thing: FarThing, at: Point) -> None:
    x, y = at
    ways = {"below": (0.0, 1.0), "above": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}
    across, down = ways[thing.side]
    marks.arrow(parent, (x - 5.0 * across, y - 5.0 * down), (x + 6.0 * across, y + 6.0 * down), Pen(0.8))


def _lane_ends(window: Box, at: Point, flat: bool, size: tuple[float, float], shift: float) -> tuple[Point, Point]:
    """Return the line on which words may stand in a lane; beside a small window it runs on beyond it."""
    if flat:
        middle, half = window.middle[0], max(window.width, ROOMY) / 2 - size[0] / 2
        return (middle - half, at[1] + shift), (middle + half, at[1] + shift)
    middle, half = window.middle[1], max(window.height, ROOMY) / 2 - size[1] / 2
    return (at[0] + shift, middle - half), (at[0] + shift, middle + half)
