"""Standing spots along each wall, simple and safe: where to stand, what is surely reached, where to look from."""

from __future__ import annotations

import math
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, LENGTH, show
from sightwash.planning.methods import ARM_REACH, SurfaceMethod
from sightwash.planning.missed import MissedStrip
from sightwash.planning.tips import TipPoint
from sightwash.planning.weather import Air
from sightwash.science.jet_fit import field_clump_ratio
from sightwash.science.jet_reach import ReachBand, reach_band
from sightwash.science.tips import nozzle_bore
from sightwash.site.model import Site
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall

NEAREST: Final = 6 * FOOT
FARTHEST: Final = 30 * FOOT
DOOR_MARGIN: Final = 1.0 * FOOT


@dataclass(frozen=True, slots=True)
class StandingSpot:
    """One place to stand [m]: which stretch of wall it serves, how high it must and can reach."""

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
    why: Why


@dataclass(frozen=True, slots=True)
class LookSpot:
    """One place to look at a missed strip from, on the ground or on a ladder [m]."""

    id: str
    strip: str
    place: tuple[float, float]
    kind: str
    step: float
    words: str
    allowed: bool


@dataclass(frozen=True, slots=True)
class Standing:
    """All spots of one wall, the hose that the farthest needs [m], and what cannot be reached and why."""

    wall: str
    spots: tuple[StandingSpot, ...]
    looks: tuple[LookSpot, ...]
    unreached: tuple[str, ...]


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
    placed: PlacedWall,
    methods: tuple[SurfaceMethod, ...],
    strips: tuple[MissedStrip, ...],
    rig: Rig,
    air: Air,
    no_standing: BaseGeometry,
) -> Standing:
    """Return standing and looking spots for one wall."""
    looks = tuple(_looks(strips))
    worked = [m for m in methods if m.treat or m.rinse or m.power_rinse]
    if not worked:
        return Standing(placed.wall.id, (), looks, ())
    hardest = max(worked, key=lambda m: m.top)
    tip = hardest.power_rinse or hardest.treat or hardest.rinse
    assert tip is not None
    needed = hardest.top - min(placed.ground_at(0.0), placed.ground_at(placed.length))
    bands = reach_bands(rig, tip, needed, air.wind)
    farthest, verdict = _farthest_useful(bands, needed)
    if farthest is None:
        best = max(bands.values(), key=lambda band: band.high)
        words = (
            f"{hardest.target} reaches {show(needed, LENGTH)} up; {tip.tip} throws at most {show(best.high, LENGTH)}: "
            "a longer pole, a larger plain tip or a lift"
        )
        return Standing(placed.wall.id, (), looks, (words,))
    spots = tuple(_spots(placed, needed, tip, bands, farthest, verdict, no_standing))
    blocked = tuple(f"no place to stand before {show(s, LENGTH)} along" for s in _bare_stretches(placed, spots))
    return Standing(placed.wall.id, spots, looks, blocked)


def reach_bands(rig: Rig, tip: TipPoint, needed: float, head_wind: float) -> dict[float, ReachBand]:
    """Return the reach band of a tip at each whole-foot distance from the wall; a field test calibrates it."""
    distances = [feet * FOOT for feet in range(round(NEAREST / FOOT), round(FARTHEST / FOOT) + 1, 2)]
    wand_top = ARM_REACH + float(rig.wand_length)
    if needed <= wand_top:
        near = ReachBand(wand_top, wand_top, wand_top, False)
        return {distance: near for distance in distances if distance <= NEAREST + 4 * FOOT}
    bore = nozzle_bore(tip.size)
    ratio = _clump_ratio(rig, tip, bore)
    return dict(_plain_bands(bore, tip.tip_pressure, tuple(distances), float(rig.crew.wand_height), head_wind, ratio))


