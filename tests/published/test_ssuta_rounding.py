"""Rounding of sales tax by the Streamlined Sales and Use Tax Agreement, section 324 (published).

Text as enacted in Rhode Island General Laws 44-18.1-25 (P.L. 2006, ch. 246): tax carried to the third decimal place,
rounded up to the next cent whenever that place is greater than four; on an item or an invoice basis.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from sightwash.book.entries import AgreedLine, AgreedTax
from sightwash.book.tax_lines import billed_lines

D = Decimal


def tax_on(*amounts: str, rate: str) -> Decimal:
    lines = [AgreedLine(f"line-{n}", "work", D(amount), ("tax",)) for n, amount in enumerate(amounts)]
    found = billed_lines(lines, {line.id: line.amount for line in lines}, [AgreedTax("tax", "Tax", float(rate))])
    return sum((line.tax for line in found), D(0))


@pytest.mark.parametrize(
    ("amount", "rate", "tax"),
    [
        ("10.00", "0.0734", "0.73"),  # 0.734: the third place is four, down
        ("10.00", "0.0735", "0.74"),  # 0.735: the third place is five, up
        ("10.00", "0.0736", "0.74"),
        ("0.10", "0.07", "0.01"),  # 0.007
        ("0.07", "0.06", "0.00"),  # 0.0042
    ],
)
def test_third_decimal_place_above_four_rounds_up(amount: str, rate: str, tax: str) -> None:
    """The rule's own words, worked by hand to the third place."""
    assert tax_on(amount, rate=rate) == D(tax)


def test_tax_is_on_the_invoice_not_on_each_item() -> None:
    """Three items of 1.10 at 5 %: by item 3 x 0.06 = 0.18, by invoice 0.165 = 0.17; both allowed, ours is that."""
    assert tax_on("1.10", "1.10", "1.10", rate="0.05") == D("0.17")
