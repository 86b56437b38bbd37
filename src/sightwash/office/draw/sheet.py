"""The sheet: a site as numbers that a browser draws, walls on the strip and the ground in the plan, all in metres."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final, cast

import shapely

from sightwash.office.models import Property
from sightwash.papers.drawings.plan_places import stall_lines
from sightwash.papers.drawings.views import WallView, walking_order
from sightwash.papers.drawings.wall_face import fixture_places
from sightwash.site.ground import StallRow, Surface
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, placed_walls, wall_top
from sightwash.site.site_file import plain

RINGS: Final = ("buildings", "planting", "parked", "neighbours", "keep_outs")
POINTS: Final = ("drains", "taps", "rig_places", "posts")
PATHS: Final = ("markings", "fences", "eyes")


class _Placed:
    """A wall as the order of walking asks for it."""

    def __init__(self, placed: PlacedWall) -> None:
        self.placed = placed


def sheet_of(record: Property, site: Site) -> dict[str, Any]:
    """Return all that a browser needs to draw a property and to say what it draws."""
    walls = placed_walls(site)
    views = tuple(_Placed(placed) for placed in walls)
    runs = walking_order(cast("tuple[WallView, ...]", views))  # the order asks for nothing but places
    return {
        "revision": record.revision,
        "name": site.name,
        "units": site.units,
        "north": float(site.place.north),
        "walls": [_wall(view.placed) for run in runs for view in run],
        "runs": [[view.placed.wall.id for view in run] for run in runs],
        "ground": list(_ground(site, {placed.wall.id: placed for placed in walls})),
        "tree": plain(site),
    }


def _r(value: float) -> float:
    return round(float(value), 4)


def _ring(points: Any) -> list[list[float]]:
    return [[_r(x), _r(y)] for x, y in points]


def _wall(placed: PlacedWall) -> dict[str, Any]:
    wall = placed.wall
    return {
        "id": wall.id,
        "name": wall.name or wall.id,
        "placed": placed.measured_place,
        "start": _ring([placed.start])[0],
        "end": _ring([placed.end])[0],
        "length": _r(placed.length),
        "rise": _r(placed.ground_at(placed.length)),
        "top": _ring(wall_top(wall, placed.length)),
        "excluded": wall.excluded is not None,
        "parts": list(_parts(placed)),
    }


def _parts(placed: PlacedWall) -> Iterator[dict[str, Any]]:
    """Yield what is on a wall as boxes in (along, up): dirt first, fixtures last."""
    wall, length = placed.wall, placed.length
    highest = float(placed.outline.bounds[3])
    for dirt in wall.soiling:
        left, bottom = float(dirt.left or 0.0), float(dirt.bottom or 0.0)
        right = left + dirt.width if dirt.width is not None else length
        top = float(dirt.top) if dirt.top is not None else highest
        yield _box(dirt.id, "soiling", dirt.kind, (left, bottom, right, top), degree=dirt.degree)
    for hole in wall.openings:
        box = (hole.left, hole.bottom, hole.left + hole.width, hole.bottom + hole.height)
        yield _box(hole.id, "openings", hole.kind, box)
    for door in wall.doors:
        box = (door.left, door.bottom, door.left + door.width, door.bottom + door.height)
        yield _box(door.id, "doors", door.tenant or "door", box)
    for item in sorted(wall.projections, key=lambda each: each.gap + each.depth):
        box = (item.left, item.bottom, item.left + item.width, item.bottom + item.height)
        out = (_r(item.gap), _r(item.gap + item.depth))
        yield _box(item.id, "projections", item.kind, box, out=out, drop=_r(item.outer_drop))
    for fixture in wall.fixtures:
        places = [_r(place) for place in fixture_places(fixture, length)]
        box = (fixture.left, fixture.height, max([*places, float(fixture.left)]), fixture.height)
        yield _box(fixture.id, "fixtures", fixture.kind, box, places=places)


def _box(id: str, name: str, kind: str, box: tuple[float, float, float, float], **more: Any) -> dict[str, Any]:
    return {"id": id, "list": name, "kind": kind, "box": [_r(each) for each in box], **more}


def _ground(site: Site, walls: dict[str, PlacedWall]) -> Iterator[dict[str, Any]]:
    """Yield what lies and stands on the ground: as a ring, a path or single places in the plan."""
    for surface in site.surfaces:
        ring = _surface(surface, walls)
        if ring:
            yield _thing(surface, "surfaces", surface.use, ring=ring, along=surface.along, wash=surface.wash)
    for name in RINGS:
        for item in getattr(site, name):
            kind = getattr(item, "kind", None) or name
            yield _thing(item, name, kind, ring=_ring(item.outline), holes=[_ring(hole) for hole in _holes(item)])
    for row in site.stalls:
        yield _thing(row, "stalls", "stalls", **_stalls(row, float(site.place.north)))
    for name in PATHS:
        for item in getattr(site, name):
            yield _thing(item, name, getattr(item, "kind", name), path=_ring(item.path))
    for wire in site.overhead_lines:
        yield _thing(wire, "overhead_lines", "overhead line", path=_ring([wire.start[:2], wire.end[:2]]))
    for name in POINTS:
        for item in getattr(site, name):
            yield _thing(
                item, name, getattr(item, "leads_to", name), at=_ring([item.at]), size=_r(getattr(item, "size", 0))
            )
    for gum in site.gum:
        yield _thing(gum, "gum", "gum", at=_ring(gum.at))


def _holes(item: Any) -> tuple[Any, ...]:
    return tuple(getattr(item, "holes", ()))


def _thing(item: Any, name: str, kind: str, **more: Any) -> dict[str, Any]:
    words = getattr(item, "name", None) or item.id
    return {"id": item.id, "list": name, "kind": kind, "name": words, **more}


def _surface(surface: Surface, walls: dict[str, PlacedWall]) -> list[list[float]]:
    """Return a surface's ring in the plan; none where the wall that it runs along has no place."""
    if surface.outline:
        return _ring(surface.outline)
    placed = walls.get(surface.along or "")
    if placed is None or surface.width is None:
        return []
    left = float(surface.left or 0.0)
    right = left + surface.length if surface.length is not None else placed.length
    corners = ((left, 0.0), (left, surface.width), (right, surface.width), (right, 0.0))
    return _ring([placed.point(s, out)[:2] for s, out in corners])


def _stalls(row: StallRow, north: float) -> dict[str, Any]:
    """Return the lines between the stalls of a row, and the ring round it."""
    lines = [_ring(line) for line in stall_lines(row, north)]
    ring = shapely.MultiPoint([point for line in lines for point in line]).convex_hull
    outer = _ring(ring.exterior.coords[:-1]) if isinstance(ring, shapely.Polygon) else []
    return {"ring": outer, "lines": lines}
