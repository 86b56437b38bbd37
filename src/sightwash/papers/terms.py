"""The terms of an agreement: the text blocks that this property and this firm give cause for, filled in."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from sightwash.basis.money import to_cents
from sightwash.basis.units import VOLUME, show
from sightwash.papers.job import Job
from sightwash.papers.text_blocks import draft_blocks, filled

ELECTRIC: Final = ("luminaire", "outlet", "lit sign", "sign transformer")


def agreement_terms(job: Job) -> list[tuple[str, str]]:
    """Return heading and words of every term that applies, in order; a block that the firm left empty is left out."""
    drafts = draft_blocks(job.language)
    values = _values(job)
    found = []
    for key in _applying(job):
        title, words = (job.blocks.get(name, drafts[name]) for name in (f"{key}_title", key))
        if words:
            found.append((title, filled(words, values)))
    return found


def all_rewritten(job: Job) -> bool:
    """Return whether every term in use is the firm's own wording."""
    drafts = draft_blocks(job.language)
    return all(job.blocks.get(key, drafts[key]) != drafts[key] for key in _applying(job))


def deposit(job: Job) -> Decimal:
    """Return the deposit: its share of the total with tax, to the cent."""
    return to_cents(job.plan.price.total * Decimal(repr(float(job.firm.terms.deposit))))


def percent(share: float) -> str:
    """Return a share as a percentage without needless noughts.

    >>> percent(0.015), percent(0.25)
    ('1.5 %', '25 %')
    """
    return f"{100 * float(share):.4g} %"


def _applying(job: Job) -> Iterator[str]:
    site, firm, terms = job.site, job.firm, job.firm.terms
    walls = [wall for wall in site.walls if wall.excluded is None]
    washed = [surface for surface in job.plan.ground if surface.washed]
    causes = {
        "scope": True,
        "result": True,
        "access": True,
        "vehicles": bool(site.parked or site.stalls),
        "water_power": job.plan.water.total > 0,
        "electric": any(fixture.kind in ELECTRIC for wall in walls for fixture in wall.fixtures),
        "discharge": job.plan.water.total > 0,
        "discharge_agreed": bool(site.local.discharge),
        "discharge_open": bool(washed) and not site.local.discharge,
        "noise": site.quiet_hours is not None,
        "weather": True,
        "damage": True,
        "plants": bool(site.planting),
        "coatings": any(wall.paint is None or wall.paint.state != "sound" for wall in walls),
        "validity": terms.validity_days > 0,
        "deposit": terms.deposit > 0,
        "payment": terms.payment_days > 0,
        "late": terms.late_charge > 0,
        "repeat": job.night is not None and any(option.visits_a_year > 1 for option in job.night.options),
        "insurance": firm.insurance is not None,
    }
    return (key for key, applies in causes.items() if applies)


def _values(job: Job) -> dict[str, str]:
    terms, quiet = job.firm.terms, job.site.quiet_hours
    return {
        "property": job.plan.name,
        "water": show(job.plan.water.total, VOLUME, job.plan.units),
        "discharge": job.site.local.discharge or "",
        "quiet_hours": f"{quiet.start:%H:%M} to {quiet.end:%H:%M}" if quiet else "",
        "payment_days": str(terms.payment_days),
        "deposit_share": percent(terms.deposit),
        "deposit": job.money(deposit(job)),
        "late_charge": percent(terms.late_charge),
        "validity_days": str(terms.validity_days),
        "notice_days": str(terms.notice_days),
        "review_months": str(terms.review_months),
        "insurance": job.firm.insurance or "",
        "firm": job.firm.name,
        "price": job.money(job.plan.price.price),
        "total": job.money(job.plan.price.total),
    }
