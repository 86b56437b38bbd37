"""Assumptions: look at other ones side by side; nothing is saved unless the person says so."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render

from sightwash.basis.errors import InputError
from sightwash.office.access import PersonRequest, page
from sightwash.office.bridge.assumptions import (
    Assumed,
    assumed_now,
    changed_inputs,
    moved_figures,
    problems_by_field,
)
from sightwash.office.bridge.planning import PlanInputs, plan_soon
from sightwash.office.models import FirmDocument, Visit
from sightwash.office.questions.asking import Asked, again, asked_for, page_context, problems_of, unfinished
from sightwash.office.questions.assumption_forms import FIELDS, AssumptionForm
from sightwash.office.questions.revisions import save_document
from sightwash.office.trail import note

PLANNERS = ("owner", "planner")


@page(*PLANNERS, post=PLANNERS)
def assumptions(request: PersonRequest, pk: int) -> HttpResponse:
    """Show the assumptions and what moves with other ones; keep those that a person says to keep."""
    asked = asked_for(request, pk)
    now = assumed_now(asked.inputs)
    sent = request.POST if request.method == "POST" else request.GET
    given = any(name in sent for name, _, _ in FIELDS)
    form = AssumptionForm(sent if given else None, now=now)
    context = page_context(request, asked) | {"form": form, "revisions": _revisions(request)}
    changed: PlanInputs | None = None
    if given and form.is_valid():
        changed = _changed(form, asked.inputs)
    if request.method == "POST" and changed is not None:
        return _kept(request, asked, changed, form.assumed())
    if changed is None or changed.key == asked.inputs.key:
        context["same"] = changed is not None
        return render(request, "office/questions/assumptions.html", context, status=422 if form.errors else 200)
    return _compared(request, asked, changed, context)


def _revisions(request: PersonRequest) -> dict[str, int]:
    rows = FirmDocument.objects.of(request.user.firm).values_list("kind", "revision")
    return dict(rows)


def _changed(form: AssumptionForm, inputs: PlanInputs) -> PlanInputs | None:
    """Return the inputs as assumed; what is wrong goes beside its field."""
    try:
        return changed_inputs(inputs, form.assumed())
    except InputError as error:
        for name, words in problems_by_field(error).items():
            for sentence in words:
                form.add_error(name or None, sentence)
    return None


def _compared(request: PersonRequest, asked: Asked, changed: PlanInputs, context: dict[str, Any]) -> HttpResponse:
    """Show the figures that moved, or how far the two plans are."""
    if asked.planning.plan is None:
        return unfinished(request, asked, "") or HttpResponse()
    other = plan_soon(changed)
    if other.fault is not None:
        raise other.fault
    if other.error is not None:
        context["problems"] = problems_of(other.error)
    elif other.plan is None:
        context |= {"work": other, "again": again(request)}
        if request.htmx:
            return render(request, "office/questions/progress.html", context)
    elif request.htmx:
        return HttpResponse(headers={"HX-Refresh": "true"})
    else:
        context |= {"moved": moved_figures(asked.plan, other.plan), "compared": True}
    return render(request, "office/questions/assumptions.html", context)


def _kept(request: PersonRequest, asked: Asked, changed: PlanInputs, assumed: Assumed) -> HttpResponse:
    """Keep assumptions as new revisions of the documents that they stand in; refuse over somebody else's."""
    back = redirect(f"{request.path}{asked.query()}")
    if changed.conditions != asked.inputs.conditions and asked.visit is None:
        messages.error(request, "Wind and start belong to a visit. Plan a visit first, then keep them.")
        return back
    if (changed.rig, changed.rates) != (asked.inputs.rig, asked.inputs.rates) and request.user.role != "owner":
        messages.error(request, "Hose, tip, crew and margin stand in the rig and the rates; only an owner keeps them.")
        return back
    kinds = FirmDocument.Kind
    with transaction.atomic():
        for kind, text, before in (
            (kinds.RIG, changed.rig, asked.inputs.rig),
            (kinds.RATES, changed.rates, asked.inputs.rates),
        ):
            if text != before and not save_document(request.user, kind, text, _base(request, kind)):
                transaction.set_rollback(True)
                messages.error(request, f"Somebody changed the {kind.label} meanwhile. Look again, then keep yours.")
                return back
        if asked.visit is not None and changed.conditions != asked.inputs.conditions:
            known = Visit.objects.filter(pk=asked.visit.pk, conditions=asked.visit.conditions)
            if not known.update(conditions=changed.conditions):
                transaction.set_rollback(True)
                messages.error(request, "Somebody changed the visit meanwhile. Look again, then keep yours.")
                return back
        note(request.user, "kept assumptions", f"{asked.record.name}: {', '.join(assumed.given())}")
    messages.success(request, "Kept. Plans from now on use them.")
    return back


def _base(request: PersonRequest, kind: str) -> int:
    typed = request.POST.get(f"{kind}_revision", "")
    return int(typed) if typed.isdigit() and len(typed) < 9 else 0
