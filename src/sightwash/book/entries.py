"""The entries of an account book: what was agreed, invoiced, paid, credited. An entry is never changed or taken out."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Final, Literal

from sightwash.basis import units
from sightwash.site.fields import CalendarDay, Count, Id, Money, Quantity, Record, SchemaVersion, Share, Text

YearlyRate = Annotated[float, Quantity(units.RATIO, "0 %", "60 %")]


@dataclass(frozen=True, slots=True)
class Accounts(Record):
    """What the bookkeeper calls the accounts that the book moves money between."""

    receivable: Text = "Accounts receivable"
    bank: Text = "Undeposited funds"
    held: Text = "Customer deposits"
    sales: Text = "Washing sales"
    tax: Text = "Sales tax payable"
    late: Text = "Late charges"


@dataclass(frozen=True, slots=True)
class Opening(Record):
    """The first line of a book: its currency, the patterns of its numbers, the names of its accounts."""

    entry: Literal["book"]
    schema: SchemaVersion
    currency: Text = "USD"
    invoice_numbers: Text = "{year}-{number:04}"
    credit_numbers: Text = "C{year}-{number:04}"
    first_invoice: Count = 1
    first_credit: Count = 1
    accounts: Accounts = Accounts()


@dataclass(frozen=True, slots=True)
class Customer(Record):
    """Who pays: a short id that all their jobs share, the name and the address as they want them written."""

    id: Id
    name: Text
    address: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class AgreedTax(Record):
    """A tax that the agreement names."""

    id: Id
    name: Text
    rate: Share


@dataclass(frozen=True, slots=True)
class AgreedLine(Record):
    """One line of the agreement: its words, its amount before tax, and the ids of the taxes on it."""

    id: Id
    words: Text
    amount: Money
    taxes: tuple[Id, ...] = ()


@dataclass(frozen=True, slots=True)
class LateTerms(Record):
    """A late charge as agreed: simple interest a year, the days after the due date that are free, days in a year."""

    a_year: YearlyRate
    free_days: Count = 0
    year_days: Literal[360, 365] = 365


@dataclass(frozen=True, slots=True)
class Job(Record):
    """An agreement taken into the book."""

    entry: Literal["job"]
    on: CalendarDay
    job: Id
    customer: Customer
    property: Text
    lines: tuple[AgreedLine, ...]
    agreement: Text | None = None
    reference: Text | None = None
    taxes: tuple[AgreedTax, ...] = ()
    deposit: Money = Decimal(0)
    due_days: Count = 30
    late: LateTerms | None = None


@dataclass(frozen=True, slots=True)
class Change(Record):
    """Lines added to an agreement later, with who approved them and how."""

    entry: Literal["change"]
    on: CalendarDay
    job: Id
    lines: tuple[AgreedLine, ...]
    approved_by: Text
    how: Text


@dataclass(frozen=True, slots=True)
class LineTax(Record):
    """What one tax puts on one line."""

    tax: Id
    amount: Money


@dataclass(frozen=True, slots=True)
class BilledLine(Record):
    """One line of an invoice or a credit note: its amount before tax and its taxes, in whole cents."""

    line: Id
    words: Text
    amount: Money
    taxes: tuple[LineTax, ...] = ()

    @property
    def tax(self) -> Decimal:
        """All taxes on the line."""
        return sum((each.amount for each in self.taxes), Decimal(0))


class Billed(Record):
    """What an invoice and a credit note share: lines, and their sums before tax, of taxes, and in all."""

    __slots__ = ()
    lines: tuple[BilledLine, ...]

    @property
    def net(self) -> Decimal:
        """All lines before tax."""
        return sum((line.amount for line in self.lines), Decimal(0))

    @property
    def tax(self) -> Decimal:
        """All taxes of all lines."""
        return sum((line.tax for line in self.lines), Decimal(0))

    @property
    def total(self) -> Decimal:
        """What is asked for, or taken back."""
        return self.net + self.tax


@dataclass(frozen=True, slots=True)
class Invoice(Billed):
    """An invoice: lines of one agreement, whole or in part."""

    entry: Literal["invoice"]
    on: CalendarDay
    job: Id
    number: Text
    due: CalendarDay
    lines: tuple[BilledLine, ...]
    note: Text | None = None


@dataclass(frozen=True, slots=True)
class Credit(Billed):
    """A credit note: takes back a part of one invoice; ``again`` lets its lines be invoiced anew."""

    entry: Literal["credit"]
    on: CalendarDay
    number: Text
    invoice: Text
    lines: tuple[BilledLine, ...]
    reason: Text
    again: bool = False


@dataclass(frozen=True, slots=True)
class Payment(Record):
    """Money that came in for a job; without an invoice it is held and settles the oldest open one, or the next."""

    entry: Literal["payment"]
    on: CalendarDay
    id: Id
    job: Id
    amount: Money
    by: Text
    invoice: Text | None = None


@dataclass(frozen=True, slots=True)
class Returned(Record):
    """A payment that came back unpaid, or was written down in error."""

    entry: Literal["returned"]
    on: CalendarDay
    payment: Id
    reason: Text


@dataclass(frozen=True, slots=True)
class Refund(Record):
    """Money held for a job that is paid back."""

    entry: Literal["refund"]
    on: CalendarDay
    job: Id
    amount: Money
    by: Text


@dataclass(frozen=True, slots=True)
class LateCharge(Record):
    """A late charge on an invoice for the days from ``since`` up to and with ``on``."""

    entry: Literal["late charge"]
    on: CalendarDay
    invoice: Text
    since: CalendarDay
    amount: Money
    words: Text


@dataclass(frozen=True, slots=True)
class Waiver(Record):
    """Late charges on an invoice that are let go."""

    entry: Literal["waiver"]
    on: CalendarDay
    invoice: Text
    amount: Money
    reason: Text


Entry = Job | Change | Invoice | Credit | Payment | Returned | Refund | LateCharge | Waiver
ENTRIES: Final[dict[str, type[Entry]]] = {
    "job": Job,
    "change": Change,
    "invoice": Invoice,
    "credit": Credit,
    "payment": Payment,
    "returned": Returned,
    "refund": Refund,
    "late charge": LateCharge,
    "waiver": Waiver,
}
