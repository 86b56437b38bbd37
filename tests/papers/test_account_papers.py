"""Invoice, credit note, statement, bookkeeper's CSV: every figure is the book's, markup is text, nothing is lost.

Text is read back from the PDF by pypdf, the CSV by the standard library's reader (independent programs).
"""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pypdf
import pytest

from sightwash.book.account_book import Book, new_book
from sightwash.book.entries import AgreedLine, AgreedTax, Customer, Job, LateTerms, Opening
from sightwash.book.entry_checks import added
from sightwash.book.new_entries import with_credit, with_invoice, with_late_charge, with_payment
from sightwash.book.statement import statement
from sightwash.papers.account_look import AccountLook
from sightwash.papers.account_statement import statement_paper
from sightwash.papers.bookkeeper import COLUMNS, bookkeeper_csv
from sightwash.papers.invoice import credit_paper, invoice_paper
from sightwash.site.firm import Firm
from sightwash.site.site_file import read_document

D = Decimal
FIRM = Path(__file__).parents[2] / "examples" / "demo" / "firm.yaml"
HARD = "#strong[x] *b* $y$ <b>&amp; \\"


def look(**more: str) -> AccountLook:
    firm = read_document(FIRM, "firm")
    assert isinstance(firm, Firm)
    return replace(AccountLook(firm), **more)  # type: ignore[arg-type]


@cache
def book() -> Book:
    """Return a book: a deposit of 300, half invoiced, the rest invoiced, a payment, a credit note, a late charge."""
    lines = (
        AgreedLine("front", "Front wall", D("812.35"), ("sales",)),
        AgreedLine("gum", "Gum at the doors", D("100.00")),
    )
    job = Job(
        "job", date(2026, 6, 20), "larkspur", Customer("okafor", HARD, ("1 Road", "Town")), "Larkspur Corner", lines,
        "2026-31", "PO 77", (AgreedTax("sales", "Sales tax", 0.07225),), D(300), 14, LateTerms(0.18, 5),
    )  # fmt: skip
    found = with_payment(added(new_book(Opening("book", 1)), job), "larkspur", date(2026, 6, 22), D(300), "check 1")
    found = with_invoice(found, "larkspur", date(2026, 7, 12), part=D("0.5"))
    found = with_invoice(found, "larkspur", date(2026, 7, 20), note="=second half")
    found = with_payment(found, "larkspur", date(2026, 8, 3), D("100.50"), "=cmd()", "2026-0002")
    found = with_credit(found, "2026-0002", date(2026, 8, 21), {"front": D(50)}, "late start")
    return with_late_charge(found, "2026-0001", date(2026, 9, 1))


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


def has(words: str, text: str) -> bool:
    return "".join(words.split()) in "".join(text.split())


def test_an_invoice_for_a_part_shows_the_agreed_amounts_and_the_deposit() -> None:
    """Half of 812.35 is 406.18 (half up), 7.225 % of it 29.35; with gum 50.00: 485.53, less 300 held: 185.53."""
    text = text_of(invoice_paper(book(), "2026-0001", look()))
    for words in (
        "Invoice 2026-0001", "Sunday, July 12, 2026", "Sunday, July 26, 2026", "Agreement 2026-31", "PO 77",
        "Front wall 812.35 406.18 29.35 435.53", "Gum at the doors 100.00 50.00 0.00 50.00",
        "Before tax $456.18", "Sales tax, 7.225 % on $406.18 $29.35", "Total of this invoice $485.53",
        "Deposit and payments received -$300.00", "To pay $185.53", "18 % a year", "first 5 days", HARD,
        "Two Rivers Exterior Washing, at the address above", "00-0000000 (invented)",
    ):  # fmt: skip
        assert has(words, text), words


def test_a_paper_made_later_is_the_one_made_then() -> None:
    early = Book(book().opening)
    for entry in book().entries[:3]:
        early = early.plus(entry)
    assert invoice_paper(early, "2026-0001", look()) == invoice_paper(book(), "2026-0001", look())


