"""What can be seen of a facet from somewhere along a path, enclosed from inside and from outside.

What several bodies hide from a whole segment of eyes is bounded by arcs of conics, so it is not one exact polygon.
It is enclosed instead:

- *Inside.* What some sampled eye sees is seen.
- *Outside.* Let p be a point of the facet, e(a) and e(b) the ends of a straight piece of the path, and C one convex
  body that hides p from both: it meets the sightlines p-e(a) and p-e(b) in two points. The chord between them lies in
  C, and every sightline from p to the piece crosses that chord, for it stays in the triangle p, e(a), e(b). So p is
  hidden from the whole piece. What is hidden so on every piece is never seen.

Pieces are halved where the two differ until the difference is small enough or a fixed number of pieces is reached.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science._areas import (
    NOTHING,
    Shapes,
    Window,
    areal,
    as_shape,
    boxes_meet,
    window_of,
    without_specks,
)
from sightwash.science.contacts import Contact, contacts, swept_shadow
from sightwash.science.eye_path import EyePath, eye_path
from sightwash.science.facets import Floats, Frame
from sightwash.science.shadows import Facing, shadow_shapes
from sightwash.science.visibility import blocked_shapes, solids_before

SAME: Final = 1e-6
"""Places along a path nearer than this are one [m]."""


@dataclass(frozen=True, slots=True, eq=False)
class PathSight:
    """What is seen of a facet from a path: surely at least ``inside``, surely at most ``outside``.

    ``eyes`` are the sampled world points in order along the path, ``stations`` their distance along it and
    ``seen_areas`` what each sees, so that a caller can weigh time in view. ``proven`` says that the difference,
    ``gap_area``, is within the tolerance asked for.
    """

    inside: BaseGeometry
    outside: BaseGeometry
    covered: BaseGeometry
    gap_area: float
    proven: bool
    pieces: int
    eyes: Floats
    stations: Floats
    seen_areas: Floats

    @property
    def best_eye(self) -> Floats:
        """World point of the sampled eye that sees the most, the first of equals."""
        return np.asarray(self.eyes[int(np.argmax(self.seen_areas))], float)

    @property
    def best_area(self) -> float:
        """Area that the best eye sees [m2]."""
        return float(self.seen_areas.max())


@dataclass(slots=True)
class _Search:
    """State of a search in a facet's ``free`` part: samples grow, ``doubt`` (seen by none) and ``missing`` shrink."""

    outline: BaseGeometry
    window: Window
    facing: Facing
    free: BaseGeometry
    eyes: Floats
    stations: Floats
    shadows: Shapes
    blocked: Floats
    doubt: BaseGeometry
    ends: NDArray[np.intp]
    missing: Shapes
    contacts: list[Contact] | None = None
    gap: BaseGeometry = NOTHING

    def add_eyes(self, eyes: Floats, stations: Floats) -> None:
        """Sample new eyes."""
        shadows = shadow_shapes(self.facing, eyes, self.window)
        self.take_in(eyes, stations, shadows, blocked_shapes(self.outline, shadows, eyes))

    def take_in(self, eyes: Floats, stations: Floats, shadows: Shapes, blocked: Shapes) -> None:
        """Take in sampled eyes; what any of them sees leaves the doubt."""
        self.eyes = np.concatenate((self.eyes, eyes))
        self.stations = np.concatenate((self.stations, stations))
        self.shadows = np.concatenate((self.shadows, shadows))
        areas = np.asarray(shapely.area(blocked), float)
        self.blocked = np.concatenate((self.blocked, areas))
        for k in np.argsort(areas, kind="stable"):
            if self.doubt.is_empty:
                return
            self.doubt = without_specks(self.doubt.intersection(blocked[k]), self.outline.area)

    def unproven(self, regions: Shapes, ends: NDArray[np.intp]) -> Shapes:
        """Parts of regions, one for each piece, that no one solid hides from both of its ends."""
        first, last = self.shadows[ends[:, 0]], self.shadows[ends[:, 1]]
        meets = boxes_meet(first, last) & boxes_meet(first, regions[:, None]) & boxes_meet(last, regions[:, None])
        umbras = np.full(first.shape, None, object)
        umbras[meets] = shapely.intersection(first[meets], last[meets])
        hidden = np.asarray(shapely.union_all(umbras, axis=1), object)
        left = np.asarray(shapely.difference(regions, hidden), object)
        return np.array([without_specks(shape, self.outline.area) for shape in left], object)

    def hand_over(self, newest: int) -> bool:
        """Take out of the newest pieces' missing parts what touching solids hide in turn; return whether any was."""
        before = self.missing.copy()
        if self.contacts is None:
            used = ~shapely.is_missing(self.shadows)
            self.contacts = contacts(self.facing, np.flatnonzero(used.any(axis=0)).tolist())
        for k in range(len(self.ends) - newest, len(self.ends)):
            start, end = self.ends[k].tolist()
            for contact in self.contacts if self.missing[k].area > 0 else ():
                self.missing[k] = self._taken_over(self.missing[k], contact, start, end)
        return any(one is not other for one, other in zip(before, self.missing, strict=True))

    def _taken_over(self, region: BaseGeometry, contact: Contact, start: int, end: int) -> BaseGeometry:
        for one, other in ((contact.one, contact.other), (contact.other, contact.one)):
            first, last = self.shadows[start, one], self.shadows[end, other]
            if first is None or last is None or not region.intersects(first) or not region.intersects(last):
                continue
            swept = swept_shadow(contact.points, self.eyes[start], self.eyes[end])
            if swept is not None:
                hidden = first.intersection(last).intersection(swept)
                region = without_specks(region.difference(hidden), self.outline.area)
        return region

    def weigh(self) -> None:
        """Work out the ``gap``: the part of the facet that no sample sees and no piece is proven to hide."""
        left = self.missing[~shapely.is_empty(self.missing)]
        self.gap = areal(as_shape(shapely.union_all(left)).intersection(self.doubt))

    def halve(self, room: int, bearable: float) -> int:
        """Halve the pieces that leave most unproven, at most ``room`` of them; return how many halves came last."""
        areas = np.asarray(shapely.area(self.missing), float)
        order = np.argsort(areas, kind="stable")
        split = order[np.cumsum(areas[order]) > bearable][-room:]
        split.sort()
        ends = self.ends[split]
        middles = self._middles(ends)
        left = ~shapely.is_empty(self.missing)
        self.missing[left] = shapely.intersection(self.missing[left], self.doubt)
        halves = np.concatenate((np.column_stack((ends[:, 0], middles)), np.column_stack((middles, ends[:, 1]))))
        parents = np.concatenate((self.missing[split], self.missing[split]))
        keep = np.setdiff1d(np.arange(len(self.ends)), split)
        self.ends = np.concatenate((self.ends[keep], halves))
        self.missing = np.concatenate((self.missing[keep], self.unproven(parents, halves)))
        return len(halves)

    def _middles(self, ends: NDArray[np.intp]) -> NDArray[np.intp]:
        """Sample at which each piece is parted: the one inside it nearest to its middle, else a new one there."""
        half, inside = np.diff(self.stations[ends], axis=1) / 2.0, self.stations - self.stations[ends[:, :1]]
        off = np.where((inside > SAME) & (inside < 2.0 * half - SAME), np.abs(inside - half), np.inf)
        found = np.asarray(off.argmin(axis=1), np.intp)
        new = np.flatnonzero(~np.isfinite(off.min(axis=1)))
        found[new] = len(self.eyes) + np.arange(len(new))
        if len(new):
            self.add_eyes(self.eyes[ends[new]].mean(axis=1), self.stations[ends[new]].mean(axis=1))
        return found


