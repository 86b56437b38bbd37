"""What is wrong in a document although each value alone is right.

Doubled ids, dangling references, things outside the wall that carries them, outlines that cross themselves.

Each check returns findings; a finding is an error. What is merely missing is in ``gaps``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

import shapely

from sightwash.basis.units import LENGTH, show
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import Finding, check_wall

__all__ = ["Finding", "check_rates", "check_rig", "check_site"]

_OUTLINED = ("buildings", "surfaces", "planting", "parked", "neighbours", "keep_outs")


def check_site(site: Site) -> tuple[Finding, ...]:
    """Return everything that is wrong in a site, in document order of the checks."""
    found: list[Finding] = []
    found += _doubled_ids(site)
    found += _place(site)
    found += _outlines(site)
    for index, wall in enumerate(site.walls):
        found += check_wall(wall, ("walls", index))
    found += _references(site)
    found += _surfaces(site)
    found += _walls_on_buildings(site)
    found += _eyes(site)
    found += _paths(site)
    return tuple(found)


def check_rig(rig: Rig) -> tuple[Finding, ...]:
    """Return everything that is wrong in a rig."""
    found = list(_doubled_ids(rig))
    if rig.injector is not None and rig.injector.draw >= rig.injector.total:
        found.append(
            Finding(
                "injector-draw",
                "draws as much as the whole flow",
                ("injector", "draw"),
                "less than the total flow at the nozzle",
                "write both figures of the bucket test",
            )
        )
    if rig.machine.unloader is not None and rig.machine.unloader > 1.15 * rig.machine.pressure:
        found.append(
            Finding(
                "unloader-too-high",
                "the unloader opens above the machine's pressure",
                ("machine", "unloader"),
                "at most 15 % above `machine.pressure`",
                "set it lower",
            )
        )
    for index, tip in enumerate(rig.tips):
        if not 0.5 <= tip.size <= 100:
            found.append(
                Finding(
                    "tip-size",
                    f"a tip of size {tip.size:g} does not exist",
                    ("tips", index, "size"),
                    "a size number from 0.5 to 100 (gal/min at 4000 psi)",
                    "write `4` for a 2504 tip",
                )
            )
        if tip.fan > 120:
            found.append(Finding("fan-angle", "no tip spreads so wide", ("tips", index, "fan"), "0 to 120 deg"))
    gravity = rig.bleach.specific_gravity if rig.bleach else None
    if gravity is not None and not 1.0 <= gravity <= 1.3:
        found.append(
            Finding(
                "specific-gravity",
                f"{gravity:g} is no specific gravity of liquid bleach",
                ("bleach", "specific_gravity"),
                "1.00 to 1.30",
                "write `1.16` or leave it out",
            )
        )
    if rig.crew.people < 1:
        found.append(Finding("no-crew", "nobody is on the crew", ("crew", "people"), "1 or more people", "write `2`"))
    return tuple(found)


def check_rates(rates: Rates) -> tuple[Finding, ...]:
    """Return everything that is wrong in a set of rates."""
    found: list[Finding] = []
    seen: set[str] = set()
    for index, rate in enumerate(rates.production):
        path: KeyPath = ("production", index)
        if rate.work in seen:
            found.append(Finding("doubled-work", f"{rate.work} has two rates", (*path, "work"), "one rate a work"))
        seen.add(rate.work)
        if not 0 < rate.low <= rate.usual <= rate.high:
            found.append(
                Finding(
                    "rate-order",
                    f"{rate.low:g}, {rate.usual:g}, {rate.high:g} do not rise from above 0",
                    (*path, "low"),
                    "0 < low <= usual <= high",
                    "sort the three figures",
                )
            )
    if rates.labour.wage <= 0:
        found.append(Finding("no-wage", "an hour of work costs nothing", ("labour", "wage"), "a wage above 0"))
    return tuple(found)


def _doubled_ids(document: Any) -> Iterator[Finding]:
    first: dict[str, KeyPath] = {}
    for path, item in identified(document, ()):
        if item.id in first and path:
            where = ".".join(str(part) for part in first[item.id])
            yield Finding(
                "doubled-id",
                f"the id {item.id!r} stands twice, first at {where}",
                (*path, "id"),
                "an id of its own for every element",
                f"write `{item.id}-2`",
            )
        first.setdefault(item.id, path)


def identified(item: Any, path: KeyPath) -> Iterator[tuple[KeyPath, Any]]:
    """Yield every element that has an id, with its key path, outer elements first."""
    if is_dataclass(item):
        if path and hasattr(item, "id"):
            yield path, item
        for field in fields(item):
            yield from identified(getattr(item, field.name), (*path, field.name))
    elif isinstance(item, tuple):
        for index, part in enumerate(item):
            if is_dataclass(part):
                yield from identified(part, (*path, index))


def _place(site: Site) -> Iterator[Finding]:
    zone = site.place.time_zone
    if zone is not None:
        try:
            ZoneInfo(zone)
        except (KeyError, ValueError, OSError):
            near = sorted(name for name in available_timezones() if zone.lower()[-6:] in name.lower())[:1]
            yield Finding(
                "unknown-time-zone",
                f"{zone!r} is not an IANA time zone",
                ("place", "time_zone"),
                "a name such as America/Chicago",
                f"write `{near[0] if near else 'America/Chicago'}`",
            )
    if (site.place.latitude is None) != (site.place.longitude is None):
        yield Finding("half-a-place", "one of latitude and longitude is missing", ("place",), "both or none")


def _outlines(site: Site) -> Iterator[Finding]:
    for name in _OUTLINED:
        for index, item in enumerate(getattr(site, name)):
            rings = (("outline", item.outline), *((("holes", n), hole) for n, hole in enumerate(_holes(item))))
            for key, ring in rings:
                path: KeyPath = (name, index, *(key if isinstance(key, tuple) else (key,)))
                if ring or name != "surfaces":
                    yield from check_ring(ring, path)


def _holes(item: Any) -> tuple[Any, ...]:
    return getattr(item, "holes", ())


def check_ring(ring: tuple[tuple[float, float], ...], path: KeyPath) -> Iterator[Finding]:
    """Yield what is wrong with one outline: too few corners, no area, or crossing itself."""
    if len(ring) < 3 or len(set(ring)) < 3:
        yield Finding("too-few-corners", f"an outline of {len(set(ring))} corners", path, "3 corners or more")
        return
    polygon = shapely.Polygon(ring)
    if not polygon.is_valid:
        reason = shapely.is_valid_reason(polygon)
        where = reason[reason.find("[") + 1 : reason.find("]")].split()
        at = f" near ({show(float(where[0]), LENGTH)}, {show(float(where[1]), LENGTH)})" if len(where) == 2 else ""
        yield Finding(
            "self-crossing",
            f"the outline crosses or touches itself{at}",
            path,
            "a simple outline, corners in order",
            "list the corners in walking order",
        )
    elif polygon.area < 1e-4:
        yield Finding("no-area", "the outline encloses no area", path, "an outline with an area")


def _references(site: Site) -> Iterator[Finding]:
    walls, buildings = {wall.id for wall in site.walls}, {building.id for building in site.buildings}
    surfaces = {surface.id for surface in site.surfaces}
    wanted: list[tuple[str | None, set[str], str, KeyPath]] = [
        *((wall.building, buildings, "building", ("walls", i, "building")) for i, wall in enumerate(site.walls)),
        *((surface.along, walls, "wall", ("surfaces", i, "along")) for i, surface in enumerate(site.surfaces)),
        *((gum.surface, surfaces, "surface", ("gum", i, "surface")) for i, gum in enumerate(site.gum)),
    ]
    for name, known, what, path in wanted:
        if name is not None and name not in known:
            listed = ", ".join(sorted(known)) or f"none: the site has no {what}"
            yield Finding("dangling-reference", f"no {what} has the id {name!r}", path, f"one of: {listed}")


def _surfaces(site: Site) -> Iterator[Finding]:
    lengths = {wall.id: wall_length(wall) for wall in site.walls}
    for index, surface in enumerate(site.surfaces):
        path: KeyPath = ("surfaces", index)
        if surface.outline and surface.along:
            yield Finding(
                "two-shapes",
                "has both an outline and a wall to run along",
                (*path, "outline"),
                "`outline`, or `along` with `width`",
                "keep one of them",
            )
        length = lengths.get(surface.along or "")
        if length is not None and (surface.left or 0.0) + (surface.length or 0.0) > length + 0.01:
            yield Finding(
                "outside-wall",
                "runs past the wall's right end",
                (*path, "length" if surface.length else "left"),
                f"left + length at most {show(length, LENGTH)}",
                "shorten it or use `outline`",
            )
        if surface.holes and surface.outline:
            outer = shapely.Polygon(surface.outline)
            for number, hole in enumerate(surface.holes):
                if len(hole) > 2 and outer.is_valid and not outer.covers(shapely.Polygon(hole)):
                    yield Finding(
                        "hole-outside",
                        "the hole is not inside the outline",
                        (*path, "holes", number),
                        "a hole within the outline",
                    )


def wall_length(wall: Any) -> float | None:
    """Return a wall's length from its ends or as written; None where neither is known."""
    if wall.start is not None and wall.end is not None:
        return math.dist(wall.start, wall.end)
    return None if wall.length is None else float(wall.length)


