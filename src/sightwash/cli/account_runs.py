"""The verbs of ``accounts`` that write into the book: each adds one entry, or none and says why."""

from __future__ import annotations

import argparse
from dataclasses import replace

from sightwash.basis.errors import EXIT_DONE, InputError, Problem
from sightwash.book.account_book import Book
from sightwash.book.book_file import BookFile, append, create_book, read_book
from sightwash.book.entries import Customer, Job, Opening
from sightwash.book.entry_checks import added
from sightwash.book.new_entries import (
    with_change,
    with_credit,
    with_invoice,
    with_late_charge,
    with_payment,
    with_refund,
    with_return,
    with_waiver,
)
from sightwash.cli.account_papers import write_paper
from sightwash.cli.account_words import entry_words
from sightwash.cli.firm_files import read_firm
from sightwash.papers.agreed_job import agreed_job
from sightwash.papers.plan_document import read_plan
from sightwash.site.site_file import record_from
from sightwash.site.tree import Parsed, parse, read_text


def run_new(options: argparse.Namespace) -> int:
    """Open a book."""
    if options.first_invoice < 1:
        problem = Problem("out-of-range", "a count begins at 1 or later", key="--first-invoice", expected="1 or more")
        raise InputError(problem)
    numbers = (options.invoice_numbers, options.credit_numbers, options.first_invoice)
    create_book(options.book, Opening("book", 1, options.currency, *numbers))
    print(f"{options.book}: a new account book in {options.currency}")
    return EXIT_DONE


def _written(held: BookFile, newer: Book) -> int:
    """Add the newest entry to the file and say it in one line."""
    append(held, newer)
    print(entry_words(newer, newer.entries[-1]))
    return EXIT_DONE


def run_agree(options: argparse.Namespace) -> int:
    """Take an agreement into the book, from a plan or from a document of lines and terms."""
    held = read_book(options.book)
    job = _job_of_plan(options) if options.plan is not None else _job_of_document(options)
    return _written(held, added(held.book, job))


def _job_of_document(options: argparse.Namespace) -> Job:
    """Return the job that a document describes; the day and the job's id come from the command."""
    parsed = parse(read_text(options.document), str(options.document))
    given = parsed.tree if isinstance(parsed.tree, dict) else {}
    for key in ("entry", "on", "job"):
        if key in given:
            message = f"the key {key!r} is given on the command line"
            line, column = parsed.place((key,)) or (None, None)
            raise InputError(Problem("unknown-key", message, parsed.file, line, column, key, fix="take it out"))
    tree = {"entry": "job", "on": options.on.isoformat(), "job": options.job, **given}
    return record_from(replace(parsed, tree=tree), Job)


def _job_of_plan(options: argparse.Namespace) -> Job:
    if options.customer is None or options.name is None:
        message = "a plan does not say who pays"
        raise InputError(Problem("usage", message, key="--customer", expected="--customer ID --name NAME"))
    tree = {"id": options.customer, "name": options.name, "address": options.address}
    customer = record_from(Parsed("--customer", tree, dict), Customer)
    return agreed_job(
        read_plan(options.plan), options.job, options.on, customer, read_firm(options.firm)[0].terms, options.extra,
        options.agreement, options.reference,
    )  # fmt: skip


def run_change(options: argparse.Namespace) -> int:
    """Add approved lines to an agreement."""
    held = read_book(options.book)
    lines = [replace(line, taxes=tuple(options.tax)) for line in options.line]
    return _written(held, with_change(held.book, options.job, options.on, lines, options.approved_by, options.how))


def run_invoice(options: argparse.Namespace) -> int:
    """Write an invoice, and its paper if a folder is given."""
    held = read_book(options.book)
    newer = with_invoice(held.book, options.job, options.on, options.line, options.part, options.note)
    status = _written(held, newer)
    write_paper(options, newer, newer.invoices[-1].number)
    return status


def run_credit(options: argparse.Namespace) -> int:
    """Write a credit note, and its paper if a folder is given."""
    held = read_book(options.book)
    amounts = dict(options.line)
    newer = with_credit(held.book, options.invoice, options.on, amounts, options.reason, options.again)
    status = _written(held, newer)
    write_paper(options, newer, newer.credits[-1].number)
    return status


def run_payment(options: argparse.Namespace) -> int:
    """Write down money that came in."""
    held = read_book(options.book)
    newer = with_payment(held.book, options.job, options.on, options.amount, options.by, options.invoice)
    return _written(held, newer)


def run_returned(options: argparse.Namespace) -> int:
    """Mark a payment as come back."""
    held = read_book(options.book)
    return _written(held, with_return(held.book, options.payment, options.on, options.reason))


def run_refund(options: argparse.Namespace) -> int:
    """Pay back money that is held."""
    held = read_book(options.book)
    return _written(held, with_refund(held.book, options.job, options.on, options.amount, options.by))


def run_late(options: argparse.Namespace) -> int:
    """Charge what was agreed for late payment."""
    held = read_book(options.book)
    return _written(held, with_late_charge(held.book, options.invoice, options.on))


def run_waive(options: argparse.Namespace) -> int:
    """Let late charges go."""
    held = read_book(options.book)
    return _written(held, with_waiver(held.book, options.invoice, options.on, options.amount, options.reason))
