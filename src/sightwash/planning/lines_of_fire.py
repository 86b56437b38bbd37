"""Lines of fire: what a straight jet from a place strikes, and how it keeps off overhead lines.

A jet's path is nowhere below the straight line between its ends, so what that line clears, the jet clears.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from sightwash.planning.candidates import Candidate, line_clearance, line_points, site_points
from sightwash.planning.pieces import Face, WashPiece, hand_height
from sightwash.planning.sight import bodies_before
from sightwash.science.facets import make_frame
from sightwash.science.segments import segment_distances
from sightwash.science.shadow_points import hidden_points
from sightwash.site.ground import OverheadLine
from sightwash.site.model import Site
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall, Solid, projection_section

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
STRUCK_DEPTH: Final = 0.0762
"""A piece is struck where a straight line meets it this far below its upper edge: water runs down the rest [m]."""
STRUCK_AT: Final = (0.25, 0.5, 0.75)
"""Shares of a piece's length at which it must be struck [-]."""
CLEAR_OF_FACE: Final = 0.3
"""How far out of a front face a place must be to strike it [m]."""
JET_SLACK: Final = 1.0
"""Added to the clearance from a line for the arc, the spread and the sway of a jet [m]; a judgement."""
WIRE_CHORDS: Final = 8
"""Chords that stand for a hanging line."""
WIRE_SLACK: Final = 1.0 / WIRE_CHORDS**2
"""How far a parabola lies from its chords, as a share of its sag [-]: exact where the chords are equal in the plan."""


@dataclass(frozen=True, slots=True, eq=False)
class Fire:
    """What stands for or against a straight jet to every piece (row) from every place (column).

    Whether it strikes, whether it comes near an overhead line, whether it runs below or above one in the plan.
    """

    struck: Flags
    near: Flags
    under: Flags


def plan_fire(
    site: Site,
    placed: PlacedWall,
    places: Sequence[Candidate],
    washes: Sequence[WashPiece],
    rig: Rig,
    solids: Sequence[Solid],
) -> Fire:
    """Return what a straight jet from every spot strikes and which jets come near an overhead line."""
    near, under = (np.zeros((len(washes), len(places)), bool) for _ in range(2))
    starts = _nozzles(placed, places, rig)
    worked = np.array([k for k, place in enumerate(places) if place.kind in ("spot", "ladder")], int)
    for line in site.overhead_lines if len(worked) and washes else ():
        close, below = _near(line, placed, starts[worked], max(places[k].out for k in worked), washes)
        near[:, worked] |= close
        under[:, worked] |= below
    return Fire(_struck(placed, starts, places, washes, solids), near, under)


def _nozzles(placed: PlacedWall, places: Sequence[Candidate], rig: Rig) -> Array:
    """Return where the water leaves at each place: the nozzle in the hands, or a wand held up from a ladder."""
    heights = {"spot": float(rig.crew.wand_height), "ladder": hand_height(rig)}
    s, out = (np.array([getattr(place, name) for place in places], float) for name in ("s", "out"))
    up = [placed.ground_at(place.s) + place.step + heights.get(place.kind, 0.0) for place in places]
    return site_points(placed, s, out, np.array(up, float))


def _struck(
    placed: PlacedWall,
    starts: Array,
    places: Sequence[Candidate],
    washes: Sequence[WashPiece],
    solids: Sequence[Solid],
) -> Flags:
    struck = np.zeros((len(washes), len(places)), bool)
    spots = [k for k, place in enumerate(places) if place.kind == "spot"]
    if not spots or not washes:
        return struck
    frame = make_frame(placed.origin, placed.along)
    farthest = max(places[k].out for k in spots)
    bodies = [body for body in bodies_before(placed, solids) if _is_near(placed, body, farthest)]
    aims = np.array(
        [
            (p.left + share * (p.right - p.left), max(p.level - STRUCK_DEPTH, (p.level * 2 + p.bottom - p.top) / 2))
            for p in washes
            for share in STRUCK_AT
        ]
    )
    different, which = np.unique(aims, axis=0, return_inverse=True)
    hidden = hidden_points(frame, bodies, starts[spots], different)[:, which.reshape(-1, len(STRUCK_AT))]
    struck[:, spots] = ~hidden.any(axis=2).T
    out, height = np.array([places[k].out for k in spots]), starts[spots, 2] - placed.datum
    for row, piece in enumerate(washes):
        if piece.face is not None:
            struck[row, spots] = _face_struck(piece.face, out, height)
    return struck


