"""Standing plan of one wall: the cheapest places that reach and look at everything, with the proven gap.

Places and pieces are those of ``candidates`` and ``pieces``; the choice is a weighted set cover. What no
place covers is named with the reason and the cheapest equipment that would do it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import LENGTH, show
from sightwash.planning.breeze import Breeze, wall_breeze
from sightwash.planning.candidates import Candidate, candidates, eye_candidates
from sightwash.planning.left_over import unreached, unseen
from sightwash.planning.lines_of_fire import plan_fire
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.missed import MissedStrip
from sightwash.planning.pieces import LookPiece, WashPiece, look_pieces, wash_pieces
from sightwash.planning.reach import LADDER_REACH, NONE, VERDICTS, Reach, heights_reached, plan_reach
from sightwash.planning.regions import common_areas, shape_of
from sightwash.planning.sight import EyeView, bodies_before
from sightwash.planning.tips import hose_runs
from sightwash.planning.weather import Air
from sightwash.science.jet_reach import CALM
from sightwash.science.set_cover import cheapest_cover
from sightwash.science.visibility import hidden_shapes, make_frame
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall, Solid

Flags = NDArray[np.bool_]
SEEN_SLACK: Final = 0.02
"""Share of a piece that may stay unseen for it to count as looked at [-]."""
UNSURE_COST: Final = 30.0
"""Time reckoned for a place from which the reach is likely but not sure [s]."""


@dataclass(frozen=True, slots=True)
class StandingSpot:
    """One place to throw from [m]: the stretch it serves, how high it must and can reach, what it covers."""

    id: str
    wall: str
    place: tuple[float, float]
    s: float
    out: float
    left: float
    right: float
    needed: float
    sure: float
    likely: float
    last: float
    verdict: str
    tip: str
    covers: tuple[str, ...]
    why: Why


@dataclass(frozen=True, slots=True)
class LookSpot:
    """One place to look at missed strips from, on the ground or on a ladder [m]."""

    id: str
    wall: str
    strip: str
    place: tuple[float, float]
    s: float
    out: float
    kind: str
    step: float
    covers: tuple[str, ...]
    words: str
    allowed: bool


@dataclass(frozen=True, slots=True)
class Standing:
    """All places of one wall in walking order, their time [s], the proven bound and gap, and what is left over.

    ``unreached`` and ``unseen`` say it in words; ``open_strips`` are the ids of the strips with something unseen.
    """

    wall: str
    spots: tuple[StandingSpot, ...]
    looks: tuple[LookSpot, ...]
    seconds: float
    bound: float
    gap: float
    unreached: tuple[str, ...]
    unseen: tuple[str, ...]
    open_strips: tuple[str, ...]
    why: Why


def no_standing_area(site: Site) -> BaseGeometry:
    """Return where a crew may not stand: buildings, keep-outs, planting, parked cars, neighbours' ground."""
    outlines = [
        *(b.outline for b in site.buildings),
        *(k.outline for k in site.keep_outs),
        *(p.outline for p in site.planting if p.kind != "lawn"),
        *(a.outline for a in site.parked if a.present),
        *(n.outline for n in site.neighbours),
    ]
    union = shapely.union_all([shapely.Polygon(outline) for outline in outlines])
    assert isinstance(union, BaseGeometry)
    return union


def plan_standing(
    site: Site,
    placed: PlacedWall,
    methods: tuple[SurfaceMethod, ...],
    strips: tuple[MissedStrip, ...],
    rig: Rig,
    rates: Rates,
    air: Air,
    solids: Sequence[Solid],
    forbidden: BaseGeometry,
    views: tuple[EyeView, ...],
    most_nodes: int = 500,
) -> Standing:
    """Return the standing plan of one wall, the cheapest over the stated places and pieces."""
    problem = standing_problem(site, placed, methods, strips, rig, rates, air, solids, forbidden, views)
    found = cheapest_cover(problem.costs, problem.covers[problem.covered], most_nodes)
    places, washes, looks = problem.places, problem.washes, problem.looks
    chosen = sorted((int(k) for k in found.chosen), key=lambda k: (places[k].s, places[k].out))
    rule = "the least time over the stated places and pieces"
    if found.gap > 0:
        rule += f", within {found.gap:.1%} of the least"
    left = unseen(looks, problem.levels[len(washes) :] < NONE, strips, site.units)
    return Standing(
        placed.wall.id, tuple(_spots(site, placed, problem, chosen, rig, wall_breeze(site, placed, air))),
        tuple(_look_spots(placed, problem, chosen, site)), found.cost, found.bound, found.gap,
        tuple(unreached(washes, places, problem.reach, rig, site.units)),
        tuple(left.values()), tuple(left), Why(rule, ("set-cover-milp",)),
    )  # fmt: skip


