"""The ground plan: buildings, walls, surfaces and their kinds of work, what stands, grows, drains and looks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import shapely

from sightwash.papers.drawings.canvas import GREY, LIGHT, Pen, box, group
from sightwash.papers.drawings.far import FarThing, draw_far, far_eye, far_looks, lanes
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.ground_pieces import GroundPiece, ground_pieces
from sightwash.papers.drawings.labels import Box, box_around
from sightwash.papers.drawings.lettering import counted
from sightwash.papers.drawings.plan_eyes import draw_near_eyes, draw_plan_spots
from sightwash.papers.drawings.plan_ground import Window, draw_ground
from sightwash.papers.drawings.plan_places import draw_places, stall_lines
from sightwash.papers.drawings.plan_walls import draw_walls
from sightwash.papers.drawings.scale import PAGE, Scale, largest_scale, north_arrow
from sightwash.papers.drawings.sheet import HEAD, Sheet, label_size
from sightwash.papers.drawings.surface_plan import surface_plan
from sightwash.papers.drawings.views import WallView, wall_views
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

MARGIN: Final = 8.0
AROUND: Final = 2.0
"""How much is shown around the outermost thing of the site [m]."""
NEAR: Final = 5.0
"""How much farther out neighbours, planting and parked vehicles are shown [m]."""
LEGEND: Final = 66.0
LARGEST: Final = 60.0
APART: Final = 18.0
"""Clear distance between the plan and the walls that have no place in it yet [pt]."""


@dataclass(frozen=True, slots=True, eq=False)
class _View:
    """A window of the plan and what is drawn in it."""

    window: Window
    walls: tuple[WallView, ...]
    pieces: tuple[GroundPiece, ...]
    measured: bool


def ground_plan(
    site: Site, plan: VisitPlan, surface: str | None = None, height: float = PAGE[1], notes: bool = True
) -> str:
    """Return the ground plan as one SVG drawing, to scale, as wide as a letter sheet on its side.

    It is as high as such a sheet at most, or as another ``height`` [pt].

    With the id of a ``surface`` it is that surface alone, large enough to work from: the path of the cleaner with its
    order, start and finish, the sectors of jets on gum near doors, time before doors, water, and with ``notes`` the
    words for it below (see ``surface_plan``).
    """
    if surface is not None:
        return surface_plan(site, plan, surface, height, notes)
    walls = wall_views(site, plan)
    views = _views(site, plan, walls)
    far = _far_things(site, plan, views)
    room = lanes(far)
    scale = largest_scale(plan.units, lambda scale: _fits(views, scale, room, height), LARGEST)
    sheet = Sheet(PAGE[0], f"{site.name}: the ground", _description(site, plan), "ground", plan.units, scale)
    sheet.head(site.name, ": the ground", f"what is washed, where to stand, where water runs; for {plan.on}", 26.0)
    top = HEAD + 4.0 + room["above"]
    for view in views:
        deep = (view.window[3] - view.window[1]) * scale.points
        left, right = (room["left"], room["right"]) if view.measured else (0.0, 0.0)
        spare = PAGE[0] - left - right - (view.window[2] - view.window[0]) * scale.points
        frame = PlanFrame(view.window[0], view.window[1], left + spare / 2, top + deep, scale.points)
        _draw_view(sheet, site, plan, view, frame, far if view.measured else [])
        top += deep + (room["below"] if view.measured else 0.0) + APART
    if any(view.measured for view in views):
        north_arrow(sheet.canvas.root, (sheet.head_end - 14.0, 19.0), float(site.place.north))
    return sheet.finish(top - APART + 6.0)


def _views(site: Site, plan: VisitPlan, walls: tuple[WallView, ...]) -> tuple[_View, ...]:
    """Return the plan proper and, below it, the walls that have no place in it yet."""
    pieces = ground_pieces(site, plan, walls)
    found = []
    for measured in (True, False):
        here = tuple(view for view in walls if view.placed.measured_place is measured)
        names = {view.wall.id for view in here}
        shown = tuple(piece for piece in pieces if (piece.along in names if piece.along else measured))
        window = _window(site, here, shown, measured)
        if window is not None:
            found.append(_View(window, here, shown, measured))
    return tuple(found)


def _window(site: Site, walls: tuple[WallView, ...], pieces: tuple[GroundPiece, ...], measured: bool) -> Window | None:
    """Return what a plan shows: all that is built, washed or used, and a little around it."""
    places: list[tuple[float, float]] = [end for view in walls for end in (view.placed.start, view.placed.end)]
    beside = [box_around(fence.path) for fence in site.fences] if measured else []
    for piece in pieces:
        corners = [corner for rings in piece.region for corner in rings[0]]
        if piece.style in ("parked", "neighbour", "planting"):
            beside.append(box_around(corners))
        else:
            places += corners
    for view in walls:
        places += [spot.place for spot in view.standing.spots] if view.standing else []
    if measured:
        places += [thing.at for things in (site.drains, site.taps, site.rig_places) for thing in things]
        places += [(x, y) for wire in site.overhead_lines for x, y, _ in (wire.start, wire.end)]
        north = float(site.place.north)
        places += [corner for row in site.stalls for ends in stall_lines(row, north) for corner in ends]
    return _with_near(box_around(places), beside) if places else None


def _with_near(core: Box, beside: list[Box]) -> Window:
    """Return the window around a core, widened for what lies just beside it."""
    near = [
        (min(max(x, core.left - NEAR), core.right + NEAR), min(max(y, core.top - NEAR), core.bottom + NEAR))
        for thing in beside
        if thing.overlaps(core, NEAR)
        for x, y in ((thing.left, thing.top), (thing.right, thing.bottom))
    ]
    whole = box_around([(core.left, core.top), (core.right, core.bottom), *near])
    return whole.left - AROUND, whole.top - AROUND, whole.right + AROUND, whole.bottom + AROUND


def _far_things(site: Site, plan: VisitPlan, views: tuple[_View, ...]) -> list[FarThing]:
    main = next((view for view in views if view.measured), None)
    if main is None:
        return []
    window = shapely.box(*main.window)
    built = shapely.GeometryCollection(
        [
            *(shapely.Polygon(building.outline, building.holes) for building in site.buildings),
            *(shapely.LineString([view.placed.start, view.placed.end]) for view in main.walls),
        ]
    )
    eyes = [far_eye(eye, window, built, plan.units) for eye in site.eyes]
    return [*far_looks(main.walls, window, plan.units), *(thing for thing in eyes if thing is not None)]


def _fits(views: tuple[_View, ...], scale: Scale, room: dict[str, float], most: float) -> bool:
    width = max((view.window[2] - view.window[0] for view in views), default=1.0) * scale.points
    height = sum(view.window[3] - view.window[1] for view in views) * scale.points + APART * (len(views) - 1)
    free_width = PAGE[0] - 2 * MARGIN - room["left"] - room["right"]
    return width <= free_width and height <= most - HEAD - LEGEND - room["above"] - room["below"]


def _draw_view(sheet: Sheet, site: Site, plan: VisitPlan, view: _View, frame: PlanFrame, far: list[FarThing]) -> None:
    window = frame.box(view.window)
    edge = Pen(0.4, LIGHT)
    box(group(sheet.layers["lines"], "window"), (window.left, window.top), window.width, window.height, edge)
    sheet.labels.bounds = window
    if not view.measured:
        words = "walls with no place in the plan yet, in a row"
        width, height = label_size([words])
        corner = Box(window.left + 2.0, window.bottom - 2.0 - height, window.left + 2.0 + width, window.bottom - 2.0)
        sheet.label([words], [corner], ink=GREY)
    draw_plan_spots(sheet, view.walls, frame, view.window)
    draw_ground(sheet, site, plan, view.pieces, frame, view.window)
    draw_walls(sheet, view.walls, frame)
    if view.measured:
        draw_near_eyes(sheet, site, frame, view.window)
        draw_places(sheet, site, frame, view.window)
    sheet.settle()
    sheet.labels.bounds = Box(0.0, HEAD, sheet.canvas.width, window.bottom + lanes(far)["below"] + 4.0)
    draw_far(sheet, far, frame, window)


def _description(site: Site, plan: VisitPlan) -> str:
    washed = [surface.name for surface in plan.ground if surface.washed]
    words = [
        f"Plan of {counted(len(site.buildings), 'building')}, {counted(len(plan.sight), 'wall')} and",
        f"{counted(len(plan.ground), 'surface')}.",
    ]
    if washed:
        words.append(f"Washed: {', '.join(washed)}.")
    words += [f"Drain {drain.id} leads to {drain.leads_to}." for drain in site.drains]
    words += [f"Keep out of {keep.id}: {keep.reason}." for keep in site.keep_outs]
    return " ".join(words)
