"""The book as CSV for a bookkeeper: one line a debit or a credit, both equal for every entry."""

from __future__ import annotations

import csv
import io
from datetime import date
from typing import Final

from sightwash.basis.money import to_cents
from sightwash.book.account_book import Book
from sightwash.book.journal import journal

COLUMNS: Final = (
    "entry", "date", "document", "number", "customer", "job", "account", "words", "tax", "debit", "credit",
)  # fmt: skip
_STARTS: Final = ("=", "+", "-", "@", "\t", "\r")


def bookkeeper_csv(book: Book, first: date | None = None, last: date | None = None) -> str:
    """Return the lines of the entries from a first to a last day as CSV with a head."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in journal(book, first, last):
        words = (line.document, line.number, line.customer, line.job, line.account, line.words, line.tax)
        amounts = (f"{to_cents(amount)}" if amount else "" for amount in (line.debit, line.credit))
        writer.writerow((line.entry, line.on.isoformat(), *map(plain_cell, words), *amounts))
    return text.getvalue()


def plain_cell(words: str) -> str:
    """Return words that no spreadsheet takes for a formula.

    >>> plain_cell("=1+1"), plain_cell("cheque 7")
    ("'=1+1", 'cheque 7')
    """
    return f"'{words}" if words.startswith(_STARTS) else words