@dataclass(frozen=True, eq=False)
class StandingProblem:
    """The stated places and pieces of one wall: levels are 0 sure, 1 likely, 2 to be tested, 3 not at all.

    Without slots, so that its tables are worked out once.
    """

    places: tuple[Candidate, ...]
    washes: tuple[WashPiece, ...]
    looks: tuple[LookPiece, ...]
    reach: Reach
    seen: Flags

    @cached_property
    def levels(self) -> NDArray[np.int64]:
        """Level of each piece (what is washed, then what is looked at) from each place."""
        return np.asarray(np.vstack([self.reach.levels, np.where(self.seen, 0, NONE)]), np.int64)

    @cached_property
    def best(self) -> NDArray[np.int64]:
        """Best level of each piece from any place."""
        return np.asarray(self.levels.min(axis=1, initial=NONE), np.int64)

    @cached_property
    def covered(self) -> Flags:
        """Whether any place covers a piece."""
        return np.asarray(self.best < NONE, bool)

    @cached_property
    def covers(self) -> Flags:
        """Which place (column) covers which piece: sure or likely, and what is to be tested where nothing else is."""
        return np.asarray((self.levels <= np.maximum(self.best, 1)[:, None]) & self.covered[:, None], bool)

    @cached_property
    def costs(self) -> NDArray[np.float64]:
        """Time of each place [s], a little more where its reach is not sure."""
        unsure = (np.where(self.covers, self.levels, 0) > 0).any(axis=0)
        return np.array([place.seconds for place in self.places]) + UNSURE_COST * unsure


def standing_problem(
    site: Site,
    placed: PlacedWall,
    methods: tuple[SurfaceMethod, ...],
    strips: tuple[MissedStrip, ...],
    rig: Rig,
    rates: Rates,
    air: Air,
    solids: Sequence[Solid],
    forbidden: BaseGeometry,
    views: tuple[EyeView, ...],
) -> StandingProblem:
    """Return the places and pieces of one wall and what covers what."""
    washes, looks = wash_pieces(placed, methods, rig), look_pieces(placed, strips)
    places: tuple[Candidate, ...] = ()
    if washes or looks:
        places = candidates(site, placed, rig, rates, forbidden, sum(hose_runs(rig)[0]), bool(looks))
        places += eye_candidates(placed, site.eyes, forbidden) if looks else ()
    fire = plan_fire(site, placed, places, washes, rig, solids)
    reach = plan_reach(placed, places, washes, rig, wall_breeze(site, placed, air), fire)
    seen = _seen(placed, places, looks, solids, float(site.crew_eye.height), views)
    return StandingProblem(places, washes, looks, reach, seen)


def _seen(
    placed: PlacedWall,
    places: Sequence[Candidate],
    looks: Sequence[LookPiece],
    solids: Sequence[Solid],
    eye: float,
    views: tuple[EyeView, ...],
) -> Flags:
    """Return which piece is looked at from which place; hands on a ladder reach only a short stretch."""
    seen = np.zeros((len(looks), len(places)), bool)
    if not len(places) or not looks:
        return seen
    shapes = np.array([piece.shape for piece in looks], object)
    whole = shapely.area(shapes)[:, None]
    by_eye = {view.eye: view.seen_region for view in views}
    known = [k for k, place in enumerate(places) if place.eye is not None and place.eye in by_eye]
    if known:
        shown = np.array([shape_of(by_eye[places[k].eye or ""]) for k in known], object)
        seen[:, known] = (
            common_areas(shapes, shown, np.ones((len(shapes), len(known)), bool)) >= (1 - SEEN_SLACK) * whole
        )
    rows = [k for k, place in enumerate(places) if place.kind in ("look", "ladder")]
    if not rows:
        return seen
    eyes = np.array(
        [placed.point(places[k].s, places[k].out, placed.ground_at(places[k].s) + eye + places[k].step) for k in rows]
    )
    window = shapely.box(*shapely.total_bounds(shapes))
    hidden = hidden_shapes(window, make_frame(placed.origin, placed.along), bodies_before(placed, solids), eyes)
    apart = np.abs(np.array([p.s for p in looks])[:, None] - np.array([places[k].s for k in rows])[None, :])
    ladder = np.array([places[k].kind == "ladder" for k in rows])
    near = ~(ladder & (apart > LADDER_REACH))
    seen[:, rows] = near & (common_areas(shapes, hidden, near) <= SEEN_SLACK * whole)
    return seen


