"""Take-off of pavement marking as it is on the ground: lengths, areas, paint, beads, hours, price."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final

from sightwash.basis.errors import OutOfRange
from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, GALLON, INCH, convert
from sightwash.planning.add_on_price import add_on_price
from sightwash.planning.paint_gates import PaintGates
from sightwash.planning.production import rate_in_use
from sightwash.science.marks import arrow_area, letter_area, letter_strokes
from sightwash.science.paint import UFGS_COVERAGE, bead_mass
from sightwash.science.stalls import row_line_length, stall_curb_length, stall_depth, stall_line_length
from sightwash.site.ground import Marking, StallRow
from sightwash.site.model import Site
from sightwash.site.rates import Rates

WIDTHS: Final = {"line": 4 * INCH, "kerb": 6 * INCH, "stop bar": 12 * INCH, "arrow": 8 * INCH}
"""Width where none was measured [m]: 4 in lines, a 6 in kerb face, the narrowest stop bar, an 8 in shaft."""
HEAD: Final = (0.35, 3.0)
"""Head of an arrow where only its length is known: share of the length, width in shafts [-]; a judgement."""
LETTER: Final = 12 * INCH
NAMES: Final = {"line": "line", "kerb": "kerb", "stop bar": "stop bar", "arrow": "arrow", "letters": "words"}


@dataclass(frozen=True, slots=True)
class MarkingLine:
    """One marking to repaint as it is: length [m], area [m2], paint [L], beads if reflective [kg], time [s], price.

    ``area`` is None where the mark has to be measured first.
    """

    id: str
    kind: str
    state: str
    fire_lane: bool
    length: float
    width: float
    area: float | None
    paint: float | None
    beads: float | None
    time: float
    price: Decimal | None
    words: str
    why: Why


@dataclass(frozen=True, slots=True)
class StallCheck:
    """One row of stalls: its lines, and what its stalls take by geometry, for a check against the tape [m]."""

    id: str
    stalls: int
    angle: float
    line: MarkingLine
    curb_each: float
    row: float
    depth: float


@dataclass(frozen=True, slots=True)
class MarkingPlan:
    """What can be repainted after the wash, with totals of paint [L] and time [s]; local words for fire lanes."""

    lines: tuple[MarkingLine, ...]
    stalls: tuple[StallCheck, ...]
    paint: float
    time: float
    fire_lane_text: str | None
    notes: tuple[str, ...]


def plan_marking(site: Site, rates: Rates, gates: PaintGates | None = None) -> MarkingPlan:
    """Return the take-off of every marking and row of stalls, whatever its state; with gates, when paint may begin."""
    lines = tuple(_line(mark, rates) for mark in site.markings)
    stalls = tuple(_stalls(row, rates) for row in site.stalls if row.count > 0)
    every = (*lines, *(row.line for row in stalls))
    return MarkingPlan(
        lines,
        stalls,
        sum(line.paint or 0.0 for line in every),
        sum(line.time for line in every),
        site.local.fire_lane,
        tuple(_notes(site, lines, gates)),
    )


def _notes(site: Site, lines: tuple[MarkingLine, ...], gates: PaintGates | None) -> Iterator[str]:
    if (lines or site.stalls) and gates is not None:
        yield _when(gates)
    if any(line.fire_lane for line in lines) and site.local.fire_lane is None:
        yield "fire lane words, colours and spacing are local: ask the fire marshal for the text and keep it here"
    if any(line.area is None for line in lines):
        yield "some marks have no size yet: measure them before the price is given"
    if lines or site.stalls:
        yield "paint is put back as it is; a new layout needs the owner's drawing and the local authority's leave"


def _when(gates: PaintGates) -> str:
    """Return when paint may go down at the earliest, in words."""
    if gates.earliest is None:
        when = "no hour for paint yet: the ground may not be dry the same day, look again next day"
    else:
        when = f"paint not before {gates.earliest:%a %H:%M}, when the slow end of the drying time is over"
    return when if gates.may_paint else f"{when}; {gates.words}"


def _line(mark: Marking, rates: Rates) -> MarkingLine:
    length = sum(math.dist(a, b) for a, b in pairwise(mark.path))
    stroke = float(mark.letter_height or LETTER) / 6.0
    width = float(mark.width or WIDTHS.get(mark.kind, stroke))
    work, run, area, rule = _sized(mark, length, width)
    shown = run if mark.kind == "letters" else length
    words = f"repaint {mark.state} {NAMES.get(mark.kind, mark.kind)}"
    if mark.fire_lane:
        words += " of the fire lane, colour and words by the local text"
    if area is None:
        words += "; measure it first"
    return _priced(mark, run, shown, width, area, work, words, rule, rates)


def _sized(mark: Marking, length: float, width: float) -> tuple[str, float, float | None, str]:
    """Return the work, the length that it is counted in, the painted area and the rule behind it."""
    if mark.kind == "letters":
        height = float(mark.letter_height or LETTER)
        try:
            run = letter_strokes(mark.text or "", height)
            return "paint-kerb", run, letter_area(mark.text or "", height), "strokes of block letters by height"
        except OutOfRange:
            return "paint-kerb", length, None, "a sign of the text has no strokes here"
    if mark.kind == "arrow" and length > 0.0:
        area = arrow_area(length, width, HEAD[0] * length, HEAD[1] * width)
        return "paint-kerb", length, area, "a shaft and a triangle"
    if mark.kind == "symbol":
        return "paint-kerb", length, None, "a symbol is measured by its stencil"
    passes = max(1, math.ceil(width / WIDTHS["line"] - 1e-9)) if mark.kind in ("line", "stop bar") else 1
    work = "paint-kerb" if mark.kind == "kerb" else "stripe-line"
    return work, length * passes, length * width, "length times width, in runs of the machine's line"


def _stalls(row: StallRow, rates: Rates) -> StallCheck:
    width, length, angle = float(row.width), float(row.length), float(row.angle)
    run = row_line_length(row.count, stall_line_length(width, length, angle))
    words = f"restripe {row.count} {row.state} stalls as they are"
    rule = "line length from stall width, length and angle"
    line = _priced(row, run, run, WIDTHS["line"], run * WIDTHS["line"], "stripe-line", words, rule, rates)
    each = stall_curb_length(width, angle)
    return StallCheck(row.id, row.count, angle, line, each, row.count * each, stall_depth(width, length, angle))


def _priced(
    mark: Marking | StallRow,
    run: float,
    length: float,
    width: float,
    area: float | None,
    work: str,
    words: str,
    rule: str,
    rates: Rates,
) -> MarkingLine:
    """Return a marking with its paint, time and price; ``run`` is the length that its work is counted in."""
    kind = mark.kind if isinstance(mark, Marking) else "stalls"
    fire_lane = isinstance(mark, Marking) and mark.fire_lane
    rate = rate_in_use(rates, work)
    time = run / convert(rate.usual, rate.unit, "m/s")
    paint = None if area is None else area / UFGS_COVERAGE
    beads = None if paint is None or kind in ("kerb", "letters") else bead_mass(paint)
    price = None
    if paint is not None:
        a_gallon = rates.materials.marking_paint or Decimal(0)
        price = add_on_price(rates, time / 3600.0, a_gallon * Decimal(repr(paint / GALLON)))
    return MarkingLine(
        mark.id, kind, mark.state, fire_lane, length, width, area, paint, beads, time, price, words,
        Why(
            f"{rule}; 105 sq ft a gallon; beads only where the paint has to be reflective; after the wash, when dry",
            ("ufgs-02763a", "paint-film", "practice-add-ons", "block-letters", "mutcd-stop-line"),
        ),
    )  # fmt: skip


def row_of_stalls(length: float, width: float = 9 * FOOT, angle: float = 90.0) -> int:
    """Return how many stalls of a width fit along a row that was only paced out [m].

    >>> row_of_stalls(180 * FOOT)
    20
    """
    return math.floor(length / stall_curb_length(width, angle) + 1e-9)
