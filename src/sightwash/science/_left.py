"""What the pieces of a path leave of a target, looked for along the outlines of the ground for the head's middle.

A place is left only where the head's middle would have to come to an outline: passes lie closer than the head is wide.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from sightwash.science._offset import areas_of, united, without
from sightwash.science._rings import Floats, Ints, Rings

DEEP = 0.002  # m; looked for this far inside what the head's rim can come to
SHARP = 0.05  # sine of the turn from which a corner is looked at by itself
SMALL = 1e-4  # m2; a place left that is smaller is rounding
CHORDS = 48  # a quarter circle
FEW = 24  # an outline with so many edges or fewer is looked at beside each


class Samples(NamedTuple):
    """Points beside outlines that a head there cleans, by depth, and which of them are wanted: the farthest out.

    Each has its outline, the distance along it, and whether that outline is a shell.
    """

    points: Floats
    wanted: NDArray[np.bool_]
    ring: Ints
    along: Floats
    outer: NDArray[np.bool_]


def samples_of(rings: Rings, target: BaseGeometry, radius: float) -> Samples:
    """Return places beside outlines, a quarter of the radius apart, and whether each belongs to a prepared target."""
    run = rings.end - rings.start
    length = np.hypot(run[:, 0], run[:, 1])
    edge, share = _spread(rings, length, radius / 4.0)
    normal = np.column_stack([run[:, 1], -run[:, 0]]) / length[:, None]
    tips, outward = _tips(rings, normal)
    at = np.vstack([rings.start[edge] + share[:, None] * run[edge], rings.start[tips]])
    out = np.vstack([normal[edge], outward])
    points = np.stack([at + depth * out for depth in (radius - DEEP, radius / 2.0, 0.0)])
    wanted = np.zeros(points.shape[:2], dtype=np.bool_)
    for depth, row in enumerate(points):
        rest = ~wanted.any(axis=0)
        wanted[depth, rest] = shapely.intersects_xy(target, *row[rest].T)
    ring = np.append(rings.ring[edge], rings.ring[tips])
    along = np.append(rings.along[edge] + share * length[edge], rings.along[tips])
    return Samples(points, wanted, ring, along, rings.outer[ring])


def _spread(rings: Rings, length: Floats, apart: float) -> tuple[Ints, Floats]:
    """Return places along edges no farther apart, of a row of shorter edges one every so far: edge, share of it."""
    counts = np.ceil(length / apart).astype(np.int64)
    passed = np.floor((rings.along + length) / apart) > np.floor(rings.along / apart)
    counts[(counts == 1) & ~passed & (rings.size[rings.ring] > FEW)] = 0
    edge = np.repeat(np.arange(len(length)), counts)
    place = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts)
    return edge, (place + 0.5) / counts[edge]


def _tips(rings: Rings, normal: Floats) -> tuple[Ints, Floats]:
    """Return the edges that start at a corner round which a head's rim swings, and the way out of that corner."""
    number = np.arange(len(normal))
    before = np.where(number == rings.first[rings.ring], rings.first[rings.ring] + rings.size[rings.ring], number) - 1
    one, other = normal[before], normal
    tips = np.flatnonzero(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0] > SHARP)
    way = one[tips] + other[tips]
    return tips, way / np.maximum(np.hypot(way[:, 0], way[:, 1]), 1e-9)[:, None]


def left_of(samples: Samples, asked: NDArray[np.bool_], pieces: Floats, radius: float) -> NDArray[np.bool_]:
    """Return which of the points that are asked about straight pieces of a path do not come near enough to."""
    tree = shapely.STRtree(np.asarray(shapely.linestrings(pieces.reshape(-1, 2, 2))))
    left = asked.copy()
    points = np.asarray(shapely.points(samples.points[left]))
    near = tree.query(points, predicate="dwithin", distance=radius * (1.0 + 1e-9))[0]
    missing = np.ones(len(points), dtype=np.bool_)
    missing[near] = False
    left[left] = missing
    return left


def marks_of(samples: Samples, left: NDArray[np.bool_]) -> dict[int, Floats]:
    """Return, by outline, the distances along it, in order, beside which something is left."""
    any_depth = left.any(axis=0)
    ring, along = samples.ring[any_depth], samples.along[any_depth]
    return {int(number): np.sort(along[ring == number]) for number in np.unique(ring)}


def missed_parts(
    samples: Samples, left: NDArray[np.bool_], target: BaseGeometry, pieces: Floats, radius: float
) -> list[Polygon]:
    """Return what is left of a target around the points that are left."""
    if not left.any():
        return []
    x, y = samples.points[left].T
    reach = 2.0 * radius
    windows = areas_of(shapely.union_all(shapely.box(x - reach, y - reach, x + reach, y + reach)))
    lines = np.asarray(shapely.linestrings(pieces.reshape(-1, 2, 2)))
    tree = shapely.STRtree(lines)
    found: list[Polygon] = []
    for window in windows.geoms:
        near = np.unique(tree.query(window, predicate="dwithin", distance=radius))
        swept = united(np.asarray(shapely.buffer(lines[near], radius, quad_segs=CHORDS)))
        part = without(areas_of(target.intersection(window)), swept)
        found += [piece for piece in part.geoms if piece.area > SMALL]
    return found