def _is_near(placed: PlacedWall, body: Array, farthest: float) -> bool:
    """Return whether some of a body lies in the plan where jets from before a wall pass."""
    s, out = ((body - placed.origin) @ axis for axis in (placed.along, placed.outward))
    return bool(out.min() <= farthest and s.max() >= 0.0 and s.min() <= placed.length)


def _face_struck(face: Face, out: Array, height: Array) -> Flags:
    """Return from which nozzles, so far out and so high, a straight line meets a face of a projection."""
    _, _, (edge, edge_height), (inner, inner_height) = projection_section(face.item)
    if face.name == "underside":
        return np.ones(len(out), bool)
    beyond = out >= edge + CLEAR_OF_FACE
    if face.name == "front":
        return np.asarray(beyond, bool)
    rise = (edge_height - height) / np.maximum(out - edge, CLEAR_OF_FACE)
    return np.asarray(beyond & (rise * (edge - inner) < inner_height - edge_height), bool)


def _near(
    line: OverheadLine, placed: PlacedWall, starts: Array, farthest: float, washes: Sequence[WashPiece]
) -> tuple[Flags, Flags]:
    """Return which jets come near a line, and which run within that distance of it in the plan.

    The line is taken as a few chords; a hanging line is nowhere farther from them than WIRE_SLACK of its sag.
    """
    least = line_clearance(line.kilovolts) + JET_SLACK
    near, under = (np.zeros((len(washes), len(starts)), bool) for _ in range(2))
    first, last = np.array(line.start, float), np.array(line.end, float)
    span = shapely.LineString([first[:2], last[:2]])
    if span.distance(shapely.LineString([placed.start, placed.end])) > farthest + least:
        return near, under
    stretches = np.array([(p.left, p.s, p.right) for p in washes]).ravel()
    levels = np.repeat([p.level for p in washes], 3)
    ends = site_points(placed, stretches, np.zeros(len(levels)), levels).reshape(len(washes), 3, 3)
    rows, thirds, columns = np.nonzero(_doubtful(starts[:, :2], ends[:, :, :2], first[:2], last[:2], least))
    nozzles, marks = starts[columns], ends[rows, thirds]
    below = segment_distances(nozzles[:, :2], marks[:, :2], first[:2], last[:2]) < least
    under[rows[below], columns[below]] = True
    rows, columns, nozzles, marks = rows[below], columns[below], nozzles[below], marks[below]
    wire = line_points(line, WIRE_CHORDS + 1)
    apart = segment_distances(nozzles[:, None], marks[:, None], wire[:-1], wire[1:]).min(axis=1)
    close = apart < least + WIRE_SLACK * float(line.sag)
    near[rows[close], columns[close]] = True
    return near, under


def _doubtful(starts: Array, ends: Array, first: Array, last: Array, least: float) -> Flags:
    """Return which jets (piece, end, place) may come within a distance of a line in the plan.

    None of a jet is farther from its middle than half its length.
    """
    middle = (starts + ends[:, :, None, :]) / 2.0
    half = np.linalg.norm(starts - ends[:, :, None, :], axis=3) / 2.0
    step = last - first
    share = np.clip(((middle - first) @ step) / (float(step @ step) or 1.0), 0.0, 1.0)
    away = np.linalg.norm(middle - (first + share[..., None] * step), axis=3)
    return np.asarray(away - half < least, bool)
