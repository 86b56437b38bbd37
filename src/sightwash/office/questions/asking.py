"""What a page is about: a property, the visit that it is planned for, and its plan, there or in the making."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from sightwash.basis.errors import InputError, NoFeasiblePlan, SightwashError
from sightwash.office.access import PersonRequest, firm_object_or_404
from sightwash.office.bridge.documents import problem_words
from sightwash.office.bridge.night import NightWork
from sightwash.office.bridge.planning import PlanInputs, Planning, inputs_of, plan_soon, visit_inputs
from sightwash.office.models import Property, Visit
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


@dataclass(frozen=True, slots=True)
class Asked:
    """A property, its visit if it has one, and the inputs and the planning of that."""

    record: Property
    visit: Visit | None
    inputs: PlanInputs
    planning: Planning

    @property
    def plan(self) -> VisitPlan:
        """The plan; asked for only once it is there."""
        if self.planning.plan is None:
            raise LookupError("there is no plan yet")
        return self.planning.plan

    @property
    def site(self) -> Site:
        """The measured place."""
        return self.inputs.documents()[0]

    def query(self, **more: str) -> str:
        """Return the end of an address that asks for the same visit."""
        wanted = {**({"visit": str(self.visit.pk)} if self.visit else {}), **more}
        return f"?{urlencode(wanted)}" if wanted else ""


def asked_for(request: PersonRequest, pk: int, wait: float = 0.7) -> Asked:
    """Return what a page is about: the visit that is named, else the property's latest, else a visit today."""
    record = firm_object_or_404(request, Property, pk)
    visit = _visit(request, record)
    if visit is not None:
        visit.property = record
    record.firm = request.user.firm
    inputs = inputs_of(record, timezone.localdate()) if visit is None else visit_inputs(visit)
    return Asked(record, visit, inputs, plan_soon(inputs, wait))


def asked_of(request: PersonRequest, visit: Visit, wait: float = 0.7) -> Asked:
    """Return what a page about one visit is about."""
    visit.property.firm = request.user.firm
    inputs = visit_inputs(visit)
    return Asked(visit.property, visit, inputs, plan_soon(inputs, wait))


def _visit(request: PersonRequest, record: Property) -> Visit | None:
    named = request.GET.get("visit", "")
    if not named:
        found: Visit | None = record.visits.first()
        return found
    if not named.isdigit():
        raise Http404
    visit = firm_object_or_404(request, Visit, int(named[:18]))
    if visit.property_id != record.pk:
        raise Http404
    return visit


def page_context(request: PersonRequest, asked: Asked, question: str = "") -> dict[str, Any]:
    """Return what every page about a property needs."""
    return {
        "property": asked.record,
        "question": question,
        "section": "properties",
        "visit": asked.visit,
        "on": asked.inputs.on,
        "query": asked.query(),
        "shows_money": request.user.role != "crew",
        "may_plan": request.user.role != "crew",
    }


def unfinished(request: PersonRequest, asked: Asked, question: str) -> HttpResponse | None:
    """Return the page of a plan that is not there: how far it is, or what stands in its way; None when it is there.

    A page that waits asks again by itself; once the plan is there the answer tells it to load anew.
    """
    planning = asked.planning
    if planning.fault is not None:
        raise planning.fault
    if planning.plan is not None:
        return HttpResponse(headers={"HX-Refresh": "true"}) if request.htmx and "wait" in request.GET else None
    context = page_context(request, asked, question)
    if planning.error is not None:
        if request.htmx:
            return HttpResponse(headers={"HX-Refresh": "true"})
        context |= {"problems": problems_of(planning.error)}
        return render(request, "office/questions/stuck.html", context)
    context |= {"work": planning, "again": again(request)}
    template = "office/questions/progress.html" if request.htmx else "office/questions/waiting.html"
    return render(request, template, context)


def again(request: PersonRequest) -> str:
    """Return the address that asks for the same page again, marked as one that waits."""
    asked = request.GET.copy()
    asked["wait"] = "1"
    return f"{request.path}?{asked.urlencode()}"


def problems_of(error: SightwashError) -> list[str]:
    """Return what stands in the way of a plan, in sentences."""
    if isinstance(error, InputError):
        return [f"{each.key}: {problem_words(each)}" if each.key else problem_words(each) for each in error.problems]
    if isinstance(error, NoFeasiblePlan):
        return [f"{error.message[:1].upper()}{error.message[1:]}.", *(f"Tried: {each}." for each in error.tried)]
    return [str(error)]


def fragment_unfinished(request: PersonRequest, work: NightWork | Planning) -> HttpResponse | None:
    """Return the fragment of work that is not finished: how far it is, or what stands in its way."""
    if work.fault is not None:
        raise work.fault
    if work.error is not None:
        return render(request, "office/questions/problems.html", {"problems": problems_of(work.error)})
    if work.done.is_set():
        return None
    return render(request, "office/questions/progress.html", {"work": work, "again": again(request)})


def part_address(asked: Asked, slug: str) -> str:
    """Return the address of a question's page for the same visit, ready for a part to be added."""
    return f"{reverse(slug, args=[asked.record.pk])}{asked.query(part='')}"
