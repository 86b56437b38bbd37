"""Take-off of the ground: what the surface cleaner reaches, the trim strip, corners, hand work, gum."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import AREA, show
from sightwash.planning.regions import Region, areas_of, region_of
from sightwash.science.coverage import reach_split
from sightwash.site.ground import Gum, Surface
from sightwash.site.model import Site
from sightwash.site.rig import SurfaceCleaner
from sightwash.site.shapes import PlacedWall
from sightwash.site.walls import Door

DOOR_DEPTH: Final = 1.5
"""Gum nearer to a door than this is taken at an angle or by hand [m]."""
MAT: Final = 0.05
"""What stands no higher than this on the ground can be a mat that is lifted [m]; a judgement."""
DOUBLE: Final = 1.3
"""A door wider than this has two leaves [m]; a judgement."""
BESIDE: Final = 0.3
"""How far beside a door gum needs the same care [m]."""


@dataclass(frozen=True, slots=True)
class GroundPart:
    """One part of a surface by how it is cleaned: ``cleaner``, ``trim``, ``corners`` or ``wand``."""

    id: str
    surface: str
    material: str | None
    how: str
    region: Region
    area: float
    length: float
    why: Why


@dataclass(frozen=True, slots=True)
class GumWork:
    """Gum of one surface: spots in the open and spots at doors, with the doors they lie before."""

    id: str
    surface: str
    open_spots: float
    door_spots: int
    doors: tuple[str, ...]
    marked_at_doors: tuple[tuple[float, float], ...]
    why: Why


@dataclass(frozen=True, slots=True)
class GroundTakeoff:
    """One surface: its outline, its area, its parts and its gum."""

    surface: str
    name: str
    use: str
    material: str | None
    region: Region
    area: float
    washed: bool
    parts: tuple[GroundPart, ...]
    gum: tuple[GumWork, ...]
    notes: tuple[str, ...]


def surface_shape(surface: Surface, walls: dict[str, PlacedWall]) -> shapely.Polygon | None:
    """Return a surface's outline in the plan; None where its place or size is not known yet."""
    if surface.outline:
        return shapely.orient_polygons(shapely.Polygon(surface.outline, surface.holes))
    placed = walls.get(surface.along or "")
    if placed is None or surface.width is None:
        return None
    left = float(surface.left or 0.0)
    right = placed.length if surface.length is None else left + surface.length
    corners = [
        placed.point(s, out)[:2]
        for s, out in ((left, 0.0), (left, surface.width), (right, surface.width), (right, 0.0))
    ]
    return shapely.orient_polygons(shapely.Polygon(corners))


def plan_ground_takeoff(
    site: Site, walls: tuple[PlacedWall, ...], cleaner: SurfaceCleaner | None
) -> tuple[GroundTakeoff, ...]:
    """Return the take-off of every surface; where two overlap, the earlier one keeps the ground."""
    placed = {wall.wall.id: wall for wall in walls}
    standing = standing_shapes(site, walls)
    zones, swings = door_zones(walls), door_swings(walls)
    taken: BaseGeometry = shapely.Polygon()
    found: list[GroundTakeoff] = []
    for surface in site.surfaces:
        shape = surface_shape(surface, placed)
        if shape is None:
            continue
        notes = list(_notes(site, walls, surface, shape, taken))
        near = shape_near(standing, shape)
        ground = shape.difference(taken).difference(near)
        taken = taken.union(shape)
        swing = shape_near(swings, shape)
        parts = tuple(_parts(surface, ground, near, swing, cleaner, notes)) if surface.wash else ()
        gum = tuple(_gum(item, shape, zones) for item in site.gum if item.surface == surface.id)
        found.append(
            GroundTakeoff(
                surface.id,
                surface.name or surface.id,
                surface.use,
                surface.material,
                region_of(ground),
                float(ground.area),
                surface.wash,
                parts,
                gum,
                tuple(notes),
            )
        )
    return tuple(found)


def gum_anew(
    takeoffs: tuple[GroundTakeoff, ...], site: Site, walls: tuple[PlacedWall, ...]
) -> tuple[GroundTakeoff, ...]:
    """Return a take-off with another state of the same site's gum: the shapes stay, the spots are counted again."""
    placed, zones = {wall.wall.id: wall for wall in walls}, door_zones(walls)
    shapes = {surface.id: surface_shape(surface, placed) for surface in site.surfaces}
    return tuple(
        replace(
            takeoff,
            gum=tuple(
                _gum(item, shape, zones)
                for item in site.gum
                if item.surface == takeoff.surface and (shape := shapes[takeoff.surface]) is not None
            ),
        )
        for takeoff in takeoffs
    )


