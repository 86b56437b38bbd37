"""The path of a round head over a ground: passes back and forth, edges, loops round posts, and what it leaves.

::

    wall  ===========================================
      |  o-------------------------------------->  |   passes follow each other along the heading
      |  <--------------------------------------o  |
      |  o---------->( post )----------->          |   a post parts the ground into cells and is rounded once
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import OutOfRange
from sightwash.science._left import left_of, marks_of, missed_parts, samples_of
from sightwash.science._offset import areas_of, eroded
from sightwash.science._range import check_range
from sightwash.science._rings import Floats, Rings, rings_of
from sightwash.science._route import Ground, Leg, cell_order, pieces_of, route, with_bends, with_edges
from sightwash.science._rows import cells_of, round_posts, row_passes
from sightwash.science.coverage import Area
from sightwash.science.passes import pass_count

SAGITTA = 5e-4  # m; arcs of a path are drawn this near to the true ones
INSIDE = 1e-6  # m; a row along an edge lies this far inside
LOOKS = 32  # levels at which the length of an outermost row is looked at
KINDS = ("pass", "edge", "turn", "swing", "loop", "move", "carry")


class LaidPath(NamedTuple):
    """A path: its pieces in order with their kinds, what they come to, and what they leave of the target."""

    lines: tuple[LineString, ...]
    kinds: tuple[str, ...]
    passes: int
    turns: int
    pitch: float
    length: float
    moved: float
    missed: MultiPolygon


def head_ground(ground: Area, radius: float, edge_gap: float = 0.0) -> MultiPolygon:
    """Ground on which the middle of a round head may be.

    ``C = G eroded by r + e``

    Parameters
    ----------
    ground : Polygon or MultiPolygon
        Ground on which the head may travel; holes are posts and islands [m]
    radius : float
        Radius that the head cleans [m]
    edge_gap : float
        Gap between the cleaned circle and what the shroud touches [m]

    Returns
    -------
    MultiPolygon
        Places of the head's middle; empty where it does not fit [m]

    Raises
    ------
    OutOfRange
        If the radius is not above zero, the gap is negative or the ground's outline crosses itself.

    Notes
    -----
    Range: any radius above zero; arcs are drawn with few corners, up to 0.5 mm inside the true ones.

    References
    ----------
    disc-opening

    Examples
    --------
    >>> from shapely import box
    >>> head_ground(box(0.0, 0.0, 4.0, 3.0), 0.5).area
    6.0
    """
    check_range("radius", radius, "m", above=0.0)
    check_range("edge_gap", edge_gap, "m", least=0.0)
    if not ground.is_valid:
        raise OutOfRange("ground", ground.geom_type, "an outline that does not cross itself")
    return eroded(areas_of(ground), radius + edge_gap, SAGITTA)


def lay_path(
    centres: Area,
    target: Area,
    radius: float,
    heading: float = 90.0,
    overlap: float = 0.0,
    finish: tuple[float, float] | None = None,
) -> LaidPath:
    """Path of a round head that sweeps a target back and forth and stays on the ground for its middle.

    ``n = 1 + ceil((b - w) / (w (1 - o))) passes, spread evenly; cells where obstacles part them, nearest first``

    Parameters
    ----------
    centres : Polygon or MultiPolygon
        Ground on which the middle of the head may be [m]
    target : Polygon or MultiPolygon
        Ground to sweep, within the radius of the first [m]
    radius : float
        Radius that the head cleans [m]
    heading : float
        Direction in which the passes follow each other, counter-clockwise from x; passes run square to it [deg]
    overlap : float
        Share of the width by which neighbouring passes overlap at least [-]
    finish : tuple of float or None
        Where the path should end near, x and y [m]

    Returns
    -------
    lines : tuple of LineString
        Pieces of the path in order [m]
    kinds : tuple of str
        What each piece is: pass, edge, turn, swing, loop, move or carry [-]
    passes : int
        Passes, those along an edge included [-]
    turns : int
        Turn-arounds and moves between passes [-]
    pitch : float
        Widest distance between neighbouring passes [m]
    length : float
        Length of all pieces but carries [m]
    moved : float
        Length of moves and carries, which clean nothing new [m]
    missed : MultiPolygon
        Ground of the target that the path leaves [m]

    Raises
    ------
    OutOfRange
        If the radius is not above zero, the overlap is not from 0 to below 1, or an outline crosses itself.

    Notes
    -----
    Range: straight passes in one direction; slivers less than 2 mm deep along an outline may go unseen.

    References
    ----------
    back-and-forth
    boustrophedon-cells

    Examples
    --------
    >>> from shapely import box
    >>> path = lay_path(box(0.5, 0.5, 9.5, 2.5), box(0.0, 0.0, 10.0, 3.0), 0.5)
    >>> path.passes, path.turns, round(path.length, 4)
    (3, 2, 32.9)
    """
    check_range("radius", radius, "m", above=0.0)
    check_range("heading", heading, "deg")
    check_range("overlap", overlap, "-", least=0.0, below=1.0)
    for name, shape in (("centres", centres), ("target", target)):
        if not shape.is_valid:
            raise OutOfRange(name, shape.geom_type, "an outline that does not cross itself")
    turn = math.radians(90.0 - heading)
    turned = _turned(target, turn)
    end: tuple[float, float] | None = None
    if finish is not None:
        x, y = _turn(np.array([finish]), turn)[0].tolist()
        end = (x, y)
    shapely.prepare(turned)
    legs: list[Leg] = []
    missed: list[Polygon] = []
    pitch = 0.0
    for part in areas_of(_turned(centres, turn)).geoms:
        rings = rings_of(shapely.orient_polygons(part))
        rows = _rows(rings, turned, radius, overlap)
        found, left = _laid(part, rings, turned, rows, radius, end)
        if legs and found:
            legs.append(Leg("carry", np.array([legs[-1].line[-1], found[0].line[0]])))
        legs, missed = legs + found, missed + left
        pitch = max(pitch, float(rows[1] - rows[0]) if len(rows) > 1 else 0.0)
    return _path(legs, missed, pitch, -turn)


def _turn(points: Floats, angle: float) -> Floats:
    cos, sin = math.cos(angle), math.sin(angle)
    turned: Floats = points @ np.array([[cos, sin], [-sin, cos]])
    return turned


def _turned(shape: BaseGeometry, angle: float) -> BaseGeometry:
    return shapely.transform(shape, lambda points: _turn(points, angle))


def _rows(rings: Rings, target: BaseGeometry, radius: float, overlap: float) -> Floats:
    """Return the y of the passes over one ground, no farther out than the target needs and most of a pass is long."""
    levels = np.unique(rings.start[:, 1])
    low, high = float(levels[0]), float(levels[-1])
    first, last = max(low, target.bounds[1] + radius), min(high, target.bounds[3] - radius)
    if first > last:
        first = last = min(max((first + last) / 2.0, low), high)
    first, last = max(first, low + INSIDE), min(last, high - INSIDE)
    above = levels[(levels > first) & (levels < min(first + radius, last))] + INSIDE
    first = _long_row(rings, np.append(first, above))
    below = levels[(levels < last) & (levels > max(last - radius, first))][::-1] - INSIDE
    last = _long_row(rings, np.append(last, below))
    count = pass_count(max(last - first, 0.0) + 2.0 * radius, 2.0 * radius, overlap)
    rows: Floats = np.linspace(first, max(first, last), count)
    return rows


def _long_row(rings: Rings, levels: Floats) -> float:
    """Return the first level at which a row is half as long as at the best of them."""
    levels = levels[:: max(1, len(levels) // LOOKS)]
    order = np.argsort(levels)
    lengths = np.zeros(len(levels))
    for item in row_passes(rings, levels[order]):
        lengths[order[item.row]] += item.right.x - item.left.x
    return float(levels[int(np.argmax(lengths >= lengths.max() / 2.0))])


def _laid(
    part: Polygon, rings: Rings, target: BaseGeometry, rows: Floats, radius: float, finish: tuple[float, float] | None
) -> tuple[list[Leg], list[Polygon]]:
    """Return the legs of a path over one ground, and what it leaves."""
    passes = round_posts(rings, row_passes(rings, rows))
    if not passes:
        return [], []
    samples = samples_of(rings, target, radius)
    straight = pieces_of([Leg(item.kind, item.line(rightward=True)) for item in passes])
    left = left_of(samples, samples.wanted & samples.outer, straight, radius)
    cells = with_bends(rings, cells_of(passes), marks_of(samples, left))
    shapely.prepare(part)
    legs, stops = route(Ground(rings, part), cells, cell_order(cells, finish))
    left = left_of(samples, left | (samples.wanted & ~samples.outer), pieces_of(legs), radius)
    legs = with_edges(rings, legs, stops, marks_of(samples, left))
    left = left_of(samples, left, pieces_of(legs), radius)
    return legs, missed_parts(samples, left, target, pieces_of(legs), radius)


def _lines(legs: list[Leg], angle: float) -> NDArray[np.object_]:
    """Return the lines of legs, turned by an angle."""
    if not legs:
        return np.array([], dtype=np.object_)
    numbers = np.repeat(np.arange(len(legs)), [len(leg.line) for leg in legs])
    return np.asarray(shapely.linestrings(_turn(np.vstack([leg.line for leg in legs]), angle), indices=numbers))


def _path(legs: list[Leg], missed: list[Polygon], pitch: float, angle: float) -> LaidPath:
    """Return the path of legs, turned back into place."""
    lines = _lines(legs, angle)
    long = shapely.length(lines).tolist()
    lengths = {kind: sum(n for n, leg in zip(long, legs, strict=True) if leg.kind == kind) for kind in KINDS}
    passes = sum(leg.kind == "pass" for leg in legs) + sum(leg.kind == "edge" for leg in legs)
    turns = sum(leg.kind in ("turn", "move", "carry") for leg in legs)
    return LaidPath(
        tuple(lines.tolist()),
        tuple(leg.kind for leg in legs),
        passes,
        turns,
        pitch,
        sum(lengths.values()) - lengths["carry"],
        lengths["move"] + lengths["carry"],
        areas_of(_turned(MultiPolygon(missed), angle)),
    )