def _spots(
    site: Site, placed: PlacedWall, problem: StandingProblem, chosen: Sequence[int], rig: Rig, breeze: Breeze
) -> Iterator[StandingSpot]:
    number = 0
    for k in chosen:
        rows = np.flatnonzero(problem.covers[: len(problem.washes), k]).tolist()
        if problem.places[k].kind == "spot" and rows:
            number += 1
            yield _spot(f"{placed.wall.id}-spot-{number}", site, placed, problem, k, rows, rig, breeze)


def _spot(
    name: str,
    site: Site,
    placed: PlacedWall,
    problem: StandingProblem,
    k: int,
    rows: list[int],
    rig: Rig,
    breeze: Breeze,
) -> StandingSpot:
    """Return one chosen spot, with the reach at the hardest of its pieces: the least sure, then the highest."""
    place, washes, levels = problem.places[k], problem.washes, problem.reach.levels[:, k]
    struck = [row for row in rows if problem.reach.fire.struck[row, k]]
    hardest = max(struck or rows, key=lambda row: (levels[row], washes[row].level, abs(washes[row].s - place.s)))
    needed = washes[hardest].level - placed.ground_at(place.s)
    heights, tips = heights_reached(rig, washes[hardest], np.array([place.s]), np.array([place.out]), breeze)
    low, mid, high = heights[0].tolist()
    left, right = min(washes[row].left for row in rows), max(washes[row].right for row in rows)
    out, stretch, up = (show(length, LENGTH, site.units) for length in (place.out, right - left, needed))
    verdict = VERDICTS[-1] if breeze.speed > CALM else VERDICTS[levels[hardest]]
    rule = f"{out} out serves {stretch}: {verdict} to {up} up"
    if breeze.speed > CALM:
        rule += "; in wind over 5 mph no reach is claimed"
    if len(struck) < len(rows):
        rule += "; behind an edge only as rain from above"
    return StandingSpot(
        name, placed.wall.id, place.place, place.s, place.out, left, right, needed, low, mid, high, verdict,
        tips[0], tuple(washes[row].id for row in rows), Why(rule, ("jet-band-judgement", "practice-doors")),
    )  # fmt: skip


def _look_spots(placed: PlacedWall, problem: StandingProblem, chosen: Sequence[int], site: Site) -> Iterator[LookSpot]:
    number = 0
    first = len(problem.washes)
    for k in chosen:
        place, rows = problem.places[k], np.flatnonzero(problem.covers[:, k]).tolist()
        hands = [problem.washes[row] for row in rows if row < first and place.kind != "spot"]
        looks = [problem.looks[row - first] for row in rows if row >= first]
        if not hands and not looks:
            continue
        number += 1
        targets = sorted({piece.strip for piece in looks}) or sorted({piece.target for piece in hands})
        yield LookSpot(
            f"{placed.wall.id}-look-{number}", placed.wall.id, targets[0], place.place, place.s, place.out,
            {"ladder": "ladder", "eye": "eye point"}.get(place.kind, "step back"), place.step,
            (*(piece.id for piece in looks), *(piece.id for piece in hands)), _look_words(place, hands, site), True,
        )  # fmt: skip


def _look_words(place: Candidate, hands: Sequence[WashPiece], site: Site) -> str:
    if place.eye is not None:
        road = next(eye for eye in site.eyes if eye.id == place.eye)
        name = road.name or road.id
        return f"drive past on {name} as a passenger and look" if road.kind == "road" else f"look from {name}"
    out = show(place.out, LENGTH, site.units)
    if place.kind == "ladder":
        where = f"from the ladder {out} out, on the step at {show(place.step, LENGTH, site.units)}"
        work = ", ".join(sorted({piece.target for piece in hands}))
        return f"{where}: looking and hand work only" + (f", at hand-spray pressure: {work}" if work else "")
    return f"step back {out} from the wall, {show(place.s, LENGTH, site.units)} along, and look"
