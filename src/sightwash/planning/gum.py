"""Gum, spot by spot: by surface cleaner, wand, wand from allowed bearings, scraper, low-water machine, or left."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.planning.add_on_price import add_on_price
from sightwash.planning.door_rules import FLUSH, GOOD_SHARE, JET_ANGLE
from sightwash.planning.ground import DOOR_DEPTH, GroundTakeoff, door_zones, shape_near, standing_shapes
from sightwash.planning.production import rate_in_use
from sightwash.planning.push import STEEP, bearing_of, way_of
from sightwash.planning.regions import shape_of
from sightwash.science.doors import allowed_bearings, opening_share
from sightwash.site.ground import Surface
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall
from sightwash.site.walls import Door

NEAREST: Final = 0.45
"""No jet on gum nearer to a door than this [m]; a judgement."""
NEAREST_FLUSH: Final = 0.9
"""The same where the threshold is flush or unknown [m]; a judgement."""
STAND: Final = 1.0
"""The person stands this far from the spot, behind the jet [m]."""
CLEAR: Final = 0.3
"""And this far from a wall or a thing [m]."""
BY_MACHINE: Final = 10
"""More marked spots than this before one door go to a low-water machine [-]; a judgement."""
WORKS: Final = {
    "surface cleaner": "gum-wand",
    "wand": "gum-wand",
    "wand from allowed bearings": "gum-wand",
    "scraper": "gum-hand",
    "low-water machine": "gum-machine",
    "leave": None,
}
Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class DoorSector:
    """Where a jet may point on gum near a door: compass bearings of the jet, the best one, and where to stand.

    ``share`` is the share of the water that the best bearing sends at the opening, ``square`` what the worst sends.
    """

    first: float
    last: float
    best: float
    stand: tuple[float, float]
    share: float
    square: float


@dataclass(frozen=True, slots=True)
class GumClass:
    """Gum spots that are taken in one way: one marked place, or as many as ``spots`` without a place."""

    id: str
    gum: str
    surface: str
    at: tuple[float, float] | None
    door: str | None
    spots: float
    how: str
    sector: DoorSector | None
    words: str


@dataclass(frozen=True, slots=True)
class GumSpot:
    """Gum spots of one class: one marked place, or as many as ``spots`` without a place; time [s], price each."""

    id: str
    gum: str
    surface: str
    at: tuple[float, float] | None
    door: str | None
    spots: float
    how: str
    sector: DoorSector | None
    time: float
    price: Decimal
    words: str
    why: Why


@dataclass(frozen=True, slots=True)
class _Scene:
    """What the class of a spot depends on beside its place."""

    walls: tuple[PlacedWall, ...]
    standing: BaseGeometry
    cleaned: BaseGeometry
    fall: Vector | None
    north: float
    hot: bool
    washed: bool


def plan_gum(
    site: Site, walls: tuple[PlacedWall, ...], ground: tuple[GroundTakeoff, ...], rig: Rig, rates: Rates
) -> tuple[GumSpot, ...]:
    """Return every marked gum spot with its class, and the others by count, with time and price."""
    return tuple(_priced(found, rates) for found in gum_classes(site, walls, ground, rig))


def _priced(found: GumClass, rates: Rates) -> GumSpot:
    """Return gum with the time of all of it and the price of one spot; what is left costs nothing."""
    work = WORKS[found.how]
    each = 0.0 if work is None else seconds_each(rates, work)
    cents = replace(rates, rounding=Decimal("0.01"))
    return GumSpot(
        found.id, found.gum, found.surface, found.at, found.door, found.spots, found.how, found.sector,
        each * found.spots, add_on_price(cents, each / 3600.0, Decimal(0)), found.words,
        Why(
            "near a door a jet may only point where it sends a tenth or less of the worst into the opening, with "
            "room to stand behind it; else by hand",
            ("oblique-round-jet", "practice-gum", "practice-doors", "practice-gum-machine"),
        ),
    )  # fmt: skip


def seconds_each(rates: Rates, work: str) -> float:
    """Return the usual time for one piece of a counted work [s]."""
    found = rate_in_use(rates, work)
    return found.usual * 60.0 if found.unit == "min" else 3600.0 / found.usual


def gum_classes(
    site: Site, walls: tuple[PlacedWall, ...], ground: tuple[GroundTakeoff, ...], rig: Rig
) -> tuple[GumClass, ...]:
    """Return every marked gum spot with its class, and the others by count."""
    if not any(takeoff.gum for takeoff in ground):
        return ()
    standing = standing_shapes(site, walls)
    surfaces = {surface.id: surface for surface in site.surfaces}
    return tuple(
        spot
        for takeoff in ground
        if takeoff.gum
        for spot in _of_surface(site, walls, surfaces[takeoff.surface], takeoff, standing, rig)
    )


def _of_surface(
    site: Site,
    walls: tuple[PlacedWall, ...],
    surface: Surface,
    takeoff: GroundTakeoff,
    standing: shapely.STRtree,
    rig: Rig,
) -> Iterator[GumClass]:
    north = float(site.place.north)
    fall = surface.fall
    steep = fall is not None and fall.slope >= STEEP
    cleaned = shapely.union_all([shape_of(part.region) for part in takeoff.parts if part.how == "cleaner"])
    scene = _Scene(
        walls, shape_near(standing, shape_of(takeoff.region)), cleaned,
        way_of(float(fall.toward), north) if fall is not None and steep else None,
        north, rig.machine.hot, takeoff.washed,
    )  # fmt: skip
    marks = {gum.id: gum.at for gum in site.gum}
    doors = {door.id: (placed, door) for placed in walls for door in placed.wall.doors}
    zones = door_zones(walls)
    for work in takeoff.gum:
        places = marks[work.id]
        near = {at: next((n for n, z in zones.items() if z.covers(shapely.Point(at))), None) for at in places}
        many = {name for name in doors if sum(door == name for door in near.values()) > BY_MACHINE}
        for number, at in enumerate(places, 1):
            name = near[at]
            placed, door = doors[name] if name else (None, None)
            yield _marked(f"{work.id}-{number}", work.id, takeoff, at, placed, door, scene, name in many)
        marked = sum(name is not None for name in near.values())
        yield from _unmarked(work.id, takeoff, work.door_spots - marked, "scraper", scene)
        yield from _unmarked(work.id, takeoff, work.open_spots - (len(places) - marked), "surface cleaner", scene)


def _marked(
    name: str,
    gum: str,
    takeoff: GroundTakeoff,
    at: tuple[float, float],
    placed: PlacedWall | None,
    door: Door | None,
    scene: _Scene,
    many: bool,
) -> GumClass:
    sector = _sector(at, placed, door, scene) if placed is not None and door is not None else None
    if not scene.washed:
        how, words = "leave", "this surface is not washed: ordered apart or left"
    elif door is None:
        reached = scene.cleaned.intersects(shapely.Point(at))
        how = "surface cleaner" if reached and scene.hot else "wand"
        words = "go slowly over it, what stays by wand" if reached else "the cleaner does not reach it"
    elif sector is not None:
        how = "wand from allowed bearings"
        words = (
            f"jet toward {sector.best:.0f} deg, back to the door's side, short bursts; {sector.share:.1%} goes at it"
        )
    else:
        how = "low-water machine" if many else "scraper"
        words = "no bearing keeps water from the door, or nobody can stand there: no jet"
    return GumClass(name, gum, takeoff.surface, at, door.id if door else None, 1.0, how, sector, words)


def _unmarked(gum: str, takeoff: GroundTakeoff, spots: float, how: str, scene: _Scene) -> Iterator[GumClass]:
    """Yield the spots that were counted or estimated, not marked."""
    if spots < 0.5:
        return
    place = "near doors" if how == "scraper" else "in the open"
    if how == "surface cleaner" and not (scene.hot and not scene.cleaned.is_empty):
        how = "wand"
    if not scene.washed:
        how = "leave"
    name = f"{gum}-{how.replace(' ', '-')}" if scene.washed else f"{gum}-{place.replace(' ', '-')}"
    words = f"about {spots:.0f} spots {place}, by count or share of the area"
    yield GumClass(name, gum, takeoff.surface, None, None, spots, how, None, words)


def _sector(at: tuple[float, float], placed: PlacedWall, door: Door, scene: _Scene) -> DoorSector | None:
    """Return the allowed bearings of a jet on a spot near a door; None where no jet is allowed."""
    along, out = placed.local(at)
    flush = door.threshold is None or door.threshold <= FLUSH
    if out < (NEAREST_FLUSH if flush else NEAREST) or out > DOOR_DEPTH:
        return None
    outward, side = placed.outward[:2], placed.along[:2]
    if scene.fall is not None and float(scene.fall @ outward) < -0.1:
        return None
    width, offset = float(door.width), float(door.left + door.width / 2) - along
    allowed = allowed_bearings(JET_ANGLE, width, out, offset, GOOD_SHARE)
    if allowed is None:
        return None
    best: tuple[float, float, Vector] | None = None
    for bearing in np.arange(math.ceil(allowed.start), math.floor(allowed.end) + 1.0, 3.0):
        turned = math.radians(float(bearing))
        way = -math.cos(turned) * outward + math.sin(turned) * side
        stand = np.array(at) - STAND * way
        if not _may_stand(stand, placed, scene):
            continue
        share = opening_share(JET_ANGLE, float(bearing), width, out, offset)
        with_fall = 0.0 if scene.fall is None else 0.01 * float(scene.fall @ way)
        if best is None or share - with_fall < best[0]:
            best = (share - with_fall, float(bearing), stand)
    if best is None:
        return None
    first, last, jet = (_compass(bearing, outward, side, scene.north) for bearing in (*allowed, best[1]))
    share, square = (opening_share(JET_ANGLE, b, width, out, offset) for b in (best[1], sum(allowed) / 2 - 180.0))
    return DoorSector(first, last, jet, (float(best[2][0]), float(best[2][1])), share, square)


def _compass(bearing: float, outward: Vector, side: Vector, north: float) -> float:
    """Return the compass bearing of a jet whose bearing counts from straight at the wall toward its right."""
    turned = math.radians(bearing)
    return round(bearing_of(-math.cos(turned) * outward + math.sin(turned) * side, north), 6) % 360.0


def _may_stand(stand: Vector, placed: PlacedWall, scene: _Scene) -> bool:
    """Return whether somebody can stand at a place: clear of the wall and of what stands."""
    _, out = placed.local((float(stand[0]), float(stand[1])))
    return out >= CLEAR and float(scene.standing.distance(shapely.Point(*stand))) >= CLEAR
