"""More of the small world for tests of the questions: an offer, its papers, an invoice, a photograph, a key."""

from __future__ import annotations

import io
import json
from datetime import date
from functools import lru_cache

from PIL import Image
from world import World

from sightwash.office.bridge.accounts import enter_agreement, invoice_visit, visit_balance
from sightwash.office.bridge.night import night_now
from sightwash.office.bridge.offers import offer_figures, sha256_of
from sightwash.office.bridge.papers import documents_of
from sightwash.office.bridge.planning import PlanInputs, plan_now, visit_inputs
from sightwash.office.models import Offer, OfferPaper, Person, Picture, Visit
from sightwash.office.questions.key_views import key_hash
from sightwash.office.questions.models import Agreement, EyePicture, Key
from sightwash.papers.plan_document import output_text

PAPER = b"%PDF-1.7\n% a paper of a test\n%%EOF\n"


def warm(world: World) -> PlanInputs:
    """Have the plan and the night of the visit worked out: once for all tests of a process."""
    inputs = visit_inputs(world.visit)
    night_now(inputs)
    return inputs


@lru_cache(maxsize=4)
def plan_text(inputs: PlanInputs) -> str:
    """Return the plan document of inputs as it is kept with an offer."""
    return output_text("plan", documents_of(inputs, plan_now(inputs), night_now(inputs)))


def made_offer(world: World, agreed: bool = False) -> Offer:
    """Return the offer of the visit; its papers are stand-ins, their bytes and hashes real."""
    offer = Offer.objects.filter(visit=world.visit).first()
    if offer is None:
        terms = {"terms": {"payment_days": 14, "deposit": "25 %"}}
        kept = {"number": "2026-0001-1", "customer": ["A customer", "1 Street"], "firm": terms}
        plan = plan_text(warm(world))
        offer = Offer.objects.create(visit=world.visit, inputs=json.dumps(kept), plan=plan, versions={"sightwash": "0"})
        for name in ("agreement.pdf", "crew-sheet.pdf"):
            OfferPaper.objects.create(offer=offer, name=name, bytes=PAPER, sha256=sha256_of(PAPER))
    if agreed and not Agreement.objects.filter(offer=offer).exists():
        figures = offer_figures(offer)
        Agreement.objects.create(
            offer=offer, option="base", words="as offered", visits_a_year=2, price=figures.price, accepted_by="Mx C",
            on=date(2026, 7, 1),
        )  # fmt: skip
        enter_agreement(offer, figures, figures.price, "as offered", date(2026, 7, 1))
        Visit.objects.filter(pk=world.visit.pk).update(state=Visit.State.AGREED)
    return offer


def made_invoice(world: World) -> str:
    """Return the number of the visit's invoice."""
    made_offer(world, agreed=True)
    balance = visit_balance(world.visit)
    assert balance is not None
    return balance.invoices[0].invoice.number if balance.invoices else invoice_visit(world.visit, date(2026, 7, 12))


def small_png() -> bytes:
    """Return a picture of one colour with words that a camera could have written into it."""
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "white").save(out, "PNG")
    return out.getvalue()


def made_photograph(world: World) -> EyePicture:
    """Return a photograph of the visit."""
    found = EyePicture.objects.filter(visit=world.visit).first()
    if found is not None:
        return found
    kind = Picture.Kind.AFTER
    picture = Picture.objects.create(firm=world.firm, property=world.larkspur, bytes=small_png(), kind=kind)
    return EyePicture.objects.create(visit=world.visit, picture=picture, eye="larkspur-road", person=world.crew)


def key_of(person: Person, token: str = "a-token-for-a-test") -> Key:
    """Return a key of a person; its text is the token."""
    return Key.objects.get_or_create(person=person, token_hash=key_hash(token), defaults={"name": "test"})[0]
