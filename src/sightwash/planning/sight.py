"""Sight: what each public eye and the crew see of each wall, exactly."""

from __future__ import annotations

import itertools
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
from sightwash.science.pathsight import PathSight, paths_sight
from sightwash.science.visibility import make_frame
from sightwash.site.eyes import CrewEye, Eye
from sightwash.site.facets import parapets
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, Solid

Array = NDArray[np.float64]
DEFAULT_EYES: Final = {
    "road": (1.0668, "driver-eye-height"),
    "parking row": (1.0668, "driver-eye-height"),
    "walk": (1.6116, "standing-eye-height"),
    "entrance": (1.6116, "standing-eye-height"),
    "window": (1.6116, "standing-eye-height"),
    "crew": (1.6002, "crew-eye-height"),
}
"""Eye height by kind of eye [m] and its source, where the site gives none."""
TOLERANCE: Final = 0.001
NOTICE: Final = 0.1524 / math.tan(math.radians(2 / 60))
"""Distance beyond which a strip 6 in high is below two minutes of arc, what a 20/40 eye resolves [m]: about 860 ft."""
LEAST_SPACING: Final = 4.0


@dataclass(frozen=True, slots=True)
class EyeView:
    """What one eye, or the union along one path, sees of one wall: areas [m2] and the best place [m].

    ``seen`` is sure; up to ``doubt`` more may be seen (at most 0.1 % of the wall where ``proven``).
    ``time_in_view`` is how long some of the wall is seen along a path at its speed [s], None for a standing eye.
    """

    eye: str
    wall: str
    public: bool
    seen: float
    hidden: float
    doubt: float
    proven: bool
    best_place: tuple[float, float, float]
    best_seen: float
    time_in_view: float | None
    seen_region: Region


@dataclass(frozen=True, slots=True)
class WallSight:
    """One wall as the public and the crew see it before planning: areas [m2] and regions in (s, z) [m]."""

    wall: str
    outline: Region
    area: float
    covered: Region
    covered_area: float
    public_seen: Region
    public_area: float
    crew_seen: Region
    crew_area: float
    missed: Region
    missed_area: float
    hidden: Region
    hidden_area: float
    views: tuple[EyeView, ...]
    why: Why


def eye_points(eye: Eye) -> Array:
    """Return an eye's corners as world points at eye height, ground levels included."""
    height = eye.height if eye.height is not None else DEFAULT_EYES[eye.kind][0]
    levels = eye.levels or (0.0,) * len(eye.path)
    return np.array([(x, y, level + height) for (x, y), level in zip(eye.path, levels, strict=True)], float)


def crew_walk(placed: PlacedWall, crew: CrewEye) -> Array:
    """Return the path of a crew member's eye along a wall, at the declared distance and height."""
    ends = (0.0, placed.length)
    return np.array([placed.point(s, crew.standoff, placed.ground_at(s) + crew.height) for s in ends])


def noticed_part(points: Array, placed: PlacedWall) -> Array | None:
    """Return the stretch of an eye's path from which a 6 in strip of the wall shows; None if there is none."""
    middle = placed.point(placed.length / 2, 0.0)[:2]
    reach = NOTICE + placed.length / 2
    if len(points) == 1:
        return points if float(np.hypot(*(points[0, :2] - middle))) <= reach else None
    stations = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points[:, :2], axis=0).T))])
    found: list[float] = []
    for k, (a, b) in enumerate(itertools.pairwise(points[:, :2])):
        found += (stations[k] + t * (stations[k + 1] - stations[k]) for t in _chord(a - middle, b - a, reach))
    if not found:
        return None
    first, last = min(found), max(found)
    kept = [s for s in stations.tolist() if first < s < last]
    return np.column_stack([np.interp([first, *kept, last], stations, points[:, axis]) for axis in range(3)])


def _chord(start: Array, step: Array, reach: float) -> tuple[float, ...]:
    """Return the share along a straight piece where it enters and leaves a circle about the origin."""
    a, b, c = float(step @ step), float(start @ step), float(start @ start) - reach**2
    if a == 0.0 or b * b - a * c <= 0.0:
        return ()
    root = math.sqrt(b * b - a * c)
    low, high = max((-b - root) / a, 0.0), min((-b + root) / a, 1.0)
    return (low, high) if low < high else ()


def with_parapets(site: Site, walls: tuple[PlacedWall, ...], bodies: Sequence[Solid]) -> tuple[Solid, ...]:
    """Return solids with what stands up above the roofs behind the measured walls, each once."""
    if any(solid.kind == "parapet" for solid in bodies):
        return tuple(bodies)
    return (*bodies, *parapets(site, tuple(placed for placed in walls if placed.measured_place)))


def bodies_before(placed: PlacedWall, solids: Sequence[Solid]) -> list[Array]:
    """Return the solids that can hide or touch some of a wall: before its plane and near enough."""
    others = [solid.points for solid in solids if solid.owner != placed.wall.id]
    if not others:
        return []
    counts = np.array([len(points) for points in others])
    offsets, starts = np.concatenate(others) - placed.point(placed.length / 2, 0.0), np.cumsum(counts) - counts
    ahead = np.maximum.reduceat(offsets @ placed.outward, starts) > 1e-7
    near = np.hypot(*offsets[starts, :2].T) <= NOTICE + placed.length / 2 + 100.0
    return [points for points, kept in zip(others, (ahead & near).tolist(), strict=True) if kept]


