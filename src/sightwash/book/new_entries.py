"""New entries for a book: numbers, due dates, taxes and late charges are worked out, the rest is given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal

from sightwash.basis.money import ZERO, to_cents
from sightwash.book.account_book import Book, refuse
from sightwash.book.entries import (
    AgreedLine,
    Change,
    Credit,
    Invoice,
    LateCharge,
    Payment,
    Refund,
    Returned,
    Waiver,
)
from sightwash.book.entry_checks import added
from sightwash.book.late_charges import late_amount
from sightwash.book.tax_lines import billed_lines, credited_line


def with_invoice(
    book: Book,
    job: str,
    on: date,
    lines: Sequence[str] = (),
    part: Decimal | None = None,
    note: str | None = None,
) -> Book:
    """Return the book with a new invoice for what is left of a job's lines, or of the ``lines`` that are named.

    ``part`` is the share of each agreed amount that is asked for now, above 0 and up to 1; it never goes beyond what
    is left.
    """
    agreed = book.agreed(job)
    left = book.left_to_bill(job)
    for name in lines:
        if name not in left:
            refuse("unknown-line", f"the agreement has no line {name!r}", "lines", ", ".join(left))
    if part is not None and not ZERO < part <= 1:
        refuse("out-of-range", f"{part} is no part of an amount", "part", "above 0 %, up to 100 %")
    wanted = {line.id: left[line.id] for line in agreed if not lines or line.id in lines}
    if part is not None:
        wanted = {line.id: min(to_cents(line.amount * part), wanted[line.id]) for line in agreed if line.id in wanted}
    terms = book.job(job)
    billed = billed_lines(agreed, wanted, terms.taxes)
    due = on + timedelta(days=terms.due_days)
    return added(book, Invoice("invoice", on, job, book.next_invoice_number(on), due, billed, note))


def with_credit(
    book: Book, invoice: str, on: date, amounts: Mapping[str, Decimal], reason: str, again: bool = False
) -> Book:
    """Return the book with a credit note on an invoice: amounts before tax by line; none named means all that is left.

    ``again`` lets the credited lines be invoiced anew, as after a wrong invoice.
    """
    billed = {line.line: line for line in book.invoice(invoice).lines}
    for name in amounts:
        if name not in billed:
            refuse("unknown-line", f"invoice {invoice} has no line {name!r}", "lines", ", ".join(billed))
    wanted = dict(amounts) or {
        name: left
        for name, line in billed.items()
        if (left := line.amount - sum((each.amount for each in book.credited(invoice, name)), ZERO)) > 0
    }
    lines = tuple(credited_line(billed[name], book.credited(invoice, name), amount) for name, amount in wanted.items())
    return added(book, Credit("credit", on, book.next_credit_number(on), invoice, lines, reason, again))


def with_payment(book: Book, job: str, on: date, amount: Decimal, by: str, invoice: str | None = None) -> Book:
    """Return the book with money that came in; without an invoice it is held for the job, as a deposit is."""
    count = len(book.index.payments)
    return added(book, Payment("payment", on, f"payment-{count + 1}", job, amount, by, invoice))


def with_return(book: Book, payment: str, on: date, reason: str) -> Book:
    """Return the book with a payment marked as come back."""
    return added(book, Returned("returned", on, payment, reason))


def with_refund(book: Book, job: str, on: date, amount: Decimal, by: str) -> Book:
    """Return the book with money held for a job paid back."""
    return added(book, Refund("refund", on, job, amount, by))


def with_change(book: Book, job: str, on: date, lines: Sequence[AgreedLine], approved_by: str, how: str) -> Book:
    """Return the book with lines added to a job's agreement."""
    return added(book, Change("change", on, job, tuple(lines), approved_by, how))


def with_late_charge(book: Book, invoice: str, on: date) -> Book:
    """Return the book with the late charge on an invoice up to and with a day."""
    charge = late_amount(book, invoice, on)
    if charge is None:
        refuse("no-late-charge", f"no late charge is due on invoice {invoice} on {on}", "invoice",
               "an overdue invoice whose agreement names a late charge")  # fmt: skip
    return added(book, LateCharge("late charge", on, invoice, charge.since, charge.amount, charge.words))


def with_waiver(book: Book, invoice: str, on: date, amount: Decimal, reason: str) -> Book:
    """Return the book with late charges let go."""
    return added(book, Waiver("waiver", on, invoice, amount, reason))
