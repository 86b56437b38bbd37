"""Papers of a plan as bytes, drawings of a plan as text: made by the floor of papers, kept for a while."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from datetime import date
from typing import Final

from sightwash.basis.errors import InputError
from sightwash.office.bridge.documents import problem_words
from sightwash.office.bridge.planning import PlanInputs
from sightwash.office.models import Firm as FirmRow
from sightwash.office.models import FirmDocument
from sightwash.papers.drawings.elevation import elevation
from sightwash.papers.drawings.timeline import timeline_drawing
from sightwash.papers.drawings.unrolled import unrolled_wall
from sightwash.papers.job import Job, new_job
from sightwash.papers.paper_list import PAPERS, papers
from sightwash.papers.plan_document import PlanDocument, plan_document
from sightwash.papers.text_blocks import blocks_text, read_blocks
from sightwash.planning.night import NightPlan
from sightwash.planning.visit import VisitPlan
from sightwash.site.firm import Firm
from sightwash.site.site_file import document_from, document_text
from sightwash.site.tree import parse

CREW_PAPER: Final = "crew-sheet"
TEXTS: Final = "texts"
"""The kind of a firm's text blocks among its documents."""
KEPT: Final = 120
PAPER_NAMES: Final = tuple(paper.name for paper in PAPERS)

_lock = threading.Lock()
_drawn: OrderedDict[tuple[str, str], str] = OrderedDict()


def strip_drawing(inputs: PlanInputs, plan: VisitPlan) -> str:
    """Return the unrolled wall of a plan."""
    return _once(inputs.key, "strip", lambda: unrolled_wall(inputs.documents()[0], plan))


def wall_drawing(inputs: PlanInputs, plan: VisitPlan, wall: str) -> str:
    """Return one wall large; InputError for a wall that the plan does not know."""
    return _once(inputs.key, f"wall {wall}", lambda: elevation(inputs.documents()[0], plan, wall))


def night_drawing(inputs: PlanInputs, night: NightPlan) -> str:
    """Return the timeline of a night."""
    return _once(inputs.key, "night", lambda: timeline_drawing(inputs.documents()[0], night.timeline))


def _once(key: str, name: str, draw: Callable[[], str]) -> str:
    with _lock:
        found = _drawn.get((key, name))
    if found is None:
        found = draw()
        with _lock:
            _drawn[key, name] = found
            while len(_drawn) > KEPT:
                _drawn.popitem(last=False)
    return found


def firm_document(row: FirmRow) -> Firm:
    """Return the firm's own document; one with its name alone where it has none."""
    text = FirmDocument.objects.of(row).filter(kind=FirmDocument.Kind.FIRM).values_list("text", flat=True).first()
    return firm_from(text) if text else Firm("firm", 1, "firm", row.name)


def firm_from(text: str) -> Firm:
    """Return the firm that a text describes; InputError with all that is wrong."""
    found = document_from(parse(text, "firm"), "firm")
    assert isinstance(found, Firm)
    return found


def firm_document_text(row: FirmRow) -> str:
    """Return the firm's own document as canonical JSON."""
    return document_text(firm_document(row))


def firm_blocks_text(row: FirmRow) -> str:
    """Return the firm's text blocks as it edits them; the drafts where it has none."""
    text = FirmDocument.objects.of(row).filter(kind=TEXTS).values_list("text", flat=True).first()
    return text if text is not None else blocks_text(firm_document(row).language)


def blocks_problem(text: str, row: FirmRow) -> list[str]:
    """Return what is wrong with text blocks, each with its line; nothing where all is well."""
    try:
        read_blocks(text, "texts", firm_document(row).language)
    except InputError as error:
        return [
            f"Line {each.line}. {problem_words(each)}" if each.line else problem_words(each) for each in error.problems
        ]
    return []


def documents_of(inputs: PlanInputs, plan: VisitPlan, night: NightPlan | None) -> PlanDocument:
    """Return the plan document of inputs that were planned."""
    return plan_document(plan, *inputs.documents(), night)


def job_of(document: PlanDocument, row: FirmRow, customer: tuple[str, ...], dated: date, number: str | None) -> Job:
    """Return the job that papers are made from: the plan, the firm, its texts."""
    firm = firm_document(row)
    own = FirmDocument.objects.of(row).filter(kind=TEXTS).values_list("text", flat=True).first()
    blocks = read_blocks(own, "texts", firm.language) if own else {}
    return new_job(document, firm, customer=customer, blocks=blocks, dated=dated, number=number)


def paper_bytes(job: Job, only: tuple[str, ...] = ()) -> dict[str, bytes]:
    """Return the papers of a job by file name."""
    return papers(job, only)
