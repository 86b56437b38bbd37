"""The side that the hose comes from, whether it is dragged over washed ground, and the way out at the end."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
import shapely.ops
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.science.sweep import LaidPath
from sightwash.site.ground import RigPlace
from sightwash.site.model import Site
from sightwash.site.rig import Rig

SAMPLES: Final = 120
"""Places along the path at which the hose is looked at."""
POINTS: Final = 12
"""Places along the hose."""
JUST_NOW: Final = 2.0
"""Ground washed within this length of path is under the cleaner, not under the hose [m]."""


@dataclass(frozen=True, slots=True)
class HoseSide:
    """Where the rig stands for a surface, how far the hose has to reach, and what of it lies on washed ground.

    ``over_washed`` is the share of the hose on the surface that lies on washed ground, over the whole path;
    ``steps_back`` how far the way out at the end leads over washed ground [m].
    """

    rig_place: str | None
    farthest: float | None
    hose: float
    reaches: bool | None
    over_washed: float | None
    steps_back: float | None
    words: str
    why: Why


def rig_place(site: Site, target: BaseGeometry, heading: float) -> RigPlace | None:
    """Return the rig's place for a surface: the nearest on the side that is washed last, else the nearest."""
    ahead = np.array([math.cos(math.radians(heading)), math.sin(math.radians(heading))])

    def rank(place: RigPlace) -> tuple[bool, float]:
        near, at = (np.array(end.coords[0]) for end in shapely.ops.nearest_points(target, shapely.Point(place.at)))
        gap = float(np.hypot(*(at - near)))
        return float((at - near) @ ahead) < gap / 2.0, gap

    return min(site.rig_places, key=rank, default=None)


def plan_hose_side(
    site: Site, rig: Rig, laid: LaidPath, target: BaseGeometry, radius: float, heading: float
) -> HoseSide:
    """Return how the hose lies for a path."""
    why = Why(
        "a straight hose from the rig, on the side that is washed last where it may stand there, along the whole path",
        ("practice-ground-path",),
    )
    hose = float(sum(run.length for run in rig.hoses))
    place = rig_place(site, target, heading)
    if place is None:
        words = "no place for the rig is known: ask where it may stand, work toward it and finish there"
        return HoseSide(None, None, hose, None, None, None, words, why)
    at = (float(place.at[0]), float(place.at[1]))
    farthest = max(math.dist(at, corner) for line in laid.lines for corner in line.coords)
    reaches = farthest <= hose if rig.hoses else None
    over = _over_washed(laid, at, target, radius)
    back = _steps_back(laid, at, target, radius)
    words = "; ".join(_words(place.id, reaches, over, back))
    return HoseSide(place.id, farthest, hose, reaches, over, back, words, why)


def _over_washed(laid: LaidPath, rig: tuple[float, float], target: BaseGeometry, radius: float) -> float:
    """Return the share of the hose on the surface that lies on ground washed before."""
    pieces = np.vstack([np.hstack([c[:-1], c[1:]]) for c in (np.asarray(line.coords) for line in laid.lines)])
    lengths = np.hypot(pieces[:, 2] - pieces[:, 0], pieces[:, 3] - pieces[:, 1])
    done = np.cumsum(lengths)
    marks = (np.arange(SAMPLES) + 0.5) / SAMPLES * done[-1]
    number = np.minimum(np.searchsorted(done, marks), len(done) - 1)
    share = 1.0 - (done[number] - marks) / np.maximum(lengths[number], 1e-12)
    heads = pieces[number, :2] + share[:, None] * (pieces[number, 2:] - pieces[number, :2])
    steps = (np.arange(POINTS) + 0.5) / POINTS
    hose = heads[:, None, :] + steps[None, :, None] * (np.array(rig) - heads)[:, None, :]
    x, y = hose.reshape(-1, 2).T
    shapely.prepare(target)
    on_it = shapely.intersects_xy(target, x, y)
    if not on_it.any():
        return 0.0
    when = np.repeat(marks, POINTS)[on_it]
    tree = shapely.STRtree(np.asarray(shapely.linestrings(pieces.reshape(-1, 2, 2))))
    point, piece = tree.query(np.asarray(shapely.points(x[on_it], y[on_it])), predicate="dwithin", distance=radius)
    washed = np.zeros(len(when), dtype=np.bool_)
    washed[point[done[piece] < when[point] - JUST_NOW]] = True
    return float(washed.mean())


def _steps_back(laid: LaidPath, rig: tuple[float, float], target: BaseGeometry, radius: float) -> float:
    """Return how far the straight way from the end of the path to the rig leads over the surface."""
    end = laid.lines[-1].coords[-1]
    way = shapely.LineString([end, rig]).intersection(target)
    return max(float(way.length) - 2.0 * radius, 0.0)


def _words(place: str, reaches: bool | None, over: float, back: float) -> Iterator[str]:
    yield f"hose from {place}"
    if reaches is False:
        yield "it does not reach the whole surface: move the rig or add hose"
    if over > 0.1:
        yield f"{over:.0%} of the hose on the surface lies on washed ground: lift it over or have it carried"
    else:
        yield "it lies on ground that is still to be washed"
    yield (
        "the path ends at the way out: nobody steps back on wet ground"
        if back <= 1.0
        else "the way out at the end crosses washed ground: rinsed ground only, boots rinsed, slowly"
    )
