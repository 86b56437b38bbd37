"""Reach of thrown water: how surely each piece of a wall is reached from each place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.units import FOOT
from sightwash.planning.breeze import WIND_STEP, Breeze, head_winds
from sightwash.planning.candidates import Candidate
from sightwash.planning.lines_of_fire import Fire
from sightwash.planning.pieces import WashPiece, hand_height
from sightwash.planning.tips import TipPoint
from sightwash.science.jet import OUTER_CLUMP
from sightwash.science.jet_fit import field_clump_ratio
from sightwash.science.reach_table import reach_table
from sightwash.science.tips import nozzle_bore
from sightwash.site.rig import FieldTest, Rig
from sightwash.site.shapes import PlacedWall

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Levels = NDArray[np.int64]
THROWS: Final = tuple(feet * FOOT for feet in range(6, 62, 4))
"""Distances at which reach is worked out; a place between two takes the lower of theirs [m]."""
VERDICTS: Final = ("sure", "likely", "test on site")
NONE: Final = len(VERDICTS)
"""Level of what is not reached at all."""
STRONGEST_WIND: Final = 20.0
"""Nothing is thrown against more wind than this [m/s]."""
PLAIN: Final = 1.0
"""A tip whose fan is wider than this is not thrown with: its water breaks up before it gets far [deg]."""
LAPPED: Final = ("vinyl", "fibre cement", "wood", "painted metal")
STEEPEST_AT_LAPS: Final = 60.0
"""Steepest straight line from wand to piece where laps or flashing could be driven open [deg]; common practice."""
LADDER_REACH: Final = 7 * FOOT
"""How far along a wall, each way, hands and eyes serve from one ladder set [m]: about 16 ft a set."""
LADDER_SPRAY: Final = 12 * FOOT
"""How far in from a ladder a wand at hand-spray pressure wets [m]; a judgement."""


def throws(rig: Rig, tip: TipPoint, wind: float) -> Array:
    """Return the reach of a tip at each distance of THROWS (rows): sure, likely, last water [m]; 0 beyond all.

    A field test of the tip calibrates the last water.
    """
    if tip.fan > PLAIN or wind > STRONGEST_WIND:
        return np.zeros((len(THROWS) + 1, NONE))
    test = next(item for item in rig.tips if item.id == tip.tip).field_test
    launch = float(rig.crew.wand_height)
    ratio = OUTER_CLUMP if test is None else _measured_ratio(nozzle_bore(tip.size), launch, test)
    return _throws(tip.size, tip.tip_pressure, launch, wind, ratio)


@lru_cache(maxsize=512)
def _throws(size: float, pressure: float, launch: float, wind: float, ratio: float) -> Array:
    bore = nozzle_bore(size)
    table = np.column_stack(reach_table(bore, pressure, THROWS, launch, wind, ratio))
    return np.vstack([table, np.zeros((1, NONE))])


@lru_cache(maxsize=64)
def _measured_ratio(bore: float, launch: float, test: FieldTest) -> float:
    mark = (float(test.pressure), float(test.standoff), float(test.highest_mark))
    return field_clump_ratio(bore, *mark, launch, float(test.head_wind))


def heights_reached(rig: Rig, piece: WashPiece, s: Array, out: Array, breeze: Breeze) -> tuple[Array, list[str]]:
    """Return what the weakest of a piece's tips reaches at its farther end from many places, and which tip that is.

    Heights are above the ground at the place: sure, likely and last water in three columns [m].
    """
    heights, weakest = _heights(rig, piece.tips, np.array([[piece.left, piece.right]]), s, out, breeze)
    return heights[0], [piece.tips[k].tip for k in weakest[0].tolist()]


def _heights(
    rig: Rig, tips: Sequence[TipPoint], stretches: Array, s: Array, out: Array, breeze: Breeze
) -> tuple[Array, Levels]:
    """Return what the weakest tip reaches over each stretch (row) from each place (column), and which one that is."""
    ends = stretches.T[:, :, None] - s
    away = np.hypot(out, np.abs(ends).max(axis=0))
    steps = np.rint(head_winds(breeze, ends, np.broadcast_to(out, ends.shape)).max(axis=0) / WIND_STEP).astype(int)
    winds = np.flatnonzero(np.bincount(steps.ravel()))
    step = np.searchsorted(THROWS, away - 1e-9)
    between = np.take((*THROWS, np.inf), step) - away > 1e-6
    row = (np.searchsorted(winds, steps) * 2 + between) * (len(THROWS) + 1) + step
    best: Array | None = None
    weakest = np.zeros(away.shape, int)
    for number, tip in enumerate(tips):
        tables = [throws(rig, tip, float(wind) * WIND_STEP) for wind in winds]
        lower = [np.minimum(table, np.vstack([table[:1], table[:-1]])) for table in tables]
        found = np.concatenate([rows for pair in zip(tables, lower, strict=True) for rows in pair])[row]
        if best is None:
            best = found
            continue
        lesser = _lesser(found, best)
        best[lesser], weakest[lesser] = found[lesser], number
    return np.zeros((*away.shape, NONE)) if best is None else best, weakest


def _lesser(heights: Array, others: Array) -> Flags:
    """Return where heights are lower than others: by the likely ones, then the sure ones, then the last water."""
    found = np.zeros(heights.shape[:-1], bool)
    for column in (2, 0, 1):
        one, other = heights[..., column], others[..., column]
        found = (one < other) | ((one == other) & found)
    return found


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """How each piece (row) is reached from each place (column), and what stands against it.

    Levels are 0 sure, 1 likely, 2 to be tested, 3 not at all. ``thrown`` is by the jet's throw alone; ``levels``
    asks as well for a straight line, a bearable angle at laps and distance from overhead lines.
    """

    thrown: Levels
    steep: Flags
    fire: Fire
    levels: Levels


def plan_reach(
    placed: PlacedWall,
    places: Sequence[Candidate],
    washes: Sequence[WashPiece],
    rig: Rig,
    breeze: Breeze,
    fire: Fire,
) -> Reach:
    """Return how surely every piece is reached from every place: thrown from a spot, or by hand from a ladder.

    What no straight line strikes is only rained on, to be tested on site, and never where a power rinse is due.
    What no spot strikes at all is done by hand from a ladder that is high enough.
    """
    s, out = (np.array([getattr(place, name) for place in places], float) for name in ("s", "out"))
    spots = np.array([place.kind == "spot" for place in places], bool)
    ground = np.array([placed.ground_at(place.s) for place in places], float)
    rise = np.array([piece.level for piece in washes], float)[:, None] - ground
    thrown = np.full(fire.struck.shape, NONE)
    for rows in _same_tips(washes) if spots.any() else ():
        stretches = np.array([(washes[row].left, washes[row].right) for row in rows])
        heights, _ = _heights(rig, washes[rows[0]].tips, stretches, s[spots], out[spots], breeze)
        enough = heights >= rise[rows][:, spots, None]
        thrown[rows[:, None], np.flatnonzero(spots)] = np.where(enough.any(axis=2), enough.argmax(axis=2), NONE)
    steep = _steepness(placed, washes, s, out, rise, rig) > STEEPEST_AT_LAPS
    power = np.array([piece.power for piece in washes], bool)[:, None]
    straight = np.where(fire.struck & ~steep & ~fire.near, thrown, NONE)
    rained = ~fire.struck & ~fire.under & ~power & (thrown < 2)
    levels = np.minimum(straight, np.where(rained, 2, NONE))
    behind = (straight.min(axis=1, initial=NONE) >= NONE) & (~fire.struck[:, spots]).any(axis=1)
    hands = _hand_work(places, washes, ground, rig) & behind[:, None] & ~fire.near
    return Reach(thrown, steep, fire, np.where(hands, 0, levels))


def _same_tips(washes: Sequence[WashPiece]) -> list[NDArray[np.intp]]:
    """Return the pieces that have tips, those with the same tips together."""
    found: dict[tuple[object, ...], list[int]] = {}
    for row, piece in enumerate(washes):
        if piece.tips:
            key = tuple((tip.tip, tip.size, tip.fan, tip.tip_pressure) for tip in piece.tips)
            found.setdefault(key, []).append(row)
    return [np.array(rows, np.intp) for rows in found.values()]


def _steepness(placed: PlacedWall, washes: Sequence[WashPiece], s: Array, out: Array, rise: Array, rig: Rig) -> Array:
    """Return how steeply the straight line to the nearest of a piece rises where its wall has laps [deg], else 0."""
    if placed.wall.material not in LAPPED:
        return np.zeros(rise.shape)
    left, right = (np.array([getattr(piece, end) for piece in washes], float)[:, None] for end in ("left", "right"))
    beside = np.maximum(np.maximum(left - s, s - right), 0.0)
    return np.asarray(np.degrees(np.arctan2(rise - float(rig.crew.wand_height), np.hypot(out, beside))), float)


def _hand_work(places: Sequence[Candidate], washes: Sequence[WashPiece], ground: Array, rig: Rig) -> Flags:
    """Return which piece a wand held up from which ladder wets at hand-spray pressure."""
    ladder = np.array([place.kind == "ladder" and place.out <= LADDER_SPRAY + 1e-9 for place in places], bool)
    highest = ground + np.array([place.step for place in places], float) + hand_height(rig)
    armed = np.array([bool(piece.tips) for piece in washes], bool)[:, None]
    level, middle = (np.array([getattr(piece, name) for piece in washes], float)[:, None] for name in ("level", "s"))
    apart = np.abs(middle - np.array([place.s for place in places], float))
    return np.asarray(ladder & armed & (level <= highest) & (apart <= LADDER_REACH), bool)
