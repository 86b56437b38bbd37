"""Outlines in site metres made fit for walls: turned the right way, without doubled or needless corners.

A corner is dropped only where every edge that the wall then runs over keeps within ``STRAIGHT_OFFSET``
of it and within ``STRAIGHT_ANGLE`` of its bearing, so that no length changes by more than 1 in 10 million.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely

from sightwash.site.imports.frame import Points
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import Finding

REPEATED: Final = 0.001
STRAIGHT_OFFSET: Final = 0.010
STRAIGHT_ANGLE: Final = 0.025
DECIMALS: Final = 5
SMALLEST_BUILDING: Final = 1.0
SMALLEST_YARD: Final = 0.01

_SIDES: Final = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


def signed_area(ring: Points) -> float:
    """Return the area inside an open ring, positive where it runs counter-clockwise."""
    x, y = (ring - ring[0]).T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2.0)


def clean_ring(ring: Points, clockwise: bool = False) -> Points:
    """Return an open ring in the wanted sense, from its south-west corner, rounded to 0.01 mm.

    Where the ring starts and which way it runs in the file makes no difference.
    """
    turned = ring[::-1] if (signed_area(ring) < 0) != clockwise else ring
    middle = (turned.min(axis=0) + turned.max(axis=0)) / 2.0
    far = np.sum((turned - middle) ** 2, axis=1)
    corner = max(range(len(turned)), key=lambda i: (far[i], turned[i, 0], turned[i, 1]))
    corners = _straightened(_without_repeats(np.roll(turned, -corner, axis=0)))
    rounded: Points = np.round(corners, DECIMALS) + 0.0
    start = min(range(len(rounded)), key=lambda i: (rounded[i, 0] + rounded[i, 1], rounded[i, 0]))
    return np.roll(rounded, -start, axis=0)


def _without_repeats(ring: Points) -> Points:
    kept = [ring[0]]
    for point in ring[1:]:
        if np.hypot(*(point - kept[-1])) > REPEATED:
            kept.append(point)
    while len(kept) > 1 and np.hypot(*(kept[-1] - kept[0])) <= REPEATED:
        kept.pop()
    return np.array(kept)


def _straightened(ring: Points) -> Points:
    """Drop the corners that lie on a straight run; the first corner is known to be a real one."""
    closed = np.vstack((ring, ring[:1]))
    kept, here = [0], 0
    while here < len(ring):
        last = here + 1
        while last < len(ring) and _is_straight(closed[here : last + 2]):
            last += 1
        kept.append(last)
        here = last
    return closed[kept[:-1]]


def _is_straight(run: Points) -> bool:
    chord = run[-1] - run[0]
    length = float(np.hypot(*chord))
    if length <= REPEATED:
        return False
    along = (run - run[0]) @ chord / length
    across = (run - run[0]) @ np.array((-chord[1], chord[0])) / length
    steps, slips = np.diff(along), np.abs(np.diff(across))
    near = np.abs(across).max() <= STRAIGHT_OFFSET
    return bool(near and (slips <= np.tan(np.radians(STRAIGHT_ANGLE)) * steps).all())


def shape_fault(path: KeyPath, rings: Sequence[Points]) -> Finding | None:
    """Return what keeps open rings, the outline first, from enclosing one piece of ground."""
    for index, ring in enumerate(rings):
        if shapely.MultiPoint(ring).convex_hull.area < (SMALLEST_YARD if index else SMALLEST_BUILDING):
            return _no_area(path, index)
    shape = shapely.Polygon(rings[0], rings[1:])
    if shape.is_valid:
        return None if shape.area >= SMALLEST_BUILDING else _no_area(path, 0)
    words, _, place = shapely.is_valid_reason(shape).partition("[")
    where = np.array([float(part) for part in re.findall(r"-?[\d.]+(?:e-?\d+)?", place)[:2]])
    index, near = min(
        ((index, int(np.argmin(np.hypot(*(ring - where).T)))) for index, ring in enumerate(rings)),
        key=lambda found: float(np.hypot(*(rings[found[0]][found[1]] - where))),
    )
    return Finding(
        "self-crossing",
        f"the outline is not simple: {words.strip().lower()} near corner {near + 1}",
        (*path, index),
        "rings that neither cross nor overlap, yards inside their building",
        "draw the outline again, corners in walking order",
    )


def _no_area(path: KeyPath, index: int) -> Finding:
    expected = f"a yard of {SMALLEST_YARD:g} m2 or more" if index else f"a building of {SMALLEST_BUILDING:g} m2 or more"
    return Finding("no-area", "the ring encloses no ground", (*path, index), expected)


def facing(start: Points, end: Points) -> str:
    """Return the side that a wall faces, of eight; outside is on its right as it runs.

    >>> facing(np.array((0.0, 0.0)), np.array((5.0, 0.0)))
    'south'
    """
    east, north = end - start
    bearing = np.degrees(np.arctan2(north, -east))
    return _SIDES[int(np.floor((bearing + 22.5) / 45.0)) % 8]
