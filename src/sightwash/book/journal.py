"""The book as lines for a bookkeeper: every entry that moves money as debits and credits that are equal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from sightwash.basis.money import ZERO
from sightwash.book.account_book import Book
from sightwash.book.balances import Balance
from sightwash.book.entries import (
    BilledLine,
    Credit,
    Entry,
    Invoice,
    LateCharge,
    Payment,
    Refund,
    Returned,
    Waiver,
)


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One line: an account is debited or credited; ``tax`` names the tax where the line is one."""

    entry: int
    on: date
    document: str
    number: str
    customer: str
    job: str
    account: str
    words: str
    tax: str
    debit: Decimal
    credit: Decimal


def journal(book: Book, first: date | None = None, last: date | None = None) -> tuple[JournalLine, ...]:
    """Return the lines of all entries from a first to a last day, both with it, in the order of the book."""
    found: list[JournalLine] = []
    before = Book(book.opening)
    for entry in book.entries:
        after = before.plus(entry)
        if (first is None or entry.on >= first) and (last is None or entry.on <= last):
            found += _entry_lines(before, after, entry)
        before = after
    return tuple(found)


def _entry_lines(before: Book, after: Book, entry: Entry) -> Iterator[JournalLine]:
    """Yield the lines of one entry: what it moved between what is owed and what is held, then its own."""
    job = after.job(after.index.job_of(entry))
    place = len(after.entries)
    blank = JournalLine(
        place, entry.on, entry.entry, _number(entry), job.customer.name, job.job, "", "", "", ZERO, ZERO
    )
    moved = [*_own(after, entry, blank)]
    if not moved:
        return
    old, new = before.balance(job.job), after.balance(job.job)
    names = after.opening.accounts
    yield from _sided(replace(blank, account=names.receivable, words="owed by the customer"), _owed(new) - _owed(old))
    yield from _sided(replace(blank, account=names.held, words="held for the customer"), old.held - new.held)
    yield from moved


def _owed(state: Balance) -> Decimal:
    return sum((each.open + each.late_open for each in state.invoices), ZERO)


def _sided(line: JournalLine, amount: Decimal) -> Iterator[JournalLine]:
    """Yield the line with an amount on its side: debit above zero, credit below, none at zero."""
    if amount:
        yield replace(line, debit=max(amount, ZERO), credit=max(-amount, ZERO))


def _number(entry: Entry) -> str:
    if isinstance(entry, (Invoice, Credit)):
        return entry.number
    if isinstance(entry, Payment):
        return entry.id
    if isinstance(entry, Returned):
        return entry.payment
    return entry.invoice if isinstance(entry, (LateCharge, Waiver)) else ""


def _own(book: Book, entry: Entry, blank: JournalLine) -> Iterator[JournalLine]:
    """Yield what an entry moves in or out of bank, sales, taxes and late charges; nothing for an agreement."""
    names = book.opening.accounts
    if isinstance(entry, (Invoice, Credit)):
        sign = -1 if isinstance(entry, Invoice) else 1
        yield from _billed(book, entry.lines, blank, sign)
    elif isinstance(entry, Payment):
        yield from _sided(replace(blank, account=names.bank, words=entry.by), entry.amount)
    elif isinstance(entry, Returned):
        amount = book.payment(entry.payment).amount
        yield from _sided(replace(blank, account=names.bank, words=entry.reason), -amount)
    elif isinstance(entry, Refund):
        yield from _sided(replace(blank, account=names.bank, words=entry.by), -entry.amount)
    elif isinstance(entry, LateCharge):
        yield from _sided(replace(blank, account=names.late, words=entry.words), -entry.amount)
    elif isinstance(entry, Waiver):
        yield from _sided(replace(blank, account=names.late, words=entry.reason), entry.amount)


def _billed(book: Book, lines: tuple[BilledLine, ...], blank: JournalLine, sign: int) -> Iterator[JournalLine]:
    names = book.opening.accounts
    taxes = {tax.id: tax.name for tax in book.job(blank.job).taxes}
    for line in lines:
        yield from _sided(replace(blank, account=names.sales, words=line.words), sign * line.amount)
        for tax in line.taxes:
            on_line = replace(blank, account=names.tax, words=line.words, tax=taxes[tax.tax])
            yield from _sided(on_line, sign * tax.amount)
