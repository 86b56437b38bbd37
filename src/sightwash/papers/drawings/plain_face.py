"""One wall with nothing but what is on it, in thin lines, to be drawn on by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from sightwash.papers.drawings.canvas import GREY, write
from sightwash.papers.drawings.dimensions import length_below
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.lettering import SMALL, fitted
from sightwash.papers.drawings.scale import largest_scale
from sightwash.papers.drawings.sheet import HEAD, Sheet
from sightwash.papers.drawings.views import WallView, size_words
from sightwash.papers.drawings.wall_face import draw_face
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

WIDTH: Final = 560.0
TALLEST: Final = 120.0
"""Room for the wall itself [pt]."""
FOOT_ROOM: Final = 20.0


def plain_face(site: Site, plan: VisitPlan, whole: WallView) -> str:
    """Return one wall as an SVG drawing without sight, dirt or work."""
    view, wall_id = _bare(whole), whole.wall.id
    low, high = view.placed.outline.bounds[1], view.placed.outline.bounds[3]
    scale = largest_scale(
        plan.units,
        lambda each: view.placed.length * each.points <= WIDTH - 20.0 and (high - low) * each.points <= TALLEST,
    )
    words = f"{view.name}: {size_words(view, plan.units)}, to draw on"
    sheet = Sheet(WIDTH, f"{site.name}: {view.name}", words, f"plain-{wall_id}", plan.units, scale)
    sheet.head("", "", size_words(view, plan.units))
    x = (WIDTH - view.placed.length * scale.points) / 2
    hinge = HEAD + 10.0 + (high - low) * scale.points
    frame = WallFrame(view.placed, x, hinge + low * scale.points, hinge, scale.points, 0.0, view.placed.length)
    draw_face(sheet, view, frame)
    _door_names(sheet, view, frame)
    length_below(sheet, frame, hinge)
    sheet.shown.clear()
    return sheet.finish(hinge + FOOT_ROOM)


def _bare(view: WallView) -> WallView:
    """Return the wall without what a plan says of it."""
    sight = replace(view.sight, public_seen=(), hidden=(), missed=(), covered=())
    return replace(view, sight=sight, takeoff=replace(view.takeoff, patches=()), by_hand=(), strips=())


def _door_names(sheet: Sheet, view: WallView, frame: WallFrame) -> None:
    for door in view.wall.doors:
        place = frame.bounds(door.left, door.left + door.width, door.bottom, door.bottom + door.height)
        words = fitted(door.id, max(place.width, 60.0), SMALL)
        at = (place.middle[0], place.top - 2.0)
        write(sheet.layers["words"], at, words, SMALL, ink=GREY, anchor="middle")
