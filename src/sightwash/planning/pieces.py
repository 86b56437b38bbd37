"""Pieces of a wall: what must be reached by a thrown jet and what must be looked at, in short lengths."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.units import FOOT
from sightwash.planning.methods import ARM_REACH, SurfaceMethod
from sightwash.planning.missed import MissedStrip
from sightwash.planning.regions import areas_of, shape_of
from sightwash.planning.tips import TipPoint
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall

WASH_LENGTH: Final = 8 * FOOT
LOOK_LENGTH: Final = 16 * FOOT
LOOK_SHARES: Final = (0.5, 0.9, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class WashPiece:
    """A stretch of one surface that a jet must reach: its middle, its upper edge above the ground there, its tips."""

    id: str
    target: str
    s: float
    left: float
    right: float
    bottom: float
    top: float
    tips: tuple[TipPoint, ...]


@dataclass(frozen=True, slots=True, eq=False)
class LookPiece:
    """A part of a missed strip that somebody must look at; ``share`` counts from its top edge down."""

    id: str
    strip: str
    s: float
    share: float
    over: str | None
    shape: BaseGeometry


def wash_pieces(placed: PlacedWall, methods: tuple[SurfaceMethod, ...], rig: Rig) -> tuple[WashPiece, ...]:
    """Return the pieces that are out of a wand's reach and so must be thrown at, from left to right."""
    by_hand = ARM_REACH + float(rig.wand_length)
    found: list[WashPiece] = []
    for method in methods:
        tips = tuple(tip for tip in (method.treat, method.power_rinse or method.rinse) if tip is not None)
        if not tips:
            continue
        count = max(math.ceil(method.length / WASH_LENGTH - 1e-9), 1)
        step = method.length / count
        for k in range(count):
            left = method.left + k * step
            ground = placed.ground_at(left + step / 2)
            if method.top - ground > by_hand:
                found.append(
                    WashPiece(
                        f"{method.target}/{k + 1}", method.target, left + step / 2, left, left + step,
                        method.bottom - ground, method.top - ground, tips,
                    )
                )  # fmt: skip
    return tuple(sorted(found, key=lambda piece: (piece.s, piece.id)))


def look_pieces(placed: PlacedWall, strips: tuple[MissedStrip, ...]) -> tuple[LookPiece, ...]:
    """Return every missed strip cut along its length and into what half, 90 % and all of its height add."""
    found: list[LookPiece] = []
    for strip in strips:
        shape = shape_of(strip.region)
        left, bottom, right, top = shape.bounds
        cuts = _cuts(placed, left, right)
        height = strip.top - strip.bottom
        edges = [top, *(strip.top - share * height for share in LOOK_SHARES[:-1]), bottom]
        for k, (a, b) in enumerate(itertools.pairwise(cuts)):
            for share, upper, lower in zip(LOOK_SHARES, edges, edges[1:], strict=False):
                part = shape.intersection(shapely.box(a, lower, b, upper))
                if areas_of(part):
                    found.append(
                        LookPiece(
                            f"{strip.id}/{k + 1}/{share:.0%}",
                            strip.id,
                            (a + b) / 2,
                            share,
                            strip.over,
                            part,
                        )
                    )
    return tuple(found)


def _cuts(placed: PlacedWall, left: float, right: float) -> list[float]:
    """Return where a strip is cut: even lengths, and the middle of every blade sign, which hides one side."""
    count = max(math.ceil((right - left) / LOOK_LENGTH - 1e-9), 1)
    even = [left + k * (right - left) / count for k in range(count + 1)]
    signs = [p.left + p.width / 2 for p in placed.wall.projections if p.kind == "blade sign"]
    return sorted({*even, *(s for s in signs if left < s < right)})
