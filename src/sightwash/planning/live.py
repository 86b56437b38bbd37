"""Sight while an eye is dragged: every wall from one point, fast enough for a frame of a screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.planning.eye_view import Place, SeenFace
from sightwash.planning.regions import Region, region_of, shape_of
from sightwash.planning.sight import crew_walk, eye_points, look, noticed_part, with_parapets
from sightwash.science.facets import to_frame
from sightwash.science.visibility import make_frame, partition
from sightwash.site.facets import Facet
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]
NEARLY: Final = 1e-4
"""What of a solid stands nearer to the eye's height over a facet than this share of it throws no shadow that counts:
that shadow begins ten thousand times as far off as the solid [-]."""


@dataclass(frozen=True, slots=True)
class WallLook:
    """One wall from one point: seen, hidden and covered make it up; missed is seen and not seen by the crew [m, m2]."""

    wall: str
    area: float
    seen: Region
    seen_area: float
    hidden: Region
    hidden_area: float
    covered: Region
    covered_area: float
    missed: Region
    missed_area: float


def look_from(
    site: Site,
    walls: tuple[PlacedWall, ...],
    solids: Sequence[Solid],
    eye: Place,
    crew: Mapping[str, Region] | None = None,
) -> tuple[WallLook, ...]:
    """Return what is seen of every wall from a point.

    ``crew`` is what the crew sees of each wall, by its id: from a plan's ``sight`` (``crew_seen``) or from
    ``crew_regions``. It does not change as the eye moves; without it, it is worked out anew.
    """
    known = crew_regions(site, walls, solids) if crew is None else crew
    bodies = [solid.points for solid in with_parapets(site, walls, solids)]
    return tuple(_wall_look(placed, bodies, eye, known.get(placed.wall.id, ())) for placed in walls)


def covered_regions(
    site: Site, walls: tuple[PlacedWall, ...], solids: Sequence[Solid]
) -> dict[str, tuple[BaseGeometry, BaseGeometry]]:
    """Return the part of each wall that something touches, and the rest of it, by the wall's id: the same for all."""
    bodies = [solid.points for solid in with_parapets(site, walls, solids)]
    found = {}
    for placed in walls:
        before = placed.point(placed.length / 2.0, 1.0, 1.0)
        parts = partition(placed.outline, make_frame(placed.origin, placed.along), bodies, before)
        found[placed.wall.id] = parts.covered, shapely.union(parts.seen, parts.hidden)
    return found


def looks_of(
    walls: tuple[PlacedWall, ...],
    faces: Sequence[SeenFace],
    crew: Mapping[str, Region],
    covered: Mapping[str, tuple[BaseGeometry, BaseGeometry]],
) -> tuple[WallLook, ...]:
    """Return what ``look_from`` would, from the faces that an eye sees and from ``covered_regions``."""
    fronts = {face.wall: face.region for face in faces if face.kind == "wall" and face.face == "front"}
    found = []
    for placed in walls:
        seen, (touched, free) = shape_of(fronts.get(placed.wall.id, ())), covered[placed.wall.id]
        hidden = free if seen.is_empty else free.difference(seen)
        found.append(_in_parts(placed, seen, hidden, touched, crew.get(placed.wall.id, ())))
    return tuple(found)


def crew_regions(site: Site, walls: tuple[PlacedWall, ...], solids: Sequence[Solid]) -> dict[str, Region]:
    """Return what the crew sees of each wall from its walk along it and from its declared eyes, by the wall's id."""
    declared = [eye_points(eye) for eye in site.eyes if eye.kind == "crew"]
    bodies = [solid.points for solid in with_parapets(site, walls, solids)]
    found: dict[str, Region] = {}
    for placed in walls:
        near = (noticed_part(points, placed) for points in (*declared, crew_walk(placed, site.crew_eye)))
        seen = [look(placed, bodies, points).inside for points in near if points is not None]
        union = shapely.union_all(seen)
        assert isinstance(union, BaseGeometry)
        found[placed.wall.id] = region_of(union)
    return found


def _wall_look(placed: PlacedWall, bodies: Sequence[Array], eye: Place, crew: Region) -> WallLook:
    frame = make_frame(placed.origin, placed.along)
    return _in_parts(placed, *partition(placed.outline, frame, bodies, eye), crew)


def _in_parts(
    placed: PlacedWall, seen: BaseGeometry, hidden: BaseGeometry, covered: BaseGeometry, crew: Region
) -> WallLook:
    missed = seen if not crew or seen.is_empty else seen.difference(shape_of(crew))
    return WallLook(
        placed.wall.id, float(placed.outline.area),
        region_of(seen), float(seen.area),
        region_of(hidden), float(hidden.area),
        region_of(covered), float(covered.area),
        region_of(missed), float(missed.area),
    )  # fmt: skip


def quick_part(facet: Facet, near: Sequence[Array], eye: Array) -> BaseGeometry:
    """Return the part of a facet that an eye sees, one shadow at a time: what ``exact_part`` finds, for one eye sooner.

    The shadow of a convex solid is the hull of its corners as the eye projects them onto the facet's plane; what of it
    lies below that plane, or above the eye, is cut off first.
    """
    place = to_frame(eye, facet.frame)[0]
    shadows = []
    for solid in near:
        corners = to_frame(solid, facet.frame)
        corners = _kept(_kept(corners, 0.0, 1.0), (1.0 - NEARLY) * place[2], -1.0)
        shares = place[2] / (place[2] - corners[:, 2:])
        shadows.append(place[:2] + (corners[:, :2] - place[:2]) * shares)
    hulls = [shapely.MultiPoint(shadow).convex_hull for shadow in shadows if len(shadow)]
    seen = shapely.difference(facet.outline, shapely.union_all(hulls))
    assert isinstance(seen, BaseGeometry)
    return seen


def _kept(corners: Array, level: float, side: float) -> Array:
    """Return corners of what of a convex solid lies over a level (``side`` 1) or under it (-1), its cut included."""
    room = side * (corners[:, 2] - level)
    out = room < 0.0
    if not out.any() or out.all():
        return corners[~out]
    inner, outer = corners[~out], corners[out]
    shares = room[~out, None] / (room[~out, None] - room[None, out])
    cuts = inner[:, None] + (outer[None] - inner[:, None]) * shares[..., None]
    found: Array = np.concatenate((inner, cuts.reshape(-1, 3)))
    return found