def path_sight(
    outline: BaseGeometry,
    frame: Frame,
    solids: Sequence[Floats],
    path: ArrayLike,
    spacing: float = 10.0,
    tolerance: float = 0.001,
    most_pieces: int = 512,
    least_distance: float = 0.01,
) -> PathSight:
    """What is seen of a facet from somewhere along a path, enclosed from inside and from outside.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates, holes allowed [m]
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    path : ArrayLike
        World points of the eye along a polyline, one a row; one row is a fixed eye [m]
    spacing : float
        Greatest distance between two sampled eyes [m]
    tolerance : float
        Share of the outline's area by which inside and outside may differ [-]
    most_pieces : int
        Number of pieces at which the search stops, whatever is left [-]
    least_distance : float
        An eye nearer to the facet's plane than this counts as not seeing it [m]

    Returns
    -------
    inside : BaseGeometry
        Seen from some sampled eye, in the facet's coordinates [m]
    outside : BaseGeometry
        All that may be seen from the path: the rest is proven hidden or covered [m]
    covered : BaseGeometry
        Where solids touch the facet [m]
    gap_area : float
        Area by which outside exceeds inside [m2]
    proven : bool
        Whether that is within the tolerance [-]
    pieces : int
        Straight pieces that the proof needed [-]
    eyes : Floats
        Sampled eyes in order along the path, as world points [m]
    stations : Floats
        Their distance along the path [m]
    seen_areas : Floats
        Area that each sees [m2]

    Raises
    ------
    OutOfRange
        If the outline is no valid area, a point is not three finite numbers, or a setting is not above zero.

    Notes
    -----
    Range: any path; its parts behind the facet's plane see nothing.

    References
    ----------
    chord-in-convex-body
    segment-umbra

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> frame, wall = make_frame((0, 0, 0), (1, 0, 0)), shapely.box(0, 0, 9, 3)
    >>> hedge = np.array([(s, y, z) for s in (-90, 90) for y in (-1, -2) for z in (0, 1)], float)
    >>> sight = path_sight(wall, frame, [hedge], [(0, -4, 1.5), (9, -4, 1.5)])
    >>> round(sight.inside.area, 6), round(sight.outside.area, 6), sight.proven
    (19.5, 19.5, True)
    """
    (found,) = paths_sight(outline, frame, solids, [path], [spacing], tolerance, most_pieces, least_distance)
    return found


