"""A job: all that the papers are made from. A paper formats it and adds up nothing that the plan has not added up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.papers.catalogue import day_words, shared_words, texts
from sightwash.papers.drawn import Drawings, Turn
from sightwash.papers.plan_document import PlanDocument, PlannedFrom, planned_from
from sightwash.papers.typesetter import JSON, typeset
from sightwash.planning.night import NightPlan
from sightwash.planning.visit import VisitPlan
from sightwash.site.firm import Firm, Language, PaperSize
from sightwash.site.model import Site

NO_FIRM: Final = Firm("firm", 1, "firm", "")
"""Stands where no firm is given: the papers leave its lines out."""
_SIGNS: Final = {"USD": "$", "EUR": "€", "GBP": "£", "CAD": "CA$", "AUD": "A$", "NZD": "NZ$", "MXN": "MX$"}


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """A plan with its documents, the firm, and how its papers look.

    ``customer`` holds name and address as lines; ``blocks`` the firm's own text blocks by key; ``dated`` is the day on
    the papers, ``number`` the firm's own number of the offer.
    """

    document: PlanDocument
    documents: PlannedFrom
    firm: Firm = NO_FIRM
    paper: PaperSize = "letter"
    language: Language = "en"
    customer: tuple[str, ...] = ()
    blocks: Mapping[str, str] = field(default_factory=dict)
    logo: bytes | None = None
    dated: date | None = None
    number: str | None = None
    drawings: Drawings = field(init=False)
    turn: Turn = field(init=False, default_factory=Turn)

    def __post_init__(self) -> None:
        object.__setattr__(self, "drawings", Drawings(self.site, self.plan))

    @property
    def plan(self) -> VisitPlan:
        """The plan."""
        return self.document.plan

    @property
    def night(self) -> NightPlan | None:
        """The night and the offer, where they were planned."""
        return self.document.night

    @property
    def site(self) -> Site:
        """The measured place."""
        return self.documents.site

    @property
    def texts(self) -> Mapping[str, str]:
        """All words of the papers in the job's language."""
        return texts(self.language)

    def words(self, *papers: str) -> dict[str, str]:
        """Return the words of some papers by their short keys, those that all papers share among them."""
        return dict(shared_words(self.language, *papers))

    def day(self, day: date) -> str:
        """Return a day in words."""
        return day_words(day, self.texts)

    def money(self, amount: Decimal) -> str:
        """Return an amount with its currency, thousands marked, to the cent."""
        return money_words(amount, self.plan.price.currency)


def money_words(amount: Decimal, currency: str) -> str:
    """Return an amount with its currency, thousands marked, to the cent.

    >>> money_words(Decimal("-1234.5"), "USD")
    '-$1,234.50'
    """
    sign = _SIGNS.get(currency)
    minus = "-" if amount < 0 else ""
    return f"{minus}{sign}{abs(amount):,.2f}" if sign else f"{amount:,.2f} {currency}"


def new_job(
    document: PlanDocument,
    firm: Firm = NO_FIRM,
    paper: PaperSize | None = None,
    language: Language | None = None,
    customer: tuple[str, ...] = (),
    blocks: Mapping[str, str] | None = None,
    logo: bytes | None = None,
    dated: date | None = None,
    number: str | None = None,
) -> Job:
    """Return the job of a plan; paper and language are the firm's unless given."""
    return Job(
        document, planned_from(document), firm, paper or firm.paper, language or firm.language, customer, blocks or {},
        logo, dated, number,
    )  # fmt: skip


def firm_lines(firm: Firm) -> list[str]:
    """Return the firm's address, phone and e-mail as lines."""
    lines = (firm.address or "").split("\n")
    return [line for line in (*lines, firm.phone, firm.email) if line]


def set_paper(
    job: Job, template: str, title: str, data: Mapping[str, JSON], pictures: Mapping[str, bytes] | None = None
) -> bytes:
    """Return a paper's PDF: the firm's name, lines, colour and logo go with every paper; ``data`` needs ``words``."""
    shared: dict[str, JSON] = {
        "title": title,
        "language": job.language,
        "accent": job.firm.accent,
        "firm": {"name": job.firm.name, "lines": firm_lines(job.firm)} if job.firm.name else None,
    }
    logo = {} if job.logo is None else {"logo": job.logo}
    job.turn.give_up()
    return typeset(template, {**shared, **data}, {**(pictures or {}), **logo}, job.paper)


def unknown_paper(name: str, known: tuple[str, ...]) -> InputError:
    """Return the error for a paper that is not made here."""
    fix = "give one of these"
    return InputError(
        Problem("unknown-paper", f"there is no paper {name!r}", key="--only", expected=", ".join(known), fix=fix)
    )
