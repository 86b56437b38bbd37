"""Sight: what each public eye and the crew see of each wall, exactly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.planning.regions import Region, region_of
from sightwash.science.pathsight import PathSight, path_sight
from sightwash.science.visibility import make_frame
from sightwash.site.eyes import CrewEye, Eye
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


def plan_sight(placed: PlacedWall, solids: Sequence[Solid], eyes: Sequence[Eye], crew: CrewEye) -> WallSight:
    """Return what every eye sees of one wall, what is missed and what nobody sees."""
    frame = make_frame(placed.origin, placed.along)
    bodies = [solid.points for solid in solids if solid.owner != placed.wall.id]
    outline = placed.outline
    views: list[EyeView] = []
    surely: list[BaseGeometry] = []
    possibly: list[BaseGeometry] = []
    by_crew: list[BaseGeometry] = []
    covered: BaseGeometry = shapely.Polygon()
    walks = [(eye, eye_points(eye)) for eye in eyes]
    declared = Eye(id="crew-at-work", kind="crew", path=(placed.start, placed.end))
    for eye, points in [*walks, (declared, crew_walk(placed, crew))]:
        found = path_sight(outline, frame, bodies, points, tolerance=TOLERANCE)
        covered = found.covered
        views.append(_view(placed, eye, found))
        if eye.kind == "crew":
            by_crew.append(found.inside)
        else:
            surely.append(found.inside)
            possibly.append(found.outside)
    crew_seen = _union(by_crew)
    public = _union(surely) if possibly else outline.difference(covered)
    maybe = _union(possibly) if possibly else public
    missed = maybe.difference(crew_seen)
    hidden = outline.difference(covered).difference(maybe)
    return WallSight(
        placed.wall.id,
        region_of(outline),
        float(outline.area),
        region_of(covered),
        float(covered.area),
        region_of(public),
        float(public.area),
        region_of(crew_seen),
        float(crew_seen.area),
        region_of(missed),
        float(missed.area),
        region_of(hidden),
        float(hidden.area),
        tuple(views),
        Why(
            "shadows of convex solids projected from each eye; unions along paths enclosed to 0.1 % of the wall",
            ("convex-shadow", "chord-in-convex-body"),
        ),
    )


def _union(shapes: list[BaseGeometry]) -> BaseGeometry:
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
    )


def _time_in_view(eye: Eye, found: PathSight) -> float | None:
    """Return how long the path runs where some of the wall is seen, at the eye's speed [s]."""
    if len(found.stations) < 2 or not eye.speed:
        return None
    sees = found.seen_areas > 0.0
    steps = np.diff(found.stations)
    length = float((steps * (sees[:-1] & sees[1:])).sum() + 0.5 * (steps * (sees[:-1] ^ sees[1:])).sum())
    return length / eye.speed
