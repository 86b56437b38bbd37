"""Standing plan of one wall: the cheapest places that reach and look at everything, with the proven gap.

Places and pieces are those of ``candidates`` and ``pieces``; the choice is a weighted set cover. What no
place covers is named with the reason and the cheapest equipment that would do it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import AREA, LENGTH, show
from sightwash.planning.candidates import Candidate, candidates, eye_candidates
from sightwash.planning.methods import ARM_REACH, SurfaceMethod
from sightwash.planning.missed import MissedStrip
from sightwash.planning.pieces import LookPiece, WashPiece, look_pieces, wash_pieces
from sightwash.planning.reach import VERDICTS, head_wind, least_reach, reach_levels
from sightwash.planning.regions import shape_of
from sightwash.planning.sight import EyeView, bodies_before
from sightwash.planning.tips import hose_runs
from sightwash.planning.weather import Air
from sightwash.science.set_cover import cheapest_cover
from sightwash.science.visibility import hidden_shapes, make_frame
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall, Solid

Flags = NDArray[np.bool_]
SEEN_SLACK: Final = 0.02
"""Share of a piece that may stay unseen for it to count as looked at [-]."""
HAND_REACH: Final = 1.6
"""How far along a wall hands reach from one ladder set, each way [m]."""
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
    """All places of one wall in walking order, their time [s], the proven bound and gap, and what is left over."""

    wall: str
    spots: tuple[StandingSpot, ...]
    looks: tuple[LookSpot, ...]
    seconds: float
    bound: float
    gap: float
    unreached: tuple[str, ...]
    unseen: tuple[str, ...]
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
    pieces: tuple[WashPiece | LookPiece, ...] = (*washes, *looks)
    duties = {k: [pieces[row] for row in np.flatnonzero(problem.covers[:, k]).tolist()] for k in chosen}
    rule = "the least time over the stated places and pieces"
    if found.gap > 0:
        rule += f", within {found.gap:.1%} of the least"
    return Standing(
        placed.wall.id, tuple(_spots(placed, places, duties, rig, site, air)),
        tuple(_look_spots(placed, places, duties, site)), found.cost, found.bound, found.gap,
        tuple(_unreached(washes, problem.best[: len(washes)], rig)),
        tuple(_unseen(looks, problem.best[len(washes) :])), Why(rule, ("set-cover-milp",)),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class StandingProblem:
    """The stated places and pieces of one wall: levels are 0 sure, 1 likely, 2 to be tested, 3 not at all."""

    places: tuple[Candidate, ...]
    washes: tuple[WashPiece, ...]
    looks: tuple[LookPiece, ...]
    levels: NDArray[np.int64]

    @property
    def best(self) -> NDArray[np.int64]:
        """Best level of each piece from any place."""
        return np.asarray(self.levels.min(axis=1, initial=len(VERDICTS)), np.int64)

    @property
    def covered(self) -> Flags:
        """Whether any place covers a piece."""
        return np.asarray(self.best < len(VERDICTS), bool)

    @property
    def covers(self) -> Flags:
        """Which place (column) covers which piece: sure or likely, and what is to be tested where nothing else is."""
        return np.asarray((self.levels <= np.maximum(self.best, 1)[:, None]) & self.covered[:, None], bool)

    @property
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
        places += eye_candidates(placed, site.eyes) if looks else ()
    reach = reach_levels(placed, places, washes, rig, head_wind(site, placed, air))
    seen = _seen(placed, places, looks, solids, float(site.crew_eye.height), views)
    return StandingProblem(places, washes, looks, np.vstack([reach, np.where(seen, 0, len(VERDICTS))]))


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
    most = SEEN_SLACK * shapely.area(shapes)
    by_eye = {view.eye: shape_of(view.seen_region) for view in views}
    for k, place in enumerate(places):
        if place.eye is not None and place.eye in by_eye:
            seen[:, k] = shapely.area(shapely.difference(shapes, by_eye[place.eye])) <= most
    rows = [k for k, place in enumerate(places) if place.kind in ("look", "ladder")]
    if not rows:
        return seen
    eyes = np.array(
        [placed.point(places[k].s, places[k].out, placed.ground_at(places[k].s) + eye + places[k].step) for k in rows]
    )
    frame = make_frame(placed.origin, placed.along)
    hidden = hidden_shapes(placed.outline, frame, bodies_before(placed, solids), eyes)
    unseen = shapely.area(shapely.intersection(hidden[None, :], shapes[:, None]))
    seen[:, rows] = unseen <= most[:, None]
    ladder = np.array([place.kind == "ladder" for place in places])
    apart = np.abs(np.array([p.s for p in looks])[:, None] - np.array([p.s for p in places])[None, :])
    return np.asarray(seen & ~(ladder[None, :] & (apart > 5 * HAND_REACH)), bool)


def _spots(
    placed: PlacedWall,
    places: Sequence[Candidate],
    duties: dict[int, list[WashPiece | LookPiece]],
    rig: Rig,
    site: Site,
    air: Air,
) -> Iterator[StandingSpot]:
    wind = head_wind(site, placed, air)
    number = 0
    for k, pieces in duties.items():
        washes = [piece for piece in pieces if isinstance(piece, WashPiece)]
        if places[k].kind != "spot" or not washes:
            continue
        number += 1
        place = places[k]
        hardest = max(washes, key=lambda piece: (piece.top, abs(piece.s - place.s)))
        low, mid, high, tip = least_reach(rig, hardest, place, wind)
        verdict = next((v for v, h in zip(VERDICTS, (low, mid, high), strict=True) if h >= hardest.top), VERDICTS[-1])
        left, right = min(p.left for p in washes), max(p.right for p in washes)
        stretch = f"{show(place.out, LENGTH)} out serves {show(right - left, LENGTH)}"
        rule = f"{stretch}: {verdict} to {show(hardest.top, LENGTH)} up"
        yield StandingSpot(
            f"{placed.wall.id}-spot-{number}",
            placed.wall.id,
            place.place,
            place.s,
            place.out,
            left,
            right,
            hardest.top,
            low,
            mid,
            high,
            verdict,
            tip,
            tuple(p.id for p in washes),
            Why(rule, ("jet-band-judgement", "practice-doors")),
        )


def _look_spots(
    placed: PlacedWall, places: Sequence[Candidate], duties: dict[int, list[WashPiece | LookPiece]], site: Site
) -> Iterator[LookSpot]:
    number = 0
    for k, pieces in duties.items():
        looks = [piece for piece in pieces if isinstance(piece, LookPiece)]
        if not looks:
            continue
        number += 1
        place = places[k]
        if place.eye is not None:
            road = next(eye for eye in site.eyes if eye.id == place.eye)
            name = road.name or road.id
            words = f"drive past on {name} as a passenger and look" if road.kind == "road" else f"look from {name}"
        elif place.kind == "ladder":
            where = f"from the ladder {show(place.out, LENGTH)} out, on the step at {show(place.step, LENGTH)}"
            words = f"{where}: looking and hand work only"
        else:
            words = f"step back {show(place.out, LENGTH)} from the wall, {show(place.s, LENGTH)} along, and look"
        strips = sorted({piece.strip for piece in looks})
        yield LookSpot(
            f"{placed.wall.id}-look-{number}",
            placed.wall.id,
            strips[0],
            place.place,
            place.s,
            place.out,
            {"ladder": "ladder", "eye": "eye point"}.get(place.kind, "step back"),
            place.step,
            tuple(p.id for p in looks),
            words,
            True,
        )


def _unreached(washes: Sequence[WashPiece], best: NDArray[np.int64], rig: Rig) -> Iterator[str]:
    left: dict[str, list[WashPiece]] = {}
    for piece, level in zip(washes, best.tolist(), strict=True):
        if level >= len(VERDICTS):
            left.setdefault(piece.target, []).append(piece)
    for target, pieces in left.items():
        top = max(piece.top for piece in pieces)
        ends = f"{show(pieces[0].left, LENGTH)} to {show(pieces[-1].right, LENGTH)} along"
        where = f"{target}, {ends}, {show(top, LENGTH)} up"
        fan = any(tip.fan > 0 for tip in pieces[0].tips)
        tool = "a plain (fan 0) tip of the same size" if fan else "a larger plain tip, a longer pole or a lift"
        blocked = "" if rig.tips else " (no tips on the rig)"
        yield f"{where}: no allowed place on the ground reaches it{blocked}; cheapest: {tool}"


def _unseen(looks: Sequence[LookPiece], best: NDArray[np.int64]) -> Iterator[str]:
    rest = [piece for piece, level in zip(looks, best.tolist(), strict=True) if level >= len(VERDICTS)]
    for strip in sorted({piece.strip for piece in rest}):
        area = sum(float(piece.shape.area) for piece in rest if piece.strip == strip)
        low = min(float(piece.shape.bounds[1]) for piece in rest if piece.strip == strip)
        step = low - ARM_REACH
        yield (
            f"{strip}: {show(area, AREA)} stay unseen from every allowed place, the lowest {show(low, LENGTH)} up; "
            f"cheapest: a ladder or platform with a step {show(max(step, 0.0), LENGTH)} up, or a mirror pole"
        )
