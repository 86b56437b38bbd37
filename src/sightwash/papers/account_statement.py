"""The statement of a customer's account on a day, as PDF."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sightwash.book.account_book import Book
from sightwash.book.statement import Statement, statement
from sightwash.papers.account_look import AccountLook
from sightwash.papers.typesetter import JSON


def statement_paper(book: Book, customer: str, on: date, look: AccountLook) -> bytes:
    """Return what a customer owes on a day: open invoices by age, late charges, money held."""
    found = statement(book, customer, on)
    words = look.words("statement")
    data: dict[str, JSON] = {
        "words": words,
        "date": look.day(on),
        "customer": [found.customer.name, *found.customer.address],
        "heads": [words[key] for key in ("invoice", "property", "due", "total", "settled", "late", "open")],
        "rows": [*_rows(found, words)],
        "ages": [[words[f"age_{at}"], look.money(amount)] for at, amount in enumerate(found.columns)],
        "sums": [*_sums(found, look, words)],
        "foot": look.firm.name,
        "pay_to": look.firm.pay_to,
    }
    return look.typeset("statement", f"{words['statement']}, {found.customer.name}", data)


def _rows(found: Statement, words: dict[str, str]) -> Iterator[list[str]]:
    for item in found.items:
        invoice = item.invoice
        over = words["days_over"].format(days=item.days_over) if item.days_over else ""
        amounts = (invoice.total, item.paid + item.credited, item.late_open, item.due)
        yield [
            f"{invoice.number}\n{invoice.on:%Y-%m-%d}",
            item.premises,
            f"{invoice.due:%Y-%m-%d}\n{over}".rstrip(),
            *(f"{amount:,.2f}" for amount in amounts),
        ]


def _sums(found: Statement, look: AccountLook, words: dict[str, str]) -> Iterator[list[str]]:
    yield [words["all_open"], look.money(found.due + found.held)]
    if found.held > 0:
        yield [words["held"], look.money(-found.held)]
    elif found.held < 0:
        yield [words["came_back"], look.money(-found.held)]
    yield [words["to_pay"] if found.due >= 0 else words["in_favour"], look.money(abs(found.due))]