def _walls_on_buildings(site: Site) -> Iterator[Finding]:
    outlines = {
        b.id: shapely.Polygon(b.outline, [hole for hole in b.holes if len(hole) > 2])
        for b in site.buildings
        if len(b.outline) > 2
    }
    for index, wall in enumerate(site.walls):
        solid = outlines.get(wall.building or "")
        if solid is None or not solid.is_valid or wall.start is None or wall.end is None or wall.start == wall.end:
            continue
        length = math.dist(wall.start, wall.end)
        middle = ((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2)
        out = ((wall.end[1] - wall.start[1]) / length * 0.05, -(wall.end[0] - wall.start[0]) / length * 0.05)
        if solid.boundary.distance(shapely.Point(middle)) > 0.5:
            yield Finding(
                "wall-off-building",
                f"does not lie on the outline of {wall.building}",
                ("walls", index, "start"),
                "an edge of the building's outline",
                "measure the corners again",
            )
        elif solid.covers(shapely.Point(middle[0] + out[0], middle[1] + out[1])) and not solid.covers(
            shapely.Point(middle[0] - out[0], middle[1] - out[1])
        ):
            yield Finding(
                "wall-wrong-way",
                "runs right to left as seen from outside",
                ("walls", index, "start"),
                "left to right as seen from outside",
                "swap `start` and `end`",
            )


def _eyes(site: Site) -> Iterator[Finding]:
    solids = [(b.id, shapely.Polygon(b.outline, b.holes)) for b in site.buildings if len(b.outline) > 2]
    for index, eye in enumerate(site.eyes):
        path: KeyPath = ("eyes", index)
        if not eye.path:
            yield Finding("no-place", "the eye has no place", (*path, "path"), "one point, or two and more for a path")
        if eye.levels and len(eye.levels) != len(eye.path):
            yield Finding(
                "level-count",
                f"{len(eye.levels)} levels for {len(eye.path)} points",
                (*path, "levels"),
                "one ground level a point",
            )
        for number, point in enumerate(eye.path):
            inside = [name for name, solid in solids if solid.is_valid and solid.contains(shapely.Point(point))]
            if inside and eye.kind != "window":
                yield Finding(
                    "eye-inside",
                    f"the eye stands inside {inside[0]}",
                    (*path, "path", number),
                    "a point outside every building",
                    "move it out",
                )


def _paths(site: Site) -> Iterator[Finding]:
    lists: Iterable[tuple[str, tuple[Any, ...]]] = (("markings", site.markings), ("fences", site.fences))
    for name, items in lists:
        for index, item in enumerate(items):
            if len(item.path) < 2 or all(a == b for a, b in pairwise(item.path)):
                yield Finding("no-length", "the path has no length", (name, index, "path"), "two points or more")
    for index, line in enumerate(site.overhead_lines):
        if line.start == line.end:
            yield Finding("no-length", "the line has no length", ("overhead_lines", index, "end"), "two different ends")
    for index, gum in enumerate(site.gum):
        for number, point in enumerate(gum.at):
            for building in site.buildings:
                if len(building.outline) > 2 and shapely.Polygon(building.outline).buffer(-0.01).contains(
                    shapely.Point(point)
                ):
                    yield Finding(
                        "gum-inside",
                        f"the spot lies inside {building.id}",
                        ("gum", index, "at", number),
                        "a point on the ground outside",
                        "move it out",
                    )
