"""``sightwash papers``: from a plan, the papers that a firm hands over, as PDF."""

from __future__ import annotations

import argparse
import warnings
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final, get_args

from sightwash.basis.errors import EXIT_DONE, InputError, Problem
from sightwash.cli.output import Commands, say, write_files
from sightwash.cli.plan import read_day
from sightwash.papers.job import NO_FIRM, new_job
from sightwash.papers.paper_list import PAPERS, papers
from sightwash.papers.pictures import LARGEST_BYTES
from sightwash.papers.plan_document import read_plan
from sightwash.papers.text_blocks import LARGEST_BLOCKS, blocks_text, read_blocks, with_new_blocks
from sightwash.papers.typesetter import NotDrawn
from sightwash.site.firm import Firm, Language, PaperSize
from sightwash.site.site_file import read_document
from sightwash.site.tree import read_text

MOST_LINES: Final = 12


def add_papers(commands: Commands) -> None:
    """Add the ``papers`` command."""
    parser = commands.add_parser("papers", help="write the papers of a plan as PDF")
    parser.add_argument("plan", type=Path, nargs="?", metavar="PLAN", help="plan.json as `plan --out` writes it")
    parser.add_argument("--out", type=Path, metavar="DIR", help="write the papers here")
    names = ", ".join(paper.name for paper in PAPERS)
    parser.add_argument("--only", nargs="+", default=(), metavar="NAME", help=f"these papers alone: {names}")
    parser.add_argument("--firm", type=Path, metavar="FILE", help="the firm document")
    parser.add_argument("--paper", choices=get_args(PaperSize), help="paper size; the firm's own unless given")
    parser.add_argument("--language", choices=get_args(Language), help="language; the firm's own unless given")
    parser.add_argument("--customer", nargs="+", default=(), metavar="LINE", help="name and address, a line each")
    parser.add_argument("--blocks", type=Path, metavar="FILE", help="the firm's text blocks; drafts are written once")
    parser.add_argument("--dated", type=read_day, metavar="DATE", help="day on the papers; today unless given")
    parser.add_argument("--number", metavar="NUMBER", help="the firm's own number of the offer")
    parser.set_defaults(run=run_papers, json=False)


def run_papers(options: argparse.Namespace) -> int:
    """Write the drafts of the text blocks, the papers of a plan, or both."""
    if options.plan is None and options.blocks is None:
        fix = "give a plan and --out, or --blocks to write the drafts of the text blocks"
        raise InputError(Problem("usage", "there is nothing to write", expected="PLAN or --blocks FILE", fix=fix))
    firm = _firm(options.firm)
    language: Language = options.language or firm.language
    blocks = _blocks(options, firm, language)
    if options.plan is None:
        return EXIT_DONE
    if options.out is None:
        raise InputError(Problem("usage", "where the papers go is not said", key="--out", fix="add `--out DIR`"))
    job = new_job(
        read_plan(options.plan),
        firm,
        options.paper,
        language,
        _lines(options.customer),
        blocks,
        _logo(options.firm, firm),
        options.dated or _today(),
        options.number,
    )
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always", NotDrawn)
        made = papers(job, options.only)
    for words in sorted({str(each.message) for each in caught}):
        say(f"warning: {words}")
    for path in write_files(options.out, made):
        say(f"wrote {options.out / path.name}")
    return EXIT_DONE


def _today() -> date:
    return datetime.now(UTC).astimezone().date()


def _firm(path: Path | None) -> Firm:
    if path is None:
        return NO_FIRM
    firm = read_document(path, "firm")
    assert isinstance(firm, Firm)
    return firm


def _lines(lines: list[str]) -> tuple[str, ...]:
    if len(lines) > MOST_LINES or any(len(line) > 200 for line in lines):
        expected = f"at most {MOST_LINES} lines of 200 characters"
        raise InputError(
            Problem("text-too-long", "the customer's lines are too long", key="--customer", expected=expected)
        )
    return tuple(lines)


def _beside(firm_path: Path, name: str, key: str) -> Path:
    """Return a file beside the firm document; one that leads elsewhere, by a link too, is refused."""
    home = firm_path.resolve().parent
    found = (home / name).resolve()
    if found.parent != home:
        fix = "put the file itself beside the firm document"
        raise InputError(
            Problem("path-escapes", f"{name!r} leads away from {home.name}", str(firm_path), key=key, fix=fix)
        )
    return found


def _logo(firm_path: Path | None, firm: Firm) -> bytes | None:
    if firm_path is None or firm.logo is None:
        return None
    path = _beside(firm_path, firm.logo, "logo")
    try:
        with path.open("rb") as stream:
            return stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        message = f"the logo cannot be read: {error.strerror}"
        raise InputError(
            Problem("unreadable", message, str(firm_path), key="logo", fix="check the file's name")
        ) from None


def _blocks(options: argparse.Namespace, firm: Firm, language: Language) -> dict[str, str]:
    """Return the firm's text blocks; ``--blocks`` writes what its file lacks and changes nothing else in it."""
    path: Path | None = options.blocks
    if path is None and options.firm is not None and firm.blocks is not None:
        return _read(_beside(options.firm, firm.blocks, "blocks"), language)
    if path is None:
        return {}
    before = read_text(path, LARGEST_BLOCKS) if path.exists() else None
    after = blocks_text(language) if before is None else with_new_blocks(before, str(path), language)
    if after != before:
        write_files(path.parent, {path.name: after})
        say(f"wrote {path}: drafts for the firm's own lawyer; what is rewritten there stays")
    return _read(path, language)


def _read(path: Path, language: Language) -> dict[str, str]:
    return read_blocks(read_text(path, LARGEST_BLOCKS), str(path), language)
