"""The plan with its sightlines: who sees which stretch of wall from where, what is missed, where to look from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial
from typing import Final

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import ACCENT, HAIR, INK, LIGHT, Pen, Point, box, group, line, shape
from sightwash.papers.drawings.eye_frame import distance_words
from sightwash.papers.drawings.far import EYE_PATH, path_of
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.ground_pieces import draw_piece, ground_pieces
from sightwash.papers.drawings.labels import around, box_around, centred
from sightwash.papers.drawings.lettering import SMALL, counted, named
from sightwash.papers.drawings.plan_walls import draw_walls
from sightwash.papers.drawings.scale import PAGE, Scale, largest_scale, north_arrow
from sightwash.papers.drawings.sheet import HEAD, Sheet, label_size
from sightwash.papers.drawings.views import WallView, look_letters, short_look, wall_views
from sightwash.planning.largest_view import SightFan, plan_sight_fans
from sightwash.planning.regions import region_of
from sightwash.planning.sight import with_parapets
from sightwash.planning.standing import LookSpot
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls, solids

Window = tuple[float, float, float, float]
AROUND: Final = 4.0
"""How much is shown around the outermost wall, eye and place to look from [m]."""
LEGEND: Final = 52.0
LARGEST: Final = 60.0
BAND: Final = 5.0
"""Width on paper of the band that marks a missed strip along its wall [pt]."""
OFF: Final = 2.5
"""How far from the wall's line the band begins [pt]."""
SIGHTLINE: Final = Pen(0.45)
SHOWN: Final = ("parked", "planting", "neighbour", "building")
LEAST: Final = 0.05
"""A wall that looks smaller than this share of an eye's largest is left out [-]."""
SHORTEST: Final = 0.3
"""A stretch of wall shorter than this gets no sightlines [m]."""


@dataclass(frozen=True, slots=True, eq=False)
class _Laid:
    """What the sheet shows: the walls in their places, each eye's fans, and the frame on paper."""

    walls: tuple[WallView, ...]
    fans: tuple[SightFan, ...]
    left_out: int
    window: Window


def sight_plan(site: Site, plan: VisitPlan) -> str:
    """Return the plan with sightlines as one SVG drawing, to scale, on a letter sheet on its side."""
    laid = _laid_out(site, plan)
    scale = largest_scale(plan.units, lambda scale: _fits(laid.window, scale), LARGEST)
    sheet = Sheet(PAGE[0], f"{site.name}: who sees what", _description(site, laid), "sight", plan.units, scale)
    sheet.head(site.name, ": who sees what", f"sightlines from where each wall looks largest; for {plan.on}", 26.0)
    left, bottom, right, top = laid.window
    height = (top - bottom) * scale.points
    x = (PAGE[0] - (right - left) * scale.points) / 2
    frame = PlanFrame(left, bottom, x, HEAD + 4.0 + height, scale.points)
    edge = frame.box(laid.window)
    box(group(sheet.layers["lines"], "window"), (edge.left, edge.top), edge.width, edge.height, Pen(0.4, LIGHT))
    sheet.labels.bounds = edge
    _draw(sheet, site, plan, laid, frame)
    if laid.left_out:
        views = counted(laid.left_out, "view")
        sheet.note(f"Left out: {views} of walls that look less than a twentieth as large as the eye's largest.")
    if laid.walls:
        north_arrow(sheet.canvas.root, (sheet.head_end - 14.0, 19.0), float(site.place.north))
    else:
        sheet.note("No wall has a place in the plan yet: measure the ends of one first.")
    return sheet.finish(edge.bottom + 6.0)


