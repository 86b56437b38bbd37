"""Walls and doors on the plan of a surface: the door's zone, its tenant, and how long the cleaner is before it."""

from __future__ import annotations

from functools import partial
from typing import Final

import shapely

from sightwash.papers.drawings.canvas import PAPER, Pen, Point, group, line
from sightwash.papers.drawings.labels import centred
from sightwash.papers.drawings.lettering import SMALL, fitted
from sightwash.papers.drawings.plan_walls import WALL
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.surface_frame import Band, Turned
from sightwash.papers.drawings.views import WallView
from sightwash.planning.door_time import DoorTime
from sightwash.planning.ground import DOOR_DEPTH
from sightwash.site.walls import Door

ZONE: Final = Pen(0.5, "#000000", "1 2")
WIDEST: Final = 150.0
"""A door's words are cut at this width [pt]."""


def draw_doors(
    sheet: Sheet, views: tuple[WallView, ...], times: dict[str, DoorTime], turned: Turned, band: Band
) -> None:
    """Draw the walls that a band holds, with their doors."""
    window = shapely.box(*band.window)
    for view in views:
        run = turned.shape(shapely.LineString([view.placed.start, view.placed.end])).intersection(window)
        if run.is_empty or run.length <= 0.0:
            continue
        made = group(sheet.layers["walls"], "wall", view.name, wall=view.wall.id)
        line(made, [band.at(u, v) for u, v in run.coords], WALL)
        for door in view.wall.doors:
            _door(sheet, view, door, times.get(door.id), turned, band)


def _door(sheet: Sheet, view: WallView, door: Door, time: DoorTime | None, turned: Turned, band: Band) -> None:
    ends = (door.left, door.left + door.width)
    middle = _local(view, sum(ends) / 2, 0.0, turned)
    if not band.holds(*middle):
        return
    left, right = band.window[0], band.window[2]

    def at(s: float, out: float) -> Point:
        u, v = _local(view, s, out, turned)
        return band.at(min(max(u, left), right), v)

    made = group(sheet.layers["walls"], "door", f"{door.id}: {door.tenant or 'door'}", door=door.id)
    line(made, [at(s, 0.0) for s in ends], Pen(3.4, PAPER))
    for s in ends:
        line(made, [at(s, -0.2), at(s, 0.2)], Pen(0.9))
    if time is not None:
        corners = [at(ends[0], 0.0), at(ends[0], DOOR_DEPTH), at(ends[1], DOOR_DEPTH), at(ends[1], 0.0)]
        line(made, corners, ZONE)
        sheet.show("door-zone")
    words = [fitted(f"{door.id}{f', {door.tenant}' if door.tenant else ''}", WIDEST, SMALL)]
    if time is not None:
        over = "" if time.within else ", over the limit"
        words.append(f"{time.time:.0f} s before it, {time.longest:.0f} s at one go{over}")
    sheet.later(0, partial(_name, sheet, words, at(sum(ends) / 2, 0.0), door.id))


def _local(view: WallView, s: float, out: float, turned: Turned) -> Point:
    x, y, _ = (float(value) for value in view.placed.point(s, out))
    return turned.place((x, y))


def _name(sheet: Sheet, words: list[str], at: Point, name: str) -> None:
    """Write what a door is above it, on the side of the building."""
    width, height = label_size(words)
    places = [
        centred((at[0] + shift, at[1] - up - height / 2), width, height)
        for up in (4.0, 14.0)
        for shift in (0.0, 20.0, -20.0, 45.0, -45.0, 70.0, -70.0, 100.0, -100.0)
    ]
    if sheet.label(words, places, target=at, door=name) is None:
        sheet.note("; ".join(words))
