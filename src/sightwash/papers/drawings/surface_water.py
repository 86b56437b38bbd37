"""Water on the plan of a surface: which way it runs, which way it is pushed, drains, taps and the rig."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import Pen, Point, group, write
from sightwash.papers.drawings.labels import around, centred
from sightwash.papers.drawings.lettering import SMALL, fitted
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.surface_frame import Band, Turned
from sightwash.planning.push import way_of
from sightwash.site.ground import Fall
from sightwash.site.model import Site

LONGEST: Final = 22.0
"""Length of the arrow that shows where water is pushed, at most [pt]."""


def draw_water(
    sheet: Sheet, site: Site, ground: BaseGeometry, fall: Fall | None, pushed: bool, turned: Turned, band: Band
) -> None:
    """Draw the ways of water and the places it has to do with in a band."""
    for drain in site.drains:
        _mark(sheet, turned.place(drain.at), marks.drain, "drain", f"{drain.id}: to {drain.leads_to}", band)
    for tap in site.taps:
        _mark(sheet, turned.place(tap.at), marks.lettered("T"), "tap", tap.id, band)
    for place in site.rig_places:
        _mark(sheet, turned.place(place.at), marks.rig, "rig", place.id, band)
    here = ground.intersection(shapely.box(*band.window))
    if here.is_empty:
        return
    if pushed:
        _pushed(sheet, here, band)
    if fall is not None and fall.slope > 0.0:
        sheet.later(2, partial(_fall, sheet, here, fall, float(site.place.north), turned, band))


def _mark(sheet: Sheet, place: Point, mark: marks.Mark, kind: str, words: str, band: Band) -> None:
    if not band.holds(*place):
        return
    at = band.at(*place)
    mark(group(sheet.layers["marks"], kind, words), at)
    sheet.labels.keep_clear(centred(at, 12.0, 9.0))
    sheet.show(kind)
    shown = fitted(words, 150.0, SMALL)
    sheet.later(1, lambda: sheet.label([shown], around(at, *label_size([shown]), 6.0), target=at))


def _pushed(sheet: Sheet, here: BaseGeometry, band: Band) -> None:
    """Draw arrows off the far edge of the surface, the way that water is pushed."""
    left, _, right, last = here.bounds
    long = min((band.window[3] - last) * band.points - 5.0, LONGEST)
    for middle in (0.25, 0.75):
        spots = (band.at(left + (middle + shift) * (right - left), last) for shift in (0.0, 0.06, -0.06, 0.12, -0.12))
        place = sheet.labels.first_free(centred((x, y + 3.0 + long / 2), 8.0, long) for x, y in spots)
        if place is not None:
            x = place.middle[0]
            made = group(sheet.layers["marks"], "push", "water is pushed this way")
            marks.arrow(made, (x, place.top), (x, place.bottom), Pen(1.6))
    sheet.show("push")


def _fall(sheet: Sheet, here: BaseGeometry, fall: Fall, north: float, turned: Turned, band: Band) -> None:
    """Draw the way that the ground falls, with its slope, in the margin beside the surface or on it."""
    way = turned.places(way_of(float(fall.toward), north).reshape(1, 2))[0]
    words = f"falls {100 * fall.slope:.3g} %"
    width, height = label_size([words])
    reach = 15.0
    size = (width + 20.0, max(height, reach * abs(float(way[1])) + 2.0))
    place = sheet.labels.first_free(centred(spot, *size) for spot in _beside(here, band, size[1]))
    if place is None:
        sheet.note(f"the ground {words} toward {fall.toward:.0f} degrees")
        return
    made = group(sheet.layers["marks"], "fall", words)
    x, y = place.left + 9.0, place.middle[1]
    half = (reach / 2 * float(way[0]), reach / 2 * float(way[1]))
    marks.arrow(made, (x - half[0], y - half[1]), (x + half[0], y + half[1]), Pen(0.7))
    sheet.show("fall")
    write(sheet.layers["words"], (place.left + 19.0, place.middle[1] + 2.5), words, SMALL, halo=True)


def _beside(here: BaseGeometry, band: Band, height: float) -> Iterator[Point]:
    """Yield places below a surface from its middle outwards, then above it."""
    left, first, right, last = here.bounds
    for v, side in ((last, 1.0), (first, -1.0)):
        for share in (0.5, 0.42, 0.58, 0.34, 0.66, 0.1, 0.9):
            x, y = band.at(left + share * (right - left), v)
            yield x, y + side * (height / 2 + 3.0)
