"""The base example of BIS Billing 3.0 (OpenPeppol, base-example.xml): an invoice's sums, as printed.

Lines net 1,300 and a charge of 25 make 1,325 before tax; 25 % is 331.25; in all 1,656.25 (worked example).
"""

from __future__ import annotations

from decimal import Decimal

from sightwash.book.entries import AgreedLine, AgreedTax
from sightwash.book.tax_lines import billed_lines, tax_totals

D = Decimal


def test_sums_of_the_base_example() -> None:
    """TaxableAmount 1325, TaxAmount 331.25, TaxInclusiveAmount 1656.25."""
    tax = AgreedTax("vat", "VAT", 0.25)
    lines = [AgreedLine("lines", "items", D(1300), ("vat",)), AgreedLine("charge", "charge", D(25), ("vat",))]
    found = billed_lines(lines, {"lines": D(1300), "charge": D(25)}, [tax])
    (total,) = tax_totals(found, [tax])
    assert (total.base, total.amount) == (D(1325), D("331.25"))
    assert sum(line.amount + line.tax for line in found) == D("1656.25")