def _notes(
    site: Site, walls: tuple[PlacedWall, ...], surface: Surface, shape: shapely.Polygon, taken: BaseGeometry
) -> Iterator[str]:
    """Yield what is said about ground that is counted elsewhere, kept out of, under a mat or under a door."""
    overlap = shape.intersection(taken).area
    if overlap > 0.01:
        yield f"{show(overlap, AREA, site.units)} lie on an earlier surface and are counted there"
    for keep in site.keep_outs:
        inside = shape.intersection(shapely.Polygon(keep.outline)).area
        if inside > 0.01:
            yield f"{show(inside, AREA, site.units)} lie in {keep.id} and are not washed: {keep.reason}"
    for post in site.posts:
        if post.height <= MAT and shape.intersects(shapely.Point(post.at)):
            yield f"{post.id} lies flat: where it can be lifted, lift it first and wash under it"
    for gum in (gum for gum in site.gum if gum.surface == surface.id):
        off = sum(not shape.covers(shapely.Point(at)) for at in gum.at)
        if off:
            yield f"{off} of the marked spots of {gum.id} lie off this surface: look where they are"
    yield from _door_notes(walls, shape)


def _door_notes(walls: tuple[PlacedWall, ...], shape: shapely.Polygon) -> Iterator[str]:
    """Yield what is said about the doors that open outward over a surface."""
    zones = door_zones(walls, 0.0)
    over = [
        door
        for placed in walls
        for door in placed.wall.doors
        if door.swing == "out" and zones[door.id].intersection(shape).area > 0.01
    ]
    known = [door.id for door in over if door.hours is not None]
    unknown = [door.id for door in over if door.hours is None]
    if known:
        yield f"run the cleaner only while locked under doors that open over this ground: {', '.join(known)}"
    if unknown:
        yield f"by hand, held shut, hours unknown: the sweep of {', '.join(unknown)}"


def shape_near(standing: shapely.STRtree, shape: BaseGeometry) -> BaseGeometry:
    """Return what stands on or beside a surface, as one shape."""
    near = shapely.union_all(standing.geometries.take(standing.query(shape.buffer(2.0).envelope)))
    assert isinstance(near, BaseGeometry)
    return near


def cleaner_room(ground: BaseGeometry, standing: BaseGeometry, radius: float) -> shapely.MultiPolygon:
    """Return the ground on which a cleaner may travel: it may run out over an open edge, not over what stands."""
    around = ground.buffer(2 * radius, quad_segs=4, join_style="mitre")
    return shapely.MultiPolygon(areas_of(shapely.union_all([ground, around]).difference(standing)))


def standing_shapes(site: Site, walls: tuple[PlacedWall, ...]) -> shapely.STRtree:
    """Return the plan of everything that a cleaner cannot pass: buildings, columns, posts, planting, keep-outs.

    Benches, planters, bollards and mats are posts of their size.
    """
    shapes: list[BaseGeometry] = [shapely.Polygon(b.outline, b.holes) for b in site.buildings]
    shapes += [shapely.Polygon(keep.outline) for keep in site.keep_outs]
    for post in site.posts:
        x, y, half = *post.at, post.size / 2
        shapes.append(
            shapely.Point(x, y).buffer(half) if post.round else shapely.box(x - half, y - half, x + half, y + half)
        )
    for placed in walls:
        shapes += [
            shapely.Polygon(
                [placed.point(s, out)[:2] for s in (p.left, p.left + p.width) for out in (p.gap, p.gap + p.depth)]
            ).convex_hull
            for p in placed.wall.projections
            if p.bottom < 0.3
        ]
    shapes += [shapely.Polygon(plant.outline) for plant in site.planting if plant.height > 0.05]
    return shapely.STRtree(shapes)


def door_swings(walls: tuple[PlacedWall, ...]) -> shapely.STRtree:
    """Return the ground that the leaves of doors sweep which open outward at hours that are not known."""
    return shapely.STRtree(
        [
            _swing(placed, door)
            for placed in walls
            for door in placed.wall.doors
            if door.swing == "out" and door.hours is None
        ]
    )


