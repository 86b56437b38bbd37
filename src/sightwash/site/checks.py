"""What is wrong in a document although each value alone is right.

Doubled ids, dangling references, things outside the wall that carries them, outlines that cross themselves.

Each check returns findings; a finding is an error. What is merely missing is in ``gaps``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

import shapely

from sightwash.basis.units import LENGTH, show
from sightwash.site.element_ids import doubled_ids, identified
from sightwash.site.fields import brief
from sightwash.site.model import Site
from sightwash.site.outline_checks import building_polygons, check_outlines, check_ring
from sightwash.site.rig_checks import check_conditions, check_rates, check_rig
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import SHORTEST, Finding, check_wall

__all__ = [
    "Finding",
    "check_conditions",
    "check_rates",
    "check_rig",
    "check_ring",
    "check_site",
    "identified",
    "wall_length",
]

OFF_OUTLINE = 0.5


def check_site(site: Site) -> tuple[Finding, ...]:
    """Return everything that is wrong in a site, in document order of the checks."""
    found: list[Finding] = []
    found += doubled_ids(site)
    found += _place(site)
    found += check_outlines(site)
    for index, wall in enumerate(site.walls):
        found += check_wall(wall, ("walls", index))
    found += _references(site)
    found += _surfaces(site)
    solids = building_polygons(site)
    found += _walls_on_buildings(site, solids)
    found += _eyes(site, solids)
    for index, gum in enumerate(site.gum):
        found += _inside(gum.at, solids, ("gum", index, "at"), "gum-inside", "the spot lies")
    found += _paths(site)
    found += _stalls(site)
    return tuple(found)


def _place(site: Site) -> Iterator[Finding]:
    zone = site.place.time_zone
    if zone is not None:
        try:
            ZoneInfo(zone)
        except (KeyError, ValueError, OSError):
            near = get_close_matches(zone[:64], sorted(available_timezones()), 1, 0.7)
            yield Finding(
                "unknown-time-zone",
                f"{brief(zone)} is not an IANA time zone",
                ("place", "time_zone"),
                "a name such as America/Chicago",
                f"write `{near[0]}`" if near else "look the name up, or leave it out",
            )
    if (site.place.latitude is None) != (site.place.longitude is None):
        missing = "latitude" if site.place.latitude is None else "longitude"
        yield Finding(
            "half-a-place", f"the {missing} is missing", ("place",), "both or none of the two", f"add `{missing}:`"
        )


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
            near = get_close_matches(name, sorted(known), 1)
            fix = f"write `{near[0]}`" if near else f"add the {what} or mend the id"
            yield Finding("dangling-reference", f"no {what} has the id {name!r}", path, f"one of: {listed}", fix)


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


def wall_length(wall: Any) -> float | None:
    """Return a wall's length from its ends or as written; None where neither is known."""
    if wall.start is not None and wall.end is not None:
        return math.dist(wall.start, wall.end)
    return None if wall.length is None else float(wall.length)


def _walls_on_buildings(site: Site, solids: dict[str, shapely.Polygon]) -> Iterator[Finding]:
    for index, wall in enumerate(site.walls):
        solid = solids.get(wall.building or "")
        if solid is None or wall.start is None or wall.end is None or math.dist(wall.start, wall.end) < SHORTEST:
            continue
        (x, y), (to_x, to_y) = wall.start, wall.end
        length = math.dist(wall.start, wall.end)
        middle = ((x + to_x) / 2, (y + to_y) / 2)
        out = ((to_y - y) / length * 1.2 * OFF_OUTLINE, -(to_x - x) / length * 1.2 * OFF_OUTLINE)
        places = shapely.points([wall.start, middle, wall.end])
        outside, inside = (shapely.Point(middle[0] + k * out[0], middle[1] + k * out[1]) for k in (1, -1))
        if shapely.distance(solid.boundary, places).max() > OFF_OUTLINE:
            yield Finding(
                "wall-off-building",
                f"does not lie on the outline of {wall.building}",
                ("walls", index, "start"),
                "an edge of the building's outline",
                "measure the corners again",
            )
        elif solid.covers(outside) and not solid.covers(inside):
            yield Finding(
                "wall-wrong-way",
                "runs right to left as seen from outside",
                ("walls", index, "start"),
                "left to right as seen from outside",
                "swap `start` and `end`",
            )


def _eyes(site: Site, solids: dict[str, shapely.Polygon]) -> Iterator[Finding]:
    for index, eye in enumerate(site.eyes):
        path: KeyPath = ("eyes", index)
        if not eye.path:
            yield Finding(
                "no-place",
                "the eye has no place",
                (*path, "path"),
                "one point, or two and more for a path",
                "write `path: [[x, y]]`",
            )
        if eye.levels and len(eye.levels) != len(eye.path):
            yield Finding(
                "level-count",
                f"{len(eye.levels)} levels for {len(eye.path)} points",
                (*path, "levels"),
                "one ground level a point",
                "leave `levels` out on level ground",
            )
        if eye.kind != "window":
            yield from _inside(eye.path, solids, (*path, "path"), "eye-inside", "the eye stands")


def _inside(
    points: tuple[tuple[float, float], ...], solids: dict[str, shapely.Polygon], path: KeyPath, code: str, what: str
) -> Iterator[Finding]:
    """Yield a finding for every point that lies inside a building, a hand's breadth from its edge or more."""
    if not points:
        return
    places = shapely.points(points)
    for name, solid in solids.items():
        for number in (shapely.contains(solid, places) & (shapely.distance(solid.boundary, places) > 0.1)).nonzero()[0]:
            yield Finding(
                code,
                f"{what} inside {name}",
                (*path, int(number)),
                "a point outside every building",
                "move it out",
            )


def _paths(site: Site) -> Iterator[Finding]:
    lists: Iterable[tuple[str, tuple[Any, ...]]] = (("markings", site.markings), ("fences", site.fences))
    for name, items in lists:
        for index, item in enumerate(items):
            if len(item.path) < 2 or all(a == b for a, b in pairwise(item.path)):
                yield Finding(
                    "no-length",
                    "the path has no length",
                    (name, index, "path"),
                    "two different points or more",
                    "measure its far end",
                )
    for index, line in enumerate(site.overhead_lines):
        if line.start == line.end:
            yield Finding(
                "no-length",
                "the line has no length",
                ("overhead_lines", index, "end"),
                "two different ends",
                "estimate its far end",
            )


def _stalls(site: Site) -> Iterator[Finding]:
    for index, row in enumerate(site.stalls):
        path: KeyPath = ("stalls", index)
        if row.count < 1:
            yield Finding("no-stalls", "the row has no stall", (*path, "count"), "1 or more", "take the row out")
        elif row.accessible > row.count:
            yield Finding(
                "stall-count",
                f"{row.accessible} accessible stalls in a row of {row.count}",
                (*path, "accessible"),
                f"at most {row.count}",
                "count again",
            )
        if row.van > row.accessible:
            yield Finding(
                "stall-count",
                f"{row.van} van stalls among {row.accessible} accessible stalls",
                (*path, "van"),
                f"at most {row.accessible}: a van stall is one of the accessible stalls",
                "count it under `accessible` too",
            )
