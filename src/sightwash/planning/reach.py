"""Reach of thrown water: how surely each piece of a wall is reached from each place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.basis.units import FOOT
from sightwash.planning.candidates import Candidate
from sightwash.planning.pieces import WashPiece
from sightwash.planning.tips import TipPoint
from sightwash.planning.weather import Air
from sightwash.science.jet_fit import field_clump_ratio
from sightwash.science.reach_table import ReachTable, reach_table
from sightwash.science.tips import nozzle_bore
from sightwash.site.model import Site
from sightwash.site.rig import FieldTest, Rig
from sightwash.site.shapes import PlacedWall

Flags = NDArray[np.bool_]
THROWS: Final = tuple(feet * FOOT for feet in range(6, 62, 4))
"""Distances at which reach is worked out; a place between two takes the farther one [m]."""
VERDICTS: Final = ("sure", "likely", "test on site")
LAPPED: Final = ("vinyl", "fibre cement", "wood", "painted metal")
STEEPEST_AT_LAPS: Final = 60.0
"""Steepest straight line from wand to piece where laps or flashing could be driven open [deg]; common practice."""


def head_wind(site: Site, placed: PlacedWall, air: Air) -> float:
    """Return the wind against a jet square to a wall [m/s]; the whole wind where its bearing is not known."""
    if air.wind_from is None:
        return air.wind
    toward = math.radians(air.wind_from + 180.0 - site.place.north)
    along_jet = -(math.sin(toward) * placed.outward[0] + math.cos(toward) * placed.outward[1])
    return float(-air.wind * along_jet)


@lru_cache(maxsize=256)
def throws(rig: Rig, tip: TipPoint, wind: float) -> ReachTable:
    """Return the reach of a plain tip at each distance of THROWS; a field test of the tip calibrates it."""
    test = next(item for item in rig.tips if item.id == tip.tip).field_test
    bore, launch = nozzle_bore(tip.size), float(rig.crew.wand_height)
    ratio = 0.90
    if test is not None:
        ratio = _measured_ratio(bore, launch, test)
    return reach_table(bore, tip.tip_pressure, THROWS, launch, wind, ratio)


@lru_cache(maxsize=64)
def _measured_ratio(bore: float, launch: float, test: FieldTest) -> float:
    mark = (float(test.pressure), float(test.standoff), float(test.highest_mark))
    return field_clump_ratio(bore, *mark, launch, float(test.head_wind))


def reach_levels(
    placed: PlacedWall, places: Sequence[Candidate], washes: Sequence[WashPiece], rig: Rig, wind: float
) -> NDArray[np.int64]:
    """Return for every piece and place 0, 1 or 2 where its reach is sure, likely or to be tested, else 3."""
    worst = np.full((len(washes), len(places)), len(VERDICTS), int)
    if not len(places) or not washes:
        return worst
    spots = np.array([place.kind == "spot" for place in places])
    s, out = np.array([place.s for place in places]), np.array([place.out for place in places])
    hidden = _screened(placed, places, washes)
    for row, piece in enumerate(washes):
        away = np.hypot(out, np.maximum(np.abs(piece.left - s), np.abs(piece.right - s)))
        step = np.searchsorted(THROWS, away - 1e-9)
        level = np.zeros(len(places), int)
        for tip in piece.tips:
            table = throws(rig, tip, wind)
            heights = np.column_stack([*table, np.full(len(THROWS), np.inf)])
            heights = np.vstack([heights, [0.0, 0.0, 0.0, np.inf]])
            level = np.maximum(level, (heights[step] >= piece.top).argmax(axis=1))
        allowed = spots & ~hidden[row] & (_steepness(placed, piece, away, rig) <= STEEPEST_AT_LAPS)
        worst[row] = np.where(allowed, level, len(VERDICTS))
    return worst


def _steepness(placed: PlacedWall, piece: WashPiece, away: NDArray[np.float64], rig: Rig) -> NDArray[np.float64]:
    """Return how steeply the straight line to a piece rises where its wall has laps [deg]; 0 on other walls."""
    if placed.wall.material not in LAPPED:
        return np.zeros(len(away))
    return np.degrees(np.arctan2(piece.top - float(rig.crew.wand_height), away))


def _screened(placed: PlacedWall, places: Sequence[Candidate], washes: Sequence[WashPiece]) -> Flags:
    """Return where something upright (a blade sign, a column) stands in the plan between a place and a piece."""
    upright = [p for p in placed.wall.projections if p.kind in ("blade sign", "column", "pipe")]
    screened = np.zeros((len(washes), len(places)), bool)
    for item in upright:
        rows = [
            k for k, piece in enumerate(washes) if item.bottom < piece.top and item.bottom + item.height > piece.bottom
        ]
        body = shapely.box(item.left, item.gap, item.left + item.width, item.gap + item.depth)
        for row in rows:
            ends = [[(place.s, place.out), (washes[row].s, 0.0)] for place in places]
            screened[row] |= np.asarray(shapely.intersects(shapely.linestrings(ends), body), bool)
    return screened


def least_reach(rig: Rig, piece: WashPiece, place: Candidate, wind: float) -> tuple[float, float, float, str]:
    """Return the reach at a piece of the weakest of its tips: sure, likely, last water, and which tip it is."""
    away = math.hypot(place.out, max(abs(piece.left - place.s), abs(piece.right - place.s)))
    step = int(np.searchsorted(THROWS, away - 1e-9))
    found = []
    for tip in piece.tips:
        table = throws(rig, tip, wind)
        reach = tuple(float(heights[step]) if step < len(THROWS) else 0.0 for heights in table)
        found.append((reach[1], reach[0], reach[2], tip.tip))
    mid, low, high, name = min(found)
    return low, mid, high, name
