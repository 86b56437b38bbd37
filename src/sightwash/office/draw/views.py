"""The draw page, the sheet as data, operations, and the picture that a property is drawn over."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse, HttpResponseRedirect, JsonResponse
from django.shortcuts import render
from django.urls import reverse

from sightwash.basis.errors import InputError
from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.documents import problem_words, site_of
from sightwash.office.draw.answers import refusal, sent_tree
from sightwash.office.draw.pictures import (
    drawn_again,
    keep_plan_picture,
    place_from,
    plan_picture,
)
from sightwash.office.draw.saving import asked_from, do_operation, own_operations
from sightwash.office.draw.sentences import all_blanks, all_sentences
from sightwash.office.draw.sheet import sheet_of
from sightwash.office.models import Property
from sightwash.office.trail import note

PLANNERS = ("owner", "planner")


@page(*PLANNERS)
def draw(request: PersonRequest, pk: int) -> HttpResponse:
    """Show the sheet to draw on."""
    return _draw_page(request, firm_object_or_404(request, Property, pk))


def _draw_page(
    request: PersonRequest, record: Property, problems: tuple[str, ...] = (), status: int = 200
) -> HttpResponse:
    data = {
        "sheet": sheet_of(record, site_of(record)),
        "own": own_operations(record, request.user),
        "sentences": all_sentences(),
        "blanks": all_blanks(),
        "picture": _picture(record),
    }
    context = {"property": record, "question": "draw", "section": "properties", "data": data, "problems": problems}
    return render(request, "office/draw/draw.html", context, status=status)


def _picture(record: Property) -> dict[str, Any] | None:
    found = plan_picture(record)
    if found is None:
        return None
    size = {"width": found.width, "height": found.height}
    address = f"{reverse('plan-picture', args=[record.pk])}?v={found.pk}"
    return {"address": address, "place": found.place, **size}


@page(*EVERYONE)
def sheet(request: PersonRequest, pk: int) -> JsonResponse:
    """Answer the sheet as data."""
    record = firm_object_or_404(request, Property, pk)
    return JsonResponse(sheet_of(record, site_of(record)))


@page(post=PLANNERS)
def operations(request: PersonRequest, pk: int) -> JsonResponse:
    """Do one operation and answer the new sheet, or say what is wrong."""
    record = firm_object_or_404(request, Property, pk)
    try:
        done = do_operation(record, request.user, asked_from(sent_tree(request)))
    except InputError as error:
        return refusal(error)
    record.refresh_from_db()
    body = {"done": done.revision, "back": done.back, "words": done.words, "sheet": sheet_of(record, site_of(record))}
    return JsonResponse(body)


@page(*PLANNERS, post=PLANNERS)
def picture(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer the picture that a property is drawn over, or take another in its place."""
    record = firm_object_or_404(request, Property, pk)
    if request.method == "POST":
        return _take_picture(request, record)
    found = plan_picture(record)
    if found is None:
        raise Http404
    headers = {"Content-Disposition": 'inline; filename="plan.jpg"', "Cache-Control": "private, max-age=600",
               "X-Content-Type-Options": "nosniff"}  # fmt: skip
    return HttpResponse(bytes(found.bytes), content_type="image/jpeg", headers=headers)


def _take_picture(request: PersonRequest, record: Property) -> HttpResponse:
    sent = request.FILES.get("picture")
    if sent is None:
        return _draw_page(request, record, ("Choose a picture first.",), 422)
    try:
        keep_plan_picture(record, drawn_again(sent))
    except InputError as error:
        return _draw_page(request, record, tuple(problem_words(each) for each in error.problems), 422)
    note(request.user, "put a picture under the plan", record.name)
    return HttpResponseRedirect(reverse("draw", args=[record.pk]))


@page(post=PLANNERS)
def picture_scale(request: PersonRequest, pk: int) -> JsonResponse:
    """Put the picture to scale by two of its points and the length between them."""
    record = firm_object_or_404(request, Property, pk)
    found = plan_picture(record)
    if found is None:
        raise Http404
    try:
        place = place_from(found, sent_tree(request), site_of(record).units)
    except InputError as error:
        return refusal(error)
    found.place = place
    found.save(update_fields=["place"])
    return JsonResponse({"place": place})
