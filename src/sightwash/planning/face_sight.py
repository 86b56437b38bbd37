"""Sight of what stands out of the walls: which faces of canopies, awnings, ledges and caps are seen and missed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.planning.regions import Region, region_of
from sightwash.planning.sight import (
    LEAST_SPACING,
    NOTICE,
    TOLERANCE,
    crew_walk,
    eye_points,
    eyes_are_public,
    noticed_part,
)
from sightwash.science.pathsight import PathSight, path_sight
from sightwash.science.visibility import solids_before
from sightwash.site.eyes import CrewEye, Eye
from sightwash.site.facets import Facet, parapets, projection_facets
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]
WASHED: Final = ("canopy", "awning", "ledge", "cap")
"""Projections whose faces are washed, as the take-off counts them."""
BEYOND: Final = 100.0
"""How much farther away than anything is noticed a solid may begin and still count [m]."""


@dataclass(frozen=True, slots=True)
class FaceSight:
    """One face of a projection as the public and the crew see it before planning.

    Areas in m2; regions in (s along the wall, width from the face's lower or inner edge), at the ends (out, z) [m].
    ``id`` is that of the face in the take-off, which leaves the ends out. ``slope`` is how far the face tilts from the
    level [deg]. Covered is what touches it (a column under a canopy); seen, hidden and covered make up the whole.
    """

    id: str
    wall: str
    projection: str
    kind: str
    face: str
    slope: float
    outline: Region
    area: float
    public_seen: Region
    public_area: float
    crew_seen: Region
    crew_area: float
    missed: Region
    missed_area: float
    hidden_area: float
    covered_area: float
    seen_by: tuple[str, ...]
    proven: bool
    why: Why


def plan_face_sight(
    site: Site, walls: tuple[PlacedWall, ...], solids: Sequence[Solid], eyes: Sequence[Eye], crew: CrewEye
) -> tuple[FaceSight, ...]:
    """Return the sight of every face of what stands out of the walls and is washed, in the order of the take-off.

    Without any public eye every face is taken as seen, as walls are; the crew sees what its walk along the wall and
    its declared eyes see.
    """
    bodies = [*solids, *parapets(site, walls)]
    return tuple(
        _face_sight(placed, facet, near, eyes, crew)
        for placed in walls
        for near in (_near(placed, bodies),)
        for item in placed.wall.projections
        if item.kind in WASHED
        for facet in projection_facets(placed, item)
    )


def _near(placed: PlacedWall, solids: Sequence[Solid]) -> list[Array]:
    """Return the solids near enough to stand between a wall and an eye that notices it."""
    middle = placed.point(placed.length / 2, 0.0)
    reach = NOTICE + placed.length / 2 + BEYOND
    return [solid.points for solid in solids if float(np.hypot(*(solid.points[:, :2] - middle[:2]).T).min()) <= reach]


def _face_sight(
    placed: PlacedWall, facet: Facet, bodies: Sequence[Array], eyes: Sequence[Eye], crew: CrewEye
) -> FaceSight:
    views = [(eye.id, eye.kind != "crew", eye_points(eye)) for eye in eyes]
    views.append(("crew-at-work", False, crew_walk(placed, crew)))
    inside: dict[bool, list[BaseGeometry]] = {True: [], False: []}
    possibly: list[BaseGeometry] = []
    seen_by: list[str] = []
    proven = True
    for name, public, points in views:
        found = _look(facet, bodies, noticed_part(points, placed), placed)
        if found is None:
            continue
        inside[public].append(found.inside)
        proven &= found.proven
        if public:
            possibly.append(found.outside)
            seen_by += [name] if region_of(found.inside) else []
    before = facet.frame.origin + facet.frame.normal
    covered = solids_before(facet.outline, facet.frame, bodies, before)[0].covered
    if not eyes_are_public(eyes):
        inside[True] = possibly = [facet.outline.difference(covered)]
    return _summed(facet, placed, covered, inside, possibly, tuple(seen_by), proven)


def _look(facet: Facet, bodies: Sequence[Array], points: Array | None, placed: PlacedWall) -> PathSight | None:
    """Return what is seen of a face from a place or along a path; None where the whole path is behind its plane."""
    if points is None or float(((points - facet.frame.origin) @ facet.frame.normal).max()) <= 0.0:
        return None
    away = float(np.hypot(*(points[:, :2] - placed.point(placed.length / 2, 0.0)[:2]).T).min())
    spacing = max(LEAST_SPACING, away / 6)
    return path_sight(facet.outline, facet.frame, bodies, points, spacing=spacing, tolerance=TOLERANCE)


def _summed(
    facet: Facet,
    placed: PlacedWall,
    covered: BaseGeometry,
    inside: dict[bool, list[BaseGeometry]],
    possibly: list[BaseGeometry],
    seen_by: tuple[str, ...],
    proven: bool,
) -> FaceSight:
    public, maybe, crew = _union(inside[True]), _union(possibly), _union(inside[False])
    hidden = facet.outline.difference(covered).difference(maybe)
    missed = maybe.difference(crew)
    rule = "shadows of convex solids projected from each eye on the face's own plane, within 0.1 % of the face"
    return FaceSight(
        facet.id, placed.wall.id, facet.owner, facet.kind, facet.face,
        math.degrees(math.acos(min(1.0, abs(float(facet.frame.normal[2]))))),
        region_of(facet.outline), float(facet.outline.area),
        region_of(public), float(public.area),
        region_of(crew), float(crew.area),
        region_of(missed), float(missed.area), float(hidden.area), float(covered.area),
        seen_by, proven, Why(rule, ("convex-shadow", "chord-in-convex-body")),
    )  # fmt: skip


def _union(shapes: list[BaseGeometry]) -> BaseGeometry:
    union = shapely.union_all(shapes)
    assert isinstance(union, BaseGeometry)
    return union
