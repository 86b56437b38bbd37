"""Footprints in site metres as buildings and walls of a site document.

Every edge of an outline becomes a wall that runs left to right as seen from outside; a courtyard's
walls face the yard. Ids are read aloud: ``b1-south-2`` is the second wall of the first building that
faces south, ``b1-yard1-south-1`` one that faces into its first yard.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely

from sightwash.basis.units import LENGTH, show
from sightwash.site.imports.frame import Points
from sightwash.site.imports.rings import DECIMALS, facing
from sightwash.site.tree import KeyPath, Tree
from sightwash.site.wall_checks import Finding

SHORTEST_WALL: Final = 0.05
SHARED_GAP: Final = 0.10
SHARED_SLACK: Final = 0.02
MOST_OVERLAP: Final = 1.0


@dataclass(frozen=True, slots=True)
class Footprint:
    """One building: its clean rings (the outline first, then the yards) and what its file says of it."""

    path: KeyPath
    rings: tuple[Points, ...]
    name: str | None = None
    height: str | None = None
    metres_high: float | None = None
    height_note: str | None = None

    @property
    def solid(self) -> shapely.Polygon:
        """The footprint as a shape."""
        return shapely.Polygon(self.rings[0], self.rings[1:])


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of a building's rings, long enough to be a wall."""

    building: int
    yard: int
    start: Points
    end: Points

    @property
    def length(self) -> float:
        """Its length in metres."""
        return float(np.hypot(*(self.end - self.start)))

    @property
    def just_outside(self) -> shapely.LineString:
        """The same line, a hand's breadth outside the building."""
        east, north = (self.end - self.start) / self.length
        out = SHARED_GAP * np.array((north, -east))
        return shapely.LineString((self.start + out, self.end + out))


def overlaps(footprints: tuple[Footprint, ...]) -> Iterator[Finding]:
    """Yield every pair of footprints that cover the same ground."""
    solids = [footprint.solid for footprint in footprints]
    for first, second in sorted(shapely.STRtree(solids).query(solids, "intersects").T.tolist()):
        shared = solids[first].intersection(solids[second]).area if first < second else 0.0
        if shared > MOST_OVERLAP:
            yield Finding(
                "overlap",
                f"covers {shared:.1f} m2 of the ground of building {first + 1} in this file",
                footprints[second].path,
                "buildings that do not overlap",
                "take one of the two out; a part of a building lies inside its whole",
            )


def edges(footprints: tuple[Footprint, ...]) -> tuple[Edge, ...]:
    """Return every edge of ``SHORTEST_WALL`` and more, in order round each ring."""
    return tuple(
        edge
        for number, footprint in enumerate(footprints)
        for yard, ring in enumerate(footprint.rings)
        for start, end in pairwise((*ring, ring[0]))
        if (edge := Edge(number, yard, start, end)).length >= SHORTEST_WALL
    )


def building_trees(footprints: tuple[Footprint, ...]) -> list[Tree]:
    """Return the ``buildings`` of a site document."""
    trees: list[Tree] = []
    for number, footprint in enumerate(footprints, 1):
        tree: dict[str, Tree] = {"id": f"b{number}", "outline": _ring_tree(footprint.rings[0])}
        if footprint.height is not None:
            tree["height"] = footprint.height
        if footprint.rings[1:]:
            tree["holes"] = [_ring_tree(ring) for ring in footprint.rings[1:]]
        if footprint.name is not None:
            tree["name"] = footprint.name
        trees.append(tree)
    return trees


def wall_trees(footprints: tuple[Footprint, ...], system: str) -> list[Tree]:
    """Return the ``walls`` of a site document; what stands against another building is left out of the work."""
    found = edges(footprints)
    shared = _shared_lengths(footprints, found)
    counts: Counter[str] = Counter()
    trees: list[Tree] = []
    for edge, contacts in zip(found, shared, strict=True):
        footprint = footprints[edge.building]
        side = facing(edge.start, edge.end)
        stem = f"b{edge.building + 1}-{f'yard{edge.yard}-' if edge.yard else ''}{side}"
        counts[stem] += 1
        yard = f", yard {edge.yard}" if edge.yard else ""
        owner = f", {footprint.name or f'building {edge.building + 1}'}" if len(footprints) > 1 else ""
        tree: dict[str, Tree] = {
            "id": f"{stem}-{counts[stem]}",
            "name": f"{side.capitalize()} wall {counts[stem]}{yard}{owner}",
            "building": f"b{edge.building + 1}",
            "start": _point_tree(edge.start),
            "end": _point_tree(edge.end),
        }
        if footprint.height is not None:
            tree["height"] = footprint.height
        excluded, remarks = _contact_words(edge, contacts, footprints, system)
        if excluded:
            tree["excluded"] = excluded
        notes = [note for note in (footprint.height_note, *remarks) if note]
        if notes:
            tree["note"] = " ".join(notes)
        trees.append(tree)
    return trees


def _shared_lengths(footprints: tuple[Footprint, ...], found: tuple[Edge, ...]) -> list[list[tuple[int, float]]]:
    """Return for each edge the buildings that stand against it and over what length."""
    solids = [footprint.solid for footprint in footprints]
    lines = [edge.just_outside for edge in found]
    shared: list[list[tuple[int, float]]] = [[] for _ in found]
    for index, other in sorted(shapely.STRtree(solids).query(lines, "intersects").T.tolist()):
        length = lines[index].intersection(solids[other]).length if other != found[index].building else 0.0
        if length > SHARED_SLACK:
            shared[index].append((other, float(length)))
    return shared


def _contact_words(
    edge: Edge, contacts: list[tuple[int, float]], footprints: tuple[Footprint, ...], system: str
) -> tuple[str | None, list[str]]:
    """Return why a wall is left out, or the remarks on what stands against it."""
    own = footprints[edge.building].metres_high
    heights = [footprints[other].metres_high for other, _ in contacts]
    names = ", ".join(f"b{other + 1}" for other, _ in contacts)
    stands_clear = own is not None and any(height is not None and height < own for height in heights)
    if contacts and sum(length for _, length in contacts) >= edge.length - SHARED_SLACK and not stands_clear:
        return f"stands against {names}; where that is lower, take this line out and enter what shows", []
    return None, [f"{show(length, LENGTH, system)} of it stand against b{other + 1}." for other, length in contacts]


def _ring_tree(ring: Points) -> list[Tree]:
    return [_point_tree(point) for point in ring]


def _point_tree(point: Points) -> list[Tree]:
    return [f"{value:.{DECIMALS}f} m" for value in point.tolist()]
