"""The list of properties, and the page of one with its strip and its first price."""

from __future__ import annotations

from collections import defaultdict
from datetime import date
from typing import Any, Final

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import transaction
from django.db.models import Q
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.looks import first_look
from sightwash.office.bridge.planning import Planning, inputs_of, plan_soon, visit_inputs
from sightwash.office.models import Firm, Property, Visit
from sightwash.office.properties.attention import Matter, matters
from sightwash.office.properties.forms import PropertyForm
from sightwash.office.trail import note

A_PAGE: Final = 50
MOST_MATTERS: Final = 20


@page(*EVERYONE)
def properties(request: PersonRequest) -> HttpResponse:
    """Show what needs attention, then the firm's properties; both narrowed by a search."""
    asked = request.GET.get("q", "").replace("\0", " ").strip()[:100]
    away = request.GET.get("away") == "1"
    found = _found(request.user.firm, asked, away)
    waiting = matters(request.user.firm, timezone.localdate())
    by_property: dict[int, list[Matter]] = defaultdict(list)
    for matter in waiting:
        by_property[matter.property].append(matter)
    shown = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "shown": [(each, by_property.get(each.pk, [])) for each in shown],
        "page": shown,
        "asked": asked,
        "away": away,
        "section": "properties",
        "waiting": [] if asked or away or shown.number > 1 else _with_names(request.user.firm, waiting),
        "waiting_count": len(waiting),
    }
    template = "office/properties/found.html" if request.htmx else "office/properties/list.html"
    return render(request, template, context)


def _found(firm: Firm, asked: str, away: bool) -> Any:
    found = Property.objects.of(firm).filter(archived=away).defer("site")
    for word in asked.split():
        found = found.filter(Q(name__icontains=word) | Q(address__icontains=word))
    return found


def _with_names(firm: Firm, waiting: list[Matter]) -> list[tuple[Property, list[Matter]]]:
    """Return the properties that wait longest with what they wait for, each once."""
    grouped: dict[int, list[Matter]] = {}
    for matter in waiting:
        grouped.setdefault(matter.property, []).append(matter)
    first = list(grouped)[:MOST_MATTERS]
    known = Property.objects.of(firm).defer("site").in_bulk(first)
    return [(known[pk], grouped[pk]) for pk in first]


@page(*EVERYONE)
def property_page(request: PersonRequest, pk: int) -> HttpResponse:
    """Show one property: its strip, what a visit costs, what is still open."""
    record = firm_object_or_404(request, Property, pk)
    visit = Visit.objects.of(request.user.firm).filter(property=record).first()
    context = _looked_at(request, record, visit)
    context["visits"] = Visit.objects.of(request.user.firm).filter(property=record).defer("conditions")[:10]
    return render(request, "office/properties/one.html", context)


@page(*EVERYONE)
def property_look(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer a page that waits for its plan: how far it is, or the strip and the price."""
    record = firm_object_or_404(request, Property, pk)
    visit = Visit.objects.of(request.user.firm).filter(property=record).first()
    return render(request, "office/properties/look.html", _looked_at(request, record, visit))


def _looked_at(request: PersonRequest, record: Property, visit: Visit | None) -> dict[str, Any]:
    today = timezone.localdate()
    planning = _planning(record, visit, today)
    return {
        "property": record,
        "question": "property",
        "section": "properties",
        "planning": planning,
        "look": first_look(record, planning.plan) if planning.plan is not None else None,
        "visit": visit,
        "shows_money": request.user.role != "crew",
    }


def _planning(record: Property, visit: Visit | None, today: date) -> Planning:
    return plan_soon(inputs_of(record, today) if visit is None else visit_inputs(visit))


@page("owner", "planner", post=("owner", "planner"))
def edit(request: PersonRequest, pk: int) -> HttpResponse:
    """Change what is written on the folder of a property."""
    record = firm_object_or_404(request, Property, pk)
    form = PropertyForm(request.POST or None, instance=record)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            changed = form.save(commit=False)
            changed.save(update_fields=list(form.Meta.fields))
            note(request.user, "changed a property", changed.name)
        messages.success(request, "Kept.")
        return redirect("properties" if record.archived else "property", *([] if record.archived else [pk]))
    context = {"form": form, "property": record, "section": "properties"}
    return render(request, "office/properties/edit.html", context, status=422 if form.errors else 200)
