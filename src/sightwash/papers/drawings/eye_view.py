"""The view from an eye: what is seen from there in true perspective, with what the crew would miss."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import shapely

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.units import AREA, show
from sightwash.papers.drawings.canvas import GREY, group, write
from sightwash.papers.drawings.eye_faces import draw_scene
from sightwash.papers.drawings.eye_frame import distance_words, draw_scales, looks_at, main_wall, pictured
from sightwash.papers.drawings.eye_words import draw_words, seen_strips
from sightwash.papers.drawings.labels import Box
from sightwash.papers.drawings.lettering import HEADING, PLAIN, SMALL, apart, fitted, length_words, named, text_width
from sightwash.papers.drawings.perspective import Picture, Sighting, sighting
from sightwash.papers.drawings.scale import PAGE, POINTS_PER_INCH, Scale
from sightwash.papers.drawings.sheet import HEAD, Sheet
from sightwash.papers.drawings.views import WallView, wall_views
from sightwash.planning.eye_view import EyeScene, Place, SeenFace, place_of, plan_eye_scene
from sightwash.planning.face_sight import FaceSight
from sightwash.planning.largest_view import largest_view
from sightwash.planning.regions import shape_of
from sightwash.planning.sight import DEFAULT_EYES, eye_points
from sightwash.planning.visit import VisitPlan
from sightwash.site.eyes import Eye
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, placed_walls, solids
from sightwash.site.walls import Wall

WINDS: Final = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Stand:
    """Where the eye is and how that is said."""

    place: Place
    name: str
    words: str
    wall: str | None
    bearing: float | None = None


def eye_view(
    site: Site, plan: VisitPlan, eye_id: str, wall_id: str | None = None, faces: Sequence[FaceSight] = ()
) -> str:
    """Return what is seen from an eye of the site, or from the best place on its path, as SVG.

    The best place is that from which ``wall_id`` looks largest, or else the wall of which the eye sees most. What is
    missed of ``faces`` is hatched like what is missed of the walls. InputError if the site has no such eye or wall.
    """
    eye = next((eye for eye in site.eyes if eye.id == eye_id), None)
    if eye is None:
        raise _unknown("eye", eye_id, tuple(eye.id for eye in site.eyes))
    place, wall = best_place(site, plan, eye, wall_id)
    height = eye.height if eye.height is not None else DEFAULT_EYES[eye.kind][0]
    words = f"eye {length_words(float(height), plan.units)} above the ground"
    if wall is not None and len(eye.path) > 1:
        words += f" where {named(wall.name or wall.id, 150.0)} looks largest"
    return _drawing(site, plan, _Stand(place, eye.name or eye.id, words, wall_id), faces)


def point_view(
    site: Site,
    plan: VisitPlan,
    place: Place,
    name: str,
    wall_id: str | None = None,
    faces: Sequence[FaceSight] = (),
    bearing: float | None = None,
) -> str:
    """Return what is seen from any point as an SVG drawing; ``name`` says in the title where that is.

    The eye turns to ``wall_id``, or along a compass ``bearing`` [deg], or else to the wall that looks largest.
    """
    words = f"eye {length_words(place[2], plan.units)} above the site's zero level"
    return _drawing(site, plan, _Stand(place, name, words, wall_id, bearing), faces)


def best_place(site: Site, plan: VisitPlan, eye: Eye, wall_id: str | None = None) -> tuple[Place, Wall | None]:
    """Return the place of an eye from which a wall looks largest, and that wall; else the middle of its path.

    The wall is ``wall_id``, or else the one of which this eye sees most and that is not excluded.
    """
    walls = placed_walls(site)
    known = {placed.wall.id: placed for placed in walls if placed.measured_place}
    views = [view for sight in plan.sight for view in sight.views if view.eye == eye.id and view.best_seen > 0.0]
    views = [view for view in views if view.wall in known and view.wall == (wall_id or view.wall)]
    washed = [view for view in views if known[view.wall].wall.excluded is None]
    best = max(washed or views, key=lambda view: (view.best_seen, view.wall), default=None)
    if best is None:
        points = eye_points(eye)
        return place_of(points[len(points) // 2]), None
    return largest_view(known[best.wall], solids(site, walls), eye).place, known[best.wall].wall


def _unknown(what: str, given: str, known: tuple[str, ...]) -> InputError:
    names = ", ".join(known) or "none"
    return InputError(
        Problem("unknown-id", f"there is no {what} {given!r}", expected=f"one of: {names}", fix="give one of these")
    )


def _drawing(site: Site, plan: VisitPlan, stand: _Stand, faces: Sequence[FaceSight]) -> str:
    walls = placed_walls(site)
    scene = plan_eye_scene(site, walls, solids(site, walls), stand.place)
    views = {view.wall.id: view for view in wall_views(site, plan) if view.placed.measured_place}
    if stand.wall is not None and stand.wall not in views:
        raise _unknown("wall with a place in the plan", stand.wall, tuple(views))
    target, focus = _target(scene, views, stand.wall)
    way = looks_at(scene, target, focus)
    if stand.bearing is not None:
        way = sighting(stand.place, math.radians(90.0 - stand.bearing + site.place.north))
        focus = scene.faces
    picture = pictured(way, focus)
    title = f"What is seen from {stand.name}"
    if target is not None:
        away = shapely.Point(stand.place[:2]).distance(shapely.LineString([target.start, target.end]))
        title += f", {distance_words(float(away), plan.units)} away"
    sheet = Sheet(PAGE[0], f"{site.name}: {title}", _description(scene, views, plan.units), "eye", plan.units,
                  Scale(picture.reach, "at one metre"))  # fmt: skip
    _head(sheet, title, _looking(site, plan, stand, way), picture)
    draw_scene(sheet, site, scene, views, picture, {face.id: face.missed for face in faces})
    bottom = draw_scales(sheet, picture)
    sheet.labels.bounds = Box(picture.window.left, HEAD, picture.window.right, picture.window.bottom)
    draw_words(sheet, scene, views, picture)
    if not any(face.wall in views for face in scene.faces):
        sheet.note("No wall with a place in the plan is seen from here.")
    return sheet.finish(bottom)


def _target(
    scene: EyeScene, views: dict[str, WallView], wall_id: str | None
) -> tuple[PlacedWall | None, tuple[SeenFace, ...]]:
    """Return the wall that the eye turns to, and all faces that the picture must hold."""
    fronts = {face.wall for face in scene.faces if face.kind == "wall" and face.face == "front"}
    seen = [view for view in views.values() if view.wall.id in fronts]
    washed = [view for view in seen if view.wall.excluded is None]
    chosen = [view for view in seen if view.wall.id == wall_id] or washed or seen
    names = {view.wall.id for view in chosen}
    focus = tuple(face for face in scene.faces if face.wall in names and face.face != "back")
    return main_wall(scene, [view.placed for view in chosen]), focus or scene.faces


def _looking(site: Site, plan: VisitPlan, stand: _Stand, way: Sighting) -> str:
    bearing = math.degrees(math.atan2(way.forward[0], way.forward[1])) + float(site.place.north)
    wind = WINDS[round(bearing / 45.0) % 8]
    tilt = f" and {abs(way.tilt):.0f}° {'up' if way.tilt > 0.0 else 'down'}" if way.tilt else ""
    return f"{named(site.name, 150.0)}; {stand.words}, looking {wind}{tilt}; for {plan.on}"


def _head(sheet: Sheet, title: str, words: str, picture: Picture) -> None:
    made = group(sheet.canvas.root, "head")
    held = picture.reach / POINTS_PER_INCH
    away = f"{held:g} in" if sheet.units == "us" else f"{held * 2.54:.0f} cm"
    right = [f"held {away} from one eye, a letter sheet shows", "everything as large as it looks from there"]
    room = max(text_width(words_of, SMALL) for words_of in right) + 12.0
    write(made, (4.0, 12.0), apart(fitted(title, PAGE[0] - room - 4.0, HEADING * 1.07)), HEADING, bold=True)
    write(made, (4.0, 23.0), fitted(words, PAGE[0] - room - 4.0, PLAIN), PLAIN, ink=GREY)
    for row, line_of in enumerate(right):
        write(made, (PAGE[0] - 4.0, 11.0 + 9.0 * row), line_of, SMALL, "end")


def _description(scene: EyeScene, views: dict[str, WallView], units: str) -> str:
    words = []
    for face in scene.faces:
        view = views.get(face.wall or "")
        if face.kind == "wall" and face.face == "front" and view is not None:
            words.append(f"{view.name}: {show(face.area, AREA, units)} of {show(view.sight.area, AREA, units)} seen.")
            words += [
                f"Missed strip {strip.letter}: {show(area, AREA, units)} seen from here."
                for strip, area in seen_strips(view, shape_of(face.region))
            ]
    return " ".join(words) or "No wall is seen from here."