def _swing(placed: PlacedWall, door: Door) -> BaseGeometry:
    """Return the sweep of a door's leaves; which side a single leaf hangs on is not known, so both."""
    leaf = door.width / 2 if door.width > DOUBLE else float(door.width)
    left, right = float(door.left), float(door.left + door.width)
    corners = [placed.point(s, out)[:2] for s, out in ((left, 0.0), (left, leaf), (right, leaf), (right, 0.0))]
    discs = [shapely.Point(*placed.point(s, 0.0)[:2]).buffer(leaf) for s in (left, right)]
    sweep = shapely.union_all(discs).intersection(shapely.Polygon(corners))
    assert isinstance(sweep, BaseGeometry)
    return sweep


def _parts(
    surface: Surface,
    ground: BaseGeometry,
    standing: BaseGeometry,
    swing: BaseGeometry,
    cleaner: SurfaceCleaner | None,
    notes: list[str],
) -> Iterator[GroundPart]:
    if cleaner is None:
        why = Why("no surface cleaner on the rig: the whole surface by wand", ("user-document",))
        yield _part(surface, "wand", ground, 0.0, why)
        return
    radius, gap = cleaner.diameter / 2, float(cleaner.edge_gap)
    room = cleaner_room(ground, standing.union(swing), radius)
    split = reach_split(shapely.MultiPolygon(areas_of(ground)), radius, gap, travel=room)
    if not areas_of(split.reached):
        notes.append("narrower than the surface cleaner: by wand")
    held = swing.buffer(gap * 1.01 + 1e-6)
    trim, corners = (part.difference(held) for part in (split.trim, split.left_over))
    text = (
        f"swept by a {cleaner.diameter / 0.0254:g} in disc whose shroud keeps {gap / 0.0254:g} in from walls and posts"
    )
    yield _part(surface, "cleaner", split.reached, 0.0, Why(text, ("disc-opening",)))
    trim_length = float(trim.area) / gap if gap > 0 else 0.0
    text = "left by the shroud along walls and posts: trimmed with the wand before the cleaner"
    yield _part(surface, "trim", trim, trim_length, Why(text, ("practice-trim", "disc-opening")))
    text = "corners and slots that a disc cannot enter"
    yield _part(surface, "corners", corners, 0.0, Why(text, ("disc-opening",)))
    if not swing.is_empty:
        by_hand = split.trim.union(split.left_over).intersection(held)
        text = "under doors that open outward at hours that are not known: by hand, the door held shut"
        yield _part(surface, "wand", by_hand, 0.0, Why(text, ("practice-doors", "disc-opening")))


def _part(surface: Surface, how: str, shape: BaseGeometry, length: float, why: Why) -> GroundPart:
    return GroundPart(
        f"{surface.id}-{how}", surface.id, surface.material, how, region_of(shape), float(shape.area), length, why
    )


def door_zones(
    walls: tuple[PlacedWall, ...], margin: float = BESIDE, depth: float = DOOR_DEPTH
) -> dict[str, shapely.Polygon]:
    """Return the ground before every door, a margin wider on both sides."""
    return {
        door.id: shapely.Polygon(
            [
                placed.point(s, out)[:2]
                for s, out in (
                    (door.left - margin, 0.0),
                    (door.left - margin, depth),
                    (door.left + door.width + margin, depth),
                    (door.left + door.width + margin, 0.0),
                )
            ]
        )
        for placed in walls
        for door in placed.wall.doors
    }


def _gum(gum: Gum, shape: shapely.Polygon, zones: dict[str, shapely.Polygon]) -> GumWork:
    total = float(gum.count) if gum.count is not None else (gum.density or 0.0) * shape.area
    marked = [point for point in gum.at if any(zone.covers(shapely.Point(point)) for zone in zones.values())]
    near = {name: zone.intersection(shape).area for name, zone in zones.items() if zone.intersects(shape)}
    by_share = total * sum(near.values()) / shape.area if total else 0.0
    at_doors = max(len(marked), math.floor(by_share + 0.5))
    doors = tuple(name for name, area in near.items() if area > 0.01)
    total = max(total, float(len(gum.at)))
    why = Why(
        "spots within 5 ft of a door by marked place or by share of area; taken at an angle or by hand",
        ("practice-doors", "practice-gum"),
    )
    return GumWork(gum.id, gum.surface, max(total - at_doors, 0.0), at_doors, doors, tuple(marked), why)
