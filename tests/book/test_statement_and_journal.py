"""Statements by age and the bookkeeper's lines: worked by hand, and debits equal to credits for any book."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.book.account_book import Book, new_book
from sightwash.book.entries import AgreedLine, AgreedTax, Customer, Job, LateTerms, Opening
from sightwash.book.entry_checks import added
from sightwash.book.journal import journal
from sightwash.book.new_entries import (
    with_credit,
    with_invoice,
    with_late_charge,
    with_payment,
    with_refund,
    with_return,
    with_waiver,
)
from sightwash.book.statement import overdue, statement

D = Decimal
FIRST = date(2026, 1, 5)


def job(name: str, customer: str, *amounts: str) -> Job:
    lines = tuple(AgreedLine(f"line-{n}", "washing", D(amount), ("tax",)) for n, amount in enumerate(amounts))
    return Job(
        "job", FIRST, name, Customer(customer, customer.title()), "Shops", lines,
        taxes=(AgreedTax("tax", "Sales tax", 0.1),), due_days=10, late=LateTerms(0.365),
    )  # fmt: skip


def two_customers() -> Book:
    """Return a book: north owes 110 and 220, south 55 of which 50 is paid; all due ten days after their invoice."""
    book = added(added(new_book(Opening("book", 1)), job("a", "north", "100", "200")), job("b", "south", "50"))
    book = with_invoice(book, "a", date(2026, 1, 10), ["line-0"])
    book = with_invoice(book, "b", date(2026, 3, 1))
    book = with_invoice(book, "a", date(2026, 3, 10), ["line-1"])
    return with_payment(book, "b", date(2026, 3, 5), D(50), "check", "2026-0002")


def test_open_items_stand_in_the_column_of_their_age() -> None:
    """On April 1 the invoice due January 20 is 71 days over, that due March 20 is 12 days over."""
    found = statement(two_customers(), "north", date(2026, 4, 1))
    assert [(item.invoice.number, item.days_over, item.due) for item in found.items] == [
        ("2026-0001", 71, D(110)),
        ("2026-0003", 12, D(220)),
    ]
    assert found.columns == (0, D(220), 0, D(110), 0)
    assert (found.due, found.overdue, found.held) == (D(330), D(330), 0)


@pytest.mark.parametrize(
    ("day", "column"),
    [((2026, 1, 20), 0), ((2026, 1, 21), 1), ((2026, 2, 19), 1), ((2026, 2, 20), 2), ((2026, 3, 21), 2),
     ((2026, 3, 22), 3), ((2026, 4, 20), 3), ((2026, 4, 21), 4)],
)  # fmt: skip
def test_the_edges_of_the_columns(day: tuple[int, int, int], column: int) -> None:
    """Due on January 20: 0 days over, 1, 30, 31, 60, 61, 90, 91."""
    first = statement(two_customers(), "north", date(*day)).items[0]
    assert first.column == column


def test_a_statement_of_an_earlier_day_knows_nothing_of_later_entries() -> None:
    assert statement(two_customers(), "south", date(2026, 3, 4)).due == D(55)
    assert statement(two_customers(), "south", date(2026, 3, 5)).due == D(5)
    assert statement(two_customers(), "south", date(2026, 2, 1)).items == ()


def test_overdue_customers_are_listed_most_owed_first() -> None:
    found = overdue(two_customers(), date(2026, 4, 1))
    assert [(each.customer.id, each.overdue) for each in found] == [("north", D(330)), ("south", D(5))]
    assert overdue(two_customers(), date(2026, 1, 20)) == ()


def test_an_unknown_customer_is_refused_with_those_there_are() -> None:
    with pytest.raises(InputError) as caught:
        statement(two_customers(), "west", FIRST)
    assert caught.value.problems[0].expected == "north, south"


def test_an_invoice_in_the_journal() -> None:
    """110 owed: 100 sales, 10 tax; a deposit of 30 goes from held to what is owed."""
    book = added(new_book(Opening("book", 1)), job("a", "north", "100"))
    book = with_payment(book, "a", FIRST, D(30), "check 7")
    book = with_invoice(book, "a", date(2026, 1, 10))
    got = [(line.account, line.debit, line.credit) for line in journal(book, date(2026, 1, 10))]
    assert got == [
        ("Accounts receivable", D(80), 0),
        ("Customer deposits", D(30), 0),
        ("Washing sales", 0, D(100)),
        ("Sales tax payable", 0, D(10)),
    ]
    assert journal(book, date(2026, 1, 11)) == ()


cents = st.integers(1, 40_000).map(lambda n: D(n) / 100)
moves = st.lists(
    st.tuples(st.sampled_from(["pay", "pay-1", "credit", "refund", "return", "late", "waive", "invoice"]), cents),
    max_size=14,
)


def moved(book: Book, what: str, amount: Decimal, on: date) -> Book:
    """Return the book after one move."""
    if what == "pay":
        return with_payment(book, "a", on, amount, "check")
    if what == "pay-1":
        return with_payment(book, "a", on, amount, "check", "2026-0001")
    if what == "credit":
        return with_credit(book, "2026-0001", on, {"line-0": amount}, "streaks")
    if what == "refund":
        return with_refund(book, "a", on, amount, "check")
    if what == "return":
        return with_return(book, "payment-1", on, "no funds")
    if what == "late":
        return with_late_charge(book, "2026-0001", on)
    if what == "waive":
        return with_waiver(book, "2026-0001", on, amount, "kindness")
    return with_invoice(book, "a", on)


@given(moves)
def test_debits_equal_credits_for_every_entry_and_the_ledger_equals_the_balance(
    todo: list[tuple[str, Decimal]],
) -> None:
    book = added(new_book(Opening("book", 1)), job("a", "north", "250", "99.99"))
    book = with_invoice(book, "a", date(2026, 1, 10), ["line-0"])
    for days, (what, amount) in enumerate(todo):
        try:
            book = moved(book, what, amount, date(2026, 2, 1 + days))
        except InputError:
            continue
    sums: dict[str, Decimal] = {}
    entries: dict[int, Decimal] = {}
    for line in journal(book):
        assert (line.debit > 0) != (line.credit > 0)
        sums[line.account] = sums.get(line.account, D(0)) + line.debit - line.credit
        entries[line.entry] = entries.get(line.entry, D(0)) + line.debit - line.credit
    assert not any(entries.values())
    state = book.balance("a")
    assert sums.get("Accounts receivable", D(0)) == sum(each.open + each.late_open for each in state.invoices)
    assert sums.get("Customer deposits", D(0)) == -state.held
