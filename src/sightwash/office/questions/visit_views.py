"""Visits: planned on a date with conditions, stopped by weather, done, invoiced, paid, due again."""

from __future__ import annotations

import json
from calendar import monthrange
from datetime import date
from typing import Any, Final, NoReturn

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from sightwash.basis.errors import InputError, Problem
from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.accounts import invoice_pdf, invoice_visit, pay_visit, visit_balance
from sightwash.office.bridge.documents import problem_words, starting_text
from sightwash.office.bridge.offers import safe_file_name
from sightwash.office.models import Property, Visit
from sightwash.office.questions.answers import pdf, refused
from sightwash.office.questions.asking import asked_of, page_context
from sightwash.office.questions.models import Agreement
from sightwash.office.questions.visit_forms import NextForm, PaymentForm, VisitForm
from sightwash.office.trail import note

PLANNERS = ("owner", "planner")
MONTHS_BETWEEN: Final = 6
"""Months to the next visit where no option was chosen: twice a year."""
STEPS: Final = {
    "stopped": ("stopped by weather", (Visit.State.PLANNED, Visit.State.OFFERED, Visit.State.AGREED)),
    "planned": ("planned again", (Visit.State.STOPPED, Visit.State.DECLINED)),
    "done": ("done", (Visit.State.PLANNED, Visit.State.OFFERED, Visit.State.AGREED, Visit.State.STOPPED)),
}
"""Steps of a visit by hand: in words, and the states that each may follow."""


@page(*EVERYONE, post=PLANNERS)
def visits(request: PersonRequest, pk: int) -> HttpResponse:
    """Show the visits of a property; plan another one."""
    record = firm_object_or_404(request, Property, pk)
    form = VisitForm(request.POST or None, initial=_usual(record))
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            visit = Visit.objects.create(property=record, on=form.cleaned_data["on"], conditions=form.conditions)
            note(request.user, "planned a visit", f"{record.name}, {visit.on}")
        messages.success(request, "The visit is planned.")
        return redirect("visit", visit.pk)
    context = {
        "property": record,
        "section": "properties",
        "shown": record.visits.defer("conditions")[:60],
        "form": form,
        "may_plan": request.user.role != "crew",
    }
    return render(request, "office/questions/visits.html", context, status=422 if form.errors else 200)


def _usual(record: Property) -> dict[str, Any]:
    """Return what a new visit begins with: the day that the property is due, the last visit's hours."""
    last = record.visits.first()
    tree = json.loads(last.conditions if last is not None and last.conditions else starting_text("conditions"))
    weather = tree.get("weather", {})
    due = record.next_due or timezone.localdate()
    return {"on": due, "start": tree.get("start"), "end": tree.get("end"), **weather}


@page(*EVERYONE)
def visit_page(request: PersonRequest, pk: int) -> HttpResponse:
    """Show one visit: where it stands, its offers, what is open, when the next one is due."""
    visit = firm_object_or_404(request, Visit, pk)
    asked = asked_of(request, visit, 0.0)
    context = page_context(request, asked) | {
        "offers": visit.offers.defer("inputs", "plan"),
        "steps": [(to, words) for to, (words, states) in STEPS.items() if visit.state in states],
        "agreement": Agreement.objects.filter(offer__visit=visit).first(),
        "next_form": NextForm(initial={"next_due": next_due(visit)}),
        "payment_form": PaymentForm(),
    }
    if context["shows_money"]:
        context["balance"] = visit_balance(visit)
    return render(request, "office/questions/visit.html", context)


def next_due(visit: Visit) -> date:
    """Return when the next visit is proposed: by the option that was agreed, else in six months."""
    agreed = Agreement.objects.filter(offer__visit=visit).first()
    months = MONTHS_BETWEEN if agreed is None or agreed.visits_a_year < 1 else 12 // agreed.visits_a_year
    years, month = divmod(visit.on.month - 1 + months, 12)
    year = visit.on.year + years
    return date(year, month + 1, min(visit.on.day, monthrange(year, month + 1)[1]))


@page(post=EVERYONE)
def visit_step(request: PersonRequest, pk: int) -> HttpResponse:
    """Move a visit on: stopped by weather, planned again, done."""
    visit = firm_object_or_404(request, Visit, pk)
    to = request.POST.get("to", "")
    words, states = STEPS.get(to, ("", ()))
    if request.user.role == "crew" and to == "planned":
        return refused(request, "Planning again is for planners.", 403)
    with transaction.atomic():
        moved = Visit.objects.filter(pk=visit.pk, state__in=states).update(state=to) if words else 0
        if moved:
            note(request.user, f"visit {words}", f"{visit.property.name}, {visit.on}")
    if not moved:
        messages.error(request, "The visit is not where that step begins. Look again.")
    return redirect("visit", pk)


@page(post=PLANNERS)
def visit_next(request: PersonRequest, pk: int) -> HttpResponse:
    """Set when the property is due again."""
    visit = firm_object_or_404(request, Visit, pk)
    form = NextForm(request.POST)
    if not form.is_valid():
        return refused(request, "Write the day as year-month-day.", 422)
    with transaction.atomic():
        Property.objects.filter(pk=visit.property_id).update(next_due=form.cleaned_data["next_due"])
        note(request.user, "set the next visit", f"{visit.property.name}, {form.cleaned_data['next_due']}")
    messages.success(request, f"{visit.property.name} is due again on {form.cleaned_data['next_due']}.")
    return redirect("visit", pk)


@page(post=PLANNERS)
def visit_account(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter an invoice or a payment of a visit in the book."""
    visit = firm_object_or_404(request, Visit, pk)
    today = timezone.localdate()
    try:
        with transaction.atomic():
            words = _entered(request, visit, today)
            note(request.user, words, f"{visit.property.name}, {visit.on}")
    except InputError as error:
        return refused(request, " ".join(problem_words(problem) for problem in error.problems), 422)
    messages.success(request, f"{words[:1].upper()}{words[1:]}.")
    return redirect("visit", pk)


def _entered(request: PersonRequest, visit: Visit, today: date) -> str:
    if request.POST.get("do") == "invoice":
        return f"wrote invoice {invoice_visit(visit, today)}"
    form = PaymentForm(request.POST)
    if not form.is_valid():
        _refuse_payment(form)
    left = pay_visit(visit, today, form.cleaned_data["amount"], form.cleaned_data["by"])
    if left.invoices and left.due <= 0:
        Visit.objects.filter(pk=visit.pk, state=Visit.State.DONE).update(state=Visit.State.PAID)
    return f"noted a payment of {form.cleaned_data['amount']:,.2f}"


def _refuse_payment(form: PaymentForm) -> NoReturn:
    raise InputError([Problem("bad-payment", f"{key}: {words[0]}") for key, words in form.errors.items()])


@page(*PLANNERS)
def visit_invoice(request: PersonRequest, pk: int, number: str) -> HttpResponse:
    """Answer with an invoice as PDF."""
    visit = firm_object_or_404(request, Visit, pk)
    try:
        content = invoice_pdf(visit, number)
    except InputError as error:
        return refused(request, problem_words(error.problems[0]), 404)
    return pdf(content, safe_file_name(visit.property.name, number, "invoice.pdf"))
