"""Interest on late payments: worked examples of two governments.

5 CFR 1315.17 (b), Prompt Payment, formulas (U.S. Office of Management and Budget, 2001 edition): $1,500 due on April 1
and paid on April 11 at 6.5 % owes $2.71, days counted from the day after the due date through the day of payment
(1315.10 (a) (1)). gov.uk, Late commercial payments: 1,000 at 8.5 % is 85 a year, 23p a day.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from sightwash.basis.money import to_cents
from sightwash.book.account_book import Book, new_book
from sightwash.book.entries import AgreedLine, Customer, Job, LateTerms, Opening
from sightwash.book.entry_checks import added
from sightwash.book.late_charges import late_amount, simple_interest
from sightwash.book.new_entries import with_invoice, with_payment

D = Decimal


def invoiced(amount: str, late: LateTerms | None) -> Book:
    """Return a book with one invoice over an amount, due on April 1."""
    job = Job(
        "job", date(2026, 3, 2), "shops", Customer("owner", "An owner"), "The shops",
        (AgreedLine("wash", "washing", D(amount)),), due_days=30, late=late,
    )  # fmt: skip
    return with_invoice(added(new_book(Opening("book", 1)), job), "shops", date(2026, 3, 2))


def test_formula_of_the_rule() -> None:
    """P (r/360 d) = 1,500 (0.065/360 x 10) = 2.71."""
    assert to_cents(simple_interest(D(1500), D("0.065"), 10, 360)) == D("2.71")


def test_days_run_from_the_day_after_the_due_date_through_the_payment() -> None:
    """Due on April 1, paid on April 11: ten days, 2.71."""
    book = invoiced("1500", LateTerms(0.065, 0, 360))
    assert book.invoices[0].due == date(2026, 4, 1)
    paid = with_payment(book, "shops", date(2026, 4, 11), D(1500), "transfer", book.invoices[0].number)
    for day in (date(2026, 4, 11), date(2026, 6, 30)):
        charge = late_amount(paid, paid.invoices[0].number, day)
        assert charge is not None
        assert (charge.since, charge.amount) == (date(2026, 4, 2), D("2.71"))
        assert [stretch.days for stretch in charge.stretches] == [10]


def test_a_year_and_a_day_of_the_british_example() -> None:
    """1,000 at 8.5 %: 85 a year, 0.23 a day."""
    year = simple_interest(D(1000), D("0.085"), 365, 365)
    assert year == 85
    assert to_cents(simple_interest(D(1000), D("0.085"), 1, 365)) == D("0.23")


def test_nothing_is_charged_on_time_or_without_terms() -> None:
    """Paid on the due date owes nothing; without agreed terms there is no charge."""
    book = invoiced("1500", LateTerms(0.065, 0, 360))
    assert late_amount(book, book.invoices[0].number, date(2026, 4, 1)) is None
    bare = invoiced("1500", None)
    assert late_amount(bare, bare.invoices[0].number, date(2026, 12, 1)) is None
