"""Sight while an eye is dragged: every wall from one point, fast enough for a frame of a screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.planning.eye_view import Place
from sightwash.planning.regions import Region, region_of, shape_of
from sightwash.planning.sight import crew_walk, eye_points, look, noticed_part, with_parapets
from sightwash.science.visibility import make_frame, partition
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]


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
    seen, hidden, covered = partition(placed.outline, frame, bodies, eye)
    missed = seen if not crew or seen.is_empty else seen.difference(shape_of(crew))
    return WallLook(
        placed.wall.id, float(placed.outline.area),
        region_of(seen), float(seen.area),
        region_of(hidden), float(hidden.area),
        region_of(covered), float(covered.area),
        region_of(missed), float(missed.area),
    )  # fmt: skip
