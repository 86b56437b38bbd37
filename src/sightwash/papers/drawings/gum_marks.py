"""Gum on the plan of a surface: the way each spot is taken; near doors the jet's sector and where to stand."""

from __future__ import annotations

import math
from functools import partial
from typing import Final

from sightwash.papers.drawings import marks
from sightwash.papers.drawings.canvas import INK, PAPER, Pen, Point, group, line
from sightwash.papers.drawings.labels import around, centred
from sightwash.papers.drawings.lettering import SMALL
from sightwash.papers.drawings.path_lines import head
from sightwash.papers.drawings.sheet import Sheet, label_size
from sightwash.papers.drawings.surface_frame import Band, Turned
from sightwash.planning.gum import DoorSector, GumSpot
from sightwash.planning.push import way_of

REACH: Final = 1.1
"""How far a sector is drawn from its spot [m]."""
JET: Final = 1.3
"""How far the best jet is drawn from its spot [m]."""
LETTERS: Final = {
    "surface cleaner": "C",
    "wand": "W",
    "wand from allowed bearings": "J",
    "scraper": "S",
    "low-water machine": "M",
    "leave": "X",
}
"""The letter at a spot for the way that it is taken; the legend names those in use."""


def draw_gum(
    sheet: Sheet, spots: tuple[GumSpot, ...], numbers: dict[str, int], north: float, turned: Turned, band: Band
) -> None:
    """Draw the marked spots that a band holds."""
    for spot in spots:
        if spot.at is None or not band.holds(*turned.place(spot.at)):
            continue
        made = group(sheet.layers["marks"], "gum", f"{spot.id}: {spot.how}", gum=spot.id)
        at = band.at(*turned.place(spot.at))
        if spot.sector is not None:
            _sector(sheet, spot.at, spot.sector, north, turned, band)
        x, y = at
        line(made, [(x - 2.4, y), (x, y - 2.4), (x + 2.4, y), (x, y + 2.4)], Pen(0.5, PAPER), closed=True, fill=INK)
        sheet.labels.keep_clear(centred(at, 5.5, 5.5))
        sheet.show(f"gum-{LETTERS[spot.how]}")
        sheet.later(0, partial(_name, sheet, f"{LETTERS[spot.how]}{numbers[spot.id]}", at, spot.id))


def _name(sheet: Sheet, words: str, at: Point, name: str) -> None:
    size = label_size([words], SMALL, bold=True)
    sheet.label([words], around(at, *size, 2.5), target=at, bold=True, gum=name)


def _sector(sheet: Sheet, spot: Point, sector: DoorSector, north: float, turned: Turned, band: Band) -> None:
    """Draw the bearings that a jet may have, the best of them as an arrow, and the place behind it to stand."""
    made = group(sheet.layers["marks"], "sector", f"jet between {sector.first:.0f} and {sector.last:.0f} degrees")
    wide = (sector.last - sector.first) % 360.0
    steps = max(2, math.ceil(wide / 6.0))
    rim = [_ahead(spot, sector.first + wide * step / steps, north, REACH) for step in range(steps + 1)]
    corners = [band.at(*turned.place(point)) for point in (spot, *rim)]
    line(made, corners, Pen(0.6), closed=True, fill=sheet.fill("sector"))
    at, stand = band.at(*turned.place(spot)), band.at(*turned.place(sector.stand))
    tip = band.at(*turned.place(_ahead(spot, sector.best, north, JET)))
    line(made, [stand, tip], Pen(1.4))
    away = math.dist(at, tip) or 1.0
    foot = tip[0] - 5.0 * (tip[0] - at[0]) / away, tip[1] - 5.0 * (tip[1] - at[1]) / away
    head(sheet, foot, (tip[0] + (tip[0] - foot[0]) * 0.4, tip[1] + (tip[1] - foot[1]) * 0.4))
    marks.person(made, stand)
    sheet.labels.keep_clear(centred(stand, 9.0, 9.0))
    sheet.show("sector", "stand-jet")


def _ahead(place: Point, bearing: float, north: float, away: float) -> Point:
    way = way_of(bearing, north)
    return place[0] + away * float(way[0]), place[1] + away * float(way[1])
