"""The verbs of ``accounts`` that read the book: papers, statements, what is overdue, the bookkeeper's CSV."""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path

from sightwash.basis.errors import EXIT_DONE
from sightwash.book.account_book import Book
from sightwash.book.book_file import read_book
from sightwash.book.statement import overdue, statement
from sightwash.cli.account_words import paper_options
from sightwash.cli.firm_files import read_firm
from sightwash.cli.output import Commands, say, write_files
from sightwash.cli.plan import read_day
from sightwash.papers.account_look import AccountLook
from sightwash.papers.account_statement import statement_paper
from sightwash.papers.bookkeeper import bookkeeper_csv
from sightwash.papers.invoice import credit_paper, invoice_paper
from sightwash.papers.job import money_words


def add_paper_verbs(verbs: Commands) -> None:
    """Add the verbs that write nothing into the book."""
    paper = _verb(verbs, "paper", "make the paper of an invoice or a credit note again")
    paper.add_argument("number", metavar="NUMBER")
    paper_options(paper)
    paper.set_defaults(run=run_paper)

    account = _verb(verbs, "statement", "what a customer owes on a day, by age")
    account.add_argument("customer", metavar="CUSTOMER")
    account.add_argument("--on", type=read_day, required=True, metavar="DATE")
    paper_options(account)
    account.set_defaults(run=run_statement)

    late = _verb(verbs, "overdue", "every customer who owes something past its due date")
    late.add_argument("--on", type=read_day, required=True, metavar="DATE")
    late.set_defaults(run=run_overdue)

    keeper = _verb(verbs, "bookkeeper", "all entries as debits and credits, CSV")
    keeper.add_argument("--since", type=read_day, metavar="DATE", help="the first day, with it")
    keeper.add_argument("--until", type=read_day, metavar="DATE", help="the last day, with it")
    keeper.add_argument("--out", type=Path, metavar="FILE", help="write the CSV here instead of printing it")
    keeper.set_defaults(run=run_bookkeeper)


def _verb(verbs: Commands, name: str, help_text: str) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = verbs.add_parser(name, help=help_text)
    parser.add_argument("--book", type=Path, required=True, metavar="FILE", help="the account book")
    parser.set_defaults(json=False)
    return parser


def look_of(options: argparse.Namespace, book: Book) -> AccountLook:
    """Return how the papers look: as the firm has it, unless paper or language are given."""
    firm, logo = read_firm(options.firm)
    paper, language = options.paper or firm.paper, options.language or firm.language
    return AccountLook(firm, paper, language, logo, book.opening.currency)


def write_paper(options: argparse.Namespace, book: Book, number: str) -> None:
    """Write the paper of an invoice or a credit note into the folder that was given, if one was."""
    if options.out is None:
        return
    look = look_of(options, book)
    is_credit = any(credit.number == number for credit in book.credits)
    content = credit_paper(book, number, look) if is_credit else invoice_paper(book, number, look)
    _deliver(options.out, f"{'credit' if is_credit else 'invoice'}-{number}", content)


def _deliver(folder: Path, name: str, content: bytes) -> None:
    file = f"{re.sub(r'[^A-Za-z0-9._-]+', '-', name)}.pdf"
    write_files(folder, {file: content})
    say(f"wrote {folder / file}")


def run_paper(options: argparse.Namespace) -> int:
    """Make a paper again; it is the same as when it was first made."""
    book = read_book(options.book).book
    if not any(credit.number == options.number for credit in book.credits):
        book.invoice(options.number)
    write_paper(argparse.Namespace(**{**vars(options), "out": options.out or Path()}), book, options.number)
    return EXIT_DONE


def run_statement(options: argparse.Namespace) -> int:
    """Print what a customer owes, and write the statement if a folder is given."""
    book = read_book(options.book).book
    found = statement(book, options.customer, options.on)
    currency = book.opening.currency
    print(f"{found.customer.name}: {money_words(found.due, currency)} due on {found.on}")
    for item in found.items:
        over = f", {item.days_over} days over" if item.days_over else ""
        late = f", late charge {money_words(item.late_open, currency)}" if item.late_open else ""
        amounts = f"{money_words(item.open, currency)} of {money_words(item.invoice.total, currency)}"
        print(f"  {item.invoice.number}: {amounts}, due {item.invoice.due}{over}{late}")
    if found.held:
        print(f"  held: {money_words(found.held, currency)}")
    if options.out is not None:
        content = statement_paper(book, options.customer, options.on, look_of(options, book))
        _deliver(options.out, f"statement-{options.customer}-{options.on}", content)
    return EXIT_DONE


def run_overdue(options: argparse.Namespace) -> int:
    """Print who owes something past its due date, the most first."""
    book = read_book(options.book).book
    for found in overdue(book, options.on):
        over = found.overdue
        oldest = max(item.days_over for item in found.items)
        amount = money_words(over, book.opening.currency)
        print(f"{found.customer.id}: {found.customer.name}: {amount} overdue, the oldest {oldest} days")
    return EXIT_DONE


def run_bookkeeper(options: argparse.Namespace) -> int:
    """Print or write the bookkeeper's CSV."""
    text = bookkeeper_csv(read_book(options.book).book, options.since, options.until)
    if options.out is None:
        sys.stdout.write(text)
    else:
        write_files(options.out.parent, {options.out.name: text})
        say(f"wrote {options.out}")
    return EXIT_DONE
