"""Offers: made once, with their papers; answered; opened paper by paper."""

from __future__ import annotations

from decimal import Decimal

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from sightwash.basis.errors import InputError
from sightwash.office.access import EVERYONE, PersonRequest, firm_object_or_404, page
from sightwash.office.bridge.accounts import enter_agreement
from sightwash.office.bridge.night import night_soon
from sightwash.office.bridge.offers import (
    OfferFigures,
    make_offer,
    may_open,
    offer_figures,
    paper_checks,
    safe_file_name,
    sha256_of,
)
from sightwash.office.bridge.papers import PAPER_NAMES
from sightwash.office.models import Offer, OfferPaper, Visit
from sightwash.office.questions.answers import pdf, refused
from sightwash.office.questions.asking import (
    Asked,
    again,
    asked_of,
    fragment_unfinished,
    page_context,
    problems_of,
    unfinished,
)
from sightwash.office.questions.cost import options_table
from sightwash.office.questions.models import Agreement
from sightwash.office.questions.visit_forms import AnswerForm, OfferForm
from sightwash.office.trail import note

PLANNERS = ("owner", "planner")


@page(*PLANNERS, post=PLANNERS)
def visit_offer(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what an offer would say; make it."""
    visit = firm_object_or_404(request, Visit, pk)
    asked = asked_of(request, visit)
    waiting = unfinished(request, asked, "")
    if waiting is not None:
        return waiting
    work = night_soon(asked.inputs)
    if work.night is None:
        if request.htmx or work.error is not None or work.fault is not None:
            return fragment_unfinished(request, work) or HttpResponse()
        context = page_context(request, asked) | {"work": work, "again": again(request)}
        return render(request, "office/questions/waiting.html", context)
    if request.htmx:
        return HttpResponse(headers={"HX-Refresh": "true"})
    form = OfferForm(request.POST or None, initial={"customer": _customer(asked)})
    context = page_context(request, asked) | {
        "form": form,
        "price": asked.plan.price,
        "options": (options_table(work.night.options),),
        "papers": PAPER_NAMES,
    }
    if request.method == "POST" and form.is_valid():
        try:
            offer = make_offer(
                visit, request.user, asked.inputs, asked.plan, work.night, form.cleaned_data["customer"],
                timezone.localdate(),
            )  # fmt: skip
        except InputError as error:
            context["problems"] = problems_of(error)
        else:
            messages.success(request, "The offer is made. Its papers are kept as they are.")
            return redirect("offer", offer.pk)
    status = 422 if form.errors or "problems" in context else 200
    return render(request, "office/questions/make_offer.html", context, status=status)


def _customer(asked: Asked) -> str:
    last = asked.visit.offers.defer("plan").first() if asked.visit is not None else None
    if last is not None:
        return "\n".join(offer_customer(last))
    address = asked.record.address or asked.site.place.address or ""
    return "\n".join(part for part in (asked.record.name, address) if part)


def offer_customer(offer: Offer) -> tuple[str, ...]:
    """Return for whom an offer was made."""
    return offer_figures(offer).customer


@page(*PLANNERS)
def offer_page(request: PersonRequest, pk: int) -> HttpResponse:
    """Show an offer as it went out."""
    return _offer_page(request, firm_object_or_404(request, Offer, pk), AnswerForm())


def _offer_page(request: PersonRequest, offer: Offer, form: AnswerForm) -> HttpResponse:
    context = {
        "property": offer.visit.property,
        "section": "properties",
        "visit": offer.visit,
        "offer": offer,
        "figures": offer_figures(offer),
        "papers": paper_checks(offer),
        "agreement": Agreement.objects.filter(offer=offer).first(),
        "form": form,
    }
    return render(request, "office/questions/offer.html", context, status=422 if form.errors else 200)


@page(post=PLANNERS)
def offer_answer(request: PersonRequest, pk: int) -> HttpResponse:
    """Note what the customer said; an accepted offer goes into the book."""
    offer = firm_object_or_404(request, Offer, pk)
    form = AnswerForm(request.POST)
    if not form.is_valid():
        return _offer_page(request, offer, form)
    figures = offer_figures(offer)
    price, words, visits_a_year = _chosen(figures, form.cleaned_data["option"])
    try:
        with transaction.atomic():
            held = Offer.objects.select_for_update().get(pk=offer.pk)
            if held.answer:
                return refused(request, f"The offer was answered before: {held.get_answer_display()}.", 409)
            held.answer, held.answered = form.cleaned_data["answer"], timezone.now()
            held.save(update_fields=["answer", "answered"])
            accepted = held.answer == Offer.Answer.ACCEPTED
            state = Visit.State.AGREED if accepted else Visit.State.DECLINED
            Visit.objects.filter(pk=offer.visit_id).update(state=state)
            if accepted:
                _agree(held, form, figures, price, words, visits_a_year)
            note(request.user, f"offer {held.get_answer_display()}", f"{figures.number}, {offer.visit.property.name}")
    except InputError as error:
        return refused(request, " ".join(problems_of(error)), 422)
    return redirect("offer", pk)


def _chosen(figures: OfferFigures, option: str) -> tuple[Decimal, str, int]:
    """Return price, words and visits a year of an option; those of the offer itself where none is named."""
    for each in figures.options:
        if each.id == option:
            return each.first, each.short, each.visits
    return figures.price, "as offered", 2


def _agree(
    offer: Offer, form: AnswerForm, figures: OfferFigures, price: Decimal, words: str, visits_a_year: int
) -> None:
    Agreement.objects.create(
        offer=offer,
        option=form.cleaned_data["option"] or "base",
        words=words[:400],
        visits_a_year=visits_a_year,
        price=price,
        accepted_by=form.cleaned_data["accepted_by"],
        on=timezone.localdate(),
    )
    enter_agreement(offer, figures, price, words, timezone.localdate())


@page(*EVERYONE)
def offer_paper(request: PersonRequest, pk: int, name: str) -> HttpResponse:
    """Answer with the very bytes of a paper; refuse where they are not those that went out."""
    offer = firm_object_or_404(request, Offer, pk)
    paper = OfferPaper.objects.filter(offer=offer, name=name.replace("\x00", "")).first()
    if paper is None:
        raise Http404
    if not may_open(name, request.user.role):
        return refused(request, "This paper is for planners and the owner.", 403)
    content = bytes(paper.bytes)
    if sha256_of(content) != paper.sha256:
        return refused(request, "The paper is not the one that went out: its hash does not hold.", 500)
    return pdf(content, safe_file_name(offer.visit.property.name, str(offer.visit.on), name))
