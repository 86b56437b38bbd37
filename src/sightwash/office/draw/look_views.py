"""Who sees it: the page with the eye that is dragged, its frames, and the missed strips with their remedies."""

from __future__ import annotations

from django.http import HttpResponse, JsonResponse
from django.shortcuts import render

from sightwash.basis.errors import InputError
from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.documents import firm_text, site_of
from sightwash.office.draw.answers import refusal
from sightwash.office.draw.look import eye_from, first_eye, frame, has_public_eye, strip_lines
from sightwash.office.draw.sheet import sheet_of
from sightwash.office.models import FirmDocument, Property


@page(*EVERYONE)
def who_sees_it(request: PersonRequest, pk: int) -> HttpResponse:
    """Show the property with an eye to drag."""
    record = firm_object_or_404(request, Property, pk)
    site = site_of(record)
    sheet = sheet_of(record, site)
    placed = any(wall["placed"] for wall in sheet["walls"])
    data = {"sheet": sheet, "eye": first_eye(site), "eyes": sheet.pop("tree").get("eyes", [])}
    context = {
        "property": record,
        "question": "who-sees-it",
        "section": "properties",
        "data": data,
        "placed": placed,
        "walls": sheet["walls"],
        "public": has_public_eye(site),
        "may_draw": request.user.role != "crew",
    }
    return render(request, "office/draw/who_sees_it.html", context)


@page(*EVERYONE)
def look_frame(request: PersonRequest, pk: int) -> JsonResponse:
    """Answer one frame: what is seen from the place in the address."""
    record = firm_object_or_404(request, Property, pk)
    words = {key: request.GET.get(key, "") for key in ("x", "y", "z")}
    try:
        found = frame(record.site, eye_from(words), request.GET.get("wall") or None)
    except InputError as error:
        return refusal(error)
    return JsonResponse(found, json_dumps_params={"separators": (",", ":")})


@page(*EVERYONE)
def look_missed(request: PersonRequest, pk: int) -> JsonResponse:
    """Answer the missed strips with what to do about each."""
    record = firm_object_or_404(request, Property, pk)
    rig = firm_text(record.firm, FirmDocument.Kind.RIG)
    return JsonResponse({"strips": strip_lines(record.site, rig)})
