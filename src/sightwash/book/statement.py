"""A customer's statement: what is open on a day, by age, with late charges and money held."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from sightwash.basis.money import ZERO
from sightwash.book.account_book import Book, refuse
from sightwash.book.entries import Customer, Invoice

AGES: Final = (0, 30, 60, 90)
"""Last days overdue of each column but the last: not yet due, up to 30, up to 60, up to 90, over 90."""


@dataclass(frozen=True, slots=True)
class OpenItem:
    """One invoice with something open: what is left of it, of its late charges, and for how long it is overdue."""

    invoice: Invoice
    premises: str
    paid: Decimal
    credited: Decimal
    open: Decimal
    late_open: Decimal
    days_over: int
    column: int

    @property
    def due(self) -> Decimal:
        """What is to be paid for it."""
        return self.open + self.late_open


@dataclass(frozen=True, slots=True)
class Statement:
    """What a customer owes on a day; ``columns`` are the amounts by age, ``held`` is money of theirs not taken up."""

    customer: Customer
    on: date
    items: tuple[OpenItem, ...]
    columns: tuple[Decimal, ...]
    held: Decimal
    due: Decimal

    @property
    def overdue(self) -> Decimal:
        """What is past its due date."""
        return sum(self.columns[1:], ZERO)


def statement(book: Book, customer: str, on: date) -> Statement:
    """Return what a customer owes on a day over all jobs; entries of later days are left out."""
    jobs = [job for job in book.jobs if job.customer.id == customer]
    if not jobs:
        expected = ", ".join(sorted({job.customer.id for job in book.jobs})) or "a customer that is in the book"
        refuse("unknown-customer", f"the book holds no customer {customer!r}", "customer", expected)
    items: list[OpenItem] = []
    held = ZERO
    for job in jobs:
        own = book.balance(job.job, on)
        held += own.held
        for each in own.invoices:
            if each.open + each.late_open > 0:
                over = max((on - each.invoice.due).days, 0)
                column = sum(over > age for age in AGES)
                items.append(
                    OpenItem(
                        each.invoice, job.property, each.paid, each.credited, each.open, each.late_open, over, column
                    )
                )
    items.sort(key=lambda item: (item.invoice.due, item.invoice.number))
    columns = tuple(sum((i.due for i in items if i.column == at), ZERO) for at in range(len(AGES) + 1))
    return Statement(jobs[-1].customer, on, tuple(items), columns, held, sum(columns, ZERO) - held)


def overdue(book: Book, on: date) -> tuple[Statement, ...]:
    """Return the statements of all customers who owe something past its due date, the most owed first."""
    customers = sorted({job.customer.id for job in book.jobs})
    late = [found for name in customers if (found := statement(book, name, on)).overdue > 0]
    return tuple(sorted(late, key=lambda found: (-found.overdue, found.customer.id)))
