"""Pieces of a wall: what must be reached by a thrown jet and what must be looked at, in short lengths."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.units import FOOT
from sightwash.planning.methods import ARM_REACH, FACES, SurfaceMethod
from sightwash.planning.missed import MissedStrip
from sightwash.planning.regions import areas_of, shape_of
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.tips import TipPoint
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall
from sightwash.site.walls import Projection

WASH_LENGTH: Final = 8 * FOOT
LOOK_LENGTH: Final = 16 * FOOT
LEAST_CUT: Final = 0.01
"""No piece is shorter than this [m]."""
EDGE: Final = 1e-4
"""The ends of a piece are not asked how high it is: there the next one begins [m]."""
LOOK_SHARES: Final = (0.5, 0.9, 1.0)


@dataclass(frozen=True, slots=True)
class Face:
    """The face of a projection that a piece is part of: ``top``, ``front`` or ``underside``."""

    item: Projection
    name: str


@dataclass(frozen=True, slots=True, eq=False)
class WashPiece:
    """A stretch of one surface that is out of a wand's reach: its middle, its edges above the ground there, its tips.

    ``level`` is the upper edge in the wall's own heights [m]; ``face`` is None for a piece of the wall itself;
    ``power`` says that a power rinse must strike it. Without ``tips`` no tip on the rig does its work.
    """

    id: str
    target: str
    s: float
    left: float
    right: float
    bottom: float
    top: float
    level: float
    face: Face | None
    power: bool
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
    patches = {patch.id: shape_of(patch.region) for patch in plan_wall_takeoff(placed).patches}
    faces = {f"{item.id}-{name}": Face(item, name) for item in placed.wall.projections for name in FACES}
    found: list[WashPiece] = []
    for method in methods:
        if method.strength > 0 or method.rinsed:
            found += _cut(placed, method, patches.get(method.target), faces.get(method.target), rig)
    return tuple(sorted(found, key=lambda piece: (piece.s, piece.id)))


def _cut(
    placed: PlacedWall, method: SurfaceMethod, shape: BaseGeometry | None, face: Face | None, rig: Rig
) -> Iterator[WashPiece]:
    by_hand = hand_height(rig)
    cuts = _cuts(method.left, method.left + method.length, WASH_LENGTH, (*_signs(placed), *_steps(placed)))
    for k, (left, right) in enumerate(itertools.pairwise(cuts)):
        bottom, top = method.bottom, method.top
        if shape is not None:
            parts = areas_of(shapely.clip_by_rect(shape, left + EDGE, bottom - 1.0, right - EDGE, top + 1.0))
            if not parts:
                continue
            bottom, top = min(p.bounds[1] for p in parts), max(p.bounds[3] for p in parts)
        ground = min(placed.ground_at(left), placed.ground_at(right))
        if top - ground > by_hand:
            yield WashPiece(
                f"{method.target}/{k + 1}", method.target, (left + right) / 2, left, right,
                bottom - ground, top - ground, top, face, method.power_rinse is not None, _tips(method),
            )  # fmt: skip


def hand_height(rig: Rig) -> float:
    """Return the height that the tip of a wand held up reaches above the feet [m]."""
    return ARM_REACH + float(rig.wand_length)


def _tips(method: SurfaceMethod) -> tuple[TipPoint, ...]:
    """Return the tips that a surface is treated and rinsed with; none where one of them is not on hand."""
    wanted = []
    if method.strength > 0:
        wanted.append(method.treat)
    if method.rinsed:
        wanted.append(method.power_rinse or method.rinse)
    found = tuple(tip for tip in wanted if tip is not None)
    return found if len(found) == len(wanted) else ()


def look_pieces(placed: PlacedWall, strips: tuple[MissedStrip, ...]) -> tuple[LookPiece, ...]:
    """Return every missed strip cut along its length and into what half, 90 % and all of its height add."""
    found: list[LookPiece] = []
    for strip in strips:
        shape = shape_of(strip.region)
        left, bottom, right, top = shape.bounds
        cuts = _cuts(left, right, LOOK_LENGTH, _signs(placed))
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


def _cuts(left: float, right: float, longest: float, breaks: Sequence[float]) -> list[float]:
    """Return where a stretch is cut: at even lengths and at the breaks inside it."""
    count = max(math.ceil((right - left) / longest - 1e-9), 1)
    even = [left + k * (right - left) / count for k in range(count + 1)]
    return sorted({*even, *(s for s in breaks if left + LEAST_CUT < s < right - LEAST_CUT)})


def _signs(placed: PlacedWall) -> list[float]:
    """Return the middle of every blade sign, which hides one side from the other."""
    return [item.left + item.width / 2 for item in placed.wall.projections if item.kind == "blade sign"]


def _steps(placed: PlacedWall) -> list[float]:
    """Return where the height of what is washed may step: at corners of the top, at ends of what touches the wall."""
    touching = [item for item in placed.wall.projections if item.gap <= 0.0]
    ends = [end for item in touching for end in (item.left, item.left + item.width)]
    return [*(float(point.left) for point in placed.wall.profile), *(float(end) for end in ends)]
