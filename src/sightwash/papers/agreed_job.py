"""From a plan to a job of the account book: its scope as lines, chosen extras, taxes, the firm's terms."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.money import ZERO, to_cents
from sightwash.basis.units import RATIO, parse_quantity
from sightwash.book.entries import AgreedLine, AgreedTax, Customer, Job, LateTerms
from sightwash.book.tax_lines import billed_lines
from sightwash.papers.plan_document import PlanDocument, planned_from
from sightwash.papers.scope_lines import capital
from sightwash.site.firm import Terms
from sightwash.site.rates import Tax

MONTHS: Final = 12


def agreed_job(
    document: PlanDocument,
    job: str,
    on: date,
    customer: Customer,
    terms: Terms,
    extras: Iterable[str] = (),
    agreement: str | None = None,
    reference: str | None = None,
) -> Job:
    """Return the job that a plan's price becomes: a line for each part of the scope and for each chosen extra.

    The lines bear every tax of the rates. Deposit, days to pay and late charge are the firm's own terms; a late
    charge by the month is kept as the same share by the year.
    """
    taxes = _taxes(planned_from(document).rates.taxes)
    names = tuple(tax.id for tax in taxes)
    lines = tuple(
        AgreedLine(part.part, part.words, part.amount, names) for part in document.plan.price.scope if part.amount > 0
    )
    lines += tuple(_extra(document, name, names) for name in extras)
    whole = billed_lines(lines, {line.id: line.amount for line in lines}, taxes)
    total = sum((line.amount + line.tax for line in whole), ZERO)
    late = f"{Decimal(repr(float(terms.late_charge))) * 100 * MONTHS:f} %" if terms.late_charge > 0 else None
    return Job(
        "job", on, job, customer, document.plan.name, lines, agreement, reference, taxes,
        to_cents(total * Decimal(repr(float(terms.deposit)))), terms.payment_days,
        LateTerms(parse_quantity(late, RATIO)) if late is not None else None,
    )  # fmt: skip


def _taxes(taxes: tuple[Tax, ...]) -> tuple[AgreedTax, ...]:
    """Return the taxes of the rates with ids made of their names."""
    found: dict[str, AgreedTax] = {}
    for number, tax in enumerate(taxes, 1):
        name = re.sub(r"[^a-z0-9]+", "-", tax.name.lower()).strip("-")[:40].strip("-") or "tax"
        name = f"{name}-{number}" if name in found else name
        found[name] = AgreedTax(name, tax.name, tax.rate)
    return tuple(found.values())


def _extra(document: PlanDocument, name: str, taxes: tuple[str, ...]) -> AgreedLine:
    offered = {extra.id: extra for extra in document.plan.add_ons}
    if name not in offered:
        expected = ", ".join(offered) or "the plan offers none"
        raise InputError(
            Problem("unknown-extra", f"the plan offers no extra {name!r}", key="--extra", expected=expected)
        )
    extra = offered[name]
    return AgreedLine(extra.id, capital(extra.words), extra.price, taxes)