def plan_sight(placed: PlacedWall, solids: Sequence[Solid], eyes: Sequence[Eye], crew: CrewEye) -> WallSight:
    """Return what every eye sees of one wall, what is missed and what nobody sees.

    A wall without a place in the plan is taken as seen by all.
    """
    bodies = bodies_before(placed, solids)
    if not placed.measured_place:
        eyes = ()
    declared = Eye(id="crew-at-work", kind="crew", path=(placed.start, placed.end))
    views: list[EyeView] = []
    inside: dict[bool, list[BaseGeometry]] = {True: [], False: []}
    possibly: list[BaseGeometry] = []
    paths = [*((eye, eye_points(eye)) for eye in eyes), (declared, crew_walk(placed, crew))]
    noticing = [(eye, near) for eye, points in paths if (near := noticed_part(points, placed)) is not None]
    for (eye, _), found in zip(noticing, looks(placed, bodies, [near for _, near in noticing]), strict=True):
        views.append(_view(placed, eye, found))
        inside[eye.kind != "crew"].append(found.inside)
        if eye.kind != "crew":
            possibly.append(found.outside)
    covered = found.covered
    free = placed.outline.difference(covered)
    public = _union(inside[True]) if eyes_are_public(eyes) else free
    maybe = _union(possibly) if eyes_are_public(eyes) else free
    return _wall_sight(placed, covered, public, maybe, _union(inside[False]), tuple(views))


def eyes_are_public(eyes: Sequence[Eye]) -> bool:
    """Return whether any public eye is given; without one every wall is taken as seen."""
    return any(eye.kind != "crew" for eye in eyes)


def look(placed: PlacedWall, bodies: Sequence[Array], points: Array) -> PathSight:
    """Return what is seen of a wall from a place or along a path of eyes (world points)."""
    return looks(placed, bodies, [points])[0]


def looks(placed: PlacedWall, bodies: Sequence[Array], paths: Sequence[Array]) -> tuple[PathSight, ...]:
    """Return what is seen of a wall from each of several places or paths of eyes (world points)."""
    frame = make_frame(placed.origin, placed.along)
    spacings = [sample_spacing(placed, points) for points in paths]
    return paths_sight(placed.outline, frame, bodies, paths, spacings, TOLERANCE)


def sample_spacing(placed: PlacedWall, points: Array) -> float:
    """Return how far apart a path's eyes are sampled: the nearer it comes to a wall, the closer [m]."""
    away = float(np.hypot(*(points[:, :2] - placed.point(placed.length / 2, 0.0)[:2]).T).min())
    return max(LEAST_SPACING, away / 6)


def _wall_sight(
    placed: PlacedWall,
    covered: BaseGeometry,
    public: BaseGeometry,
    maybe: BaseGeometry,
    crew: BaseGeometry,
    views: tuple[EyeView, ...],
) -> WallSight:
    missed = maybe.difference(crew)
    hidden = placed.outline.difference(covered).difference(maybe)
    rule = "shadows of convex solids projected from each eye; unions along paths enclosed to 0.1 % of the wall"
    return WallSight(
        placed.wall.id,
        region_of(placed.outline),
        float(placed.outline.area),
        region_of(covered),
        float(covered.area),
        region_of(public),
        float(public.area),
        region_of(crew),
        float(crew.area),
        region_of(missed),
        float(missed.area),
        region_of(hidden),
        float(hidden.area),
        views,
        Why(rule, ("convex-shadow", "chord-in-convex-body")),
    )


def _union(shapes: list[BaseGeometry]) -> BaseGeometry:
    if len(shapes) == 1:
        return shapes[0]
    union = shapely.union_all(shapes)
    assert isinstance(union, BaseGeometry)
    return union


def _view(placed: PlacedWall, eye: Eye, found: PathSight) -> EyeView:
    x, y, z = (float(value) for value in found.best_eye)
    uncovered = float(placed.outline.area - found.covered.area)
    return EyeView(
        eye.id,
        placed.wall.id,
        eye.kind != "crew",
        float(found.inside.area),
        uncovered - float(found.outside.area),
        float(found.gap_area),
        found.proven,
        (x, y, z),
        found.best_area,
        _time_in_view(eye, found),
        region_of(found.inside),
    )


def _time_in_view(eye: Eye, found: PathSight) -> float | None:
    """Return how long the path runs where some of the wall is seen, at the eye's speed [s]."""
    if len(found.stations) < 2 or not eye.speed:
        return None
    sees = found.seen_areas > 0.0
    steps = np.diff(found.stations)
    length = float((steps * (sees[:-1] & sees[1:])).sum() + 0.5 * (steps * (sees[:-1] ^ sees[1:])).sum())
    return length / eye.speed