def _laid_out(site: Site, plan: VisitPlan) -> _Laid:
    walls = placed_walls(site)
    views = tuple(view for view in wall_views(site, plan) if view.placed.measured_place)
    washed = {view.wall.id for view in views if view.wall.excluded is None}
    bodies = with_parapets(site, walls, solids(site, walls))
    every = [fan for fan in plan_sight_fans(walls, bodies, site.eyes) if fan.wall in washed]
    largest = {fan.eye: max(each.solid_angle for each in every if each.eye == fan.eye) for fan in every}
    fans = tuple(fan for fan in every if fan.solid_angle >= LEAST * largest[fan.eye])
    places = [end for view in views for end in (view.placed.start, view.placed.end)]
    places += [corner for building in site.buildings for corner in building.outline]
    places += [(fan.place[0], fan.place[1]) for fan in fans]
    places += [look.place for view in views for look in _from(view)]
    around_all = box_around(places or [(0.0, 0.0), (10.0, 10.0)])
    window = (
        around_all.left - AROUND,
        around_all.top - AROUND,
        around_all.right + AROUND,
        around_all.bottom + AROUND,
    )
    return _Laid(views, fans, len(every) - len(fans), window)


def _from(view: WallView) -> list[LookSpot]:
    """Return the places from which missed strips of a wall are looked at; hand work alone is not sight."""
    return [look for look in (view.standing.looks if view.standing else ()) if look.strip]


def _fits(window: Window, scale: Scale) -> bool:
    width, height = (window[2] - window[0]) * scale.points, (window[3] - window[1]) * scale.points
    return width <= PAGE[0] - 16.0 and height <= PAGE[1] - HEAD - LEGEND - 10.0


def _draw(sheet: Sheet, site: Site, plan: VisitPlan, laid: _Laid, frame: PlanFrame) -> None:
    edge = shapely.box(*laid.window)
    for piece in ground_pieces(site, plan, laid.walls):
        if piece.style in SHOWN:
            whole = shapely.union_all([shapely.Polygon(shell, holes) for shell, *holes in piece.region])
            region = region_of(whole.intersection(edge))
            if region:
                draw_piece(sheet, sheet.layers["ground"], piece, region, frame.at)
    _paths(sheet, site, laid, frame)
    for view in laid.walls:
        _missed(sheet, view, frame)
    for fan in laid.fans:
        _sightlines(sheet, fan, laid, frame)
    draw_walls(sheet, laid.walls, frame)
    for view in laid.walls:
        for look in _from(view):
            _look(sheet, view, look, frame)
    sheet.settle()


def _paths(sheet: Sheet, site: Site, laid: _Laid, frame: PlanFrame) -> None:
    """Draw every eye's path and, on it, the places from which it sees a wall largest."""
    edge = shapely.box(*laid.window)
    for eye in site.eyes:
        made = group(sheet.layers["lines"], "eye-path", eye.name or eye.id, eye=eye.id)
        for part in shapely.get_parts(path_of(eye).intersection(edge)).tolist():
            if part.length > 0.0:
                corners = [frame.at(x, y) for x, y in shapely.get_coordinates(part).tolist()]
                line(made, corners, EYE_PATH)
                sheet.labels.avoid_line(corners)
        places = dict.fromkeys((fan.place[0], fan.place[1]) for fan in laid.fans if fan.eye == eye.id)
        at = [frame.at(*place) for place in places]
        for place in at:
            marks.eye(group(sheet.layers["marks"], "eye", eye.name or eye.id, eye=eye.id), place)
            sheet.labels.keep_clear(centred(place, 11.0, 7.0))
            sheet.show("eye")
        if at:
            nearest = min((fan for fan in laid.fans if fan.eye == eye.id), key=lambda fan: _away(fan, laid))
            away = distance_words(_away(nearest, laid), sheet.units)
            words = [f"{named(eye.name or eye.id, 170.0, SMALL)}: {away} from {nearest.wall}"]
            middle = frame.at(nearest.place[0], nearest.place[1])
            options = list(around(middle, *label_size(words), 5.0))
            sheet.later(1, partial(sheet.label, words, options, target=middle, eye=eye.id))


def _away(fan: SightFan, laid: _Laid) -> float:
    """Return how far the eye of a fan is from its wall in the plan [m]."""
    placed = next(view.placed for view in laid.walls if view.wall.id == fan.wall)
    return float(shapely.Point(fan.place[:2]).distance(shapely.LineString([placed.start, placed.end])))


