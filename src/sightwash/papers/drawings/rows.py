"""How a long strip of walls breaks into rows that fit a page: each wall whole where it can be."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sightwash.papers.drawings.callouts import MARK, strip_lines
from sightwash.papers.drawings.fold import Ground
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.lettering import LINE, PLAIN, SMALL
from sightwash.papers.drawings.scale import PAGE, Scale, largest_scale
from sightwash.papers.drawings.sheet import HEAD, NOTE_LINE, label_size
from sightwash.papers.drawings.spots import BEYOND, bars_height
from sightwash.papers.drawings.views import WallView

MARGIN: Final = 8.0
BETWEEN: Final = 16.0
"""Clear distance between walls that do not meet at a corner, and between rows [pt]."""
NARROWEST: Final = 64.0
"""Least width that a wall takes with its name [pt]."""
NAMES: Final = (PLAIN + SMALL) * LINE + 5.0
LONGEST_ROW: Final = 92.0
"""A row longer than this can no longer be read on a letter sheet [m]."""
ROOM_ON_STRIP: Final = 8.0
"""How much higher than its words a strip must be for them to stand on it [pt]."""
MOST_CALLOUTS: Final = 4
LEGEND: Final = 73.0
LARGEST: Final = 60.0
"""No wall is drawn larger than this [pt/m]."""
SAME_LEVEL: Final = 4.0
"""Walls of a row stand on one level line unless their ground differs by more than this [m]."""


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A stretch of wall on a row: which part of how many, and whether it meets the one before it at a corner."""

    view: WallView
    first: float
    last: float
    part: int
    parts: int
    meets: bool


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """A row of the strip: its frames relative to its own top, its height [pt]."""

    pieces: tuple[Piece, ...]
    frames: tuple[WallFrame, ...]
    height: float


def strip_pieces(runs: tuple[tuple[WallView, ...], ...], longest: float) -> list[Piece]:
    """Return the walls in walking order, those longer than ``longest`` cut into equal parts."""
    pieces: list[Piece] = []
    for run in runs:
        for place, view in enumerate(run):
            parts = max(math.ceil(view.placed.length / longest - 1e-9), 1)
            step = view.placed.length / parts
            pieces += (
                Piece(view, part * step, (part + 1) * step, part, parts, place > 0 and part == 0)
                for part in range(parts)
            )
    return pieces


def strip_scale(
    runs: tuple[tuple[WallView, ...], ...], units: str, ground: Ground, row_length: float | None, notes: int
) -> Scale:
    """Return the scale of the strip: the largest at which it fits one sheet and no row is too long to read.

    With ``row_length`` it is the largest at which a row holds that length of wall.
    """
    room = PAGE[0] - 2 * MARGIN
    if row_length is not None:
        return largest_scale(units, lambda scale: row_length * scale.points <= room, LARGEST)
    smallest = room / LONGEST_ROW

    def fits(scale: Scale) -> bool:
        rows = strip_rows(runs, scale, ground, units)
        return sum(row.height for row in rows) <= sheet_room(notes) and all(
            p.parts == 1 for row in rows for p in row.pieces
        )

    return largest_scale(units, fits, LARGEST, smallest)


def sheet_room(notes: int) -> float:
    """Return the height that rows may take on a sheet beside its head, its notes and its legend [pt]."""
    return PAGE[1] - HEAD - LEGEND - notes * NOTE_LINE


def strip_rows(runs: tuple[tuple[WallView, ...], ...], scale: Scale, ground: Ground, units: str) -> list[Row]:
    """Return the rows of the strip at a scale."""
    room = PAGE[0] - 2 * MARGIN
    rows: list[list[Piece]] = []
    used = 0.0
    for piece in strip_pieces(runs, room / scale.points):
        width = cell_width(piece, scale)
        gap = 0.0 if piece.meets else BETWEEN
        if not rows or used + gap + width > room + 1e-6:
            rows.append([piece])
            used = width
        else:
            rows[-1].append(piece)
            used += gap + width
    return [_row(tuple(pieces), scale, ground, units) for pieces in rows]


def cell_width(piece: Piece, scale: Scale) -> float:
    """Return the width that a stretch takes with its name [pt]."""
    return max((piece.last - piece.first) * scale.points, NARROWEST)


def _row(pieces: tuple[Piece, ...], scale: Scale, ground: Ground, units: str) -> Row:
    """Return a row with its frames, every height measured from the row's own top."""
    lows = [piece.view.placed.datum + piece.view.placed.outline.bounds[1] for piece in pieces]
    level = max(lows) - min(lows) <= SAME_LEVEL
    rises = [low - min(lows) if level else 0.0 for low in lows]
    highs = [
        rise + piece.view.placed.outline.bounds[3] - piece.view.placed.outline.bounds[1]
        for rise, piece in zip(rises, pieces, strict=True)
    ]
    hinge = NAMES + _callout_room(pieces, scale, units) + max(highs) * scale.points
    frames: list[WallFrame] = []
    x = MARGIN
    for index, (piece, rise) in enumerate(zip(pieces, rises, strict=True)):
        x += 0.0 if index == 0 or piece.meets else BETWEEN
        lowest = piece.view.placed.outline.bounds[1]
        zero = hinge - (rise - lowest) * scale.points
        frames.append(WallFrame(piece.view.placed, x, zero, hinge, scale.points, piece.first, piece.last))
        x += cell_width(piece, scale)
    bars = max(bars_height(piece.view) for piece in pieces)
    beyond = BEYOND if _looks_beyond(pieces, ground) else 0.0
    height = hinge + ground.depth * scale.points + bars + beyond + BETWEEN / 2
    return Row(pieces, tuple(frames), height)


def _looks_beyond(pieces: tuple[Piece, ...], ground: Ground) -> bool:
    standings = (piece.view.standing for piece in pieces)
    return any(not 0.0 < look.out <= ground.depth for standing in standings if standing for look in standing.looks)


def _callout_room(pieces: tuple[Piece, ...], scale: Scale, units: str) -> float:
    """Return the height for what is said of strips that are too small to write on [pt]."""
    widths: list[list[float]] = []
    for piece in pieces:
        small = []
        for strip in piece.view.strips:
            width, height = label_size(strip_lines(piece.view, strip, units), SMALL, True)
            long, high = strip.strip.right - strip.strip.left, strip.strip.top - strip.strip.bottom
            if width + MARK > long * scale.points or height + ROOM_ON_STRIP > high * scale.points:
                small.append(width + MARK + 6.0)
        widths.append(small)
    lines = math.ceil(sum(map(sum, widths)) / (PAGE[0] - 2 * MARGIN))
    lines = min(max(lines, *(len(small) for small in widths), 0), MOST_CALLOUTS)
    return lines * (SMALL * LINE + 4.0) + (4.0 if lines else 0.0)


def moved(frame: WallFrame, down: float) -> WallFrame:
    """Return a frame moved down the page."""
    return WallFrame(
        frame.placed, frame.x, frame.level + down, frame.hinge + down, frame.points, frame.first, frame.last
    )
