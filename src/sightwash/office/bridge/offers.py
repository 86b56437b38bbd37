"""Offers, kept as they went out: inputs, plan, versions, the very bytes of the papers. Never solved again."""

from __future__ import annotations

import hashlib
import json
import platform
import re
import unicodedata
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from importlib.metadata import version
from typing import Any, Final

from django.db import transaction

from sightwash import __version__
from sightwash.office.bridge.papers import CREW_PAPER, documents_of, firm_document_text, job_of, paper_bytes
from sightwash.office.bridge.planning import PlanInputs
from sightwash.office.models import Offer, OfferPaper, Person, Visit
from sightwash.office.trail import note
from sightwash.papers.plan_document import output_text
from sightwash.planning.night import NightPlan
from sightwash.planning.options import Scope
from sightwash.planning.visit import VisitPlan

PROGRAMS: Final = ("typst", "numpy", "shapely", "ortools")
CREW_FILES: Final = tuple(f"{CREW_PAPER}.{ending}" for ending in ("pdf", "txt"))


def offer_number(visit: Visit) -> str:
    """Return the firm's own number of the next offer for a visit."""
    return f"{visit.on:%Y}-{visit.pk:04d}-{visit.offers.count() + 1}"


def make_offer(
    visit: Visit, person: Person, inputs: PlanInputs, plan: VisitPlan, night: NightPlan, customer: str, today: date
) -> Offer:
    """Return a new offer with its papers, all kept in one transaction; InputError where a paper cannot be made."""
    number = offer_number(visit)
    document = documents_of(inputs, plan, night)
    lines = tuple(line.strip() for line in customer.splitlines() if line.strip())
    made = paper_bytes(job_of(document, person.firm, lines, today, number))
    kept: dict[str, Any] = {
        "number": number,
        "customer": lines,
        "on": inputs.on.isoformat(),
        "firm": json.loads(firm_document_text(person.firm)),
        **{kind: json.loads(getattr(inputs, kind)) for kind in ("site", "rig", "rates", "conditions")},
    }
    with transaction.atomic():
        offer: Offer = Offer.objects.create(
            visit=visit,
            inputs=json.dumps(kept, ensure_ascii=False, indent=1),
            plan=output_text("plan", document),
            versions=_versions(),
        )
        for name, content in made.items():
            OfferPaper.objects.create(offer=offer, name=name, bytes=content, sha256=sha256_of(content))
        Visit.objects.filter(pk=visit.pk).update(state=Visit.State.OFFERED)
        note(person, "made an offer", f"{number}, {visit.property.name}")
    return offer


def _versions() -> dict[str, str]:
    found = {"sightwash": __version__, "python": platform.python_version()}
    return found | {name: version(name) for name in PROGRAMS}


def sha256_of(content: bytes | memoryview) -> str:
    """Return the SHA-256 of bytes in hexadecimal."""
    return hashlib.sha256(bytes(content)).hexdigest()


@dataclass(frozen=True, slots=True)
class PaperCheck:
    """A paper of an offer: its name, its size, the hash it was kept with, and whether its bytes still have it."""

    name: str
    size: int
    sha256: str
    holds: bool


def paper_checks(offer: Offer) -> tuple[PaperCheck, ...]:
    """Return every paper of an offer with its hash worked out again from its bytes."""
    return tuple(
        PaperCheck(paper.name, len(paper.bytes), paper.sha256, sha256_of(paper.bytes) == paper.sha256)
        for paper in offer.papers.order_by("name")
    )


@dataclass(frozen=True, slots=True)
class OptionLine:
    """One option of an offer: visits a year, the first and each later price before tax, a whole year."""

    id: str
    words: str
    short: str
    visits: int
    first: Decimal
    later: Decimal | None
    year: Decimal


@dataclass(frozen=True, slots=True)
class OfferFigures:
    """What an offer says, read from its own plan: prices are those that went out."""

    number: str
    customer: tuple[str, ...]
    price: Decimal
    total: Decimal
    currency: str
    options: tuple[OptionLine, ...]
    scope: tuple[tuple[str, str, Decimal], ...]
    taxes: tuple[tuple[str, str, Decimal], ...]
    terms: dict[str, Any]


def offer_figures(offer: Offer) -> OfferFigures:
    """Return the figures of an offer from what it kept; nothing is worked out again."""
    plan, inputs = json.loads(offer.plan, parse_float=Decimal), json.loads(offer.inputs)
    price = plan["plan"]["price"]
    options = (plan.get("night") or {}).get("options") or []
    return OfferFigures(
        inputs["number"],
        tuple(inputs["customer"]),
        _amount(price["price"]),
        _amount(price["total"]),
        price["currency"],
        tuple(_option(each) for each in options),
        tuple((each["part"], each["words"], _amount(each["amount"])) for each in price["scope"]),
        tuple((each["name"], each["rate"], _amount(each["amount"])) for each in price["taxes"]),
        inputs["firm"].get("terms", {}),
    )


def _option(each: dict[str, Any]) -> OptionLine:
    later = each.get("repeat")
    return OptionLine(
        each["id"], each["words"], _short(each), int(each["visits_a_year"]), _amount(each["visits"][0]),
        None if later is None else _amount(later), _amount(each["year"]),
    )  # fmt: skip


def _short(each: dict[str, Any]) -> str:
    """Return an option in a few words: how often, and what is left out or added."""
    often = str(each["words"]).partition(": ")[0]
    return f"{often}, {scope_words(Scope(**each['scope']))}"


def scope_words(scope: Scope) -> str:
    """Return what an option leaves out or adds, in a few words."""
    left_out = [
        words
        for inside, words in ((scope.gum, "gum"), (scope.canopy_tops, "canopy tops and the strip above them"))
        if not inside
    ]
    words = f"without {', '.join(left_out)}" if left_out else "as planned"
    return f"{words}, faded marks repainted" if scope.marking else words


def _amount(value: Any) -> Decimal:
    return Decimal(str(value))


def safe_file_name(*parts: str) -> str:
    """Return a file name of plain letters, digits and hyphens from texts that people typed, its ending kept.

    >>> safe_file_name("Café «Zur Post»/../x", "agreement.pdf")
    'cafe-zur-post-x-agreement.pdf'
    """
    *words, last = parts
    stem, _, ending = last.rpartition(".")
    text = unicodedata.normalize("NFKD", " ".join((*words, stem))).encode("ascii", "ignore").decode().lower()
    name = re.sub(r"[^a-z0-9]+", "-", text).strip("-")[:90] or "paper"
    return f"{name}.{re.sub('[^a-z0-9]', '', ending.lower()) or 'bin'}"


def may_open(name: str, role: str) -> bool:
    """Return whether a role may open a paper of this name: the crew opens its own sheet alone."""
    return role != "crew" or name in CREW_FILES
