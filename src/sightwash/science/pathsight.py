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

from collections.abc import Sequence
from dataclasses import dataclass

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
    window_of,
    without_specks,
)
from sightwash.science.contacts import Contact, contacts, swept_shadow
from sightwash.science.eye_path import EyePath, eye_path
from sightwash.science.facets import Floats, Frame
from sightwash.science.shadows import Facing, shadow_shapes
from sightwash.science.visibility import blocked_shapes, solids_before


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
    """State of one facet's search: samples grow, ``doubt`` (seen by no sample) and ``missing`` shrink."""

    outline: BaseGeometry
    window: Window
    facing: Facing
    eyes: Floats
    stations: Floats
    shadows: Shapes
    blocked: Floats
    doubt: BaseGeometry
    ends: NDArray[np.intp]
    missing: Shapes
    contacts: list[Contact] | None = None

    def add_eyes(self, eyes: Floats, stations: Floats) -> None:
        """Take in new sampled eyes; what any of them sees leaves the doubt."""
        shadows = shadow_shapes(self.facing, eyes, self.window)
        blocked = blocked_shapes(self.outline, shadows, eyes)
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
        umbras = shapely.intersection(self.shadows[ends[:, 0]], self.shadows[ends[:, 1]])
        hidden = np.asarray(shapely.union_all(umbras, axis=1), object)
        left = np.asarray(shapely.difference(regions, hidden), object)
        return np.array([without_specks(shape, self.outline.area) for shape in left], object)

    def hand_over(self, newest: int) -> None:
        """Take out of the newest pieces' missing parts what touching solids hide by taking over from each other."""
        if self.contacts is None:
            used = ~shapely.is_missing(self.shadows)
            self.contacts = contacts(self.facing, np.flatnonzero(used.any(axis=0)).tolist())
        for k in range(len(self.ends) - newest, len(self.ends)):
            start, end = self.ends[k].tolist()
            for contact in self.contacts if self.missing[k].area > 0 else ():
                self.missing[k] = self._taken_over(self.missing[k], contact, start, end)

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

    @property
    def gap(self) -> BaseGeometry:
        """Part of the facet that no sample sees and no piece is proven to hide."""
        return areal(as_shape(shapely.union_all(self.missing)).intersection(self.doubt))

    def halve(self, room: int, bearable: float) -> int:
        """Halve the pieces that leave most unproven, at most ``room`` of them; return how many halves came last."""
        areas = np.asarray(shapely.area(self.missing), float)
        order = np.argsort(areas, kind="stable")
        split = order[np.cumsum(areas[order]) > bearable][-room:]
        split.sort()
        ends = self.ends[split]
        middles = len(self.eyes) + np.arange(len(split))
        self.add_eyes(self.eyes[ends].mean(axis=1), self.stations[ends].mean(axis=1))
        self.missing = np.asarray(shapely.intersection(self.missing, self.doubt), object)
        halves = np.concatenate((np.column_stack((ends[:, 0], middles)), np.column_stack((middles, ends[:, 1]))))
        parents = np.concatenate((self.missing[split], self.missing[split]))
        keep = np.setdiff1d(np.arange(len(self.ends)), split)
        self.ends = np.concatenate((self.ends[keep], halves))
        self.missing = np.concatenate((self.missing[keep], self.unproven(parents, halves)))
        return len(halves)


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
    for name, value in (("tolerance", tolerance), ("most_pieces", most_pieces)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    window = window_of(outline)
    facing, route = solids_before(outline, frame, solids, path)
    walk = eye_path(route, spacing, least_distance)
    search = _started(outline, window, facing, walk)
    if not search.doubt.is_empty:
        _narrow(search, tolerance * outline.area, most_pieces)
    return _found(search, frame, walk, tolerance * outline.area)


def _started(outline: BaseGeometry, window: Window, facing: Facing, walk: EyePath) -> _Search:
    """State of the search after the path's own samples."""
    none = np.empty((0, len(facing.starts)), object)
    place = np.cumsum(walk.ahead) - 1
    search = _Search(
        outline, window, facing, np.empty((0, 3)), np.empty(0), none, np.empty(0),
        areal(outline.difference(facing.covered)), place[walk.pieces], np.empty(0, object),
    )  # fmt: skip
    if walk.ahead.any():
        search.add_eyes(walk.eyes[walk.ahead], walk.stations[walk.ahead])
    return search


def _narrow(search: _Search, bearable: float, most_pieces: int) -> None:
    """Prove the doubt hidden piece by piece, halving pieces while more than the bearable area is unproven."""
    search.missing = search.unproven(np.full(len(search.ends), search.doubt, object), search.ends)
    newest = len(search.ends)
    while search.gap.area > bearable:
        search.hand_over(newest)
        room = most_pieces - len(search.ends)
        if search.gap.area <= bearable or room <= 0:
            return
        newest = search.halve(room, bearable / 2)


def _found(search: _Search, frame: Frame, walk: EyePath, bearable: float) -> PathSight:
    """Result of a search, its samples in order along the path and those behind the facet among them."""
    covered, free = search.facing.covered, areal(search.outline.difference(search.facing.covered))
    gap = search.gap if len(search.missing) else NOTHING
    inside = without_specks(free.difference(search.doubt), search.outline.area)
    outside = without_specks(free.difference(search.doubt.difference(gap)), search.outline.area)
    behind = ~walk.ahead
    local = np.concatenate((walk.eyes[behind], search.eyes))
    stations = np.concatenate((walk.stations[behind], search.stations))
    seen = np.concatenate((np.zeros(behind.sum()), search.outline.area - search.blocked))
    order = np.argsort(stations, kind="stable")
    world = frame.origin + local @ np.stack((frame.along, frame.up, frame.normal))
    return PathSight(
        inside=inside,
        outside=outside,
        covered=covered,
        gap_area=float(gap.area),
        proven=bool(gap.area <= bearable),
        pieces=len(search.ends),
        eyes=world[order],
        stations=stations[order],
        seen_areas=np.maximum(seen[order], 0.0),
    )
