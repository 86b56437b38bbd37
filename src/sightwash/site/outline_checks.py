"""What is wrong with outlines: too few corners, no area, crossing themselves, holes that are none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import shapely

from sightwash.basis.units import LENGTH, show
from sightwash.site.model import Site
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import Finding

_OUTLINED = ("buildings", "surfaces", "planting", "parked", "neighbours", "keep_outs")
Ring = tuple[tuple[float, float], ...]


def check_outlines(site: Site) -> Iterator[Finding]:
    """Yield what is wrong with every outline and hole of a site."""
    for name in _OUTLINED:
        for index, item in enumerate(getattr(site, name)):
            path: KeyPath = (name, index)
            holes: tuple[Ring, ...] = getattr(item, "holes", ())
            found: list[Finding] = []
            if item.outline or name != "surfaces":
                found += check_ring(item.outline, (*path, "outline"))
            for number, hole in enumerate(holes):
                found += check_ring(hole, (*path, "holes", number))
            yield from found or _check_holes(item, path)


def check_ring(ring: Ring, path: KeyPath) -> Iterator[Finding]:
    """Yield what is wrong with one outline: too few corners, no area, or crossing itself."""
    if len(ring) < 3 or len(set(ring)) < 3:
        message = f"an outline of {len(set(ring))} corners"
        yield Finding("too-few-corners", message, path, "3 different corners or more", "add the missing corners")
        return
    polygon = shapely.Polygon(ring)
    if polygon.area < 1e-4 and shapely.LineString(ring).convex_hull.area < 1e-4:
        yield Finding("no-area", "the outline encloses no area", path, "an outline with an area", "measure again")
    elif not polygon.is_valid:
        yield Finding(
            "self-crossing",
            f"the outline crosses or touches itself{_near(polygon)}",
            path,
            "a simple outline, corners in order",
            "list the corners in walking order",
        )


def _near(polygon: shapely.Polygon) -> str:
    """Return where a polygon is not simple, in words; empty where that is not known."""
    reason = shapely.is_valid_reason(polygon)
    where = reason[reason.find("[") + 1 : reason.find("]")].split()
    return f" near ({show(float(where[0]), LENGTH)}, {show(float(where[1]), LENGTH)})" if len(where) == 2 else ""


def _check_holes(item: Any, path: KeyPath) -> Iterator[Finding]:
    """Yield holes that do not lie inside their outline or that meet one another; each ring alone is right."""
    holes: tuple[Ring, ...] = getattr(item, "holes", ())
    if not holes:
        return
    if not item.outline:
        message = "a hole without an outline"
        yield Finding("hole-outside", message, (*path, "holes"), "an `outline` around it", "add `outline:`")
        return
    outer = shapely.Polygon(item.outline)
    for number, hole in enumerate(holes):
        if not outer.covers(shapely.Polygon(hole)):
            yield Finding(
                "hole-outside",
                "the hole is not inside the outline",
                (*path, "holes", number),
                "a hole within the outline",
                "measure its corners again",
            )
            return
    whole = shapely.Polygon(item.outline, holes)
    if not whole.is_valid:
        yield Finding(
            "holes-meet",
            f"the holes cross or touch each other or the outline{_near(whole)}",
            (*path, "holes"),
            "holes apart from each other and inside the outline",
            "join the holes into one, or notch the outline",
        )


def building_polygons(site: Site) -> dict[str, shapely.Polygon]:
    """Return the ground of each building whose outline and holes are right, by id."""
    found: dict[str, shapely.Polygon] = {}
    for building in site.buildings:
        if len(building.outline) > 2 and all(len(hole) > 2 for hole in building.holes):
            polygon = shapely.Polygon(building.outline, building.holes)
            if polygon.is_valid and polygon.area > 0.0:
                found[building.id] = polygon
    return found