def test_a_credit_note_names_its_invoice_and_what_is_left() -> None:
    """Rest: 406.17 and 29.35 and 50 are 485.52; less 100.50 paid and 53.61 credited: 331.41."""
    text = text_of(credit_paper(book(), "C2026-0001", look()))
    for words in (
        "Credit note C2026-0001", "invoice 2026-0002 of Monday, July 20, 2026", "Front wall 50.00 3.61 53.61",
        "Total credited $53.61", "late start", "Left to pay on it $331.41",
    ):  # fmt: skip
        assert has(words, text), words


def test_a_statement_shows_every_open_item_and_its_age() -> None:
    found = statement(book(), "okafor", date(2026, 9, 2))
    text = text_of(statement_paper(book(), "okafor", date(2026, 9, 2), look()))
    assert len(found.items) == 2
    for item in found.items:
        assert has(f"{item.invoice.number} {item.invoice.on} Larkspur Corner {item.invoice.due}", text)
        assert has(f"{item.late_open:,.2f} {item.due:,.2f}", text)
        assert has(f"{item.days_over} days over", text)
    for amount in (*found.columns, found.due):
        assert has(f"${amount:,.2f}", text)
    assert has("Nothing is open", text_of(statement_paper(book(), "okafor", date(2026, 6, 21), look())))


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_account_papers_are_tagged_and_the_same_twice(language: str, paper: str) -> None:
    """PDF/UA-1 (ISO 14289-1, published): tags, title, language."""
    as_wanted = look(language=language, paper=paper)
    for made, again in (
        (invoice_paper(book(), "2026-0002", as_wanted), invoice_paper(book(), "2026-0002", as_wanted)),
        (credit_paper(book(), "C2026-0001", as_wanted), credit_paper(book(), "C2026-0001", as_wanted)),
    ):
        assert made == again
        root = pypdf.PdfReader(io.BytesIO(made)).trailer["/Root"]
        assert root["/MarkInfo"]["/Marked"]
        assert root["/Lang"] == language


def test_a_long_invoice_keeps_its_head_on_every_page_and_sums_to_its_total() -> None:
    lines = tuple(AgreedLine(f"wall-{n}", f"Wall {n}, a long name " * 4, D("33.33"), ("sales",)) for n in range(60))
    job = replace(book().jobs[0], job="long", lines=lines, deposit=D(0))
    found = with_invoice(added(new_book(Opening("book", 1)), job), "long", date(2026, 7, 12))
    pages = pypdf.PdfReader(io.BytesIO(invoice_paper(found, "2026-0001", look()))).pages
    assert len(pages) > 2
    assert all("With tax" in page.extract_text() for page in pages[:-1])
    text = " ".join(page.extract_text() for page in pages)
    # 60 x 33.33 = 1,999.80; 7.225 % of it 144.48555 = 144.49
    assert has("Before tax $1,999.80", text)
    assert has("Total of this invoice $2,144.29", text)
    assert sum((line.tax for line in found.invoices[0].lines), D(0)) == D("144.49")


def test_the_bookkeepers_csv_balances_and_no_cell_is_a_formula() -> None:
    rows = [*csv.reader(io.StringIO(bookkeeper_csv(book())))]
    assert tuple(rows[0]) == COLUMNS
    debit, credit = (sum((D(row[at] or 0) for row in rows[1:]), D(0)) for at in (-2, -1))
    assert debit == credit > 0
    assert not [cell for row in rows[1:] for cell in row if cell[:1] in tuple("=+-@")]
    assert [row[7] for row in rows if "cmd" in row[7]] == ["'=cmd()"]
    assert [row[1] for row in csv.reader(io.StringIO(bookkeeper_csv(book(), date(2026, 8, 3), date(2026, 8, 3))))] == [
        "date", "2026-08-03", "2026-08-03",
    ]  # fmt: skip
