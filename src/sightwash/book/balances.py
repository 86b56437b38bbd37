"""What is open: every entry of a job gone through in order, money held settling the oldest open invoice."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from sightwash.basis.money import ZERO
from sightwash.book.entries import (
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
class OpenInvoice:
    """One invoice: its total, what was credited and paid on it, and the late charges on it that are still due."""

    invoice: Invoice
    credited: Decimal = ZERO
    paid: Decimal = ZERO
    late_charged: Decimal = ZERO
    late_settled: Decimal = ZERO

    @property
    def open(self) -> Decimal:
        """What is still to be paid of the invoice itself."""
        return self.invoice.total - self.credited - self.paid

    @property
    def late_open(self) -> Decimal:
        """What is still to be paid of its late charges."""
        return self.late_charged - self.late_settled


@dataclass(frozen=True, slots=True)
class Balance:
    """One job: its invoices in order, and the money held for it that no invoice has taken up yet."""

    invoices: tuple[OpenInvoice, ...]
    held: Decimal

    @property
    def due(self) -> Decimal:
        """What the customer owes on this job; below zero where money is held for them."""
        return sum((each.open + each.late_open for each in self.invoices), ZERO) - self.held

    def of(self, number: str) -> OpenInvoice:
        """Return one invoice by its number."""
        return next(each for each in self.invoices if each.invoice.number == number)


def balance(own: tuple[Entry, ...], until: date | None = None) -> Balance:
    """Return what is open after the entries of one job, those after a day left out.

    A payment that came back counts as if it had never come in.
    """
    known = [entry for entry in own if until is None or entry.on <= until]
    returned = {entry.payment for entry in known if isinstance(entry, Returned)}
    account = _Account()
    for entry in known:
        if not (isinstance(entry, Payment) and entry.id in returned):
            account.take(entry)
    return Balance(tuple(account.invoices.values()), account.held)


class _Account:
    """One job while its entries are gone through."""

    def __init__(self) -> None:
        self.invoices: dict[str, OpenInvoice] = {}
        self.held = ZERO

    def take(self, entry: Entry) -> None:
        """Take one entry, then let money held settle what is open."""
        if isinstance(entry, Invoice):
            self.invoices[entry.number] = OpenInvoice(entry)
        elif isinstance(entry, Payment):
            self.held += entry.amount
            if entry.invoice is not None:
                self._settle(entry.invoice, entry.amount)
        elif isinstance(entry, Refund):
            self.held -= entry.amount
        elif isinstance(entry, Credit):
            self._credit(entry)
        elif isinstance(entry, LateCharge):
            old = self.invoices[entry.invoice]
            self.invoices[entry.invoice] = replace(old, late_charged=old.late_charged + entry.amount)
        elif isinstance(entry, Waiver):
            old = self.invoices[entry.invoice]
            self.invoices[entry.invoice] = replace(old, late_settled=old.late_settled + entry.amount)
        for number in self.invoices:
            self._settle(number, self.held)

    def _settle(self, number: str, money: Decimal) -> None:
        """Move money held to an invoice: the invoice itself first, then its late charges."""
        old = self.invoices[number]
        paid = max(min(old.open, money), ZERO)
        late = max(min(old.late_open, money - paid), ZERO)
        self.invoices[number] = replace(old, paid=old.paid + paid, late_settled=old.late_settled + late)
        self.held -= paid + late

    def _credit(self, entry: Credit) -> None:
        """Take a credit; what was paid beyond the rest of the invoice is held again."""
        old = self.invoices[entry.invoice]
        new = replace(old, credited=old.credited + entry.total)
        too_much = max(-new.open, ZERO)
        self.invoices[entry.invoice] = replace(new, paid=new.paid - too_much)
        self.held += too_much