def _sightlines(sheet: Sheet, fan: SightFan, laid: _Laid, frame: PlanFrame) -> None:
    """Draw the lines from an eye to both ends of every stretch of wall that it sees."""
    view = next(view for view in laid.walls if view.wall.id == fan.wall)
    at = frame.at(fan.place[0], fan.place[1])
    made = group(sheet.layers["lines"], "sightlines", f"{fan.eye} to {view.name}", eye=fan.eye, wall=fan.wall)
    for left, right in fan.spans:
        if right - left >= SHORTEST:
            for s in (left, right):
                line(made, [at, _on_wall(view, s, 0.0, frame)], SIGHTLINE)


def _on_wall(view: WallView, s: float, out: float, frame: PlanFrame) -> Point:
    x, y, _ = (float(value) for value in view.placed.point(s, out))
    return frame.at(x, y)


def _missed(sheet: Sheet, view: WallView, frame: PlanFrame) -> None:
    """Mark each missed strip by a hatched band along its wall; strips over one another lie side by side."""
    lanes: list[float] = []
    for strip in sorted(view.strips, key=lambda each: (each.strip.left, each.letter)):
        left, right = strip.strip.left, strip.strip.right
        lane = next((k for k, end in enumerate(lanes) if end <= left + 1e-6), len(lanes))
        lanes[lane : lane + 1] = [right]
        near = (OFF + lane * (BAND + 1.0)) / frame.points
        far = near + BAND / frame.points
        corners = [(left, near), (left, far), (right, far), (right, near)]
        ring = tuple((float(p[0]), float(p[1])) for p in (view.placed.point(s, out) for s, out in corners))
        made = group(sheet.layers["marks"], "strip", f"{strip.letter}: missed", strip=strip.strip.id)
        shape(made, ((ring,),), frame.at, HAIR, sheet.fill("missed"), strip=strip.strip.id)
        sheet.labels.keep_clear(box_around([frame.at(x, y) for x, y in ring]))
        sheet.show("missed")
        middle = _on_wall(view, (left + right) / 2, (near + far) / 2, frame)
        words = [strip.letter]
        options = list(around(middle, *label_size(words, SMALL, True), BAND))
        name = strip.strip.id
        sheet.later(
            2, partial(sheet.label, words, options, target=middle, ink=ACCENT, bold=True, plate=True, strip=name)
        )


def _look(sheet: Sheet, view: WallView, look: LookSpot, frame: PlanFrame) -> None:
    """Draw a place to look at missed strips from, with its distance square to the wall."""
    at = frame.at(*look.place)
    foot = _on_wall(view, min(max(look.s, 0.0), view.placed.length), 0.0, frame)
    ink = INK if look.allowed else ACCENT
    letters = look_letters(view, look)
    made = group(sheet.layers["marks"], "look", f"{letters}: {short_look(look, sheet.units)}", look=look.id)
    words = f"{letters}: {distance_words(look.out, sheet.units)}"
    if math.dist(at, foot) > 1.0:
        marks.arrow(made, at, foot, Pen(0.9, ink))
        sheet.labels.avoid_line([at, foot])
    marks.eye(made, at, ink)
    sheet.labels.keep_clear(centred(at, 11.0, 7.0))
    middle = (at[0] + foot[0]) / 2, (at[1] + foot[1]) / 2
    options = [*around(at, *label_size([words]), 5.0, 5), *around(middle, *label_size([words]), 3.0)]
    sheet.later(1, partial(sheet.label, [words], options, target=at, ink=ink, bold=True, look=look.id))
    sheet.show("eye")


def _description(site: Site, laid: _Laid) -> str:
    names = {eye.id: eye.name or eye.id for eye in site.eyes}
    views = {view.wall.id: view for view in laid.walls}
    words = [
        f"{names[fan.eye]} sees {sum(right - left for left, right in fan.spans):.1f} m of the "
        f"{views[fan.wall].placed.length:.1f} m of {views[fan.wall].name}."
        for fan in laid.fans
    ]
    words += [f"Missed strip {strip.letter} on {view.name}." for view in laid.walls for strip in view.strips]
    return " ".join(words) or "No sightline is known yet."
