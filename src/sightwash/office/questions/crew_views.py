"""The crew sheet of a visit as its plan stands now: no price is on it, so no offer need be made first."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone

from sightwash.basis.errors import InputError
from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.night import night_soon
from sightwash.office.bridge.offers import safe_file_name
from sightwash.office.bridge.papers import CREW_PAPER, documents_of, job_of, paper_bytes
from sightwash.office.models import Visit
from sightwash.office.questions.answers import pdf, refused
from sightwash.office.questions.asking import asked_of, page_context, problems_of, unfinished

PATIENT = 30.0
"""How long the sheet waits for the night [s]."""


@page(*EVERYONE)
def visit_crew_sheet(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer with the crew sheet of a visit, made from today's plan."""
    visit = firm_object_or_404(request, Visit, pk)
    asked = asked_of(request, visit)
    waiting = unfinished(request, asked, "")
    if waiting is not None:
        return waiting
    work = night_soon(asked.inputs, PATIENT)
    if work.fault is not None:
        raise work.fault
    if work.error is not None:
        context = page_context(request, asked) | {"problems": problems_of(work.error)}
        return render(request, "office/questions/stuck.html", context)
    if work.night is None:
        return refused(request, "The night is still being worked out. Ask for the sheet once more in a minute.", 503)
    document = documents_of(asked.inputs, asked.plan, work.night)
    job = job_of(document, request.user.firm, (), timezone.localdate(), None)
    try:
        content = paper_bytes(job, (CREW_PAPER,))[f"{CREW_PAPER}.pdf"]
    except InputError as error:
        return refused(request, " ".join(problems_of(error)), 422)
    return pdf(content, safe_file_name(visit.property.name, str(visit.on), f"{CREW_PAPER}.pdf"))
