"""The account book of a firm: an opening line and entries that are only ever added, each checked against those before.

A book is a value: adding an entry returns a new one. Nothing in it is changed or taken out; an error is mended by a
further entry (a credit note, a payment marked as returned, a waiver). Every day comes from outside, no clock is read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import NoReturn, TypeVar

from sightwash.basis.errors import InputError, Problem
from sightwash.book.balances import Balance, balance
from sightwash.book.book_index import BookIndex
from sightwash.book.entries import (
    AgreedLine,
    BilledLine,
    Change,
    Credit,
    Entry,
    Invoice,
    Job,
    LateCharge,
    Opening,
    Payment,
    Returned,
)
from sightwash.book.numbering import check_pattern, next_number

Kept = TypeVar("Kept")


@dataclass(frozen=True, slots=True)
class Book:
    """The opening and every entry in the order in which it was written."""

    opening: Opening
    entries: tuple[Entry, ...] = ()
    index: BookIndex = field(default_factory=BookIndex, compare=False, repr=False)

    def plus(self, entry: Entry) -> Book:
        """Return the book with one entry more, not checked: see ``entry_checks.added``."""
        return Book(self.opening, (*self.entries, entry), self.index.plus(entry))

    @property
    def jobs(self) -> tuple[Job, ...]:
        """Every job in the book."""
        return tuple(self.index.jobs.values())

    @property
    def invoices(self) -> tuple[Invoice, ...]:
        """Every invoice in the book."""
        return tuple(self.index.invoices.values())

    @property
    def credits(self) -> tuple[Credit, ...]:
        """Every credit note in the book."""
        return tuple(self.index.credits.values())

    def job(self, name: str) -> Job:
        """Return a job by its id; InputError lists those there are."""
        return _one(self.index.jobs, name, "job")

    def invoice(self, number: str) -> Invoice:
        """Return an invoice by its number; InputError lists those there are."""
        return _one(self.index.invoices, number, "invoice")

    def credit(self, number: str) -> Credit:
        """Return a credit note by its number; InputError lists those there are."""
        return _one(self.index.credits, number, "credit")

    def payment(self, name: str) -> Payment:
        """Return a payment by its id; InputError lists those there are."""
        return _one(self.index.payments, name, "payment")

    def agreed(self, job: str) -> tuple[AgreedLine, ...]:
        """Return all lines agreed for a job, later changes with them."""
        first = self.job(job).lines
        changes = (each for each in self.index.of_job[job] if isinstance(each, Change))
        return (*first, *(line for change in changes for line in change.lines))

    def left_to_bill(self, job: str) -> dict[str, Decimal]:
        """Return what of each agreed line is not invoiced yet; a credit counts where it may be invoiced again."""
        left = {line.id: line.amount for line in self.agreed(job)}
        for entry in self.index.of_job[job]:
            if isinstance(entry, Invoice) or (isinstance(entry, Credit) and entry.again):
                for line in entry.lines:
                    left[line.line] += line.amount if isinstance(entry, Credit) else -line.amount
        return left

    def credited(self, number: str, line: str) -> tuple[BilledLine, ...]:
        """Return what was credited on one line of an invoice, step by step."""
        own = self.index.of_job[self.invoice(number).job]
        notes = (each for each in own if isinstance(each, Credit) and each.invoice == number)
        return tuple(each for note in notes for each in note.lines if each.line == line)

    def balance(self, job: str, until: date | None = None) -> Balance:
        """Return what is open on a job."""
        return balance(self.index.of_job[self.job(job).job], until)

    def next_invoice_number(self, on: date) -> str:
        """Return the number of an invoice written on a day."""
        days = [each.on for each in self.invoices]
        return next_number(self.opening.invoice_numbers, self.opening.first_invoice, days, on)

    def next_credit_number(self, on: date) -> str:
        """Return the number of a credit note written on a day."""
        days = [each.on for each in self.credits]
        return next_number(self.opening.credit_numbers, self.opening.first_credit, days, on)

    def late_until(self, number: str) -> date | None:
        """Return the last day for which a late charge stands on an invoice."""
        own = self.index.of_job[self.invoice(number).job]
        return max((each.on for each in own if isinstance(each, LateCharge) and each.invoice == number), default=None)

    def is_returned(self, payment: str) -> bool:
        """Return whether a payment came back."""
        own = self.index.of_job[self.payment(payment).job]
        return any(isinstance(each, Returned) and each.payment == payment for each in own)

    def up_to(self, entry: Entry) -> Book:
        """Return the book as it stood when an entry had just been written."""
        book = Book(self.opening)
        for each in self.entries:
            book = book.plus(each)
            if each is entry:
                break
        return book


def _one(found: Mapping[str, Kept], name: str, what: str) -> Kept:
    if name not in found:
        _refuse_unknown(found, name, what)
    return found[name]


def _refuse_unknown(found: Mapping[str, Kept], name: str, what: str) -> NoReturn:
    words = "credit note" if what == "credit" else what
    expected = ", ".join(list(found)[-8:]) or f"a {words} that is in the book"
    refuse(f"unknown-{what}", f"the book holds no {words} {name!r}", what, expected)


def refuse(code: str, message: str, key: str, expected: str | None = None, fix: str | None = None) -> NoReturn:
    """Raise what is wrong with an entry."""
    raise InputError(Problem(code, message, key=key, expected=expected, fix=fix))


def new_book(opening: Opening) -> Book:
    """Return an empty book; a pattern of numbers that could repeat itself is refused."""
    check_pattern(opening.invoice_numbers, "invoice_numbers")
    check_pattern(opening.credit_numbers, "credit_numbers")
    if opening.invoice_numbers == opening.credit_numbers:
        refuse("same-numbers", "invoices and credit notes would share their numbers", "credit_numbers",
               "two patterns", "begin one of them with a letter")  # fmt: skip
    for key, first in (("first_invoice", opening.first_invoice), ("first_credit", opening.first_credit)):
        if first < 1:
            refuse("out-of-range", "a count begins at 1 or later", key, "1 or more")
    return Book(opening)
