"""Learning: the firm's own rates from its finished visits, drawn from a first guess toward what was measured.

Always learn from the rates of before the first visit and the whole record: a rate that was learned already would
count the same visits twice.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, get_args

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.sources import Why
from sightwash.book.night_weights import Night, VisitWeight, night_weights
from sightwash.book.rate_units import logarithm, measured_in, rate_from
from sightwash.book.shrinking import Cell, Learned, learned_cells
from sightwash.book.used_up import LearnedPasses, LearnedUse, learned_passes, learned_use
from sightwash.book.visit_records import VisitRecord
from sightwash.science.three_points import deviation_of_ends
from sightwash.site.rates import ProductionRate, RateUnit

GUESS_DEVIATIONS: Final = 4.0
"""Low and high of a first guess are taken as so many deviations of the firm's own mean apart [-]; a judgement."""


@dataclass(frozen=True, slots=True)
class LearnedRate:
    """A rate before and after, in ``unit``: of a work (surface and soiling empty), of a surface, of a soiling on it."""

    work: str
    surface: str
    soiling: str
    unit: str
    visits: int
    counted: float
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    change: float
    why: Why


@dataclass(frozen=True, slots=True)
class Lesson:
    """What the visits teach: new rates for the rates document, the table before and after, what each visit counts."""

    rates: tuple[ProductionRate, ...]
    table: tuple[LearnedRate, ...]
    uses: tuple[LearnedUse, ...]
    passes: tuple[LearnedPasses, ...]
    visits: tuple[VisitWeight, ...]
    left_out: tuple[str, ...]


def learn_rates(
    records: Sequence[VisitRecord], before: Sequence[ProductionRate], leave_out: Iterable[str] = ()
) -> Lesson:
    """Return what finished visits teach; works without a record keep their rate.

    ``before`` is one rate for each work that is known; ``leave_out`` names visits that are not to count, besides the
    lines that are marked so in the record.
    """
    guesses = {rate.work: rate for rate in before}
    out = {*leave_out}
    _check(records, guesses, out)
    used = [each for each in records if not each.left_out and each.visit not in out]
    works = sorted({each.work for each in used})
    nights = [_night(each, guesses[each.work]) for each in used]
    weighted = night_weights(nights, {work: _spread(guesses[work]) for work in works})
    table: list[LearnedRate] = []
    rates = []
    for rate in before:
        rows = _rows(rate, used, weighted.weights, weighted.spreads) if rate.work in works else ()
        table += rows
        rates.append(_new_rate(rate, rows[0].after) if rows else rate)
    return Lesson(
        tuple(rates), tuple(table), learned_use(used), learned_passes(used), weighted.visits,
        tuple(sorted(out | {each.visit for each in records if each.left_out})),
    )  # fmt: skip


def without_each_visit(
    records: Sequence[VisitRecord], before: Sequence[ProductionRate], leave_out: Iterable[str] = ()
) -> dict[str, Lesson]:
    """Return the lesson with each counted visit left out in turn: what hangs on a single night shows."""
    out = {*leave_out}
    visits = sorted({each.visit for each in records if not each.left_out} - out)
    return {visit: learn_rates(records, before, out | {visit}) for visit in visits}


def _check(records: Sequence[VisitRecord], guesses: Mapping[str, ProductionRate], out: set[str]) -> None:
    problems = [problem for each in records for problem in _wrong(each, guesses)]
    problems += [
        Problem("unknown-visit", f"no visit {visit!r} is in the record", key="leave_out")
        for visit in sorted(out - {each.visit for each in records})
    ]
    for rate in guesses.values():
        if not 0 < rate.low <= rate.usual <= rate.high:
            words = f"{rate.low:g}, {rate.usual:g}, {rate.high:g} do not rise from above 0"
            problems.append(Problem("rate-order", words, key=rate.work, expected="0 < low <= usual <= high"))
    if problems:
        raise InputError(problems)


def _wrong(record: VisitRecord, guesses: Mapping[str, ProductionRate]) -> Iterator[Problem]:
    guess = guesses.get(record.work)
    place = (record.file, record.line, None)
    if guess is None:
        near = difflib.get_close_matches(record.work, guesses, 1)
        fix = f"write `{near[0]}`" if near else "mend the name"
        expected = "one of: " + ", ".join(guesses)
        yield Problem("unknown-work", f"no work is called {record.work!r}", *place, "work", expected, fix)
    elif record.measure not in measured_in(guess.unit):
        words = f"{record.work} is not counted in {record.measure}"
        yield Problem("wrong-unit", words, *place, "unit", " or ".join(measured_in(guess.unit)), "mend the unit")


def _spread(rate: ProductionRate) -> float:
    """Return the deviation from night to night that a guess stands for, of the logarithm."""
    return max(deviation_of_ends(rate.low, rate.high), 0.02)


def _night(record: VisitRecord, rate: ProductionRate) -> Night:
    value = logarithm(record, rate.unit)
    return Night(record.visit, record.work, (record.surface, record.soiling), value)


def _rows(
    rate: ProductionRate, used: Sequence[VisitRecord], weights: Sequence[float], spreads: Mapping[str, float]
) -> tuple[LearnedRate, ...]:
    """Return the rows of one work: the work itself first, then each surface, then each soiling on it."""
    own = [(each, weight) for each, weight in zip(used, weights, strict=True) if each.work == rate.work]
    cells = [Cell(each.surface, each.soiling, logarithm(each, rate.unit), weight, each.visit) for each, weight in own]
    guess = logarithm_of_guess(rate)
    error = max(deviation_of_ends(rate.low, rate.high, GUESS_DEVIATIONS), 0.02)
    return tuple(
        _row(rate, each, spreads[rate.work]) for each in learned_cells(cells, guess, error, spreads[rate.work])
    )


def logarithm_of_guess(rate: ProductionRate) -> float:
    """Return the logarithm of a guess's usual rate, as work an hour."""
    return logarithm(None, rate.unit, rate.usual)


def _row(rate: ProductionRate, learned: Learned, spread: float) -> LearnedRate:
    after = rate_from(learned.mean, (spread**2 + learned.error**2) ** 0.5, rate.unit)
    rule = (
        f"between the guess of {rate.usual:g} and {learned.visits} visits that count as {learned.counted:.1f}; a night "
        f"off by more than it should counts for less"
    )
    return LearnedRate(
        rate.work, learned.surface, learned.soiling, rate.unit, learned.visits, learned.counted,
        (rate.low, rate.usual, rate.high), after, after[1] / rate.usual - 1.0,
        Why(rule, ("normal-normal", "dersimonian-laird-1986", "huber-1964")),
    )  # fmt: skip


def learned_rate(row: LearnedRate) -> ProductionRate:
    """Return what was learned as a line of a rates document."""
    unit = next(known for known in get_args(RateUnit) if known == row.unit)
    return _new_rate(ProductionRate(row.work, *row.before, unit, row.surface or None, row.soiling or None), row.after)


def _new_rate(rate: ProductionRate, after: tuple[float, float, float]) -> ProductionRate:
    """Return a rate to three figures, its values rising as a rates document wants them."""
    low, usual, high = sorted(float(f"{each:.3g}") for each in after)
    return replace(rate, low=low, usual=usual, high=high)
