"""One wall by the hour: sun, surface temperature, how long a film stays wet, the longest section to treat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, convert
from sightwash.planning.methods import USUAL_DWELL, SurfaceMethod
from sightwash.planning.production import rate_in_use
from sightwash.planning.regions import shape_of
from sightwash.planning.tables import UNKNOWN_WALL, wall_materials
from sightwash.planning.takeoff import WallTakeoff
from sightwash.planning.wall_sun import WallSun, wall_bearing, wall_suns
from sightwash.planning.work_hours import WorkHour
from sightwash.science.film_course import film_life, relaxed_temperature
from sightwash.science.sections import longest_section
from sightwash.science.tables import table_rows
from sightwash.science.wall_heat import sol_air_temperature
from sightwash.site.rates import Rates
from sightwash.site.shapes import PlacedWall, Solid

CLINGING: Final = 0.0002
"""Thickness of the film that clings to a wall, between 0.1 and 0.3 mm [m]: an assumption without a source."""
ALLOWANCE: Final = 0.5
"""Error of wet times on walls as a share [-]."""
LONGEST: Final = 6 * 3600.0
"""A film that lasts so long counts as one that does not dry [s]."""
LIT_ENOUGH: Final = 0.05
"""Share of a wall in the sun from which on the sunlit part sets the section [-]."""
SHORTEST_SECTION: Final = 10 * FOOT
FILM_COEFFICIENT: Final = 17.0
COLDEST, HOTTEST = -10.0, 80.0
"""Temperatures between which wet times are worked out [degC]."""


@dataclass(frozen=True, slots=True)
class WallHour:
    """One wall in one hour: sun on lit and shaded parts [W/m2], lit share [-], dry surface [degC], wet times [s].

    ``wet_low`` sets the section [m]; ``wet`` is likely; all are for the lit part where the sun is on the wall.
    """

    start: datetime
    in_sun: float
    in_shade: float
    lit: float
    surface: float
    wet_low: float
    wet: float
    wet_high: float
    wet_shade: float
    section: float
    section_shade: float
    avoid: bool
    words: str


@dataclass(frozen=True, slots=True)
class WallClock:
    """One wall over the working window: bearing [deg], sizes [m], film [m], dwell [s], speeds along it [m/s]."""

    wall: str
    bearing: float
    length: float
    height: float
    passes: float
    film: float
    absorptance: float
    dwell: float
    treat_speed: float
    rinse_speed: float
    hours: tuple[WallHour, ...]
    avoid: tuple[str, ...]
    best: str
    why: Why


@cache
def _skins() -> dict[str, float]:
    """Return the heat that the skin of each wall material gives up in minutes [J/m2/K]."""
    return {row["material"]: float(row["heat_capacity"]) for row in table_rows("wall_skins")}


@dataclass(frozen=True, slots=True)
class _Skin:
    """What of a wall bears on drying: absorptance [-], heat capacity [J/m2/K], film [m]."""

    absorptance: float
    heat_capacity: float
    film: float


def plan_wall_clock(
    placed: PlacedWall,
    bodies: Sequence[Solid],
    takeoff: WallTakeoff,
    methods: tuple[SurfaceMethod, ...],
    rates: Rates,
    north: float,
    before: tuple[WorkHour, ...],
    hours: tuple[WorkHour, ...],
) -> WallClock | None:
    """Return a wall's clock; None where nothing on it is treated. ``before`` are the hours that warm it up."""
    treated = [m for m in methods if m.wall == placed.wall.id and m.strength > 0 and m.area > 0]
    own = {method.target for method in treated}
    patches = [patch for patch in takeoff.patches if patch.id in own]
    if not patches:
        return None
    surface = shapely.union_all([shape_of(patch.region) for patch in patches])
    assert isinstance(surface, BaseGeometry)
    row = wall_materials()[placed.wall.material or UNKNOWN_WALL]
    skin = _Skin(row.sun_absorptance, _skins()[row.material], min(1e-3 / row.coverage, CLINGING))
    area = sum(patch.area for patch in patches)
    height = area / placed.length
    treat, rinse = (
        convert(found.usual, found.unit, "m2/s") / height
        for found in (rate_in_use(rates, work) for work in ("wall-treat", "wall-rinse"))
    )
    dwell = max((m.dwell for m in treated if m.target in {patch.id for patch in patches}), default=USUAL_DWELL)
    suns = wall_suns(placed, bodies, surface, north, (*before, *hours), skin.absorptance)
    warmed = _warmed(skin, before, suns[: len(before)])
    found_hours = tuple(_wall_hours(placed, skin, dwell, (treat, rinse), warmed, hours, suns[len(before) :]))
    passes = sum(m.area * m.passes for m in treated) / sum(m.area for m in treated)
    avoid = tuple(f"{hour.start:%H:%M}" for hour in found_hours if hour.avoid)
    best = max(found_hours, key=lambda hour: (round(hour.section, 3), -hour.start.timestamp()))
    return WallClock(
        placed.wall.id, wall_bearing(placed, north), placed.length, height, passes, skin.film, skin.absorptance, dwell,
        treat, rinse, found_hours, avoid, f"{best.start:%H:%M}", _why(skin),
    )  # fmt: skip


