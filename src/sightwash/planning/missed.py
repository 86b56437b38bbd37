"""Missed strips: where the public sees and the crew does not, and the remedy for each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, LENGTH, show
from sightwash.planning.candidates import Candidate, near_lines, over_a_road, roads_of
from sightwash.planning.noticing import Notice, notices
from sightwash.planning.regions import Region, areas_of, region_of, shape_of
from sightwash.planning.sight import WallSight
from sightwash.planning.takeoff import WallPatch
from sightwash.science.standpoints import stand_back_distance, step_height
from sightwash.site.eyes import CrewEye, Eye
from sightwash.site.ground import OverheadLine
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall
from sightwash.site.walls import Projection

LEAST_HEIGHT: Final = 0.05
"""A strip lower than this is within the tolerance of sight along a path [m]."""
LADDER_STANDOFF: Final = 3.0 * 0.3048
"""How far out from the projection's edge a ladder is set [m]."""
LADDER_STRETCH: Final = 16.0 * 0.3048
"""Length along the wall that one ladder set serves for looking [m]."""
FAR: Final = 400.0


@dataclass(frozen=True, slots=True)
class Remedy:
    """One way to see a missed strip: step back to ``distance`` or stand ``step`` high; ``share`` of its height seen."""

    kind: str
    share: float
    distance: float
    step: float
    allowed: bool
    place: tuple[float, float]
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What is before a strip: where nobody may stand, roads, overhead lines, the strip's ends along the wall [m]."""

    no_standing: BaseGeometry
    roads: tuple[shapely.LineString, ...]
    lines: tuple[OverheadLine, ...]
    left: float
    right: float
    system: str

    @property
    def middle(self) -> float:
        """The strip's middle along the wall."""
        return (self.left + self.right) / 2

    def allowed_place(self, placed: PlacedWall, out: float) -> float | None:
        """Return the place nearest the strip's middle, so far out, that may be stood at; None if there is none."""
        return next(self.allowed_places(placed, out), None)

    def allowed_places(self, placed: PlacedWall, out: float) -> Iterator[float]:
        """Yield the places so far out that may be stood at, those nearest the strip's middle first."""
        places = np.linspace(self.left, self.right, 17)
        points = np.array([placed.point(s, out)[:2] for s in places])
        free = ~np.asarray(shapely.covers(self.no_standing, shapely.points(points)), bool)
        for k in np.argsort(np.abs(places - self.middle), kind="stable").tolist():
            if free[k] and not over_a_road(placed, float(places[k]), out, self.roads):
                yield float(places[k])

    def clear_of_lines(self, placed: PlacedWall, s: float, out: float, step: float, rig: Rig) -> bool:
        """Return whether a person on a step with the wand held upright keeps off every overhead line there."""
        place = placed.point(s, out)
        ladder = Candidate("ladder", s, out, (float(place[0]), float(place[1])), step, 0.0)
        return not placed.measured_place or not bool(near_lines(self.lines, placed, [ladder], rig)[0])


@dataclass(frozen=True, slots=True)
class MissedStrip:
    """A part of a wall that the public sees and the crew misses before planning [m, m2]."""

    id: str
    wall: str
    region: Region
    area: float
    left: float
    right: float
    bottom: float
    top: float
    over: str | None
    seen_by: tuple[str, ...]
    notices: tuple[Notice, ...]
    score: float
    remedies: tuple[Remedy, ...]
    why: Why


def plan_missed(
    placed: PlacedWall,
    sight: WallSight,
    eyes: Sequence[Eye],
    crew: CrewEye,
    rig: Rig,
    no_standing: BaseGeometry,
    system: str = "us",
    lines: tuple[OverheadLine, ...] = (),
) -> tuple[MissedStrip, ...]:
    """Return the missed strips of a wall, largest first, each with its remedies, the easier first.

    Without any public eye every strip counts as seen by all, and none is ranked. No ladder is set near ``lines``.
    """
    shape = shape_of(sight.missed)
    lean = shape.buffer(-LEAST_HEIGHT / 2, join_style="mitre").buffer(LEAST_HEIGHT / 2, join_style="mitre")
    found: list[MissedStrip] = []
    for number, part in enumerate(areas_of(lean.intersection(shape)), 1):
        left, _, right, _ = part.bounds
        bottom, top = _edges_at_middle(part)
        under = _projection_below(placed, left, right, bottom)
        ground = Ground(no_standing, roads_of(eyes), lines, left, right, system)
        remedies = _remedies(placed, under, bottom, top, crew, rig, ground) if under else ()
        beside = f"over {under.id}" if under else "beside what stands before it"
        noticed = notices(placed, part, sight.views, eyes)
        why = Why(f"{beside}: in public view, not from where the crew works", ("similar-triangles", "crew-eye-height"))
        found.append(
            MissedStrip(
                f"{placed.wall.id}-missed-{number}", placed.wall.id, region_of(part), float(part.area),
                left, right, bottom, top, under.id if under else None, tuple(notice.eye for notice in noticed),
                noticed, math.fsum(notice.score for notice in noticed), remedies, why,
            )
        )  # fmt: skip
    return tuple(found)


