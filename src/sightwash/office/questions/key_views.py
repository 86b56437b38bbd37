"""Keys for programs, the firm's text blocks, and old revisions of the firm's documents."""

from __future__ import annotations

import hashlib
import secrets
from typing import Any

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render

from sightwash.office.access import PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.papers import TEXTS, blocks_problem, firm_blocks_text
from sightwash.office.models import FirmDocument
from sightwash.office.questions.models import DocumentRevision, Key
from sightwash.office.questions.revisions import remember, save_document
from sightwash.office.trail import note
from sightwash.papers.text_blocks import LARGEST_BLOCKS

PLANNERS = ("owner", "planner")
OWNER = ("owner",)
MOST_KEYS = 20
TITLES = {"rig": "Rig", "rates": "Rates", "firm": "Firm on paper", TEXTS: "Texts of the papers"}


def key_hash(token: str) -> str:
    """Return what is kept of a key."""
    return hashlib.sha256(token.encode()).hexdigest()


class KeyForm(forms.Form):
    """A name for a key, so that its owner knows later what it is for."""

    name = forms.CharField(label="What it is for", max_length=80)


@page(*PLANNERS, post=PLANNERS)
def keys(request: PersonRequest) -> HttpResponse:
    """Show a person's keys; make one, whose text is shown this once."""
    form = KeyForm(request.POST or None)
    own = Key.objects.filter(person=request.user)
    token = ""
    if request.method == "POST" and form.is_valid():
        if own.count() >= MOST_KEYS:
            form.add_error(None, f"At most {MOST_KEYS} keys. End one of them first.")
        else:
            token = secrets.token_urlsafe(32)
            with transaction.atomic():
                Key.objects.create(person=request.user, name=form.cleaned_data["name"], token_hash=key_hash(token))
                note(request.user, "made a key", form.cleaned_data["name"])
            form = KeyForm()
    context = {"form": form, "keys": own, "token": token, "section": "figures"}
    return render(request, "office/questions/keys.html", context, status=422 if form.errors else 200)


@page(post=PLANNERS)
def key_end(request: PersonRequest, pk: int) -> HttpResponse:
    """End one of the person's own keys."""
    key = firm_object_or_404(request, Key, pk)
    if key.person_id != request.user.pk and request.user.role != "owner":
        raise Http404
    with transaction.atomic():
        note(request.user, "ended a key", key.name)
        key.delete()
    return redirect("keys")


class TextsForm(forms.Form):
    """The firm's own wording of the papers."""

    revision = forms.IntegerField(widget=forms.HiddenInput)
    text = forms.CharField(
        label="Texts",
        max_length=LARGEST_BLOCKS,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 28, "class": "document", "spellcheck": "true"}),
    )


@page(*PLANNERS, post=OWNER)
def texts(request: PersonRequest) -> HttpResponse:
    """Show the firm's texts of the papers; keep what was changed."""
    firm = request.user.firm
    row = FirmDocument.objects.of(firm).filter(kind=TEXTS).first()
    base = 0 if row is None else row.revision
    form = TextsForm(request.POST or None, initial={"text": firm_blocks_text(firm), "revision": base})
    status = 200
    if request.method == "POST" and form.is_valid():
        for words in blocks_problem(form.cleaned_data["text"], firm):
            form.add_error("text", words)
        if not form.errors and _saved(request, form):
            messages.success(request, "Kept. Offers from now on use these texts.")
            return redirect("texts")
        status = 422 if form.errors else 409
    context = {
        "form": form,
        "section": "figures",
        "revision": base,
        "clash": status == 409,
        "may_change": _owner(request),
    }
    return render(request, "office/questions/texts.html", context, status=422 if form.errors else status)


def _owner(request: PersonRequest) -> bool:
    return request.user.role == "owner"


def _saved(request: PersonRequest, form: TextsForm) -> bool:
    text = form.cleaned_data["text"].replace("\r\n", "\n")
    with transaction.atomic():
        kept = save_document(request.user, TEXTS, text, form.cleaned_data["revision"])
        if kept:
            note(request.user, "changed the texts of the papers")
    return kept


@page(*PLANNERS)
def revisions(request: PersonRequest, kind: str) -> HttpResponse:
    """Show which revisions of a document are kept, and one of them whole."""
    if kind not in TITLES:
        raise Http404
    remember(request.user.firm, kind)
    kept = DocumentRevision.objects.of(request.user.firm).filter(kind=kind).select_related("person")
    named = request.GET.get("revision", "")
    context: dict[str, Any] = {
        "kept": kept.defer("text")[:200],
        "kind": kind,
        "title": TITLES[kind],
        "section": "figures",
    }
    if named.isdigit() and len(named) < 9:
        context["one"] = kept.filter(revision=int(named)).first()
    return render(request, "office/questions/revisions.html", context)