def paths_sight(
    outline: BaseGeometry,
    frame: Frame,
    solids: Sequence[Floats],
    paths: Sequence[ArrayLike],
    spacings: Sequence[float],
    tolerance: float = 0.001,
    most_pieces: int = 512,
    least_distance: float = 0.01,
) -> tuple[PathSight, ...]:
    """What is seen of one facet from each of several paths, as ``path_sight`` for each; what they share is done once.

    Parameters
    ----------
    outline : BaseGeometry
        The facet's outline in its coordinates, holes allowed [m]
    frame : Frame
        The facet's frame [m]
    solids : Sequence[Floats]
        Convex solids, each as the world points that span it [m]
    paths : Sequence[ArrayLike]
        World points of the eye along each polyline, one a row [m]
    spacings : Sequence[float]
        Greatest distance between two sampled eyes of each path [m]
    tolerance : float
        Share of the outline's area by which inside and outside may differ [-]
    most_pieces : int
        Number of pieces at which a search stops, whatever is left [-]
    least_distance : float
        An eye nearer to the facet's plane than this counts as not seeing it [m]

    Returns
    -------
    tuple[PathSight, ...]
        What is seen from each path [m]

    Raises
    ------
    OutOfRange
        If the outline is no valid area, a point is not three finite numbers, or a setting is not above zero.

    Notes
    -----
    Range: as ``path_sight``.

    References
    ----------
    chord-in-convex-body
    segment-umbra

    Examples
    --------
    >>> from sightwash.science.facets import make_frame
    >>> frame, wall = make_frame((0, 0, 0), (1, 0, 0)), shapely.box(0, 0, 9, 3)
    >>> hedge = np.array([(s, y, z) for s in (-90, 90) for y in (-1, -2) for z in (0, 1)], float)
    >>> [sight.inside.area for sight in paths_sight(wall, frame, [hedge], [[(0, -4, 1.5)], [(0, 4, 1)]], [9, 9])]
    [19.5, 0.0]
    """
    for name, value in (("tolerance", tolerance), ("most_pieces", most_pieces)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    if not paths:
        return ()
    window, routes = window_of(outline), [np.atleast_2d(np.asarray(path, float)) for path in paths]
    facing, local = solids_before(outline, frame, solids, np.concatenate(routes))
    starts = np.cumsum([len(route) for route in routes])[:-1]
    walks = [
        eye_path(route, spacing, least_distance)
        for route, spacing in zip(np.split(local, starts), spacings, strict=True)
    ]
    found = []
    for walk, search in zip(walks, _started(outline, window, facing, walks), strict=True):
        if not search.doubt.is_empty:
            _narrow(search, tolerance * outline.area, most_pieces)
        found.append(_found(search, frame, walk, tolerance * outline.area))
    return tuple(found)


def _started(outline: BaseGeometry, window: Window, facing: Facing, walks: Sequence[EyePath]) -> Iterator[_Search]:
    """Yield the state of each path's search after the path's own samples."""
    none = np.empty((0, len(facing.starts)), object)
    free = areal(outline.difference(facing.covered))
    eyes = np.concatenate([walk.eyes[walk.ahead] for walk in walks])
    shadows = shadow_shapes(facing, eyes, window)
    blocked = blocked_shapes(outline, shadows, eyes)
    first = 0
    for walk in walks:
        place = np.cumsum(walk.ahead) - 1
        search = _Search(
            outline, window, facing, free, np.empty((0, 3)), np.empty(0), none, np.empty(0), free,
            place[walk.pieces], np.empty(0, object),
        )  # fmt: skip
        last = first + int(walk.ahead.sum())
        search.take_in(eyes[first:last], walk.stations[walk.ahead], shadows[first:last], blocked[first:last])
        first = last
        yield search


def _narrow(search: _Search, bearable: float, most_pieces: int) -> None:
    """Prove the doubt hidden piece by piece, halving pieces while more than the bearable area is unproven."""
    search.missing = search.unproven(np.full(len(search.ends), search.doubt, object), search.ends)
    newest = len(search.ends)
    search.weigh()
    while search.gap.area > bearable:
        if search.hand_over(newest):
            search.weigh()
        room = most_pieces - len(search.ends)
        if search.gap.area <= bearable or room <= 0:
            return
        newest = search.halve(room, bearable / 2)
        search.weigh()


def _found(search: _Search, frame: Frame, walk: EyePath, bearable: float) -> PathSight:
    """Result of a search, its samples in order along the path and those behind the facet among them."""
    gap = search.gap
    inside = outside = search.free
    if not search.doubt.is_empty:
        inside = outside = without_specks(search.free.difference(search.doubt), search.outline.area)
    if not gap.is_empty:
        outside = without_specks(search.free.difference(search.doubt.difference(gap)), search.outline.area)
    behind = ~walk.ahead
    local = np.concatenate((walk.eyes[behind], search.eyes))
    stations = np.concatenate((walk.stations[behind], search.stations))
    seen = np.concatenate((np.zeros(behind.sum()), search.outline.area - search.blocked))
    order = np.argsort(stations, kind="stable")
    world = frame.origin + local @ np.stack((frame.along, frame.up, frame.normal))
    return PathSight(
        inside=inside,
        outside=outside,
        covered=search.facing.covered,
        gap_area=float(gap.area),
        proven=bool(gap.area <= bearable),
        pieces=len(search.ends),
        eyes=world[order],
        stations=stations[order],
        seen_areas=np.maximum(seen[order], 0.0),
    )
