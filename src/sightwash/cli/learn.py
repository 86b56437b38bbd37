"""``sightwash learn``: the firm's own rates from its finished visits, before and after."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import get_args

from sightwash.basis.errors import EXIT_DONE, InputError, Problem
from sightwash.book.learning import LearnedRate, Lesson, learn_rates, learned_rate, without_each_visit
from sightwash.book.visit_records import read_visit_records
from sightwash.cli.output import Commands, say, write_files
from sightwash.papers.plan_document import LessonDocument, output_text
from sightwash.papers.summary import table
from sightwash.planning.tables import starting_rates
from sightwash.site.rates import ProductionRate, Rates, RateUnit
from sightwash.site.site_file import document_text, read_document


def add_learn(commands: Commands) -> None:
    """Add the ``learn`` command."""
    parser = commands.add_parser("learn", help="learn the firm's own rates from finished visits")
    parser.add_argument("records", type=Path, metavar="RECORDS.csv", help="a line for each work of each visit")
    parser.add_argument("--rates", type=Path, required=True, help="the rates as they stood before the first visit")
    parser.add_argument("--leave-out", action="append", default=[], metavar="VISIT", help="a visit that must not count")
    parser.add_argument("--without-each", action="store_true", help="show the rates with each visit left out in turn")
    parser.add_argument("--out", type=Path, metavar="FILE", help="write the rates document with what was learned here")
    parser.add_argument("--json", action="store_true", help="print one JSON document")
    parser.set_defaults(run=run_learn)


def run_learn(options: argparse.Namespace) -> int:
    """Learn from the records; print before and after; write the new rates."""
    rates = read_document(options.rates, "rates")
    assert isinstance(rates, Rates)
    if options.out is not None and options.out.resolve() == options.rates.resolve():
        words = "the rates to learn from would be lost, and the next lesson would count the same visits twice"
        raise InputError(Problem("same-file", words, key="--out", expected="another file", fix="name a new file"))
    records, before = read_visit_records(options.records), _before(rates)
    lesson = learn_rates(records, before, options.leave_out)
    others = without_each_visit(records, before, options.leave_out) if options.without_each else {}
    if options.out is not None:
        new = replace(rates, production=tuple(_new_rates(rates, lesson)))
        write_files(options.out.parent, {options.out.name: document_text(new)})
        say(f"wrote {options.out}")
    if options.json:
        sys.stdout.write(output_text("lesson", LessonDocument(1, lesson, others)))
    else:
        sys.stdout.write("\n".join(_words(lesson, others)) + "\n")
    return EXIT_DONE


def _new_rates(rates: Rates, lesson: Lesson) -> Iterator[ProductionRate]:
    """Yield the firm's own and the learned rates: of each work, of a surface, of a soiling on it."""
    rows: dict[tuple[str, str | None, str | None], LearnedRate] = {
        (row.work, row.surface or None, row.soiling or None): row for row in lesson.table
    }
    works = {work for work, _, _ in rows}
    yield from (rate for rate in rates.production if (rate.work, rate.surface, rate.soiling) not in rows)
    for rate in lesson.rates:
        if rate.work in works:
            yield rate
            yield from (learned_rate(row) for (work, surface, _), row in rows.items() if work == rate.work and surface)


def _before(rates: Rates) -> tuple[ProductionRate, ...]:
    """Return the rate of every work: the firm's own, else the start that is theirs to replace."""
    return tuple(_rising(rates, work) for work in starting_rates())


def _rising(rates: Rates, work: str) -> ProductionRate:
    """Return the rate in use of a work, its values rising as learning wants them."""
    own = next((rate for rate in rates.production if rate.work == work and rate.surface is None), None)
    start = starting_rates()[work]
    low, usual, high = sorted((own.low, own.usual, own.high) if own else (start.low, start.usual, start.high))
    unit = next(known for known in get_args(RateUnit) if known == (own or start).unit)
    return ProductionRate(work, low, usual, high, unit)


def _words(lesson: Lesson, others: dict[str, Lesson]) -> Iterator[str]:
    yield "RATES, BEFORE AND AFTER (low / usual / high)"
    heads = ("work", "on", "visits", "count as", "before", "after", "change", "unit")
    yield from table(heads, [_row(row) for row in lesson.table], (2, 3, 6))
    yield ""
    yield "WHAT EACH VISIT COUNTS FOR"
    rows = [[each.visit, str(each.records), f"{each.off:+.1f}", f"{each.counts:.0%}"] for each in lesson.visits]
    yield from table(("visit", "lines", "off by (deviations)", "counts"), rows, (1, 2, 3))
    if lesson.left_out:
        yield f"Left out: {', '.join(lesson.left_out)}."
    if lesson.uses:
        yield ""
        yield "WHAT WAS USED UP"
        used = [
            [use.work, f"{use.surface} {use.soiling}".strip(), str(use.visits), f"{use.own:.3g}", f"{use.after:.3g}",
             use.unit]
            for use in lesson.uses
        ]  # fmt: skip
        yield from table(("work", "on", "visits", "measured", "to plan with", "unit"), used, (2, 3, 4))
    for each in lesson.passes:
        where = f"{each.surface} {each.soiling}".strip()
        yield f"Treatments of {where}: {each.own:.1f} measured, {each.after:.1f} to plan with ({each.visits} visits)."
    for visit, other in others.items():
        yield ""
        yield f"WITHOUT {visit}"
        yield from table(heads, [_row(row) for row in other.table if not row.surface and not row.soiling], (2, 3, 6))


def _row(row: LearnedRate) -> list[str]:
    return [
        row.work, f"{row.surface} {row.soiling}".strip(), str(row.visits), f"{row.counted:.1f}",
        _three(row.before), _three(row.after), f"{row.change:+.0%}", row.unit,
    ]  # fmt: skip


def _three(values: tuple[float, float, float]) -> str:
    return " / ".join(f"{value:,.3g}" if value < 1000 else f"{value:,.0f}" for value in values)
