"""``completion``: the record of a finished visit, with its photographs, as PDF."""

from __future__ import annotations

import argparse
from pathlib import Path

from sightwash.basis.errors import EXIT_DONE
from sightwash.book.done_record import open_misses, read_done
from sightwash.cli.firm_files import read_firm, read_picture
from sightwash.cli.output import Commands, say, write_files
from sightwash.papers.completion_record import completion_record, planned_ids
from sightwash.papers.job import new_job
from sightwash.papers.plan_document import read_plan


def add_completion(commands: Commands) -> None:
    """Add the ``completion`` command."""
    parser = commands.add_parser("completion", help="the record of a finished visit with its photographs, as PDF")
    parser.add_argument("plan", type=Path, metavar="PLAN", help="plan.json of the visit")
    parser.add_argument("--record", type=Path, required=True, metavar="FILE", help="what was done, JSON or YAML")
    parser.add_argument(
        "--photographs", type=Path, metavar="DIR", help="where they lie, beside the record if not given"
    )
    parser.add_argument("--customer", action="append", default=[], metavar="LINE", help="a line of name and address")
    parser.add_argument("--firm", type=Path, metavar="FILE")
    parser.add_argument("--paper", choices=("letter", "a4"))
    parser.add_argument("--language", choices=("en", "es"))
    parser.add_argument("--out", type=Path, required=True, metavar="DIR")
    parser.set_defaults(run=run_completion, json=False)


def run_completion(options: argparse.Namespace) -> int:
    """Write the completion record and say which misses are still open."""
    firm, logo = read_firm(options.firm)
    job = new_job(read_plan(options.plan), firm, options.paper, options.language, tuple(options.customer), logo=logo)
    planned = planned_ids(job)
    done = read_done(options.record, planned)
    folder = options.photographs or options.record.parent
    photographs = {shot.file: read_picture(folder, shot.file) for shot in done.photographs}
    write_files(options.out, {"completion-record.pdf": completion_record(job, done, photographs)})
    say(f"wrote {options.out / 'completion-record.pdf'}")
    for name in open_misses(done, planned):
        print(f"still open: {name}")
    return EXIT_DONE
