"""Which way the wash water is pushed on a surface, against the fall of the ground and what is agreed about it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.site.ground import Surface
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

AWAY: Final = 0.5
"""Passes follow each other away from a door when their direction has this share of the way out of it [-]."""
DOWNHILL: Final = 30.0
"""Drains are looked for this far downhill [m]."""
STEEP: Final = 0.005
"""A slope below this is taken as level: water goes where it is pushed [-]."""
Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Push:
    """Where water is pushed: compass bearing, and as an angle from x; whether that is up the fall, and what is agreed.

    ``allowed`` is false while no place for wash water is agreed; ``condition`` says under which words it may run.
    """

    onward: float
    heading: float
    from_doors: bool
    up_the_fall: bool
    falls_to_doors: bool
    allowed: bool
    condition: str
    drains: tuple[str, ...]
    notes: tuple[str, ...]
    why: Why


def plan_push(
    site: Site, walls: tuple[PlacedWall, ...], surface: Surface, target: BaseGeometry, doors: tuple[str, ...]
) -> Push:
    """Return which way the passes follow each other, and with them the water."""
    north = float(site.place.north)
    across = _across(target)
    out = _out_of_doors(walls, doors)
    fall = _fall(surface, north)
    away = out is not None and abs(float(across @ out)) >= AWAY
    wish = out if away else fall if fall is not None else _from_buildings(site, target)
    if wish is not None and float(across @ wish) < 0.0:
        across = -across
    uphill = fall is not None and float(across @ fall) < -1e-9
    to_doors = fall is not None and out is not None and float(fall @ out) < -0.1
    return Push(
        round(bearing_of(across, north), 6),
        round(math.degrees(math.atan2(across[1], across[0])), 6),
        away,
        uphill,
        to_doors,
        site.local.discharge is not None,
        _condition(site),
        tuple(_drains(site, target, across if fall is None else fall)),
        tuple(_notes(out is not None, away, uphill, to_doors, fall is None)),
        Why(
            "away from the doors, else down the fall, else away from the building; where water may go is for the "
            "owner and the utility to say",
            ("practice-ground-path", "practice-doors", "discharge-msgp"),
        ),
    )


def bearing_of(way: Vector, north: float) -> float:
    """Return the compass bearing of a direction in the plan; ``north`` is the bearing of +y."""
    return (math.degrees(math.atan2(float(way[0]), float(way[1]))) + north) % 360.0


def way_of(bearing: float, north: float) -> Vector:
    """Return the direction in the plan of a compass bearing."""
    turned = math.radians(bearing - north)
    return np.array([math.sin(turned), math.cos(turned)])


def _across(target: BaseGeometry) -> Vector:
    """Return the unit vector square to the long side of a shape."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(target))[:3]
    one, other = corners[1] - corners[0], corners[2] - corners[1]
    short = one if np.hypot(*one) < np.hypot(*other) - 1e-6 else other
    unit: Vector = short / np.hypot(*short)
    return unit


def _out_of_doors(walls: tuple[PlacedWall, ...], doors: tuple[str, ...]) -> Vector | None:
    """Return the way out of the doors of a surface, wide doors first; None without doors."""
    out = sum(
        (door.width * placed.outward[:2] for placed in walls for door in placed.wall.doors if door.id in doors),
        start=np.zeros(2),
    )
    length = float(np.hypot(*out))
    return out / length if length > 1e-9 else None


def _fall(surface: Surface, north: float) -> Vector | None:
    if surface.fall is None or surface.fall.slope < STEEP:
        return None
    return way_of(float(surface.fall.toward), north)


def _from_buildings(site: Site, target: BaseGeometry) -> Vector | None:
    shapes = [shapely.Polygon(building.outline, building.holes) for building in site.buildings]
    if not shapes:
        return None
    nearest = min(shapes, key=lambda shape: float(shape.distance(target)))
    way = np.array([target.centroid.x - nearest.centroid.x, target.centroid.y - nearest.centroid.y])
    return way / max(float(np.hypot(*way)), 1e-9)


def _condition(site: Site) -> str:
    if site.local.discharge is None:
        return "no place for wash water is agreed: this surface is not washed until one is, in writing"
    return f"only as agreed: {site.local.discharge.strip()}"


def _drains(site: Site, target: BaseGeometry, way: Vector) -> Iterator[str]:
    """Yield what is said about each drain that lies on the surface or downhill of it."""
    for drain in site.drains:
        at = shapely.Point(drain.at)
        gap = float(target.distance(at))
        middle = target.centroid
        ahead = float((np.array([at.x - middle.x, at.y - middle.y])) @ way)
        if gap > DOWNHILL or (gap > 0.0 and ahead <= 0.0):
            continue
        if drain.leads_to in ("storm", "unknown"):
            yield f"{drain.id} lies where the water goes and leads to {drain.leads_to}: cover it before the first water"
        else:
            yield f"{drain.id} lies where the water goes and leads to {drain.leads_to}: only with leave in writing"


def _notes(doors: bool, away: bool, uphill: bool, to_doors: bool, no_fall: bool) -> Iterator[str]:
    if doors and not away:
        yield "the passes run at the doors: work each one away from them, turn well before them"
    if to_doors:
        yield "the ground falls toward the doors: barrier at the threshold, little water, squeegee or vacuum behind"
    elif uphill:
        yield "the water is pushed up the fall: squeegee behind the cleaner, it runs back"
    if no_fall:
        yield "the fall is not measured or too small to count: see with a bucket where water runs before you start"