@lru_cache(maxsize=256)
def _plain_bands(
    bore: float, pressure: float, distances: tuple[float, ...], launch: float, head_wind: float, ratio: float
) -> tuple[tuple[float, ReachBand], ...]:
    """Return the bands of a plain jet; that they are extrapolated shows in the bands themselves."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutsidePublishedRange)
        return tuple((d, reach_band(bore, pressure, d, launch, head_wind, ratio)) for d in distances)


def _clump_ratio(rig: Rig, tip: TipPoint, bore: float) -> float:
    own = next(item for item in rig.tips if item.id == tip.tip)
    test = own.field_test
    if test is None:
        return 0.90
    return field_clump_ratio(
        bore,
        float(test.pressure),
        float(test.standoff),
        float(test.highest_mark),
        float(rig.crew.wand_height),
        float(test.head_wind),
    )


def _farthest_useful(bands: dict[float, ReachBand], needed: float) -> tuple[float | None, str]:
    """Return the farthest distance that surely reaches, else likely, else only by test on site."""
    for verdict, height in (("sure", "low"), ("likely", "mid"), ("test on site", "high")):
        useful = [distance for distance, band in bands.items() if getattr(band, height) >= needed]
        if useful:
            return max(useful), verdict
    return None, "out of reach"


def _spots(
    placed: PlacedWall,
    needed: float,
    tip: TipPoint,
    bands: dict[float, ReachBand],
    farthest: float,
    verdict: str,
    no_standing: BaseGeometry,
) -> Iterator[StandingSpot]:
    """Yield spots at the distance where one serves the longest stretch: the chord of the reach circle."""
    closest = min(bands)
    out = max(closest, min(farthest * math.sqrt(0.5), farthest))
    half = math.sqrt(max(farthest**2 - out**2, 0.0)) or 2 * FOOT
    count = max(math.ceil(placed.length / (2 * half) - 1e-9), 1)
    step = placed.length / count
    for number in range(count):
        left, right = number * step, (number + 1) * step
        s = _allowed_place(placed, left, right, out, no_standing)
        if s is None:
            continue
        band = bands[min(bands, key=lambda d: abs(d - farthest))]
        x, y = (float(v) for v in placed.point(s, out)[:2])
        rule = f"{show(out, LENGTH)} out serves {show(step, LENGTH)} of wall: {verdict} to {show(needed, LENGTH)} up"
        yield StandingSpot(
            f"{placed.wall.id}-spot-{number + 1}",
            placed.wall.id,
            (x, y),
            s,
            out,
            left,
            right,
            needed,
            band.low,
            band.mid,
            band.high,
            verdict,
            tip.tip,
            Why(rule, ("jet-band-judgement", "practice-doors")),
        )


def _allowed_place(
    placed: PlacedWall, left: float, right: float, out: float, no_standing: BaseGeometry
) -> float | None:
    """Return the place nearest the middle of a stretch that is allowed and not square before a door."""
    middle = (left + right) / 2
    places = sorted(np.linspace(left, right, 25).tolist(), key=lambda s: abs(s - middle))
    for s in places:
        x, y = placed.point(s, out)[:2]
        before_door = any(
            door.left - DOOR_MARGIN <= s <= door.left + door.width + DOOR_MARGIN for door in placed.wall.doors
        )
        if not before_door and not no_standing.covers(shapely.Point(x, y)):
            return float(s)
    return None


def _bare_stretches(placed: PlacedWall, spots: tuple[StandingSpot, ...]) -> Iterator[float]:
    reached = sorted((spot.left, spot.right) for spot in spots)
    at = 0.0
    for left, right in reached:
        if left > at + 0.01:
            yield at
        at = max(at, right)
    if at < placed.length - 0.01:
        yield at


def _looks(strips: tuple[MissedStrip, ...]) -> Iterator[LookSpot]:
    for strip in strips:
        for remedy in strip.remedies[:1]:
            yield LookSpot(
                f"look-{strip.id}", strip.id, remedy.place, remedy.kind, remedy.step, remedy.words, remedy.allowed
            )
