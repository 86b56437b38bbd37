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
from sightwash.planning.regions import Region, areas_of, region_of
from sightwash.planning.sight import (
    NOTICE,
    TOLERANCE,
    crew_walk,
    eye_points,
    eyes_are_public,
    noticed_part,
    sample_spacing,
    with_parapets,
)
from sightwash.science.pathsight import paths_sight
from sightwash.science.visibility import solids_before
from sightwash.site.eyes import CrewEye, Eye
from sightwash.site.facets import Facet, projection_facets
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
    bodies = with_parapets(site, walls, solids)
    found: list[FaceSight] = []
    for placed in walls:
        items = [item for item in placed.wall.projections if item.kind in WASHED]
        if items:
            near, views = _near(placed, bodies), _views(placed, eyes, crew)
            faces = (facet for item in items for facet in projection_facets(placed, item))
            found += (_face_sight(placed, facet, near, views, eyes_are_public(eyes)) for facet in faces)
    return tuple(found)


def _near(placed: PlacedWall, solids: Sequence[Solid]) -> list[Array]:
    """Return the solids near enough to stand between a wall and an eye that notices it."""
    if not solids:
        return []
    counts = np.array([len(solid.points) for solid in solids])
    offsets = np.concatenate([solid.points for solid in solids]) - placed.point(placed.length / 2, 0.0)
    away = np.minimum.reduceat(np.hypot(*offsets[:, :2].T), np.cumsum(counts) - counts)
    reach = NOTICE + placed.length / 2 + BEYOND
    return [solid.points for solid, near in zip(solids, (away <= reach).tolist(), strict=True) if near]


@dataclass(frozen=True, slots=True, eq=False)
class _View:
    """One path of eyes before a wall: whose, whether the public's, its noticed part, how far apart it is sampled."""

    name: str
    public: bool
    points: Array
    spacing: float


def _views(placed: PlacedWall, eyes: Sequence[Eye], crew: CrewEye) -> list[_View]:
    """Return the paths from which a wall is noticed, that of the crew at work last."""
    paths = [(eye.id, eye.kind != "crew", eye_points(eye)) for eye in eyes]
    paths.append(("crew-at-work", False, crew_walk(placed, crew)))
    noticed = [(name, public, noticed_part(points, placed)) for name, public, points in paths]
    return [
        _View(name, public, points, sample_spacing(placed, points))
        for name, public, points in noticed
        if points is not None
    ]


def _face_sight(
    placed: PlacedWall, facet: Facet, bodies: Sequence[Array], views: Sequence[_View], watched: bool
) -> FaceSight:
    """Return the sight of one face; a path that lies wholly behind its plane is left out."""
    origin, normal = facet.frame.origin, facet.frame.normal
    ahead = [view for view in views if float(((view.points - origin) @ normal).max()) > 0.0]
    looks = paths_sight(
        facet.outline, facet.frame, bodies, [v.points for v in ahead], [v.spacing for v in ahead], TOLERANCE
    )
    inside: dict[bool, list[BaseGeometry]] = {True: [], False: []}
    possibly: list[BaseGeometry] = []
    seen_by: list[str] = []
    for view, found in zip(ahead, looks, strict=True):
        inside[view.public].append(found.inside)
        if view.public:
            possibly.append(found.outside)
            seen_by += [view.name] if areas_of(found.inside) else []
    if looks:
        covered = looks[0].covered
    else:
        covered = solids_before(facet.outline, facet.frame, bodies, origin + normal)[0].covered
    if not watched:
        inside[True] = possibly = [facet.outline.difference(covered)]
    proven = all(found.proven for found in looks)
    return _summed(facet, placed, covered, inside, possibly, tuple(seen_by), proven)


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
    if len(shapes) == 1:
        return shapes[0]
    union = shapely.union_all(shapes)
    assert isinstance(union, BaseGeometry)
    return union
