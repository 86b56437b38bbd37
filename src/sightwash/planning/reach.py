"""Reach of thrown water: how surely each piece of a wall is reached from each place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.units import FOOT
from sightwash.planning.breeze import Breeze, head_winds
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


@lru_cache(maxsize=512)
def throws(rig: Rig, tip: TipPoint, wind: float) -> Array:
    """Return the reach of a tip at each distance of THROWS (rows): sure, likely, last water [m]; 0 beyond all.

    A field test of the tip calibrates the last water.
    """
    beyond = np.zeros((1, NONE))
    if tip.fan > PLAIN or wind > STRONGEST_WIND:
        return np.zeros((len(THROWS) + 1, NONE))
    test = next(item for item in rig.tips if item.id == tip.tip).field_test
    bore, launch = nozzle_bore(tip.size), float(rig.crew.wand_height)
    ratio = OUTER_CLUMP if test is None else _measured_ratio(bore, launch, test)
    return np.vstack([np.column_stack(reach_table(bore, tip.tip_pressure, THROWS, launch, wind, ratio)), beyond])


@lru_cache(maxsize=64)
def _measured_ratio(bore: float, launch: float, test: FieldTest) -> float:
    mark = (float(test.pressure), float(test.standoff), float(test.highest_mark))
    return field_clump_ratio(bore, *mark, launch, float(test.head_wind))


def heights_reached(rig: Rig, piece: WashPiece, s: Array, out: Array, breeze: Breeze) -> tuple[Array, list[str]]:
    """Return what the weakest of a piece's tips reaches at its farther end from many places, and which tip that is.

    Heights are above the ground at the place: sure, likely and last water in three columns [m].
    """
    ends = np.array([piece.left, piece.right])[:, None] - s
    away = np.hypot(out, np.abs(ends).max(axis=0))
    wind = head_winds(breeze, ends, np.broadcast_to(out, ends.shape)).max(axis=0)
    step = np.searchsorted(THROWS, away - 1e-9)
    nearer = np.where(np.take((*THROWS, np.inf), step) - away > 1e-6, np.maximum(step - 1, 0), step)
    found = np.full((len(piece.tips), len(s), NONE), 0.0)
    for tip, heights in zip(piece.tips, found, strict=True):
        for speed in np.unique(wind):
            at = wind == speed
            table = throws(rig, tip, float(speed))
            heights[at] = np.minimum(table[step[at]], table[nearer[at]])
    weakest = np.lexsort((found[:, :, 2], found[:, :, 0], found[:, :, 1]), axis=0)[0]
    return found[weakest, np.arange(len(s))], [piece.tips[k].tip for k in weakest.tolist()]


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
    thrown, steep = np.full(fire.struck.shape, NONE), np.zeros(fire.struck.shape, bool)
    known: dict[tuple[float, float, tuple[TipPoint, ...]], Array] = {}
    for row, piece in enumerate(washes):
        if piece.tips and len(places):
            stretch = (piece.left, piece.right, piece.tips)
            if stretch not in known:
                reached = heights_reached(rig, piece, s, out, breeze)[0]
                known[stretch] = np.column_stack([reached, np.full(len(s), np.inf)])
            thrown[row] = (known[stretch] >= (piece.level - ground)[:, None]).argmax(axis=1)
        steep[row] = _steepness(placed, piece, s, out, piece.level - ground, rig) > STEEPEST_AT_LAPS
    thrown[:, ~spots] = NONE
    power = np.array([piece.power for piece in washes], bool)[:, None]
    straight = np.where(fire.struck & ~steep & ~fire.near, thrown, NONE)
    rained = ~fire.struck & ~fire.under & ~power & (thrown < 2)
    levels = np.minimum(straight, np.where(rained, 2, NONE))
    behind = (straight.min(axis=1, initial=NONE) >= NONE) & (~fire.struck[:, spots]).any(axis=1)
    hands = _hand_work(placed, places, washes, rig) & behind[:, None] & ~fire.near
    return Reach(thrown, steep, fire, np.where(hands, 0, levels))


def _steepness(placed: PlacedWall, piece: WashPiece, s: Array, out: Array, rise: Array, rig: Rig) -> Array:
    """Return how steeply the straight line to the nearest of a piece rises where its wall has laps [deg], else 0."""
    if placed.wall.material not in LAPPED:
        return np.zeros(len(s))
    beside = np.maximum(np.maximum(piece.left - s, s - piece.right), 0.0)
    return np.degrees(np.arctan2(rise - float(rig.crew.wand_height), np.hypot(out, beside)))


def _hand_work(placed: PlacedWall, places: Sequence[Candidate], washes: Sequence[WashPiece], rig: Rig) -> Flags:
    """Return which piece a wand held up from which ladder wets at hand-spray pressure."""
    found = np.zeros((len(washes), len(places)), bool)
    for k, place in enumerate(places):
        if place.kind == "ladder" and place.out <= LADDER_SPRAY + 1e-9:
            height = placed.ground_at(place.s) + place.step + hand_height(rig)
            found[:, k] = [
                bool(piece.tips) and piece.level <= height and abs(piece.s - place.s) <= LADDER_REACH
                for piece in washes
            ]
    return found
