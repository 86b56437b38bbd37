"""Ways to add a property: typed walls, a footprint file, or drawing from a bare grid."""

from __future__ import annotations

from typing import Final

from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render

from sightwash.office.access import PersonRequest, page
from sightwash.office.models import Property
from sightwash.office.properties.forms import DrawForm, FootprintForm, WallsForm
from sightwash.office.trail import note

WAYS: Final = {"walls": WallsForm, "footprint": FootprintForm, "draw": DrawForm}
WAY_WORDS: Final = {"walls": "Type the walls", "footprint": "From a footprint file", "draw": "Draw it"}


@page("owner", "planner", post=("owner", "planner"))
def add(request: PersonRequest, way: str) -> HttpResponse:
    """Ask for what one way needs, and make the property."""
    if way not in WAYS:
        raise Http404
    form = WAYS[way](request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            made = Property.objects.create(
                firm=request.user.firm,
                name=form.cleaned_data["name"],
                address=form.cleaned_data["address"],
                site=form.site_text,
            )
            note(request.user, "added a property", made.name)
        return redirect(f"/properties/{made.pk}/draw/") if way == "draw" else redirect("property", made.pk)
    context = {"form": form, "way": way, "ways": WAY_WORDS, "section": "properties"}
    return render(request, "office/properties/add.html", context, status=422 if form.errors else 200)
