"""Who looks and who stands where, in a ground plan: eyes and their paths, standing spots, look spots."""

from __future__ import annotations

from functools import partial

import shapely

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import ACCENT, INK, PAPER, THIN, Point, disc, group, line
from sightwash.papers.drawings.far import EYE_PATH, in_window, path_of
from sightwash.papers.drawings.frames import PlanFrame
from sightwash.papers.drawings.labels import around, centred
from sightwash.papers.drawings.lettering import SMALL, named
from sightwash.papers.drawings.plan_ground import Window
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.spots import SPOT_KEYS, spot_number, spot_words
from sightwash.papers.drawings.views import WallView, look_letters, place_words
from sightwash.planning.standing import LookSpot
from sightwash.site.eyes import Eye
from sightwash.site.model import Site


def draw_near_eyes(sheet: Sheet, site: Site, frame: PlanFrame, window: Window) -> None:
    """Draw the eyes and paths that the window holds; their names come later."""
    edge = shapely.box(*window)
    for eye in site.eyes:
        path = path_of(eye)
        if not in_window(path, edge):
            continue
        if len(eye.path) == 1:
            _eye(sheet, eye, frame.at(*eye.path[0]))
            continue
        made = group(sheet.layers["lines"], "eye-path", eye.name or eye.id, eye=eye.id)
        parts = [part for part in shapely.get_parts(path.intersection(edge)).tolist() if part.length > 0.0]
        for part in parts:
            corners = [frame.at(x, y) for x, y in shapely.get_coordinates(part).tolist()]
            line(made, corners, EYE_PATH)
            sheet.labels.avoid_line(corners)
        middle = shapely.line_interpolate_point(max(parts, key=lambda part: part.length), 0.35, normalized=True)
        _eye(sheet, eye, frame.at(middle.x, middle.y))


def _eye(sheet: Sheet, eye: Eye, at: Point) -> None:
    marks.eye(group(sheet.layers["marks"], "eye", eye.name or eye.id, eye=eye.id), at)
    sheet.labels.keep_clear(centred(at, 11.0, 7.0))
    sheet.show("eye")
    words = named(eye.name or eye.id, 150.0, SMALL)
    size = label_size([words])
    sheet.later(1, lambda: sheet.label([words], around(at, *size, 5.0), target=at, eye=eye.id))


def draw_plan_spots(sheet: Sheet, walls: tuple[WallView, ...], frame: PlanFrame, window: Window) -> None:
    """Draw where to stand and where to look from; spots too close for their numbers become dots."""
    for view in walls:
        for spot in view.standing.spots if view.standing else ():
            at = frame.at(*spot.place)
            place = centred(at, 10.6, 10.6)
            free = sheet.labels.is_free(place)
            layer = sheet.layers["marks" if free else "lines"]
            made = group(layer, "spot", spot_words(spot, sheet.units), spot=spot.id, verdict=spot.verdict)
            if free:
                marks.spot(made, at, spot_number(spot), spot.verdict)
                sheet.labels.keep_clear(place)
            else:
                disc(made, at, 1.2, THIN, INK if spot.verdict == "sure" else PAPER)
            sheet.show(SPOT_KEYS.get(spot.verdict, "spot-test"))
        for look in view.standing.looks if view.standing else ():
            if _holds(window, look.place):
                _look(sheet, view, look, frame.at(*look.place))


def _look(sheet: Sheet, view: WallView, look: LookSpot, at: Point) -> None:
    ink = INK if look.allowed else ACCENT
    letters = look_letters(view, look)
    title = place_words(view, look, sheet.units)
    marks.eye(group(sheet.layers["marks"], "look", title, look=look.id), at, ink)
    sheet.labels.keep_clear(centred(at, 11.0, 7.0))
    words = f"look at {letters}" if letters else "hand work"
    places = list(around(at, *label_size([words]), 5.0))
    sheet.later(1, partial(sheet.label, [words], places, target=at, ink=ink, look=look.id))
    sheet.show("eye")


def _holds(window: Window, place: tuple[float, float]) -> bool:
    return window[0] <= place[0] <= window[2] and window[1] <= place[1] <= window[3]
