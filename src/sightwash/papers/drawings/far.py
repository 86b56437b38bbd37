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
from sightwash.papers.drawings.lettering import SMALL, far_words, named
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView, place_words
from sightwash.site.eyes import Eye

EYE_PATH: Final = Pen(0.9, INK, "9 3")
LANE: Final = 21.0
"""Width of the lane in which one far thing is drawn [pt]."""
ROOMY: Final = 370.0
"""Length of a lane in which words surely find room [pt]."""
GAP: Final = 18.0
"""Room for the arrow beside the words of a look spot [pt]."""
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
    distance = far_words(float(shapely.distance(path, built)), units)
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
                words = f"{place_words(view, look, units)} from {view.wall.id}"
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
    shared: list[list[FarThing]] = []
    free = 0.0
    for look in looks:
        width = label_size([look.words])[0] + GAP
        if width > free:
            shared.append([])
            free = ROOMY if side in ("below", "above") else ROOMY / 2
        shared[-1].append(look)
        free -= width
    return [*shared, *([thing] for thing in here if thing.kind == "eye")]


def draw_far(sheet: Sheet, things: list[FarThing], frame: PlanFrame, window: Box) -> None:
    """Draw what lies beyond each side in lanes of its own, behind a break."""
    for side in SIDES:
        rows = _lanes_of(things, side)
        if rows:
            _edge_break(sheet, side, window)
        for lane, row in enumerate(rows):
            away = 15.0 + lane * LANE
            if row[0].kind == "look":
                _draw_looks(sheet, row, frame, window, away)
            else:
                _draw_eye(sheet, row[0], frame, window, away)


def _edge_break(sheet: Sheet, side: str, window: Box) -> None:
    ends = {
        "below": ((window.left, window.bottom + 3.0), (window.right, window.bottom + 3.0)),
        "above": ((window.left, window.top - 3.0), (window.right, window.top - 3.0)),
        "left": ((window.left - 3.0, window.top), (window.left - 3.0, window.bottom)),
        "right": ((window.right + 3.0, window.top), (window.right + 3.0, window.bottom)),
    }
    marks.break_line(sheet.layers["lines"], *ends[side], THIN)


def _draw_looks(sheet: Sheet, row: list[FarThing], frame: PlanFrame, window: Box, away: float) -> None:
    """Draw the look spots of one lane side by side, as near as can be to where they lie."""
    flat = row[0].side in ("below", "above")
    lengths = [label_size([thing.words])[0] + GAP for thing in row]
    places = [_place(thing, frame, window, away, thing.first) for thing in row]
    wanted = sum(place[0 if flat else 1] for place in places) / len(places) - sum(lengths) / 2
    last = (sheet.labels.bounds.right if flat else window.bottom) - sum(lengths)
    start = max(min(wanted, last), 4.0 if flat else window.top)
    for thing, place, length in zip(row, places, lengths, strict=True):
        height = label_size([thing.words])[1]
        middle = start + length / 2
        turn, size = (0.0, (length - GAP, height)) if flat else (-90.0, (height, length - GAP))
        centre = (middle + GAP / 2 - 2.0, place[1]) if flat else (place[0], middle - GAP / 2 + 2.0)
        sheet.label([thing.words], [centred(centre, *size)], turn=turn, look=thing.id)
        made = group(sheet.layers["marks"], "look", thing.words, look=thing.id)
        _arrow(made, thing, (start + 6.0, place[1]) if flat else (place[0], start + length - 6.0))
        start += length


def _draw_eye(sheet: Sheet, thing: FarThing, frame: PlanFrame, window: Box, away: float) -> None:
    flat = thing.side in ("below", "above")
    a, b = (_place(thing, frame, window, away, value) for value in (thing.first, thing.last))
    made = group(sheet.layers["marks"], "eye", thing.words, eye=thing.id)
    line(made, [a, b], EYE_PATH)
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    marks.eye(made, middle)
    sheet.labels.keep_clear(centred(middle, 11.0, 7.0))
    sheet.show("eye")
    turn = 0.0 if flat else -90.0
    size = label_size([thing.words], SMALL, turn=turn)
    ends = _lane_ends(window, a, flat, size, 6.5 if thing.side in ("below", "right") else -6.5)
    places = sorted(along(*ends, *size, 61), key=lambda place: round(math.dist(place.middle, middle), 3))
    if sheet.label([thing.words], places, turn=turn, eye=thing.id) is None:
        sheet.note(thing.words)


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
        middle, half = window.middle[0], max(window.width, ROOMY + 20.0) / 2 - size[0] / 2
        return (middle - half, at[1] + shift), (middle + half, at[1] + shift)
    middle, half = window.middle[1], max(window.height, ROOMY / 2) / 2 - size[1] / 2
    return (at[0] + shift, middle - half), (at[0] + shift, middle + half)
