"""The walls of a ground plan: heavy lines with their doors, what stands out above, and their ids."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import GREY, INK, PAPER, Pen, Point, group, line
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.labels import Box, along, around
from sightwash.papers.drawings.legend import DRIP
from sightwash.papers.drawings.lettering import PLAIN, SMALL
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.views import WallView

WALL = Pen(2.0)
LEFT_OUT = Pen(1.4, GREY, "4 2.5")
LEAST_SHOWN = 0.3
"""What stands out less than this is not drawn in the plan [m]."""


def draw_walls(sheet: Sheet, walls: tuple[WallView, ...], frame: PlanFrame) -> None:
    """Draw each wall as a heavy line, an excluded one broken; its id comes later, inside the building."""
    for view in walls:
        ends = [frame.at(*view.placed.start), frame.at(*view.placed.end)]
        made = group(sheet.layers["walls"], "wall", view.name, wall=view.wall.id)
        excluded = view.wall.excluded is not None
        line(made, ends, LEFT_OUT if excluded else WALL)
        sheet.labels.avoid_line(ends)
        _doors(made, view, frame)
        _overhangs(sheet, made, view, frame)
        words = view.wall.id + (" (excluded)" if excluded else "")
        sheet.later(0, partial(_name, sheet, view, words, frame))


def _doors(parent: Element, view: WallView, frame: PlanFrame) -> None:
    for door in view.wall.doors:
        made = group(parent, "door", f"{door.id}: {door.tenant or 'door'}", door=door.id)
        line(made, [_at(view, frame, s, 0.0) for s in (door.left, door.left + door.width)], Pen(3.4, PAPER))
        for s in (door.left, door.left + door.width):
            line(made, [_at(view, frame, s, -0.25), _at(view, frame, s, 0.25)], Pen(0.8))


def _at(view: WallView, frame: PlanFrame, s: float, out: float) -> Point:
    x, y, _ = (float(value) for value in view.placed.point(s, out))
    return frame.at(x, y)


def _overhangs(sheet: Sheet, parent: Element, view: WallView, frame: PlanFrame) -> None:
    for item in view.wall.projections:
        if item.depth >= LEAST_SHOWN and item.bottom >= LEAST_SHOWN:
            left, right, edge = item.left, item.left + item.width, item.gap + item.depth
            corners = [_at(view, frame, s, out) for s, out in ((left, 0.0), (left, edge), (right, edge), (right, 0.0))]
            line(parent, corners, DRIP)
            sheet.labels.avoid_line(corners)
            sheet.show("drip")


def _name(sheet: Sheet, view: WallView, words: str, frame: PlanFrame) -> None:
    """Write a wall's id along it, inside the building if there is room, else outside."""
    a, b = frame.at(*view.placed.start), frame.at(*view.placed.end)
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    turn = turn - 180.0 if turn > 90.0 else turn + 180.0 if turn <= -90.0 else turn
    turn = 0.0 if abs(turn) < 0.05 else turn
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    ink = GREY if view.wall.excluded is not None else INK
    for size in (PLAIN, SMALL):
        box = label_size([words], size, True, turn)
        places = _beside(view, a, b, box)
        if sheet.label([words], places, target=middle, size=size, ink=ink, bold=True, turn=turn, wall=view.wall.id):
            return
    sheet.note(f"wall {words}")


def _beside(view: WallView, a: Point, b: Point, size: tuple[float, float]) -> Iterator[Box]:
    """Yield places along a wall: inside the building, outside, then anywhere near its middle."""
    across, up = (float(value) for value in view.placed.outward[:2])
    for away in (-8.0, -16.0, 8.0, -25.0, 16.0, 25.0):
        start, end = ((point[0] + across * away, point[1] - up * away) for point in (a, b))
        yield from along(start, end, *size)
    yield from around(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), *size)
