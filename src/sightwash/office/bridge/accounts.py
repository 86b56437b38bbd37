"""The firm's account book behind the office: agreements, invoices and payments go into it and are only ever added."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any, Final

from django.db import transaction

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.money import ZERO, to_cents
from sightwash.book.account_book import Book, new_book
from sightwash.book.balances import Balance
from sightwash.book.book_file import book_from, book_text
from sightwash.book.entries import AgreedLine, AgreedTax, Customer, Job, LateTerms, Opening
from sightwash.book.entry_checks import added
from sightwash.book.new_entries import with_invoice, with_payment
from sightwash.book.tax_lines import billed_lines
from sightwash.office.bridge.offers import OfferFigures
from sightwash.office.bridge.papers import firm_document
from sightwash.office.models import Firm, Offer, Visit
from sightwash.office.questions.models import FirmBook
from sightwash.papers.account_look import AccountLook
from sightwash.papers.invoice import invoice_paper
from sightwash.site.site_file import record_from
from sightwash.site.tree import Parsed

FILE: Final = "the account book"
MONTHS: Final = 12


def book_of(firm: Firm) -> Book | None:
    """Return the firm's book; None where nothing was ever agreed."""
    text = FirmBook.objects.of(firm).values_list("text", flat=True).first()
    return None if text is None else book_from(text, FILE)


def job_id(visit: Visit) -> str:
    """Return the id of a visit's job in the book."""
    return f"visit-{visit.pk}"


def visit_balance(visit: Visit) -> Balance | None:
    """Return what is open on a visit; None where it is not in the book."""
    book = book_of(visit.property.firm)
    if book is None or all(each.job != job_id(visit) for each in book.jobs):
        return None
    return book.balance(job_id(visit))


def _changed(firm: Firm, currency: str, change: Callable[[Book], Book]) -> Book:
    """Return the book after a change, kept under a lock; refused entries change nothing."""
    with transaction.atomic():
        Firm.objects.select_for_update().get(pk=firm.pk)
        row = FirmBook.objects.of(firm).first()
        book = new_book(Opening("book", 1, currency)) if row is None else book_from(row.text, FILE)
        newer = change(book)
        if row is None:
            FirmBook.objects.create(firm=firm, text=book_text(newer))
        else:
            row.text = book_text(newer)
            row.save(update_fields=["text"])
    return newer


def enter_agreement(offer: Offer, figures: OfferFigures, price: Decimal, words: str, on: date) -> None:
    """Enter an accepted offer as a job: its lines where the price is that of the plan, else one line."""
    visit = offer.visit
    taxes = tuple(
        record_from(Parsed(FILE, {"id": f"tax-{number}", "name": name, "rate": rate}, dict), AgreedTax)
        for number, (name, rate, _) in enumerate(figures.taxes, 1)
    )
    names = tuple(tax.id for tax in taxes)
    if price == figures.price and all(amount > 0 for _, _, amount in figures.scope):
        lines = tuple(AgreedLine(part, text, amount, names) for part, text, amount in figures.scope)
    else:
        lines = (AgreedLine("visit", words[:200], price, names),)
    job = Job(
        "job", on, job_id(visit), _customer(figures, visit), visit.property.name, lines, figures.number, None, taxes,
        _deposit(lines, taxes, figures.terms), int(figures.terms.get("payment_days", 14)), _late(figures.terms),
    )  # fmt: skip
    _changed(visit.property.firm, figures.currency, lambda book: added(book, job))


def _customer(figures: OfferFigures, visit: Visit) -> Customer:
    name, *address = figures.customer or (visit.property.name,)
    short = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40] or f"property-{visit.property.pk}"
    return Customer(short if short[0].isalpha() else f"c-{short}", name, tuple(address))


def _deposit(lines: tuple[AgreedLine, ...], taxes: tuple[AgreedTax, ...], terms: dict[str, Any]) -> Decimal:
    whole = billed_lines(lines, {line.id: line.amount for line in lines}, taxes)
    total = sum((line.amount + line.tax for line in whole), ZERO)
    return to_cents(total * _share(terms.get("deposit")))


def _late(terms: dict[str, Any]) -> LateTerms | None:
    month = _share(terms.get("late_charge"))
    return LateTerms(float(month * MONTHS)) if month > 0 else None


def _share(typed: Any) -> Decimal:
    """Return a share as it was typed, such as ``25 %``."""
    text = str(typed or "0").strip()
    return Decimal(text.rstrip("% ")) / 100 if text.endswith("%") else Decimal(text)


def invoice_visit(visit: Visit, on: date) -> str:
    """Enter the invoice for all that is left of a visit's agreement; return its number."""
    book = _changed(visit.property.firm, "USD", lambda old: with_invoice(old, job_id(visit), on))
    return book.invoices[-1].number


def pay_visit(visit: Visit, on: date, amount: Decimal, by: str) -> Balance:
    """Enter money that came in for a visit; return what is open then."""
    if not amount.is_finite():
        raise InputError(Problem("not-a-number", f"{amount} is no amount", key="amount", expected="such as 450.00"))
    book = _changed(visit.property.firm, "USD", lambda old: with_payment(old, job_id(visit), on, amount, by))
    return book.balance(job_id(visit))


def invoice_pdf(visit: Visit, number: str) -> bytes:
    """Return an invoice of a visit as PDF; InputError where the book holds none of that number for it."""
    book = book_of(visit.property.firm)
    if book is None or all(each.number != number or each.job != job_id(visit) for each in book.invoices):
        raise InputError(Problem("unknown-invoice", f"there is no invoice {number!r}", key="invoice"))
    firm = firm_document(visit.property.firm)
    look = AccountLook(firm, firm.paper, firm.language, None, book.opening.currency)
    return invoice_paper(book, number, look)
