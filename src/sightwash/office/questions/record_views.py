"""Is it done? The page, what is written down on it, photographs, which are drawn anew before they are kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone

from sightwash.basis.errors import InputError
from sightwash.book.done_record import PlannedIds
from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.documents import problem_words
from sightwash.office.bridge.records import (
    Tree,
    add_photograph,
    add_reading,
    change_record,
    planned_ids,
    read_record,
    record_tree,
    set_keys,
    set_miss,
    set_parts,
)
from sightwash.office.draw.pictures import drawn_again
from sightwash.office.models import Picture, Visit
from sightwash.office.questions.answers import refused
from sightwash.office.questions.asking import Asked, asked_for, asked_of, page_context, unfinished
from sightwash.office.questions.completion import completion_panel, miss_lines, part_ticks
from sightwash.office.questions.models import EyePicture
from sightwash.office.questions.views import strip_context
from sightwash.office.questions.visit_forms import MissForm, PhotographForm, ReadingForm, WordsForm
from sightwash.office.questions.visit_views import next_due
from sightwash.office.trail import note

Change = Callable[[Tree], None]
MOST_PHOTOGRAPHS = 60


@page(*EVERYONE)
def is_it_done(request: PersonRequest, pk: int) -> HttpResponse:
    """Show whether it is done."""
    asked = asked_for(request, pk)
    if asked.visit is None:
        return render(request, "office/questions/no_visit.html", page_context(request, asked, "is-it-done"))
    waiting = unfinished(request, asked, "is-it-done")
    return waiting if waiting is not None else _done_page(request, asked, asked.visit)


def _done_page(request: PersonRequest, asked: Asked, visit: Visit) -> HttpResponse:
    ids = planned_ids(asked.site, asked.plan)
    tree, revision = record_tree(visit)
    done = read_record(tree, ids)
    panel = completion_panel(asked.site, asked.plan, done, ids)
    offer = visit.offers.defer("inputs", "plan").first()
    context = page_context(request, asked, "is-it-done") | strip_context(request, asked, "is-it-done", panel)
    context |= {
        "panel": panel,
        "ticks": part_ticks(asked.site, asked.plan, done, ids),
        "misses": miss_lines(asked.site, asked.plan, done),
        "revision": revision,
        "moved_on": bool(tree) and done is None,
        "eyes": _photographs(asked, visit),
        "crew_sheet": None if offer is None else offer.papers.filter(name__startswith="crew-sheet").first(),
        "miss_form": MissForm(),
        "reading_form": ReadingForm(),
        "words_form": WordsForm(initial=_words_now(tree)),
        "next_due": visit.property.next_due or next_due(visit),
    }
    return render(request, "office/questions/is_it_done.html", context)


def _words_now(tree: Tree) -> dict[str, str]:
    found = {key: str(tree.get(key, "")) for key in ("start", "end", "water", "mix", "water_went", "note")}
    return found | {"damage": "\n".join(tree.get("damage", []))}


def _photographs(asked: Asked, visit: Visit) -> list[dict[str, Any]]:
    """Return every eye point with its photographs before and after."""
    rows = list(visit.eye_pictures.select_related("picture").defer("picture__bytes"))
    return [
        {
            "id": eye.id,
            "name": eye.name or eye.id,
            "before": [row for row in rows if row.eye == eye.id and row.picture.kind == Picture.Kind.BEFORE],
            "after": [row for row in rows if row.eye == eye.id and row.picture.kind == Picture.Kind.AFTER],
        }
        for eye in asked.site.eyes
    ]


@page(post=EVERYONE)
def record(request: PersonRequest, pk: int, what: str) -> HttpResponse:
    """Write something down of a visit: ticks, a look at a missed strip, a reading, words, a photograph."""
    visit = firm_object_or_404(request, Visit, pk)
    writing = WRITING.get(what)
    if writing is None:
        raise Http404
    asked = asked_of(request, visit, 30.0)
    if asked.planning.plan is None:
        return refused(request, "The plan of this visit is not there yet. Try once more in a moment.", 409)
    ids = planned_ids(asked.site, asked.plan)
    try:
        with transaction.atomic():
            change, base = writing(request, visit, ids)
            change_record(visit, request.user, asked.site, ids, change, base)
            note(request.user, f"wrote down {what}", f"{visit.property.name}, {visit.on}")
    except InputError as error:
        status = 409 if any(each.code == "changed-meanwhile" for each in error.problems) else 422
        return refused(request, " ".join(problem_words(problem) for problem in error.problems), status)
    except forms.ValidationError as error:
        return refused(request, " ".join(error.messages), 422)
    messages.success(request, "Written down.")
    return redirect(f"{reverse('is-it-done', args=[visit.property_id])}?visit={visit.pk}#{what}")


def _valid(form: forms.Form) -> dict[str, Any]:
    if not form.is_valid():
        words = [
            f"{form.fields[key].label or key}: {said[0]}" for key, said in form.errors.items() if key in form.fields
        ]
        raise forms.ValidationError(words or ["Something is missing."])
    return form.cleaned_data


def _parts(request: PersonRequest, _visit: Visit, ids: PlannedIds) -> tuple[Change, int | None]:
    given = {
        part: (
            request.POST.get(f"how:{part}", "")[:20],
            request.POST.get(f"note:{part}", "").replace("\x00", "").strip()[:400],
        )
        for part in ids.parts
    }
    base = request.POST.get("revision", "")
    return lambda tree: set_parts(tree, given), int(base) if base.isdigit() and len(base) < 9 else None


def _miss(request: PersonRequest, _visit: Visit, _ids: PlannedIds) -> tuple[Change, int | None]:
    found = _valid(MissForm(request.POST))
    miss = {"miss": found["miss"], "looked_by": found["looked_by"], "stood": found["stood"]}
    return lambda tree: set_miss(tree, {**miss, "clean": bool(found["clean_now"])}), None


def _reading(request: PersonRequest, _visit: Visit, _ids: PlannedIds) -> tuple[Change, int | None]:
    found = _valid(ReadingForm(request.POST))
    reading = {key: value for key, value in found.items() if value not in (None, "")}
    return lambda tree: add_reading(tree, reading), None


def _words(request: PersonRequest, _visit: Visit, _ids: PlannedIds) -> tuple[Change, int | None]:
    found = _valid(WordsForm(request.POST))
    damage = [line.strip() for line in found.pop("damage").splitlines() if line.strip()]
    return lambda tree: set_keys(tree, {**found, "damage": damage}), None


def _photograph(request: PersonRequest, visit: Visit, _ids: PlannedIds) -> tuple[Change, int | None]:
    found = _valid(PhotographForm(request.POST, request.FILES))
    if visit.eye_pictures.count() >= MOST_PHOTOGRAPHS:
        raise forms.ValidationError(f"A visit keeps at most {MOST_PHOTOGRAPHS} photographs.")
    drawn = drawn_again(found["photograph"])
    picture = Picture.objects.create(
        firm=request.user.firm, property=visit.property, bytes=drawn.data, media_type="image/jpeg",
        width=drawn.width, height=drawn.height, kind=found["when"],
    )  # fmt: skip
    EyePicture.objects.create(visit=visit, picture=picture, eye=found["eye"], person=request.user)
    line = {"eye": found["eye"], "when": found["when"], "file": f"photograph-{picture.pk}.jpg",
            "on": timezone.localdate().isoformat()}  # fmt: skip
    return lambda tree: add_photograph(tree, line), None


WRITING: dict[str, Callable[[PersonRequest, Visit, PlannedIds], tuple[Change, int | None]]] = {
    "parts": _parts,
    "miss": _miss,
    "reading": _reading,
    "words": _words,
    "photograph": _photograph,
}


@page(*EVERYONE)
def photograph(request: PersonRequest, pk: int) -> HttpResponse:
    """Answer with a photograph as we drew it anew."""
    kept = firm_object_or_404(request, EyePicture, pk)
    headers = {
        "X-Content-Type-Options": "nosniff",
        "Cache-Control": "private, max-age=86400",
        "Content-Disposition": f'inline; filename="photograph-{kept.picture_id}.jpg"',
    }
    return HttpResponse(bytes(kept.picture.bytes), content_type="image/jpeg", headers=headers)
