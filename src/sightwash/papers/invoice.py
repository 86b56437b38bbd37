"""The invoice and the credit note, as the book held them when they were written."""

from __future__ import annotations

from decimal import Decimal

from sightwash.book.account_book import Book
from sightwash.book.entries import BilledLine, Credit, Invoice, Job
from sightwash.book.tax_lines import tax_totals
from sightwash.papers.account_look import AccountLook, percent
from sightwash.papers.typesetter import JSON


def invoice_paper(book: Book, number: str, look: AccountLook) -> bytes:
    """Return an invoice as PDF; later entries do not change it."""
    invoice = book.invoice(number)
    then = book.up_to(invoice)
    job = book.job(invoice.job)
    words = look.words("invoice")
    taken_up = then.balance(job.job).of(number).paid
    sums = [
        *_sums(job, invoice, look, words),
        *([[words["received"], look.money(-taken_up)]] if taken_up > 0 else []),
        [words["to_pay"], look.money(invoice.total - taken_up)],
    ]
    agreed = {line.id: line.amount for line in then.agreed(job.job)}
    in_parts = any(agreed[line.line] != line.amount for line in invoice.lines)
    data: dict[str, JSON] = {
        "words": words,
        "kind": words["invoice"],
        "number": number,
        "date": look.day(invoice.on),
        "customer": _address(job),
        "about": [*_about(job, words), [words["due"], look.day(invoice.due)]],
        **_table(invoice.lines, agreed if in_parts else None, words),
        "sums": sums,
        "notes": _notes(job, invoice, look, words),
        "foot": _foot(look, words),
    }
    return look.typeset("invoice", f"{words['invoice']} {number}", data)


def credit_paper(book: Book, number: str, look: AccountLook) -> bytes:
    """Return a credit note as PDF; it names its invoice and what is left of that."""
    credit = book.credit(number)
    invoice = book.invoice(credit.invoice)
    job = book.job(invoice.job)
    words = look.words("invoice")
    then = book.up_to(credit).balance(job.job)
    left = then.of(invoice.number).open
    of = words["of_invoice"].format(number=invoice.number, date=look.day(invoice.on))
    notes = [[words["reason"], credit.reason], [words["left"], look.money(left)]]
    if then.held > 0:
        notes.append([words["held"], look.money(then.held)])
    data: dict[str, JSON] = {
        "words": words,
        "kind": words["credit"],
        "number": number,
        "date": look.day(credit.on),
        "customer": _address(job),
        "about": [*_about(job, words), [words["credits"], of]],
        **_table(credit.lines, None, words),
        "sums": _sums(job, credit, look, words),
        "notes": notes,
        "foot": _foot(look, words),
    }
    return look.typeset("invoice", f"{words['credit']} {number}", data)


def _address(job: Job) -> list[str]:
    return [job.customer.name, *job.customer.address]


def _about(job: Job, words: dict[str, str]) -> list[list[str]]:
    rows = [[words["property"], job.property]]
    if job.agreement is not None:
        rows.append([words["agreement"], job.agreement])
    if job.reference is not None:
        rows.append([words["reference"], job.reference])
    return rows


def _table(lines: tuple[BilledLine, ...], agreed: dict[str, Decimal] | None, words: dict[str, str]) -> dict[str, JSON]:
    """Return heads and rows; the agreed amounts stand beside those asked for where only a part is asked for."""
    heads = [words["what"], *([words["agreed"]] if agreed else []), words["amount"], words["tax"], words["with_tax"]]
    rows = []
    for line in lines:
        amounts = (*((agreed[line.line],) if agreed else ()), line.amount, line.tax, line.amount + line.tax)
        rows.append([line.words, *(f"{amount:,.2f}" for amount in amounts)])
    return {"heads": heads, "rows": rows}


def _sums(job: Job, paper: Invoice | Credit, look: AccountLook, words: dict[str, str]) -> list[list[str]]:
    taxes = tax_totals(paper.lines, job.taxes)
    on = [
        [words["tax_on"].format(name=t.name, rate=percent(t.rate), base=look.money(t.base)), look.money(t.amount)]
        for t in taxes
    ]
    total = words["total"] if isinstance(paper, Invoice) else words["total_credit"]
    return [[words["net"], look.money(paper.net)], *on, [total, look.money(paper.total)]]


def _notes(job: Job, invoice: Invoice, look: AccountLook, words: dict[str, str]) -> list[list[str]]:
    notes = [[words["note"], invoice.note]] if invoice.note else []
    if look.firm.pay_to:
        notes.append([words["pay_to"], look.firm.pay_to])
    if job.late is not None and job.late.a_year > 0:
        rate = percent(Decimal(repr(float(job.late.a_year))))
        late = words["late_terms"].format(rate=rate, days=job.late.year_days)
        free = words["late_free"].format(days=job.late.free_days) if job.late.free_days else ""
        notes.append([words["late"], late + free])
    return notes


def _foot(look: AccountLook, words: dict[str, str]) -> str:
    parts = (look.firm.name, f"{words['tax_number']} {look.firm.tax_number}" if look.firm.tax_number else "")
    return ", ".join(part for part in parts if part)
