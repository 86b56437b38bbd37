"""What the verbs of ``accounts`` share: their arguments read, and an entry in one line."""

from __future__ import annotations

import argparse
from decimal import Decimal
from pathlib import Path

from sightwash.basis.errors import InputError
from sightwash.basis.units import RATIO, parse_quantity
from sightwash.book.account_book import Book
from sightwash.book.entries import AgreedLine, Credit, Entry, Invoice, LateCharge, Payment, Refund, Waiver
from sightwash.papers.job import money_words


def money(text: str) -> Decimal:
    """Return an amount for argparse, which says what is wrong with another text."""
    try:
        amount = Decimal(text.replace(",", "").removeprefix("$"))
    except ArithmeticError:
        raise argparse.ArgumentTypeError(f"{text!r} is not an amount; write it as 1234.50") from None
    if not amount.is_finite() or abs(amount) >= 10**9:
        raise argparse.ArgumentTypeError(f"{text!r} is not an amount of money")
    return amount


def amount_of_line(text: str) -> tuple[str, Decimal]:
    """Return ``ID=AMOUNT`` taken apart."""
    name, found, amount = text.partition("=")
    if not found or not name:
        raise argparse.ArgumentTypeError(f"{text!r} is no line and amount; write it as front=50.00")
    return name.strip(), money(amount.strip())


def agreed_line(text: str) -> AgreedLine:
    """Return ``ID=AMOUNT:WORDS`` as a line of an agreement."""
    head, found, words = text.partition(":")
    if not found or not words.strip():
        raise argparse.ArgumentTypeError(f"{text!r} has no words; write it as gum=85.00:gum at the doors")
    name, amount = amount_of_line(head)
    return AgreedLine(name, words.strip(), amount)


def part(text: str) -> Decimal:
    """Return a share such as ``50 %`` as a decimal."""
    try:
        return Decimal(repr(float(parse_quantity(text if "%" in text else f"{text} %", RATIO))))
    except InputError:
        raise argparse.ArgumentTypeError(f"{text!r} is no share; write it as `50 %`") from None


def paper_options(parser: argparse.ArgumentParser) -> None:
    """Add what says where a paper goes and how it looks."""
    parser.add_argument("--out", type=Path, metavar="DIR", help="write the paper as PDF here")
    parser.add_argument("--firm", type=Path, metavar="FILE", help="the firm whose paper it is")
    parser.add_argument("--paper", choices=("letter", "a4"), help="as the firm has it unless given")
    parser.add_argument("--language", choices=("en", "es"), help="as the firm has it unless given")


def entry_words(book: Book, entry: Entry) -> str:
    """Return an entry in one line, with what is due on its job after it."""
    job = book.index.job_of(entry)
    currency = book.opening.currency
    number = entry.number if isinstance(entry, (Invoice, Credit)) else ""
    if isinstance(entry, Payment):
        number = entry.id
    elif isinstance(entry, (LateCharge, Waiver)):
        number = f"on {entry.invoice}"
    amount = ""
    if isinstance(entry, (Invoice, Credit)):
        amount = money_words(entry.total, currency)
    elif isinstance(entry, (Payment, Refund, LateCharge, Waiver)):
        amount = money_words(entry.amount, currency)
    words = " ".join(word for word in (entry.entry, number, amount) if word)
    return f"{entry.on} {words}; due on {job}: {money_words(book.balance(job).due, currency)}"
