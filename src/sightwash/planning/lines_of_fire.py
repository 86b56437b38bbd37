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

from sightwash.planning.candidates import Candidate, line_clearance, line_points
from sightwash.planning.pieces import Face, WashPiece, hand_height
from sightwash.planning.sight import bodies_before
from sightwash.science.visibility import hidden_shapes, make_frame
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
    for line in site.overhead_lines if len(places) and washes else ():
        close, below = _near(line, placed, starts, places, washes)
        near |= close
        under |= below
    return Fire(_struck(placed, starts, places, washes, solids), near, under)


def _nozzles(placed: PlacedWall, places: Sequence[Candidate], rig: Rig) -> Array:
    """Return where the water leaves at each place: the nozzle in the hands, or a wand held up from a ladder."""
    heights = {"spot": float(rig.crew.wand_height), "ladder": hand_height(rig)}
    found = [
        placed.point(place.s, place.out, placed.ground_at(place.s) + place.step + heights.get(place.kind, 0.0))
        for place in places
    ]
    return np.array(found, float).reshape(len(places), 3)


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
    hidden = hidden_shapes(placed.outline, frame, bodies, starts[spots])
    shapely.prepare(hidden)
    s = np.array([[p.left + share * (p.right - p.left) for share in STRUCK_AT] for p in washes])
    z = np.array([[max(p.level - STRUCK_DEPTH, (p.level * 2 + p.bottom - p.top) / 2)] * len(STRUCK_AT) for p in washes])
    for k, shape in zip(spots, hidden, strict=True):
        struck[:, k] = ~shapely.contains_xy(shape, s, z).any(axis=1)
    for row, piece in enumerate(washes):
        if piece.face is not None:
            out, height = (np.array(each)[spots] for each in ([p.out for p in places], starts[:, 2] - placed.datum))
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
    line: OverheadLine,
    placed: PlacedWall,
    starts: Array,
    places: Sequence[Candidate],
    washes: Sequence[WashPiece],
) -> tuple[Flags, Flags]:
    """Return which jets come near a line, and which run within that distance of it in the plan."""
    least = line_clearance(line.kilovolts) + JET_SLACK
    near = np.zeros((len(washes), len(places)), bool)
    span = shapely.LineString([line.start[:2], line.end[:2]])
    far = max([place.out for place in places if place.kind in ("spot", "ladder")], default=0.0) + least
    if span.distance(shapely.LineString([placed.start, placed.end])) > far:
        return near, near
    ends = np.array([[placed.point(s, 0.0, p.level) for s in (p.left, p.s, p.right)] for p in washes])
    under = _within_plan(starts[:, :2], ends[:, :, :2], span, least)
    along, share = line_points(line), np.linspace(0.0, 1.0, 17)[:, None]
    for row, k in np.argwhere(under).tolist():
        paths = starts[k] + share * (ends[row] - starts[k])[:, None, :]
        near[row, k] = np.linalg.norm(paths[:, :, None, :] - along, axis=3).min() < least
    return near, under


def _within_plan(starts: Array, ends: Array, span: shapely.LineString, least: float) -> Flags:
    """Return whether a jet (piece, place) comes within a distance of a line's span in the plan.

    Most jets are let go by their middle: none of a jet is farther from it than half its length.
    """
    (ax, ay), (bx, by) = span.coords
    middle = (starts[None, None, :, :] + ends[:, :, None, :]) / 2.0
    half = np.linalg.norm(starts[None, None, :, :] - ends[:, :, None, :], axis=3) / 2.0
    step = np.array([bx - ax, by - ay])
    share = np.clip(((middle - (ax, ay)) @ step) / float(step @ step), 0.0, 1.0) if step.any() else np.zeros(half.shape)
    away = np.linalg.norm(middle - (np.array([ax, ay]) + share[..., None] * step), axis=3)
    under = np.zeros((len(ends), len(starts)), bool)
    doubtful = np.argwhere(away - half < least)
    if len(doubtful):
        rows, thirds, columns = doubtful.T
        ways = shapely.linestrings(np.stack([starts[columns], ends[rows, thirds]], axis=1))
        close = np.asarray(shapely.distance(ways, span) < least, bool)
        under[rows[close], columns[close]] = True
    return under
