"""``sightwash work-out``: single sums at the tailgate, one or a file of them."""

from __future__ import annotations

import argparse
import itertools
import shlex
import sys
from collections.abc import Iterator
from pathlib import Path

from sightwash.basis.errors import EXIT_DONE, InputError, Problem
from sightwash.cli.output import Commands
from sightwash.papers.plan_document import SumLine, SumList, output_text
from sightwash.papers.summary import table
from sightwash.planning.tailgate import SumAnswer, find_sum, kind_of, shown_default, sums, work_out
from sightwash.site.tree import read_text


def add_work_out(commands: Commands) -> None:
    """Add the ``work-out`` command."""
    parser = commands.add_parser("work-out", help="work out a single sum, such as hidden-height or working-point")
    parser.add_argument("name", nargs="?", help="the sum; without inputs its inputs are explained")
    parser.add_argument("inputs", nargs="*", metavar="KEY=VALUE", help="inputs with their units, such as depth='6 ft'")
    parser.add_argument("--list", action="store_true", help="list every sum")
    parser.add_argument("--batch", type=Path, metavar="FILE", help="work out one sum a line: NAME KEY=VALUE ...")
    parser.add_argument("--units", choices=("us", "metric"), default="us")
    parser.add_argument("--json", action="store_true", help="print one JSON document (one a line with --batch)")
    parser.set_defaults(run=run_work_out)


def run_work_out(options: argparse.Namespace) -> int:
    """List, explain or work out sums."""
    _refuse_two_jobs(options)
    if options.list:
        _list(options.json)
    elif options.batch is not None:
        for answer in _batch(options.batch, options.units):
            sys.stdout.write(output_text("sum", answer, None) if options.json else f"{_as_text(answer)}\n")
    elif options.name is None:
        raise InputError(
            Problem("missing-name", "which sum?", expected="a name", fix="see `sightwash work-out --list`")
        )
    elif not options.inputs and not options.json and any(p.required for p in find_sum(options.name).doc.parameters):
        sys.stdout.write(_explained(options.name, options.units))
    else:
        answer = work_out(options.name, _pairs(options.inputs), options.units)
        sys.stdout.write(output_text("sum", answer) if options.json else _as_text(answer))
    return EXIT_DONE


def _refuse_two_jobs(options: argparse.Namespace) -> None:
    jobs = [
        job for job, wanted in (("NAME", options.name), ("--list", options.list), ("--batch", options.batch)) if wanted
    ]
    if len(jobs) > 1:
        message = f"{' and '.join(jobs)} cannot go together"
        raise InputError(Problem("usage", message, expected="a sum's NAME, --list or --batch FILE", fix="keep one"))


def _pairs(texts: list[str]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for text in texts:
        key, equals, value = text.partition("=")
        key = key.strip().replace("-", "_")
        if not equals or key in pairs:
            what = "stands twice" if key in pairs else "has no `=`"
            raise InputError(Problem("bad-input", f"{text!r} {what}", key=key, expected="KEY=VALUE once a key"))
        pairs[key] = value
    return pairs


def _batch(path: Path, system: str) -> Iterator[SumAnswer]:
    """Work out every line of a file; all bad lines are reported together, before anything is printed."""
    answers: list[SumAnswer] = []
    problems: list[Problem] = []
    for number, line in enumerate(read_text(path).splitlines(), 1):
        try:
            words = shlex.split(line, comments=True)
            if words:
                answers.append(work_out(words[0], _pairs(words[1:]), system))
        except InputError as error:
            problems += [
                Problem(p.code, p.message, str(path), number, 1, p.key, p.expected, p.fix) for p in error.problems
            ]
        except ValueError as error:
            problems.append(Problem("bad-line", str(error), str(path), number, 1, expected="NAME KEY=VALUE ..."))
    if problems:
        raise InputError(problems)
    return iter(answers)


def _list(as_json: bool) -> None:
    lines = tuple(
        SumLine(s.name, s.group, s.doc.summary, tuple(p.name for p in s.doc.parameters if p.required))
        for s in sums().values()
    )
    if as_json:
        sys.stdout.write(output_text("sums", SumList(1, lines)))
        return
    for group, members in itertools.groupby(lines, key=lambda line: line.group):
        print(f"{group}:")
        for line in members:
            print(f"  {line.name:32} {line.summary}")


def _explained(name: str, system: str) -> str:
    wanted = find_sum(name)
    rows = []
    for p in wanted.doc.parameters:
        kind = kind_of(p.name, p.unit)
        unit = kind.unit(system) if kind else p.unit
        rows.append([p.name, unit, "needed" if p.required else f"default {shown_default(p, system)}", p.text])
    lines = [wanted.doc.summary, wanted.doc.formula, "", *table(("input", "bare number in", "", "meaning"), rows)]
    return "\n".join((*lines, "", f"Range: {wanted.doc.range_text}")) + "\n"


def _as_text(answer: SumAnswer) -> str:
    lines = [answer.summary]
    lines += [f"  {answer.formula}"] if answer.formula else []
    lines += [f"  {v.name} = {v.shown}{'  (default)' if v.default else ''}" for v in answer.inputs]
    lines += [f"= {v.shown}   {v.text if len(answer.results) > 1 else ''}".rstrip() for v in answer.results]
    lines += [f"  Range: {answer.range}"] if answer.range else []
    lines += [f"  Source: {citation}" for citation in answer.sources]
    lines += [f"  Beyond what was measured: {warning}" for warning in answer.warnings]
    return "\n".join(lines) + "\n"