def _why(skin: _Skin) -> Why:
    rule = (
        f"film of {skin.film * 1000:.2g} mm on a wall that starts at its sol-air temperature, heat balance; half "
        "either way; sections so that every part dwells and none dries; one person at the usual rate"
    )
    return Why(rule, ("film-heat-balance", "ashrae-sol-air", "wall-heat-store", "section-timeline", "film-depths"))


def _strong(sun: WallSun) -> float:
    """Return the sun on the part of a wall that sets the section [W/m2]."""
    return sun.in_sun if sun.lit >= LIT_ENOUGH else sun.in_shade


def _next(skin: _Skin, hour: WorkHour, last: float | None, irradiance: float) -> float:
    """Return the dry surface at the end of an hour; the first hour starts settled [degC]."""
    target = _sol_air(hour, irradiance, skin)
    start = target if last is None else last
    return relaxed_temperature(start, target, hour.length, skin.heat_capacity / FILM_COEFFICIENT)


def _warmed(skin: _Skin, hours: Sequence[WorkHour], suns: Sequence[WallSun]) -> tuple[float | None, float | None]:
    """Return the dry surface of the lit and of the shaded part when the work begins [degC]."""
    warm: float | None = None
    cool: float | None = None
    for hour, sun in zip(hours, suns, strict=True):
        warm, cool = _next(skin, hour, warm, _strong(sun)), _next(skin, hour, cool, sun.in_shade)
    return warm, cool


def _wall_hours(
    placed: PlacedWall,
    skin: _Skin,
    dwell: float,
    speeds: tuple[float, float],
    warmed: tuple[float | None, float | None],
    hours: Sequence[WorkHour],
    suns: Sequence[WallSun],
) -> Iterator[WallHour]:
    """Yield every hour of a wall; each begins with the heat that the one before left in it."""
    last_warm, last_cool = warmed
    treat, rinse = speeds
    for hour, sun in zip(hours, suns, strict=True):
        strong = _strong(sun)
        warm, cool = _next(skin, hour, last_warm, strong), _next(skin, hour, last_cool, sun.in_shade)
        last_warm, last_cool = warm, cool
        wet = _life(hour, warm, strong, skin)
        shade = _life(hour, cool, sun.in_shade, skin) if (warm, strong) != (cool, sun.in_shade) else wet
        low = wet / (1.0 + ALLOWANCE)
        section = min(longest_section(low, dwell, treat, rinse), placed.length)
        in_shade = min(longest_section(shade / (1.0 + ALLOWANCE), dwell, treat, rinse), placed.length)
        avoid = bool(section < min(SHORTEST_SECTION, placed.length) - 1e-9)
        yield WallHour(
            hour.start, sun.in_sun, sun.in_shade, sun.lit, warm, low, wet, min(wet / (1.0 - ALLOWANCE), LONGEST), shade,
            section, in_shade, avoid, _words(hour, sun, low, dwell, avoid),
        )  # fmt: skip


def _sol_air(hour: WorkHour, irradiance: float, skin: _Skin) -> float:
    return sol_air_temperature(max(hour.temperature, -40.0), irradiance, skin.absorptance, FILM_COEFFICIENT)


def _life(hour: WorkHour, surface: float, irradiance: float, skin: _Skin) -> float:
    """Return the wet time of a film put on in an hour, at most LONGEST [s]."""
    life = film_life(
        skin.film,
        min(max(surface, COLDEST), HOTTEST),
        skin.heat_capacity,
        max(hour.temperature, COLDEST),
        hour.humidity,
        hour.wind,
        skin.absorptance * irradiance,
        longest=LONGEST,
    )
    return min(life.time, LONGEST)


def _words(hour: WorkHour, sun: WallSun, low: float, dwell: float, avoid: bool) -> str:
    where = "no sun" if hour.dark else "in shade" if sun.lit < LIT_ENOUGH else f"{sun.lit:.0%} in the sun"
    if low < dwell:
        return (
            f"{where}: it may dry in {low / 60:.0f} min, before its {dwell / 60:.0f} min are over: wait for shade, or "
            "cool the wall with water first and mist it"
        )
    wet = "6 h and more" if low >= LONGEST / (1.0 + ALLOWANCE) - 1.0 else f"at least {low / 60:.0f} min"
    return f"{where}: wet for {wet}" + ("; sections too short to work in" if avoid else "")
