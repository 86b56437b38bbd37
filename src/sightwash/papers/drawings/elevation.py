"""One wall large: its sight, its dirt, all that is on it and stands out of it, with sizes and names."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sightwash.papers.drawings.callouts import draw_callouts, strip_lines
from sightwash.papers.drawings.canvas import GREY, Point
from sightwash.papers.drawings.dimensions import heights_beside, length_below
from sightwash.papers.drawings.fold import Ground, draw_fold, folded_ground
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.ground_pieces import ground_pieces
from sightwash.papers.drawings.labels import Box, around, within_box
from sightwash.papers.drawings.lettering import HEADING, PLAIN, SMALL, fitted, named
from sightwash.papers.drawings.scale import PAGE, Scale, largest_scale
from sightwash.papers.drawings.sheet import HEAD, Sheet, label_size
from sightwash.papers.drawings.spots import BEYOND, bars_height, draw_looks, draw_spots, draw_unreached
from sightwash.papers.drawings.views import WallView, size_words, wall_view, wall_views
from sightwash.papers.drawings.wall_face import draw_face, fixture_places, projection_box
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

SIDE: Final = 44.0
"""Room to the left of the wall for its heights [pt]."""
RIGHT: Final = 14.0
"""Room to the right of it [pt]."""
LENGTHS: Final = 24.0
"""Room below the ground for the wall's length [pt]."""
LEGEND: Final = 52.0
LARGEST: Final = 90.0
BAR_ROOM: Final = 170.0
"""Room beside the head for the scale bar [pt]."""


LEAST_SCALE: Final = 4.0
"""Points a metre below which a drawing is not made smaller to fit a room."""

Room = tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Elevation:
    """One wall ready to be drawn, in any room on paper."""

    site: Site
    plan: VisitPlan
    view: WallView
    ground: Ground

    def scale(self, room: Room = PAGE, spared: float = 0.0) -> Scale:
        """Return the largest round scale at which the wall fits a room [pt], with some of its height spared."""
        above = _room_above(self.view, self.plan.units, room[0])
        return largest_scale(
            self.plan.units,
            lambda scale: _fits(self.view, self.ground, scale, above, (room[0], room[1] - spared)),
            LARGEST,
            LEAST_SCALE,
        )

    def holds(self, room: Room) -> bool:
        """Whether a room is large enough for the wall at some round scale [pt]."""
        above = _room_above(self.view, self.plan.units, room[0])
        return _fits(self.view, self.ground, self.scale(room), above, room)

    def drawing(self, room: Room = PAGE) -> str:
        """Return the wall as an SVG drawing that is as wide as a room and, where it can be, no higher."""
        scale = self.scale(room)
        drawn, height = self._drawn(scale, room)
        while height > room[1]:
            smaller = self.scale(room, spared=height - room[1])
            if smaller == scale:
                break
            scale = smaller
            drawn, height = self._drawn(scale, room)
        return drawn

    def _drawn(self, scale: Scale, room: Room) -> tuple[str, float]:
        view, ground, plan = self.view, self.ground, self.plan
        name, width = view.wall.id, room[0]
        title = f"{self.site.name}: {view.name}"
        sheet = Sheet(width, title, _description(view, plan.units), f"wall-{name}", plan.units, scale)
        place = f"{named(self.site.name)}, {name}" if width >= PAGE[0] else name
        words = f"{size_words(view, plan.units)}; {place}; for {plan.on}"
        sheet.head(fitted(view.name, width - BAR_ROOM, HEADING), "", fitted(words, width - BAR_ROOM, PLAIN))
        low, high = view.placed.outline.bounds[1], view.placed.outline.bounds[3]
        x = max((width - view.placed.length * scale.points) / 2, SIDE)
        hinge = HEAD + _room_above(view, plan.units, width) + (high - low) * scale.points
        frame = WallFrame(view.placed, x, hinge + low * scale.points, hinge, scale.points, 0.0, view.placed.length)
        bottom = hinge + ground.depth * scale.points
        beyond = bars_height(view) + (BEYOND if view.strips else 4.0)
        sheet.labels.bounds = Box(2.0, HEAD, width - 2.0, bottom + beyond)
        _draw(sheet, view, frame, ground)
        length_below(sheet, frame, bottom + beyond)
        return sheet.finish(bottom + beyond + LENGTHS), sheet.canvas.height


def elevations(site: Site, plan: VisitPlan) -> dict[str, Elevation]:
    """Return every wall ready to be drawn, by its id; the ground before them is gathered once for all."""
    views = wall_views(site, plan)
    ground = folded_ground(site, plan, ground_pieces(site, plan, views))
    return {view.wall.id: Elevation(site, plan, view, ground) for view in views}


def elevation(site: Site, plan: VisitPlan, wall_id: str) -> str:
    """Return one wall as an SVG drawing on a letter sheet on its side; InputError if the plan has no such wall."""
    return elevations(site, plan)[wall_view(site, plan, wall_id).wall.id].drawing()


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


def _room_above(view: WallView, units: str, width: float) -> float:
    """Return the height kept free above the wall for what is said of its strips [pt]."""
    sizes = [label_size(strip_lines(view, strip, units, every_remedy=True), SMALL, True) for strip in view.strips]
    rows = math.ceil(sum(across + 24.0 for across, _ in sizes) / width)
    return 14.0 + (max(height for _, height in sizes) + 6.0) * min(rows, 2) if sizes else 14.0


def _fits(view: WallView, ground: Ground, scale: Scale, above: float, room: Room) -> bool:
    low, high = view.placed.outline.bounds[1], view.placed.outline.bounds[3]
    height = HEAD + above + (high - low + ground.depth) * scale.points + bars_height(view) + BEYOND + LENGTHS + LEGEND
    return view.placed.length * scale.points <= room[0] - SIDE - RIGHT and height <= room[1]


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
