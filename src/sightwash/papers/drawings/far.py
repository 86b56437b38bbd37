"""What lies far beyond a plan: drawn at its edge behind a break, with its distance in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element

import shapely


from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import INK, THIN, Pen, Point, group, line
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.labels import Box, along, centred
from sightwash.papers.drawings.lettering import SMALL, apart, fitted, length_words
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView
from sightwash.site.eyes import Eye

EYE_PATH: Final = Pen(0.9, INK, "9 3")
LANE: Final = 21.0
"""Width of the lane in which one far thing is drawn [pt]."""
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


def far_eye(eye: Eye, window: shapely.Polygon, built: shapely.Geometry, units: str) -> FarThing | None:
    """Return an eye as a far thing, or None where the window holds some of it."""
    path = path_of(eye)
    if path.intersects(window):
        return None
    name = apart(fitted(eye.name or eye.id, 200.0, SMALL))
    distance = length_words(float(shapely.distance(path, built)), units)
    words = f"{name}: {distance} from the nearest wall" if not built.is_empty else name
    return _far(eye.id, "eye", path, window, words)


def path_of(eye: Eye) -> shapely.Geometry:
    """Return an eye's place or path in the plan."""
    return shapely.Point(eye.path[0]) if len(eye.path) == 1 else shapely.LineString(eye.path)


def far_looks(views: tuple[WallView, ...], window: shapely.Polygon, units: str) -> list[FarThing]:
    """Return the places to look from that lie beyond the window."""
    found = []
    for view in views:
        for strip in view.strips:
            if strip.look is not None and view.placed.measured_place:
                place = shapely.Point(strip.look.place)
                if not place.intersects(window):
                    out = length_words(view.placed.local(strip.look.place)[1], units)
                    words = f"{strip.letter}: look from {out} back from {view.wall.id}"
                    found.append(_far(strip.look.id, "look", place, window, words))
    return found


def _far(name: str, kind: str, path: shapely.Geometry, window: shapely.Polygon, words: str) -> FarThing:
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
    counts = {side: sum(thing.side == side for thing in things) for side in SIDES}
    return {side: count * LANE + (8.0 if count else 0.0) for side, count in counts.items()}


def draw_far(sheet: Sheet, things: list[FarThing], frame: PlanFrame, window: Box) -> None:
    """Draw what lies beyond each side in lanes of its own, behind a break."""
    for side in SIDES:
        here = [thing for thing in things if thing.side == side]
        if here:
            _edge_break(sheet, side, window)
        for lane, thing in enumerate(sorted(here, key=lambda each: each.kind != "look")):
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
    shift = 6.5 if thing.side in ("below", "right") else -6.5
    if thing.kind == "look":
        _arrow(made, thing, a)
    else:
        line(made, [a, b], EYE_PATH)
        middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        marks.eye(made, middle)
        sheet.labels.keep_clear(centred(middle, 11.0, 7.0))
        sheet.show("eye")
    lane = _lane_ends(window, a, flat, width, height, shift if thing.kind == "eye" else 0.0)
    sheet.labels.keep_clear(centred(a, 5.0, 14.0))
    places = sorted(along(*lane, width, height, 41), key=lambda box: abs(box.middle[0] - a[0]) if a == b else 0.0)
    sheet.label([thing.words], places, turn=turn, **{thing.kind: thing.id})


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


def _lane_ends(window: Box, at: Point, flat: bool, width: float, height: float, shift: float) -> tuple[Point, Point]:
    if flat:
        return (window.left + width / 2, at[1] + shift), (window.right - width / 2, at[1] + shift)
    return (at[0] + shift, window.top + height / 2), (at[0] + shift, window.bottom - height / 2)
