"""The arithmetic of an invoice: tax by line, lines that sum to totals to the cent, and what a credit takes back.

A tax is worked out once, on all lines that bear it, and rounded half up to the cent; that amount is then shared over
the lines. Sellers may do so (rounding rule of the Streamlined Sales and Use Tax Agreement, section 324: on an item or
an invoice basis).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from sightwash.basis.money import ZERO, share, to_cents
from sightwash.book.entries import AgreedLine, AgreedTax, BilledLine, LineTax


@dataclass(frozen=True, slots=True)
class TaxTotal:
    """One tax of an invoice: on how much, at what rate, how much."""

    tax: str
    name: str
    rate: Decimal
    base: Decimal
    amount: Decimal


def exact_rate(tax: AgreedTax) -> Decimal:
    """Return a tax's rate as a decimal share, by its shortest text."""
    return Decimal(repr(float(tax.rate)))


def billed_lines(
    agreed: Sequence[AgreedLine], amounts: Mapping[str, Decimal], taxes: Sequence[AgreedTax]
) -> tuple[BilledLine, ...]:
    """Return the lines of an invoice for the amounts before tax, each with its share of every tax on it."""
    wanted = [line for line in agreed if amounts.get(line.id, ZERO) > 0]
    on_lines: dict[str, list[LineTax]] = {line.id: [] for line in wanted}
    for tax in taxes:
        bearing = [line for line in wanted if tax.id in line.taxes]
        base = sum((amounts[line.id] for line in bearing), ZERO)
        if base <= 0:
            continue
        whole = to_cents(base * exact_rate(tax))
        for line, part in zip(bearing, share(whole, [amounts[line.id] for line in bearing]), strict=True):
            on_lines[line.id].append(LineTax(tax.id, part))
    return tuple(BilledLine(line.id, line.words, amounts[line.id], tuple(on_lines[line.id])) for line in wanted)


def tax_totals(lines: Sequence[BilledLine], taxes: Sequence[AgreedTax]) -> tuple[TaxTotal, ...]:
    """Return each tax of an invoice or a credit note with the amount that it is on; one on nothing is left out."""
    found = []
    for tax in taxes:
        bearing = [(line.amount, each.amount) for line in lines for each in line.taxes if each.tax == tax.id]
        if bearing:
            base, amount = (sum(column, ZERO) for column in zip(*bearing, strict=True))
            found.append(TaxTotal(tax.id, tax.name, exact_rate(tax), base, amount))
    return tuple(found)


def credited_line(invoiced: BilledLine, before: Sequence[BilledLine], amount: Decimal) -> BilledLine:
    """Return the credit of an amount before tax on a line of which ``before`` was credited already.

    The tax goes back in proportion, so that a line credited whole, in whatever steps, gives all its tax back.
    """
    done = sum((line.amount for line in before), ZERO)
    taxes = []
    for tax in invoiced.taxes:
        given = sum((each.amount for line in before for each in line.taxes if each.tax == tax.tax), ZERO)
        reached = to_cents(tax.amount * (done + amount) / invoiced.amount)
        taxes.append(LineTax(tax.tax, max(reached - given, ZERO)))
    return BilledLine(invoiced.line, invoiced.words, amount, tuple(taxes))
