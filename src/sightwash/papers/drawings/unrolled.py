"""The unrolled wall: all elevations side by side on one strip, the ground before each folded down below."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sightwash.papers.drawings.callouts import draw_callouts, strip_lines
from sightwash.papers.drawings.canvas import GREY, INK, group, write
from sightwash.papers.drawings.fold import Ground, draw_fold, folded_ground
from sightwash.papers.drawings.frames import WallFrame
from sightwash.papers.drawings.ground_pieces import ground_pieces
from sightwash.papers.drawings.labels import Box
from sightwash.papers.drawings.lettering import PLAIN, SMALL, counted, fitted, named, text_width
from sightwash.papers.drawings.rows import NARROWEST, Piece, Row, moved, sheet_room, strip_rows, strip_scale
from sightwash.papers.drawings.scale import PAGE, Scale
from sightwash.papers.drawings.sheet import HEAD, Sheet
from sightwash.papers.drawings.spots import draw_looks, draw_spots, draw_unreached
from sightwash.papers.drawings.views import size_words, walking_order, wall_views
from sightwash.papers.drawings.wall_face import draw_face
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

UNPLACED: Final = "who sees it is not known"


@dataclass(frozen=True, slots=True, eq=False)
class _Strip:
    """A strip laid out: its rows at its scale, the ground that its folds share, what is not drawn."""

    rows: tuple[Row, ...]
    scale: Scale
    ground: Ground
    notes: tuple[str, ...]


def unrolled_wall(site: Site, plan: VisitPlan, row_length: float | None = None) -> str:
    """Return the whole strip as one SVG drawing; ``row_length`` is the length of wall that a row holds [m]."""
    strip = _laid_out(site, plan, row_length)
    return _drawing(site, plan, strip, strip.rows, "")


def unrolled_sheets(site: Site, plan: VisitPlan, row_length: float | None = None) -> tuple[str, ...]:
    """Return the strip as SVG drawings that each fit a letter sheet on its side, all at one scale."""
    strip = _laid_out(site, plan, row_length)
    sheets: list[list[Row]] = [[]]
    for row in strip.rows:
        if sheets[-1] and sum(each.height for each in sheets[-1]) + row.height > sheet_room(len(strip.notes)):
            sheets.append([])
        sheets[-1].append(row)
    count = len(sheets)
    return tuple(
        _drawing(site, plan, strip, tuple(rows), f", sheet {number} of {count}" if count > 1 else "")
        for number, rows in enumerate(sheets, 1)
    )


def _laid_out(site: Site, plan: VisitPlan, row_length: float | None) -> _Strip:
    views = wall_views(site, plan)
    ground = folded_ground(site, plan, ground_pieces(site, plan, views))
    runs = walking_order(views)
    drawn = {view.wall.id for view in views}
    missing = [named(wall.name or wall.id) for wall in site.walls if wall.id not in drawn]
    notes = [f"Not drawn, length or height not measured: {', '.join(missing)}"] if missing else []
    if not views:
        notes.append("Nothing to draw yet: measure the length and the height of a wall first.")
    blind = [named(view.name) for view in views if not view.sight_known]
    if blind:
        notes.append(f"No place in the plan yet, so that who sees it is not known: {', '.join(blind)}")
    scale = strip_scale(runs, plan.units, ground, row_length, len(notes))
    return _Strip(tuple(strip_rows(runs, scale, ground, plan.units)), scale, ground, tuple(notes))


def _drawing(site: Site, plan: VisitPlan, strip: _Strip, rows: tuple[Row, ...], which: str) -> str:
    title = f"{site.name}: the unrolled wall{which}"
    sheet = Sheet(PAGE[0], title, _description(rows, plan.units), "strip", plan.units, strip.scale)
    sheet.head(
        site.name,
        ": the unrolled wall",
        f"every wall in walking order, the ground before it folded down; for {plan.on}{which}",
    )
    y = HEAD
    for row in rows:
        _draw_row(sheet, row, strip.ground, y)
        y += row.height
    for note in strip.notes:
        sheet.note(note)
    return sheet.finish(y)


def _draw_row(sheet: Sheet, row: Row, ground: Ground, top: float) -> None:
    """Draw a row; what is said of a strip and finds no place goes to the foot of the sheet."""
    frames = [moved(frame, top) for frame in row.frames]
    sheet.labels.bounds = Box(2.0, top, PAGE[0] - 2.0, top + row.height)
    pairs = list(zip(row.pieces, frames, strict=True))
    for piece, frame in pairs:
        _name(sheet, piece, frame, top)
        draw_face(sheet, piece.view, frame)
        draw_fold(sheet, piece.view, frame, ground)
    for piece, frame in pairs:
        draw_spots(sheet, piece.view, frame, ground)
        draw_looks(sheet, piece.view, frame, ground)
        draw_unreached(sheet, piece.view, frame, ground)
    sheet.settle()
    for piece, frame in pairs:
        for strip in draw_callouts(sheet, piece.view, frame):
            sheet.note(f"{named(piece.view.name)}: {strip_lines(piece.view, strip, sheet.units)[0]}")


def _name(sheet: Sheet, piece: Piece, frame: WallFrame, top: float) -> None:
    """Write a wall's name and size above it."""
    view = piece.view
    made = group(sheet.layers["words"], "name", view.name, wall=view.wall.id)
    width = max(frame.width, NARROWEST) - 4.0
    part = f" ({piece.part + 1} of {piece.parts})" if piece.parts > 1 else ""
    name = named(view.name, width - text_width(part, PLAIN), PLAIN)
    write(made, (frame.x + 1.0, top + 8.0), name + part, PLAIN, bold=True, ink=INK)
    words = fitted(size_words(view, sheet.units), width, SMALL)
    if not view.sight_known:
        words += f"; {UNPLACED}" if text_width(f"{words}; {UNPLACED}", SMALL) <= width else ""
    write(made, (frame.x + 1.0, top + 17.0), words, SMALL, ink=GREY)
    sheet.labels.keep_clear(Box(frame.x, top, frame.x + width, top + 19.0))


def _description(rows: tuple[Row, ...], units: str) -> str:
    views = {piece.view.wall.id: piece.view for row in rows for piece in row.pieces}
    words = [f"{counted(len(views), 'wall')} in walking order:", ", ".join(view.name for view in views.values()) + "."]
    for view in views.values():
        words += [f"{view.name}: {strip_lines(view, strip, units)[0]}." for strip in view.strips]
        if view.wall.excluded is not None:
            words.append(f"{view.name}: excluded.")
    return " ".join(words)
