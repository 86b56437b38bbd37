"""Late charges as agreed: simple interest by the day on what is open of an invoice.

The charge runs from the day after the due date, or after the free days that follow it, up to and with the day on which
it is worked out or the money came in. Late charges bear none themselves. Whether a charge may be asked for, and how
high, is a matter of the agreement and of local law.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from sightwash.basis.money import to_cents
from sightwash.book.account_book import Book
from sightwash.book.balances import balance
from sightwash.book.entries import LateTerms

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class LateStretch:
    """Days on which the same amount stood open: first and last day, how many, and how much."""

    first: date
    last: date
    days: int
    open: Decimal


@dataclass(frozen=True, slots=True)
class LateAmount:
    """A late charge worked out: for the days from ``since`` to ``until``, stretch by stretch."""

    since: date
    until: date
    stretches: tuple[LateStretch, ...]
    amount: Decimal

    @property
    def words(self) -> str:
        """How it was worked out."""
        return "; ".join(f"{each.days} days on {each.open:,.2f}" for each in self.stretches)


def simple_interest(amount: Decimal, a_year: Decimal, days: int, year_days: int) -> Decimal:
    """Return simple daily interest, not rounded: P (r / year) d.

    >>> to_cents(simple_interest(Decimal("1500"), Decimal("0.065"), 10, 360))
    Decimal('2.71')
    """
    return amount * a_year * days / year_days


def first_late_day(book: Book, number: str) -> date:
    """Return the first day of an invoice that bears a late charge not yet in the book."""
    invoice = book.invoice(number)
    terms = book.job(invoice.job).late
    free = terms.free_days if terms else 0
    after_due = invoice.due + timedelta(days=free) + DAY
    charged = book.late_until(number)
    return after_due if charged is None else max(after_due, charged + DAY)


def late_amount(book: Book, number: str, until: date) -> LateAmount | None:
    """Return the late charge on an invoice up to and with a day; None where none was agreed or none is due."""
    invoice = book.invoice(number)
    terms = book.job(invoice.job).late
    since = first_late_day(book, number)
    if terms is None or until < since:
        return None
    stretches = _stretches(book, number, since, until)
    whole = sum((_interest(terms, stretch) for stretch in stretches), Decimal(0))
    amount = to_cents(whole)
    return LateAmount(since, until, stretches, amount) if amount > 0 else None


def _interest(terms: LateTerms, stretch: LateStretch) -> Decimal:
    return simple_interest(stretch.open, Decimal(repr(float(terms.a_year))), stretch.days, terms.year_days)


def _stretches(book: Book, number: str, since: date, until: date) -> tuple[LateStretch, ...]:
    """Return the stretches of days between entries; a day bears what stood open at the end of the day before."""
    own = book.index.of_job[book.invoice(number).job]
    changes = sorted({entry.on + DAY for entry in own if since <= entry.on < until})
    firsts = [since, *changes]
    lasts = [*(day - DAY for day in changes), until]
    found: list[LateStretch] = []
    for first, last in zip(firsts, lasts, strict=True):
        stood = balance(own, first - DAY).of(number).open
        if found and found[-1].open == stood:
            first = found.pop().first
        found.append(LateStretch(first, last, (last - first).days + 1, stood))
    return tuple(stretch for stretch in found if stretch.open > 0)
