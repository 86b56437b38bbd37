"""Take-off of the walls: areas by material and soiling, net of openings, and what stands proud of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.planning.regions import Region, areas_of, region_of
from sightwash.site.shapes import PlacedWall, projection_section
from sightwash.site.walls import Projection, Soiling

SPLASH_HEIGHT: Final = 8 * 0.0254
"""Default height of the splash strip above a ledge or canopy top [m]; common practice, adjustable."""
SPLASH_RULE: Final = (
    "rain and wash water splash the wall just above it: lowest 8 in by common practice, adjustable; "
    "building rules keep wood 2 to 8 in and stucco 2 to 4 in above what splashes"
)
SPLASH_LEDGE: Final = 0.15
"""A projection shallower than this throws no splash worth a strip of its own [m]."""
_DEGREES: Final = {"light": 0, "moderate": 1, "heavy": 2}
_SPLASHING: Final = ("canopy", "awning", "ledge", "other")


@dataclass(frozen=True, slots=True)
class WallPatch:
    """A part of a wall of one material and one soiling; ``given`` is False where the soiling is a default."""

    id: str
    wall: str
    material: str | None
    soiling: str
    degree: str
    region: Region
    area: float
    left: float
    right: float
    bottom: float
    top: float
    given: bool
    why: Why

    @property
    def length(self) -> float:
        """How far the patch runs along the wall [m]."""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class ProjectionFace:
    """One face of a canopy, awning, ledge or cap that is washed: its top, front or underside."""

    id: str
    wall: str
    projection: str
    kind: str
    face: str
    material: str | None
    left: float
    length: float
    width: float
    area: float
    height: float
    degree: str
    why: Why


@dataclass(frozen=True, slots=True)
class WallTakeoff:
    """A wall's areas: gross, openings, covered by what touches it, and its washable patches."""

    wall: str
    gross: float
    openings: float
    covered: float
    net: float
    excluded: str | None
    patches: tuple[WallPatch, ...]
    faces: tuple[ProjectionFace, ...]
    glass_length: float


def plan_wall_takeoff(placed: PlacedWall, splash_height: float = SPLASH_HEIGHT) -> WallTakeoff:
    """Return a wall's take-off; later soilings never count an area twice, the heavier goes first."""
    wall = placed.wall
    boxes = [_box(o.left, o.bottom, o.width, o.height) for o in wall.openings]
    openings = shapely.union_all(boxes + [_box(d.left, d.bottom, d.width, d.height) for d in wall.doors])
    covered = shapely.union_all([_box(p.left, p.bottom, p.width, p.height) for p in wall.projections if p.gap <= 1e-9])
    free = placed.outline.difference(openings).difference(covered)
    patches: tuple[WallPatch, ...] = ()
    faces: tuple[ProjectionFace, ...] = ()
    if wall.excluded is None:
        patches = tuple(_patches(placed, free, splash_height))
        faces = tuple(face for item in wall.projections for face in _faces(placed, item))
    return WallTakeoff(
        wall.id,
        float(placed.outline.area),
        float(placed.outline.intersection(openings).area),
        float(placed.outline.intersection(covered).difference(openings).area),
        float(free.area),
        wall.excluded,
        patches,
        faces,
        float(sum(o.width for o in wall.openings if o.kind == "glass") + sum(d.width for d in wall.doors)),
    )


def _box(left: float, bottom: float, width: float, height: float) -> shapely.Polygon:
    return shapely.box(left, bottom, left + width, bottom + height)


def _patches(placed: PlacedWall, free: BaseGeometry, splash_height: float) -> Iterator[WallPatch]:
    rest = free
    wall = placed.wall
    for soiling in sorted(wall.soiling, key=lambda s: -_DEGREES[s.degree]):
        shape = _soiled(placed, soiling).intersection(rest)
        rest = rest.difference(shape)
        why = Why(f"{soiling.degree} {soiling.kind} as noted on the walk", ("user-document",))
        yield from _as_patches(placed, soiling.id, shape, soiling.kind, soiling.degree, True, why)
    for item in wall.projections:
        if item.kind in _SPLASHING and item.depth >= SPLASH_LEDGE:
            top = item.bottom + item.height
            shape = shapely.box(item.left, top, item.left + item.width, top + splash_height).intersection(rest)
            rest = rest.difference(shape)
            why = Why(SPLASH_RULE, ("practice-splash-strip", "splash-judgement", "irc-r317-1", "irc-r703"))
            yield from _as_patches(placed, f"{item.id}-splash", shape, "splash", "moderate", False, why)
    if wall.soiling:
        why = Why("the rest of the wall is treated with it, so that no edge shows", ("practice-soft-wash",))
    else:
        why = Why("no soiling noted: light algae overall is assumed", ("practice-soft-wash",))
    yield from _as_patches(placed, f"{wall.id}-rest", rest, "algae", "light", False, why)


def _soiled(placed: PlacedWall, soiling: Soiling) -> BaseGeometry:
    left = soiling.left or 0.0
    right = placed.length if soiling.width is None else left + soiling.width
    lowest, highest = placed.outline.bounds[1], placed.outline.bounds[3]
    bottom = lowest if soiling.bottom is None or soiling.bottom <= 0.0 else soiling.bottom
    return shapely.box(left, bottom, right, highest if soiling.top is None else soiling.top)


def _as_patches(
    placed: PlacedWall, name: str, shape: BaseGeometry, soiling: str, degree: str, given: bool, why: Why
) -> Iterator[WallPatch]:
    if not areas_of(shape):
        return
    left, bottom, right, top = shape.bounds
    yield WallPatch(
        name,
        placed.wall.id,
        placed.wall.material,
        soiling,
        degree,
        region_of(shape),
        float(shape.area),
        float(left),
        float(right),
        float(bottom),
        float(top),
        given,
        why,
    )


def _faces(placed: PlacedWall, item: Projection) -> Iterator[ProjectionFace]:
    if item.kind not in ("canopy", "awning", "ledge", "cap"):
        return
    inner_bottom, outer_bottom, outer_top, inner_top = projection_section(item)
    degree = item.soiling or "light"
    noted = "as noted on the walk" if item.soiling else "no soiling noted: light is assumed"
    why = Why(f"{degree} soiling, {noted}", ("user-document",) if item.soiling else ("practice-soft-wash",))
    sections = (
        ("top", inner_top, outer_top),
        ("front", outer_top, outer_bottom),
        ("underside", outer_bottom, inner_bottom),
    )
    for face, a, b in sections:
        width = float(shapely.LineString([a, b]).length)
        if width < 0.02:
            continue
        yield ProjectionFace(
            f"{item.id}-{face}",
            placed.wall.id,
            item.id,
            item.kind,
            face,
            item.material,
            float(item.left),
            float(item.width),
            width,
            float(item.width) * width,
            max(a[1], b[1]),
            degree,
            why,
        )
