"""Offers: the very bytes that went out, their hashes, the answer, the book.

Hashes are worked out anew here with hashlib (FIPS 180-4) [independent program]; amounts follow from the definition of
a margin, a tax and a deposit [closed form].
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from django.test import Client
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader
from questions_world import made_invoice, made_offer, warm
from world import World

from sightwash.office.bridge.accounts import book_of, visit_balance
from sightwash.office.bridge.offers import offer_figures, paper_checks, safe_file_name
from sightwash.office.bridge.planning import plan_now
from sightwash.office.models import FirmDocument, Offer, OfferPaper, Property, Visit
from sightwash.office.questions.models import FirmBook


def test_offer_keeps_the_bytes_of_its_papers(world: World, client_of: Callable[..., Client]) -> None:
    price = plan_now(warm(world)).price
    client = client_of(world.planner)
    answer = client.post(reverse("visit-offer", args=[world.visit.pk]), {"customer": "A & B <Ltd>\n1 Street"})
    assert answer.status_code == 302, answer.content[:1500]
    offer = Offer.objects.get()
    papers = {paper.name: bytes(paper.bytes) for paper in offer.papers.all()}
    assert {"agreement.pdf", "crew-sheet.pdf"} <= set(papers)
    for name, content in papers.items():
        assert OfferPaper.objects.get(offer=offer, name=name).sha256 == hashlib.sha256(content).hexdigest()
        assert PdfReader(io.BytesIO(content)).pages
    words = "".join(page.extract_text() for page in PdfReader(io.BytesIO(papers["agreement.pdf"])).pages)
    assert f"{price.price:,.2f}" in words
    assert "A & B <Ltd>" in words

    FirmDocument.objects.filter(firm=world.firm, kind="rates").update(text="{}")
    Property.objects.filter(pk=world.larkspur.pk).update(site="{}", name="Larkspur <b>renamed</b>/..")
    for name, content in papers.items():
        got = client.get(reverse("offer-paper", args=[offer.pk, name]))
        assert got.content == content
        found = re.fullmatch(r'attachment; filename="([a-z0-9-]+\.pdf)"', got.headers["Content-Disposition"])
        assert found, got.headers["Content-Disposition"]
    shown = client.get(reverse("offer", args=[offer.pk])).content.decode()
    assert f"{price.price:,.2f}" in shown
    assert shown.count("As it went out") == len(papers)
    assert "<Ltd>" not in shown


def test_changed_paper_is_not_handed_out(world: World, client_of: Callable[..., Client]) -> None:
    offer = made_offer(world)
    OfferPaper.objects.filter(offer=offer, name="agreement.pdf").update(bytes=b"%PDF-1.7 another")
    assert {each.name: each.holds for each in paper_checks(offer)} == {"agreement.pdf": False, "crew-sheet.pdf": True}
    client = client_of(world.owner)
    answer = client.get(reverse("offer-paper", args=[offer.pk, "agreement.pdf"]))
    assert answer.status_code == 500
    assert b"another" not in answer.content
    assert b"Not as it went out" in client.get(reverse("offer", args=[offer.pk])).content


def test_crew_opens_its_own_sheet_alone(world: World, client_of: Callable[..., Client]) -> None:
    offer = made_offer(world)
    crew = client_of(world.crew)
    assert crew.get(reverse("offer-paper", args=[offer.pk, "crew-sheet.pdf"])).status_code == 200
    assert crew.get(reverse("offer-paper", args=[offer.pk, "agreement.pdf"])).status_code == 403
    for name in ("..%2Fsecret", "crew-sheet\x00x.pdf", "nothing.pdf"):
        assert crew.get(f"/offers/{offer.pk}/papers/{name}").status_code == 404


def answered(client: Client, offer: Offer, **sent: str) -> Any:
    return client.post(reverse("offer-answer", args=[offer.pk]), sent)


def test_accepted_offer_goes_into_the_book(world: World, client_of: Callable[..., Client]) -> None:
    offer = made_offer(world)
    figures = offer_figures(offer)
    client = client_of(world.planner)
    assert answered(client, offer, answer="accepted").status_code == 422
    assert answered(client, offer, answer="accepted", accepted_by="Mx C").status_code == 302
    assert answered(client, offer, answer="declined").status_code == 409
    world.visit.refresh_from_db()
    assert world.visit.state == Visit.State.AGREED
    book = book_of(world.firm)
    assert book is not None
    assert sum(line.amount for line in book.jobs[0].lines) == figures.price
    assert book.jobs[0].deposit == (figures.total * Decimal("0.25")).quantize(Decimal("0.01"))


def test_chosen_option_is_what_is_agreed(world: World, client_of: Callable[..., Client]) -> None:
    offer = made_offer(world)
    option = next(each for each in offer_figures(offer).options if each.id == "4-a-year-no-gum")
    answered(client_of(world.owner), offer, answer="accepted", accepted_by="Mx C", option=option.id)
    offer.refresh_from_db()
    assert offer.agreement.visits_a_year == 4
    assert offer.agreement.price == option.first
    book = book_of(world.firm)
    assert book is not None
    assert sum(line.amount for line in book.jobs[0].lines) == option.first


def test_declined_offer_stays_out_of_the_book(world: World, client_of: Callable[..., Client]) -> None:
    answered(client_of(world.owner), made_offer(world), answer="declined")
    world.visit.refresh_from_db()
    assert world.visit.state == Visit.State.DECLINED
    assert not FirmBook.objects.exists()


def test_visit_is_paid_once_all_is_paid(world: World, client_of: Callable[..., Client]) -> None:
    made_invoice(world)
    client, address = client_of(world.planner), reverse("visit-account", args=[world.visit.pk])
    client.post(reverse("visit-step", args=[world.visit.pk]), {"to": "done"})
    balance = visit_balance(world.visit)
    assert balance is not None
    total = balance.due
    for amount, state in (("100.00", Visit.State.DONE), (str(total - 100), Visit.State.PAID)):
        assert client.post(address, {"do": "payment", "amount": amount, "by": "transfer"}).status_code == 302
        world.visit.refresh_from_db()
        assert world.visit.state == state
    assert client.post(address, {"do": "invoice"}).status_code == 422
    assert client.post(address, {"do": "payment", "amount": "NaN", "by": "x"}).status_code == 422


def test_invoice_comes_as_pdf(world: World, client_of: Callable[..., Client]) -> None:
    number = made_invoice(world)
    client = client_of(world.owner)
    got = client.get(reverse("visit-invoice", args=[world.visit.pk, number]))
    words = "".join(page.extract_text() for page in PdfReader(io.BytesIO(got.content)).pages)
    assert number in words
    assert client.get(reverse("visit-invoice", args=[world.visit.pk, "2026-9999"])).status_code == 404


@given(st.text(max_size=200), st.text(max_size=200))
def test_file_name_is_safe_whatever_is_typed(name: str, paper: str) -> None:
    """The portable file name characters of POSIX.1 (section 3.282), fewer still [published]."""
    made = safe_file_name(name, paper)
    assert re.fullmatch(r"[a-z0-9][a-z0-9-]*\.[a-z0-9]+", made)
    assert len(made) < 320
