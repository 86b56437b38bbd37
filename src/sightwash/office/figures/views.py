"""Pages of the rig, the rates and the firm's particulars."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render

from sightwash.office.access import PersonRequest, page
from sightwash.office.bridge.documents import document_gap_words
from sightwash.office.figures.asked import ASKED, TITLES
from sightwash.office.figures.forms import FiguresForm, WholeForm
from sightwash.office.models import Firm, FirmDocument
from sightwash.office.questions.revisions import save_document
from sightwash.office.trail import note


@page("owner", "planner")
def figures(request: PersonRequest) -> HttpResponse:
    """Go to the first of the documents."""
    del request
    return redirect("figures-of", next(iter(ASKED)))


@page("owner", "planner", post=("owner",))
def figures_of(request: PersonRequest, kind: str) -> HttpResponse:
    """Show the figures of one document that matter most; keep what was changed."""
    kept = _kept(request.user.firm, kind)
    form = FiguresForm(request.POST or None, kind=kind, text=kept.text, initial={"revision": kept.revision})
    return _answered(request, kept, form, "office/figures/short.html", "figures-of")


@page("owner", "planner", post=("owner",))
def whole_document(request: PersonRequest, kind: str) -> HttpResponse:
    """Show one document whole; keep what was changed."""
    kept = _kept(request.user.firm, kind)
    form = WholeForm(request.POST or None, kind=kind, initial={"text": kept.text, "revision": kept.revision})
    return _answered(request, kept, form, "office/figures/whole.html", "figures-whole")


def _kept(firm: Firm, kind: str) -> FirmDocument:
    found: FirmDocument | None = FirmDocument.objects.of(firm).filter(kind=kind).first()
    if found is None:
        raise Http404
    return found


def _answered(
    request: PersonRequest, kept: FirmDocument, form: FiguresForm | WholeForm, template: str, back: str
) -> HttpResponse:
    """Keep a valid form's document and come back; show what is wrong, or what somebody else changed, otherwise."""
    clash = False
    if request.method == "POST" and form.is_valid():
        text = form.text if isinstance(form, FiguresForm) else form.cleaned_data["text"]
        with transaction.atomic():
            clash = not save_document(request.user, kept.kind, text, form.cleaned_data["revision"])
            if not clash:
                note(request.user, "changed figures", f"{TITLES[kept.kind]}, revision {kept.revision + 1}")
        if not clash:
            messages.success(request, "Kept. Every plan from now on uses these figures.")
            return redirect(back, kept.kind)
    context: dict[str, Any] = {
        "form": form,
        "kind": kept.kind,
        "titles": TITLES,
        "kept": kept,
        "clash": clash,
        "gaps": document_gap_words(kept.text, kept.kind),
        "section": "figures",
    }
    return render(request, template, context, status=409 if clash else 422 if form.errors else 200)
