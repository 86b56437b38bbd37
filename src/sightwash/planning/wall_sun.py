"""Sun on a wall: where it faces, how much of it is lit, shade of canopies and buildings by the sight engine.

A point of a wall is in shade where an eye as far away as the sun would not see it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.planning.sight import bodies_before
from sightwash.planning.weather import SUN_ON_WALL
from sightwash.planning.work_hours import WorkHour
from sightwash.science.irradiance import plane_irradiance
from sightwash.science.sun import incidence_angle
from sightwash.science.visibility import hidden_shapes, make_frame
from sightwash.site.shapes import PlacedWall, Solid

FAR: Final = 1e6
"""Distance of the eye that stands for the sun [m]: its rays differ by less than 0.01 degrees along any wall."""
MOST_SUN: Final = 1400.0
"""No wall gets more sun than this [W/m2]; a file that says so is wrong there."""
GRAZING: Final = 89.5
"""From this angle of incidence on a wall is taken as out of the direct sun [deg]."""


@dataclass(frozen=True, slots=True)
class WallSun:
    """Sun on one wall in one hour: on its lit and its shaded part [W/m2], and the share of it that is lit [-]."""

    in_sun: float
    in_shade: float
    lit: float


def wall_bearing(placed: PlacedWall, north: float) -> float:
    """Return the compass bearing that a wall faces [deg]; ``north`` is the bearing of the site's y axis."""
    outward = placed.outward
    return (north + math.degrees(math.atan2(float(outward[0]), float(outward[1])))) % 360.0


def sun_direction(zenith: float, azimuth: float, north: float) -> NDArray[np.float64]:
    """Return the direction to the sun in site axes."""
    high, turn = math.radians(zenith), math.radians(azimuth - north)
    return np.array([math.sin(high) * math.sin(turn), math.sin(high) * math.cos(turn), math.cos(high)])


def lit_share(
    placed: PlacedWall, bodies: Sequence[Solid], surface: BaseGeometry, zenith: float, azimuth: float, north: float
) -> float:
    """Return the share of a wall's surface, in its (s, z), that the sun reaches [-]."""
    return lit_shares(placed, bodies, surface, [(zenith, azimuth)], north)[0]


def lit_shares(
    placed: PlacedWall,
    bodies: Sequence[Solid],
    surface: BaseGeometry,
    suns: Sequence[tuple[float, float]],
    north: float,
) -> list[float]:
    """Return the share of a wall's surface, in its (s, z), that each sun of a zenith and azimuth reaches [-]."""
    shares = [0.0] * len(suns)
    facing = wall_bearing(placed, north)
    before = [
        k
        for k, (zenith, azimuth) in enumerate(suns)
        if zenith < 90.0 and float(incidence_angle(zenith, azimuth, 90.0, facing)) < GRAZING and surface.area > 0.0
    ]
    if not before:
        return shares
    middle = placed.point(placed.length / 2, 0.0)
    eyes = np.array([middle + FAR * sun_direction(*suns[k], north) for k in before])
    frame = make_frame(placed.origin, placed.along)
    hidden = hidden_shapes(placed.outline, frame, bodies_before(placed, bodies), eyes)
    for k, lit in zip(before, shapely.area(shapely.difference(surface, hidden)).tolist(), strict=True):
        shares[k] = lit / surface.area
    return shares


def wall_suns(
    placed: PlacedWall,
    bodies: Sequence[Solid],
    surface: BaseGeometry,
    north: float,
    hours: Sequence[WorkHour],
    absorptance: float,
) -> tuple[WallSun, ...]:
    """Return the sun on one wall in each hour; by day at an unknown place all of it is taken as lit."""
    found = [_unshaded(placed, north, hour, absorptance) for hour in hours]
    direct = [k for k, sun in enumerate(found) if sun.lit > 0.0 and hours[k].zenith is not None]
    suns = [(hours[k].zenith or 0.0, hours[k].azimuth or 0.0) for k in direct]
    for k, lit in zip(direct, lit_shares(placed, bodies, surface, suns, north), strict=True):
        found[k] = replace(found[k], lit=lit)
    return tuple(found)


def _unshaded(placed: PlacedWall, north: float, hour: WorkHour, absorptance: float) -> WallSun:
    """Return the sun on one wall in one hour as if nothing stood before it."""
    if hour.zenith is None or hour.azimuth is None:
        whole = 0.0 if hour.dark else min(SUN_ON_WALL / absorptance, MOST_SUN)
        return WallSun(whole, whole, 0.0 if hour.dark else 1.0)
    if hour.total <= 0.0:
        return WallSun(0.0, 0.0, 0.0)
    incidence = float(incidence_angle(hour.zenith, hour.azimuth, 90.0, wall_bearing(placed, north)))
    on_wall = plane_irradiance(hour.total, hour.direct, hour.diffuse, incidence, 90.0)
    shaded = min(on_wall.sky + on_wall.ground, MOST_SUN)
    if on_wall.direct <= 0.0:
        return WallSun(shaded, shaded, 0.0)
    return WallSun(min(on_wall.total, MOST_SUN), shaded, 1.0)
