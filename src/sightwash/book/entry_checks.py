"""Each kind of entry checked against the book before it; what is wrong is refused with what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from sightwash.basis.money import ZERO, to_cents
from sightwash.book.account_book import Book, refuse
from sightwash.book.entries import (
    AgreedLine,
    BilledLine,
    Change,
    Credit,
    Entry,
    Invoice,
    Job,
    LateCharge,
    Payment,
    Refund,
    Returned,
    Waiver,
)
from sightwash.book.late_charges import late_amount
from sightwash.book.tax_lines import billed_lines, credited_line


def added(book: Book, entry: Entry) -> Book:
    """Return the book with one entry more; InputError where the entry does not follow from the book."""
    checks = {
        Job: _check_job, Change: _check_change, Invoice: _check_invoice, Credit: _check_credit,
        Payment: _check_payment, Returned: _check_returned, Refund: _check_refund, LateCharge: _check_late,
        Waiver: _check_waiver,
    }  # fmt: skip
    checks[type(entry)](book, entry)  # type: ignore[operator]  # each check takes its own kind of entry
    return book.plus(entry)


def _check_cents(amount: Decimal, key: str, least: Decimal = Decimal("0.01")) -> None:
    if amount != to_cents(amount):
        refuse("part-of-a-cent", f"{amount} is not in whole cents", key, "whole cents", f"write `{to_cents(amount)}`")
    if amount < least:
        refuse("out-of-range", f"{amount} is too little", key, f"{least} or more")


def _check_not_before(on: date, first: date, what: str) -> None:
    if on < first:
        refuse("too-early", f"{on} lies before {what} of {first}", "on", f"{first} or later", "mend the date")


def _check_lines(lines: Iterable[AgreedLine], known: Iterable[str], taxes: Iterable[str]) -> None:
    used, names = set(known), list(taxes)
    for line in lines:
        if line.id in used:
            refuse("doubled-id", f"two lines are called {line.id!r}", "lines", "each id once", "give it another id")
        used.add(line.id)
        _check_cents(line.amount, f"lines.{line.id}.amount")
        for tax in line.taxes:
            if tax not in names:
                expected = ", ".join(names) or "a tax of the agreement"
                refuse("unknown-tax", f"the agreement names no tax {tax!r}", f"lines.{line.id}.taxes", expected)
        if len(set(line.taxes)) < len(line.taxes):
            refuse("doubled-id", f"line {line.id} bears a tax twice", f"lines.{line.id}.taxes", "each tax once")


def _check_job(book: Book, job: Job) -> None:
    if job.job in book.index.jobs:
        refuse("doubled-id", f"the book holds a job {job.job!r} already", "job", "an id of its own", "add the year")
    names = [tax.id for tax in job.taxes]
    if len(set(names)) < len(names):
        refuse("doubled-id", "two taxes have the same id", "taxes", "each id once")
    if not job.lines:
        refuse("no-lines", "the agreement has no line", "lines", "one line or more")
    _check_lines(job.lines, (), names)
    _check_cents(job.deposit, "deposit", ZERO)
    whole = billed_lines(job.lines, {line.id: line.amount for line in job.lines}, job.taxes)
    total = sum((line.amount + line.tax for line in whole), ZERO)
    if job.deposit > total:
        refuse("too-much", f"a deposit of {job.deposit} is more than the agreed {total}", "deposit", f"up to {total}")


def _check_change(book: Book, change: Change) -> None:
    job = book.job(change.job)
    _check_not_before(change.on, job.on, "the agreement")
    if not change.lines:
        refuse("no-lines", "the change has no line", "lines", "one line or more")
    _check_lines(change.lines, (line.id for line in book.agreed(job.job)), (tax.id for tax in job.taxes))


def _check_number(given: str, wanted: str) -> None:
    if given != wanted:
        refuse("wrong-number", f"{given!r} is not the next number", "number", wanted, f"write `{wanted}`")


def _check_invoice(book: Book, invoice: Invoice) -> None:
    job = book.job(invoice.job)
    _check_not_before(invoice.on, job.on, "the agreement")
    if book.invoices:
        _check_not_before(invoice.on, book.invoices[-1].on, "the last invoice")
    _check_not_before(invoice.due, invoice.on, "the invoice")
    _check_number(invoice.number, book.next_invoice_number(invoice.on))
    amounts = _amounts(invoice.lines)
    left = book.left_to_bill(job.job)
    for name, amount in amounts.items():
        if name not in left:
            refuse("unknown-line", f"the agreement has no line {name!r}", "lines", ", ".join(left))
        if amount > left[name]:
            refuse("too-much", f"{amount} of {name} is more than is left of it", "lines", f"up to {left[name]}")
    _check_same(invoice.lines, billed_lines(book.agreed(job.job), amounts, job.taxes))


def _amounts(lines: tuple[BilledLine, ...]) -> dict[str, Decimal]:
    if not lines:
        refuse("no-lines", "there is nothing on it", "lines", "one line or more", "see what is left to invoice")
    for line in lines:
        _check_cents(line.amount, f"lines.{line.line}.amount")
    found = {line.line: line.amount for line in lines}
    if len(found) < len(lines):
        refuse("doubled-id", "a line stands twice", "lines", "each line once")
    return found


def _check_same(given: tuple[BilledLine, ...], worked_out: tuple[BilledLine, ...]) -> None:
    for line, right in zip(given, worked_out, strict=True):
        if line != right:
            taxes = ", ".join(f"{each.tax} {each.amount}" for each in right.taxes) or "no tax"
            refuse("wrong-line", f"line {line.line} is not as agreed", "lines", f"{right.words!r} with {taxes}")


def _check_credit(book: Book, credit: Credit) -> None:
    invoice = book.invoice(credit.invoice)
    _check_not_before(credit.on, invoice.on, "the invoice")
    if book.credits:
        _check_not_before(credit.on, book.credits[-1].on, "the last credit note")
    _check_number(credit.number, book.next_credit_number(credit.on))
    amounts = _amounts(credit.lines)
    billed = {line.line: line for line in invoice.lines}
    for name, amount in amounts.items():
        if name not in billed:
            refuse("unknown-line", f"invoice {invoice.number} has no line {name!r}", "lines", ", ".join(billed))
        before = book.credited(invoice.number, name)
        left = billed[name].amount - sum((line.amount for line in before), ZERO)
        if amount > left:
            refuse("too-much", f"{amount} of {name} is more than invoice {invoice.number} has left of it", "lines",
                   f"up to {left}")  # fmt: skip
    right = (credited_line(billed[n], book.credited(invoice.number, n), amount) for n, amount in amounts.items())
    _check_same(credit.lines, tuple(right))


def _check_payment(book: Book, payment: Payment) -> None:
    job = book.job(payment.job)
    _check_not_before(payment.on, job.on, "the agreement")
    if payment.id in book.index.payments:
        refuse("doubled-id", f"the book holds a payment {payment.id!r} already", "id", "an id of its own")
    _check_cents(payment.amount, "amount")
    if payment.invoice is not None:
        invoice = book.invoice(payment.invoice)
        if invoice.job != job.job:
            refuse("wrong-job", f"invoice {invoice.number} is not of job {job.job!r}", "invoice", f"job {invoice.job}")
        _check_not_before(payment.on, invoice.on, "the invoice")


def _check_returned(book: Book, returned: Returned) -> None:
    payment = book.payment(returned.payment)
    _check_not_before(returned.on, payment.on, "the payment")
    if book.is_returned(payment.id):
        refuse("returned-twice", f"payment {payment.id} came back already", "payment", "a payment that stands")


def _check_refund(book: Book, refund: Refund) -> None:
    _check_not_before(refund.on, book.job(refund.job).on, "the agreement")
    _check_cents(refund.amount, "amount")
    held = max(book.balance(refund.job).held, ZERO)
    if refund.amount > held:
        refuse("too-much", f"{refund.amount} is more than is held for {refund.job}", "amount", f"up to {held}")


def _check_late(book: Book, charge: LateCharge) -> None:
    worked_out = late_amount(book, charge.invoice, charge.on)
    if worked_out is None:
        refuse("no-late-charge", f"no late charge is due on invoice {charge.invoice} on {charge.on}", "invoice",
               "an overdue invoice whose agreement names a late charge")  # fmt: skip
    if (charge.since, charge.amount, charge.words) != (worked_out.since, worked_out.amount, worked_out.words):
        refuse("wrong-amount", f"{charge.amount} from {charge.since} is not the late charge", "amount",
               f"{worked_out.amount} from {worked_out.since}: {worked_out.words}")  # fmt: skip


def _check_waiver(book: Book, waiver: Waiver) -> None:
    invoice = book.invoice(waiver.invoice)
    _check_not_before(waiver.on, invoice.due, "the due date")
    _check_cents(waiver.amount, "amount")
    left = book.balance(invoice.job).of(invoice.number).late_open
    if waiver.amount > left:
        refuse("too-much", f"{waiver.amount} is more than the late charges still due", "amount", f"up to {left}")
