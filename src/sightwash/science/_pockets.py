"""Pockets that a disc leaves along the outlines of a ground, from the places of its middle.

Where the disc is held from two sides its middle is at a convex corner of the ground for its middle; between the two
feet, the nearest places of the outlines, its rim is an arc that cuts a pocket off. Arcs and outlines together part the
ground into faces, and nothing has to be laid over anything else: only arcs that cross are noded.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from sightwash.science._rims import SAGITTA, Edges, Floats, Ints, Shapes, chord_span, sides
from sightwash.science._rings import Rings, rings_of

BLUNT: Final = 0.02
"""A corner that turns less than this holds a pocket less than 0.00005 of the radius deep [rad]."""
STRAY: Final = 0.2
"""Feet whose arc differs from the corner's turn by more than this are not its feet [rad]."""


class Faces(NamedTuple):
    """Parts of a ground that do not overlap, and whether the disc sweeps each."""

    shapes: Shapes
    swept: NDArray[np.bool_]


class _Feet(NamedTuple):
    """Places on outlines nearest to points: where, on which outline, how far along it."""

    point: Floats
    ring: Ints
    along: Floats


def faces_of(ground: MultiPolygon, centres: MultiPolygon, radius: float) -> Faces:
    """Return the parts of a ground that a disc sweeps and those that it leaves; ``centres`` is where its middle is."""
    rings = rings_of(shapely.orient_polygons(ground))
    span = chord_span(radius, SAGITTA)
    arcs, feet = _arcs(rings, sides(centres, inward=True), radius, span)
    if not len(rings.start):
        return Faces(np.array([], dtype=np.object_), np.zeros(0, dtype=np.bool_))
    lines = np.concatenate([_noded(arcs), _stretches(rings, feet)])
    shapes = shapely.get_parts(shapely.polygonize(lines))
    inner = shapely.point_on_surface(shapes)
    shapely.prepare(ground)
    shapely.prepare(centres)
    here = shapely.intersects(ground, inner)
    shapes, inner = shapes[here], inner[here]
    return Faces(shapes, np.asarray(shapely.dwithin(centres, inner, radius * math.cos(span / 2.0))))


def _arcs(rings: Rings, sides_of: Edges, radius: float, span: float) -> tuple[Shapes, _Feet]:
    """Return the arcs over all pockets and the feet at their ends."""
    at = np.flatnonzero(sides_of.turn > BLUNT)
    if not len(at):
        return np.array([], dtype=np.object_), _Feet(np.zeros((0, 2)), np.zeros(0, np.int64), np.zeros(0))
    middle = sides_of.corner[sides_of.after[at]]
    who, held = _held(rings, middle, radius / math.cos(span / 2.0) + 1e-6)
    near = 2.0 * radius * math.tan(span / 2.0) + 1e-6
    guesses = (middle - radius * sides_of.normal[edge] for edge in (at, sides_of.after[at]))
    found = [_nearest(middle, guess, who, held, near) for guess in guesses]
    first, last = (np.arctan2(*(feet.point - middle).T[::-1]) for feet in found)
    swing = (last - first) % (2.0 * math.pi)
    sound = (np.abs(swing - sides_of.turn[at]) < STRAY) & ~np.isnan(found[0].along + found[1].along)
    counts = np.maximum(np.ceil(swing / span), 1.0).astype(np.int64) + 1
    counts[~sound] = 0
    arc = np.repeat(np.arange(len(at)), counts)
    place = np.arange(len(arc)) - np.repeat(np.cumsum(counts) - counts, counts)
    angle = first[arc] + swing[arc] * place / np.maximum(counts[arc] - 1, 1)
    points = middle[arc] + radius * np.column_stack([np.cos(angle), np.sin(angle)])
    for feet, end in zip(found, (place == 0, place == counts[arc] - 1), strict=True):
        points[end] = feet.point[arc[end]]
    lines = np.asarray(shapely.linestrings(points, indices=np.unique(arc, return_inverse=True)[1]))
    return lines, _Feet(*(np.concatenate([part[sound] for part in parts]) for parts in zip(*found, strict=True)))


def _held(rings: Rings, middle: Floats, radius: float) -> tuple[Ints, _Feet]:
    """Return the places at which outlines come within a radius of middles, each with the number of its middle."""
    edges = np.asarray(shapely.linestrings(np.stack([rings.start, rings.end], axis=1)))
    who, edge = shapely.STRtree(edges).query(shapely.points(middle), predicate="dwithin", distance=radius)
    run = rings.end[edge] - rings.start[edge]
    share = np.sum((middle[who] - rings.start[edge]) * run, axis=1) / np.maximum(np.sum(run**2, axis=1), 1e-300)
    share = np.clip(share, 0.0, 1.0)
    foot = rings.start[edge] + share[:, None] * run
    foot[share == 1.0] = rings.end[edge][share == 1.0]
    ring = rings.ring[edge]
    after = np.where(edge == rings.first[ring] + rings.size[ring] - 1, rings.first[ring], edge + 1)
    along = np.where(share == 1.0, rings.along[after], rings.along[edge] + share * np.hypot(run[:, 0], run[:, 1]))
    return who, _Feet(foot, ring, along)


def _nearest(middle: Floats, guess: Floats, who: Ints, held: _Feet, near: float) -> _Feet:
    """Return for each middle the place nearest to it that lies near a guess; not a number where there is none."""
    away, off = np.hypot(*(held.point - middle[who]).T), np.hypot(*(held.point - guess[who]).T)
    far = off > near
    order = np.lexsort((np.where(far, off, away), far, who))
    best = order[np.diff(who[order], prepend=-1) > 0]
    feet = _Feet(guess.copy(), np.zeros(len(guess), np.int64), np.full(len(guess), np.nan))
    for part, values in zip(feet, held, strict=True):
        part[who[best]] = values[best]
    return feet


def _noded(arcs: Shapes) -> Shapes:
    """Return arcs, those that cross each other cut where they do."""
    if not len(arcs):
        return arcs
    crossing = np.unique(shapely.STRtree(arcs).query(arcs, predicate="crosses"))
    rest = np.ones(len(arcs), dtype=np.bool_)
    rest[crossing] = False
    return np.concatenate([arcs[rest], shapely.get_parts(shapely.union_all(arcs[crossing]))])


def _stretches(rings: Rings, feet: _Feet) -> Shapes:
    """Return the outlines, cut at feet."""
    count = len(rings.start)
    points = np.concatenate([rings.start, feet.point, rings.end[rings.first + rings.size - 1]])
    ring = np.concatenate([rings.ring, feet.ring, np.arange(len(rings.first))])
    along = np.concatenate([rings.along, feet.along, rings.around])
    cut = np.zeros(len(points), dtype=np.bool_)
    cut[count : count + len(feet.ring)] = True
    cut[count + len(feet.ring) :] = True
    order = np.lexsort((along, ring))
    points, ring, cut = points[order], ring[order], cut[order]
    new = np.append(True, (points[1:] != points[:-1]).any(axis=1) | (ring[1:] != ring[:-1]))
    group = np.cumsum(new) - 1
    cut = np.bincount(group, cut) > 0
    points, ring = points[new], ring[new]
    copies = np.where(cut, 2, 1)
    place = np.repeat(np.arange(len(points)), copies)
    second = np.append(False, place[1:] == place[:-1])
    piece = np.cumsum(second | np.append(False, ring[place][1:] != ring[place][:-1]))
    full = np.bincount(piece)[piece] > 1
    return np.asarray(shapely.linestrings(points[place[full]], indices=np.unique(piece[full], return_inverse=True)[1]))