def _edges_at_middle(part: shapely.Polygon) -> tuple[float, float]:
    """Return the strip's lower and upper edge at the middle of its length, where no end effect shows."""
    left, bottom, right, top = part.bounds
    middle = (left + right) / 2
    cut = part.intersection(shapely.LineString([(middle, bottom - 1.0), (middle, top + 1.0)]))
    if cut.is_empty:
        return float(bottom), float(top)
    return float(cut.bounds[1]), float(cut.bounds[3])


def _projection_below(placed: PlacedWall, left: float, right: float, bottom: float) -> Projection | None:
    """Return the projection whose top edge the strip starts over: the highest of those below its lower edge."""
    middle = (left + right) / 2
    below = [
        item
        for item in placed.wall.projections
        if item.left <= middle <= item.left + item.width
        and item.bottom + item.height - item.outer_drop <= bottom + 0.01
    ]
    return max(below, key=lambda item: (item.bottom + item.height, item.depth), default=None)


def _remedies(
    placed: PlacedWall, under: Projection, bottom: float, top: float, crew: CrewEye, rig: Rig, ground: Ground
) -> tuple[Remedy, ...]:
    """Return the ways to see a strip, those that show all of it and are allowed first, then the nearer ones."""
    edge, depth = float(under.bottom + under.height - under.outer_drop), float(under.gap + under.depth)
    level = placed.ground_at(ground.middle)
    found = [_ladder(placed, bottom, edge, depth, crew, rig, ground)]
    for share in (1.0, 0.9, 0.5):
        height = max(top - share * (top - bottom), edge + 1e-6)
        distance = paced(stand_back_distance(height, edge, crew.height + level, depth), ground.system)
        if distance <= FAR:
            found.append(_step_back(placed, share, distance, ground))
    return tuple(sorted(found, key=lambda remedy: (not remedy.allowed, -remedy.share, remedy.distance)))


def _step_back(placed: PlacedWall, share: float, distance: float, ground: Ground) -> Remedy:
    s = ground.allowed_place(placed, distance)
    x, y = (float(v) for v in placed.point(ground.middle if s is None else s, distance)[:2])
    words = f"step back {show(distance, LENGTH, ground.system)} from the wall to see {share:.0%} of its height"
    if s is None:
        words += " (no allowed place so far out)"
    elif abs(s - ground.middle) > 1.0:
        words += f", {show(s, LENGTH, ground.system, 2)} along"
    return Remedy("step back", share, distance, 0.0, s is not None, (x, y), words)


def paced(metres: float, system: str) -> float:
    """Return a distance rounded up to what a person can pace out: whole feet, or half metres.

    >>> round(paced(10.1, "us") / 0.3048, 6), paced(10.1, "metric")
    (34.0, 10.5)
    """
    step = FOOT if system == "us" else 0.5
    return math.ceil(metres / step - 1e-4) * step if math.isfinite(metres) else metres


def _ladder(
    placed: PlacedWall, bottom: float, edge: float, depth: float, crew: CrewEye, rig: Rig, ground: Ground
) -> Remedy:
    distance = paced(depth + LADDER_STANDOFF, ground.system)

    def step_at(s: float) -> float:
        return step_height(max(bottom, edge), edge, depth, distance, crew.height + placed.ground_at(s))

    allowed = list(ground.allowed_places(placed, distance))
    clear = (s for s in allowed if ground.clear_of_lines(placed, s, distance, step_at(s), rig))
    s = next(clear, None)
    at = ground.middle if s is None else s
    step = step_at(at)
    x, y = (float(v) for v in placed.point(at, distance)[:2])
    tallest = max((float(ladder.step_height) for ladder in rig.ladders), default=0.0)
    sets = max(math.ceil((ground.right - ground.left) / LADDER_STRETCH - 1e-9), 1)
    out, up = (show(length, LENGTH, ground.system) for length in (distance, step))
    words = f"from a ladder {out} out, its step at {up}, {sets} set-ups"
    words += ": looking and hand work only"
    if not rig.ladders:
        words += "; no ladder on the rig"
    elif step > tallest:
        words += f"; the tallest step on the rig is {show(tallest, LENGTH, ground.system)}"
    if allowed and s is None:
        words += "; too near an overhead line"
    return Remedy("ladder", 1.0, distance, step, step <= tallest and s is not None, (x, y), words)


@dataclass(frozen=True, slots=True)
class SoiledAndMissed:
    """How much of a soiled patch the public sees, and how much of that the crew misses before planning [m2]."""

    patch: str
    area: float
    public: float
    missed: float


def soiled_and_missed(sight: WallSight, patches: tuple[WallPatch, ...]) -> tuple[SoiledAndMissed, ...]:
    """Return for every patch of a wall what of it is seen from outside and missed from close by."""
    public, missed = shape_of(sight.public_seen), shape_of(sight.missed)
    found = []
    for patch in patches:
        shape = shape_of(patch.region)
        seen = float(shape.intersection(public).area)
        found.append(SoiledAndMissed(patch.id, patch.area, seen, float(shape.intersection(missed).area)))
    return tuple(found)
