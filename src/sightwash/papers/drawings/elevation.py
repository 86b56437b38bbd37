"""One wall large: its sight, its dirt, all that is on it and stands out of it, with sizes and names."""

from __future__ import annotations

import math
from typing import Final

from sightwash.papers.drawings.callouts import draw_callouts, strip_lines
from sightwash.papers.drawings.canvas import GREY, Point
from sightwash.papers.drawings.dimensions import heights_beside, length_below
from sightwash.papers.drawings.fold import Ground, draw_fold, folded_ground
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.ground_pieces import ground_pieces
from sightwash.papers.drawings.labels import Box, around, within_box
from sightwash.papers.drawings.lettering import SMALL, fitted, named
from sightwash.papers.drawings.scale import PAGE, Scale, largest_scale
from sightwash.papers.drawings.sheet import HEAD, Sheet, label_size
from sightwash.papers.drawings.spots import BEYOND, bars_height, draw_looks, draw_spots, draw_unreached
from sightwash.papers.drawings.views import WallView, size_words, wall_view, wall_views
from sightwash.papers.drawings.wall_face import draw_face, fixture_places, projection_box
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

SIDE: Final = 44.0
"""Room beside the wall for its heights [pt]."""
LENGTHS: Final = 24.0
"""Room below the ground for the wall's length [pt]."""
LEGEND: Final = 52.0
LARGEST: Final = 90.0


def elevation(site: Site, plan: VisitPlan, wall_id: str) -> str:
    """Return one wall as an SVG drawing on a letter sheet on its side; InputError if the plan has no such wall."""
    view = wall_view(site, plan, wall_id)
    ground = folded_ground(site, plan, ground_pieces(site, plan, wall_views(site, plan)))
    above = _room_above(view, plan.units)
    beyond = bars_height(view) + (BEYOND if view.strips else 4.0)
    scale = largest_scale(plan.units, lambda scale: _fits(view, ground, scale, above), LARGEST)
    sheet = Sheet(
        PAGE[0], f"{site.name}: {view.name}", _description(view, plan.units), f"wall-{wall_id}", plan.units, scale
    )
    sheet.head(view.name, "", f"{size_words(view, plan.units)}; {named(site.name)}, {wall_id}; for {plan.on}")
    low, high = view.placed.outline.bounds[1], view.placed.outline.bounds[3]
    x = (PAGE[0] - view.placed.length * scale.points) / 2
    hinge = HEAD + above + (high - low) * scale.points
    frame = WallFrame(view.placed, x, hinge + low * scale.points, hinge, scale.points, 0.0, view.placed.length)
    bottom = hinge + ground.depth * scale.points
    sheet.labels.bounds = Box(2.0, HEAD, PAGE[0] - 2.0, bottom + beyond)
    _draw(sheet, view, frame, ground)
    length_below(sheet, frame, bottom + beyond)
    return sheet.finish(bottom + beyond + LENGTHS)


def _draw(sheet: Sheet, view: WallView, frame: WallFrame, ground: Ground) -> None:
    draw_face(sheet, view, frame)
    draw_fold(sheet, view, frame, ground)
    draw_spots(sheet, view, frame, ground)
    draw_looks(sheet, view, frame, ground)
    heights_beside(sheet, view, frame)
    for strip in draw_callouts(sheet, view, frame, every_remedy=True):
        sheet.note(strip_lines(view, strip, sheet.units)[0])
    draw_unreached(sheet, view, frame, ground)
    for strip in view.strips:
        place = frame.bounds(strip.strip.left, strip.strip.right, strip.strip.bottom, strip.strip.top)
        sheet.labels.lines.append(place)
    sheet.settle()
    _names(sheet, view, frame)


def _room_above(view: WallView, units: str) -> float:
    """Return the height kept free above the wall for what is said of its strips [pt]."""
    sizes = [label_size(strip_lines(view, strip, units, every_remedy=True), SMALL, True) for strip in view.strips]
    rows = math.ceil(sum(width + 24.0 for width, _ in sizes) / PAGE[0])
    return 14.0 + (max(height for _, height in sizes) + 6.0) * min(rows, 2) if sizes else 14.0


def _fits(view: WallView, ground: Ground, scale: Scale, above: float) -> bool:
    low, high = view.placed.outline.bounds[1], view.placed.outline.bounds[3]
    height = HEAD + above + (high - low + ground.depth) * scale.points + bars_height(view) + BEYOND + LENGTHS + LEGEND
    return view.placed.length * scale.points <= PAGE[0] - 2 * SIDE and height <= PAGE[1]


def _names(sheet: Sheet, view: WallView, frame: WallFrame) -> None:
    """Write the names of what is on the wall: fixtures, openings, what stands out, dirt."""
    wall = view.wall
    marked = [frame.bounds(o.left, o.left + o.width, o.bottom, o.bottom + o.height) for o in wall.openings]
    marked += [frame.bounds(d.left, d.left + d.width, d.bottom, d.bottom + d.height) for d in wall.doors]
    marked += [projection_box(frame, item) for item in wall.projections]
    for place in marked:
        sheet.labels.avoid_line(place.ring)
    sheet.labels.avoid_line(frame.top_line())
    sheet.labels.avoid_line([frame.up(s, view.placed.ground_at(s)) for s in (0.0, view.placed.length)])
    for fixture in view.wall.fixtures:
        places = fixture_places(fixture, view.placed.length)
        words = fixture.id + (f" (1 of {len(places)})" if len(places) > 1 else "")
        _beside(sheet, frame.up(places[0], fixture.height) if places else None, words, fixture.id)
    for opening in view.wall.openings:
        top = opening.bottom + opening.height
        _inside(sheet, frame.bounds(opening.left, opening.left + opening.width, opening.bottom, top), opening.id)
    for item in view.wall.projections:
        place = projection_box(frame, item)
        if not _inside(sheet, place, item.id):
            _beside(sheet, place.middle, item.id, item.id)
    for patch in view.takeoff.patches:
        if patch.given:
            place = frame.bounds(patch.left, patch.right, patch.bottom, patch.top)
            _inside(sheet, place, f"{patch.soiling}, {patch.degree}")


def _inside(sheet: Sheet, place: Box, words: str) -> bool:
    shown = fitted(words, max(place.width - 3.0, 20.0), SMALL)
    return sheet.label([shown], within_box(place, *label_size([shown])), ink=GREY) is not None


def _beside(sheet: Sheet, at: Point | None, words: str, name: str) -> None:
    if at is not None:
        shown = fitted(words, 130.0, SMALL)
        size = label_size([shown])
        for rings in (7, 12):
            if sheet.label([shown], around(at, *size, 3.5, rings), target=at, ink=GREY, id=name):
                return


def _description(view: WallView, units: str) -> str:
    words = [f"{view.name}: {size_words(view, units)}."]
    words += [" ".join(strip_lines(view, strip, units, every_remedy=True)) + "." for strip in view.strips]
    words += [f"Door {door.id}." for door in view.wall.doors]
    if view.wall.excluded is not None:
        words.append(f"Excluded: {view.wall.excluded}")
    return " ".join(words)
