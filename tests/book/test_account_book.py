"""The account book: what may follow what, and sums that hold for any amounts.

No outside figure: properties of the book's own rules (closed form), amounts worked by hand beside their check.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.basis.money import to_cents
from sightwash.book.account_book import Book, new_book
from sightwash.book.entries import AgreedLine, AgreedTax, Customer, Job, LateTerms, Opening
from sightwash.book.entry_checks import added
from sightwash.book.new_entries import (
    with_change,
    with_credit,
    with_invoice,
    with_late_charge,
    with_payment,
    with_refund,
    with_return,
    with_waiver,
)

D = Decimal
AGREED, WASHED = date(2026, 6, 20), date(2026, 7, 12)
TAXES = (AgreedTax("state", "State sales tax", 0.04225), AgreedTax("local", "Local sales tax", 0.03))
LINES = (
    AgreedLine("front", "Front", D("812.35"), ("state", "local")),
    AgreedLine("walk", "Walk", D("433.33"), ("state", "local")),
    AgreedLine("gum", "Gum", D("100.00")),
)
JOB = Job(
    "job", AGREED, "larkspur", Customer("okafor", "Okafor Property"), "Larkspur Corner", LINES, taxes=TAXES,
    deposit=D(300), due_days=14, late=LateTerms(0.18),
)  # fmt: skip
cents = st.integers(1, 5_000_000).map(lambda n: D(n) / 100)


def opened(job: Job = JOB) -> Book:
    return added(new_book(Opening("book", 1)), job)


def code_of(do: Callable[[], object]) -> str:
    with pytest.raises(InputError) as caught:
        do()
    return caught.value.problems[0].code


def test_a_deposit_is_held_and_taken_up_by_the_first_invoice() -> None:
    """1,345.68 before tax, 4.225 % and 3 % of 1,245.68 are 52.63 and 37.37: 1,435.68 in all."""
    book = with_payment(opened(), "larkspur", AGREED, D(300), "check 1")
    assert book.balance("larkspur").held == D(300)
    book = with_invoice(book, "larkspur", WASHED)
    invoice = book.invoices[0]
    assert (invoice.number, invoice.due) == ("2026-0001", date(2026, 7, 26))
    assert (invoice.net, invoice.tax, invoice.total) == (D("1345.68"), D("90.00"), D("1435.68"))
    state = book.balance("larkspur")
    assert (state.held, state.of("2026-0001").open) == (D(0), D("1135.68"))


@given(st.lists(cents, min_size=1, max_size=8), st.integers(0, 30_000), st.lists(st.integers(1, 100), max_size=4))
def test_parts_sum_to_the_agreement_and_taxes_to_their_total(
    amounts: list[Decimal], rate: int, parts: list[int]
) -> None:
    tax = AgreedTax("tax", "Tax", rate / 100_000)
    lines = tuple(AgreedLine(f"line-{n}", "work", amount, ("tax",)) for n, amount in enumerate(amounts))
    book = opened(replace(JOB, lines=lines, taxes=(tax,), deposit=D(0)))
    for share in parts:
        left = book.left_to_bill("larkspur")
        if any(min(to_cents(line.amount * D(share) / 100), left[line.id]) > 0 for line in lines):
            book = with_invoice(book, "larkspur", WASHED, part=D(share) / 100)
    if any(book.left_to_bill("larkspur").values()):
        book = with_invoice(book, "larkspur", WASHED)
    assert sum(invoice.net for invoice in book.invoices) == sum(amounts)
    for invoice in book.invoices:
        assert invoice.tax == to_cents(invoice.net * D(repr(rate / 100_000)))
        assert all(to_cents(line.tax) == line.tax for line in invoice.lines)
    assert not any(book.left_to_bill("larkspur").values())
    assert code_of(lambda: with_invoice(book, "larkspur", WASHED)) == "no-lines"


@given(st.lists(st.integers(1, 100), min_size=1, max_size=6))
def test_a_line_credited_in_any_steps_gives_all_its_tax_back(steps: list[int]) -> None:
    book = with_invoice(opened(), "larkspur", WASHED)
    invoice = book.invoices[0]
    for step in steps:
        left = invoice.lines[0].amount - sum(line.amount for line in book.credited(invoice.number, "front"))
        amount = min(to_cents(invoice.lines[0].amount * step / 100), left)
        if amount > 0:
            book = with_credit(book, invoice.number, WASHED, {"front": amount}, "streaks")
    book = with_credit(book, invoice.number, WASHED, {}, "the rest")
    assert sum(credit.net for credit in book.credits) == invoice.net
    assert sum(credit.tax for credit in book.credits) == invoice.tax
    assert book.balance("larkspur").due == 0
    assert code_of(lambda: with_credit(book, invoice.number, WASHED, {}, "more")) == "no-lines"
    assert code_of(lambda: with_credit(book, invoice.number, WASHED, {"front": D("0.01")}, "more")) == "too-much"


moves = st.lists(st.tuples(st.sampled_from(["pay", "pay-invoice", "credit", "refund", "return"]), cents), max_size=12)


@given(moves)
def test_what_is_due_is_what_was_asked_less_what_came_in(todo: list[tuple[str, Decimal]]) -> None:
    """Due = invoices - credits - payments that stand + refunds, whatever the order (closed form)."""
    book = with_invoice(opened(), "larkspur", WASHED, part=D("0.5"))
    paid = refunded = D(0)
    standing: list[tuple[str, Decimal]] = []
    for what, amount in todo:
        try:
            if what == "pay":
                book = with_payment(book, "larkspur", WASHED, amount, "check")
            elif what == "pay-invoice":
                book = with_payment(book, "larkspur", WASHED, amount, "check", book.invoices[0].number)
            elif what == "credit":
                book = with_credit(book, book.invoices[0].number, WASHED, {"front": amount}, "streaks")
            elif what == "refund":
                book = with_refund(book, "larkspur", WASHED, amount, "check")
                refunded += amount
            elif standing:
                book = with_return(book, standing.pop()[0], WASHED, "no funds")
        except InputError:
            continue
        if what.startswith("pay"):
            standing.append((book.entries[-1].id, amount))  # type: ignore[union-attr]  # a payment was just added
    paid = sum((amount for _, amount in standing), D(0))
    state = book.balance("larkspur")
    asked = sum(invoice.total for invoice in book.invoices) - sum(credit.total for credit in book.credits)
    assert state.due == asked - paid + refunded
    assert all(each.open >= 0 for each in state.invoices)
    assert state.held <= 0 or not any(each.open + each.late_open for each in state.invoices)


def test_a_payment_that_came_back_counts_as_never_come() -> None:
    book = with_payment(opened(), "larkspur", AGREED, D(300), "check 1")
    book = with_invoice(book, "larkspur", WASHED)
    book = with_return(book, "payment-1", date(2026, 7, 20), "no funds")
    assert book.balance("larkspur").of("2026-0001").open == D("1435.68")
    assert book.balance("larkspur", date(2026, 7, 19)).of("2026-0001").open == D("1135.68")
    assert code_of(lambda: with_return(book, "payment-1", WASHED.replace(day=21), "again")) == "returned-twice"


def test_a_credit_on_a_paid_invoice_is_held_and_may_be_refunded() -> None:
    book = with_invoice(opened(), "larkspur", WASHED)
    book = with_payment(book, "larkspur", WASHED, D("1435.68"), "transfer", "2026-0001")
    book = with_credit(book, "2026-0001", date(2026, 7, 20), {"gum": D(40)}, "left out")
    assert book.balance("larkspur").held == D(40)
    assert code_of(lambda: with_refund(book, "larkspur", WASHED, D(41), "check")) == "too-much"
    assert with_refund(book, "larkspur", date(2026, 7, 21), D(40), "check").balance("larkspur").due == 0


def test_a_wrong_invoice_is_credited_and_written_again() -> None:
    book = with_invoice(opened(), "larkspur", WASHED)
    closed = with_credit(book, "2026-0001", WASHED, {}, "wrong address")
    assert code_of(lambda: with_invoice(closed, "larkspur", WASHED)) == "no-lines"
    again = with_credit(book, "2026-0001", WASHED, {}, "wrong address", again=True)
    again = with_invoice(again, "larkspur", WASHED)
    assert again.invoices[-1].number == "2026-0002"
    assert again.invoices[-1].total == book.invoices[0].total


def test_late_charges_pile_up_day_by_day_and_can_be_waived() -> None:
    """1,435.68 at 18 % a year: 10 days from July 27 are 7.08; 400 paid on August 5 leaves 1,035.68, 15 days 7.66."""
    book = with_invoice(opened(), "larkspur", WASHED)
    book = with_late_charge(book, "2026-0001", date(2026, 8, 5))
    assert book.balance("larkspur").of("2026-0001").late_open == D("7.08")
    book = with_payment(book, "larkspur", date(2026, 8, 5), D(400), "check", "2026-0001")
    book = with_late_charge(book, "2026-0001", date(2026, 8, 20))
    assert book.balance("larkspur").of("2026-0001").late_open == D("14.74")
    assert code_of(lambda: with_late_charge(book, "2026-0001", date(2026, 8, 20))) == "no-late-charge"
    assert code_of(lambda: with_waiver(book, "2026-0001", date(2026, 8, 21), D("14.75"), "kindness")) == "too-much"
    book = with_waiver(book, "2026-0001", date(2026, 8, 21), D("14.74"), "kindness")
    assert book.balance("larkspur").due == D("1035.68")


def test_a_change_needs_an_approval_and_is_billed() -> None:
    line = AgreedLine("pad", "Dumpster pad", D(120), ("state",))
    book = with_change(opened(), "larkspur", WASHED, [line], "Ines Okafor", "message at 02:10")
    assert with_invoice(book, "larkspur", WASHED, ["pad"]).invoices[0].total == D("125.07")
    twice = [replace(line, id="front")]
    assert code_of(lambda: with_change(book, "larkspur", WASHED, twice, "Ines", "message")) == "doubled-id"


WRONG: list[tuple[str, Callable[[Book], object]]] = [
    ("unknown-job", lambda book: with_invoice(book, "lark", WASHED)),
    ("unknown-line", lambda book: with_invoice(book, "larkspur", WASHED, ["roof"])),
    ("out-of-range", lambda book: with_invoice(book, "larkspur", WASHED, part=D("1.1"))),
    ("too-early", lambda book: with_invoice(book, "larkspur", date(2026, 6, 19))),
    ("unknown-invoice", lambda book: with_credit(book, "2026-0009", WASHED, {}, "why")),
    ("part-of-a-cent", lambda book: with_payment(book, "larkspur", WASHED, D("1.005"), "check")),
    ("out-of-range", lambda book: with_payment(book, "larkspur", WASHED, D(0), "check")),
    ("too-early", lambda book: with_payment(book, "larkspur", date(2026, 6, 1), D(1), "check")),
    ("unknown-payment", lambda book: with_return(book, "payment-9", WASHED, "why")),
    ("too-much", lambda book: with_refund(book, "larkspur", WASHED, D(1), "check")),
    ("doubled-id", lambda book: added(book, JOB)),
    ("no-lines", lambda book: added(book, replace(JOB, job="other", lines=()))),
    ("unknown-tax", lambda book: added(book, replace(JOB, job="other", taxes=()))),
    ("too-much", lambda book: added(book, replace(JOB, job="other", deposit=D("1435.69")))),
]


@pytest.mark.parametrize(("code", "do"), WRONG)
def test_what_does_not_follow_is_refused(code: str, do: Callable[[Book], object]) -> None:
    book = opened()
    assert code_of(lambda: do(book)) == code
    assert book == opened()


def test_an_invoice_written_by_hand_must_be_right_to_the_cent() -> None:
    right = with_invoice(opened(), "larkspur", WASHED).invoices[0]
    assert code_of(lambda: added(opened(), replace(right, number="2026-0002"))) == "wrong-number"
    tax = replace(right.lines[0].taxes[0], amount=right.lines[0].taxes[0].amount + D("0.01"))
    line = replace(right.lines[0], taxes=(tax, *right.lines[0].taxes[1:]))
    assert code_of(lambda: added(opened(), replace(right, lines=(line, *right.lines[1:])))) == "wrong-line"
