"""The proposal and agreement: every figure is the plan's, sums to the cent, nothing that does not apply.

Text is read from the PDF by ``pypdf`` (independent program); sums are taken here with ``decimal``.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pypdf
import pytest

from sightwash.papers.agreement import agreement, road_eye
from sightwash.papers.job import NO_FIRM, Job, new_job
from sightwash.papers.plan_document import PlanDocument
from sightwash.papers.terms import agreement_terms, deposit
from sightwash.papers.text_blocks import draft_blocks
from sightwash.site.firm import Firm, Terms

Holds = Callable[[bytes, str], bool]
PlanOf = Callable[..., PlanDocument]
DATED = date(2026, 7, 1)
HOSTILE = 'Café *Star* #let x = 1 <script>alert(1)</script> & "quotes" $1,000 @me _under_ [x](y) `code` \\n'


def dollars(amount: Decimal) -> str:
    return f"${amount:,.2f}"


@pytest.fixture(scope="module")
def demo_job(demo_document: PlanDocument, demo_firm: Firm) -> Job:
    return new_job(demo_document, demo_firm, customer=("Ines Okafor", "12 Hill Street"), dated=DATED, number="2026-7")


@pytest.fixture(scope="module")
def demo_paper(demo_job: Job) -> bytes:
    return agreement(demo_job)


def test_every_figure_of_the_price_is_the_plans(demo_job: Job, demo_paper: bytes, holds: Holds) -> None:
    price = demo_job.plan.price
    for part in price.scope:
        assert holds(demo_paper, dollars(part.amount))
    for amount in (price.price, price.total, *(tax.amount for tax in price.taxes)):
        assert holds(demo_paper, dollars(amount))
    for extra in demo_job.plan.add_ons:
        assert holds(demo_paper, dollars(extra.price))
        assert holds(demo_paper, extra.words[1:])


def test_totals_on_the_paper_to_the_cent(demo_job: Job, demo_paper: bytes, text_of: Callable[[bytes], str]) -> None:
    """The scope's parts, read off the paper, sum to the price; price and tax to the total; deposit and rest too."""
    text = text_of(demo_paper)
    begins = text.index("Part of the price")
    table = text[begins : text.index("Not included, and why")]
    parts, totals = table.split("Price before tax $", 1)
    amounts = [Decimal(found.replace(",", "")) for found in re.findall(r"\$([\d,]+\.\d\d)", parts)]
    below = [Decimal(found.replace(",", "")) for found in re.findall(r"\$([\d,]+\.\d\d)", f"${totals}")]
    assert sum(amounts) == below[0] == demo_job.plan.price.price
    assert sum(below[:-1]) == below[-1] == demo_job.plan.price.total
    due = re.search(r"Deposit on acceptance \$([\d,.]+\d), the rest of \$([\d,.]+\d) due", text)
    assert due is not None
    first, rest = (Decimal(found.replace(",", "")) for found in due.groups())
    assert first + rest == demo_job.plan.price.total
    assert first == (demo_job.plan.price.total * Decimal("0.25")).quantize(Decimal("0.01"), ROUND_HALF_UP)


def test_scope_says_every_surface_its_area_and_treatments(demo_job: Job, demo_paper: bytes, holds: Holds) -> None:
    for wall in demo_job.site.walls:
        assert holds(demo_paper, wall.name or wall.id)
    assert holds(demo_paper, "Heavy algae, 17 ft to 20 ft up")  # as measured in examples/demo/site.yaml
    heavy = next(method for method in demo_job.plan.methods if method.target == "front-cap-streaks")
    assert heavy.passes == 2
    assert holds(demo_paper, "washed twice, then a gentle power rinse")


def test_what_is_left_out_and_why(demo_job: Job, demo_paper: bytes, holds: Holds) -> None:
    for each in demo_job.plan.exclusions:
        if not each.id.startswith("not-"):
            assert holds(demo_paper, each.words[1:])
    back = next(wall for wall in demo_job.site.walls if wall.excluded)
    assert holds(demo_paper, back.excluded or "")


def test_picture_missed_strips_and_how_to_check_them(demo_job: Job, demo_paper: bytes, holds: Holds) -> None:
    eye = road_eye(demo_job)
    assert eye is not None
    assert eye.id == "larkspur-road"
    strip = demo_job.plan.missed[0]
    assert holds(demo_paper, f"{strip.notices[0].seconds:.0f} s in view")
    best = max(
        (r for r in strip.remedies if r.kind != "ladder" and r.allowed), key=lambda r: (min(r.share, 0.9), -r.distance)
    )
    assert holds(demo_paper, best.words)


def test_terms_stand_only_where_they_apply(plan_of: PlanOf, demo_job: Job) -> None:
    drafts = draft_blocks("en")

    def titles(job: Job) -> set[str]:
        return {title for title, _ in agreement_terms(job)}

    bare = new_job(plan_of(), replace(NO_FIRM, terms=Terms(validity_days=0, payment_days=0)))
    for key in (
        "plants",
        "noise",
        "vehicles",
        "electric",
        "coatings",
        "insurance",
        "deposit",
        "late",
        "payment",
        "validity",
    ):
        assert drafts[f"{key}_title"] not in titles(bare), key
    for key in ("plants", "noise", "vehicles", "electric", "coatings", "insurance", "deposit", "late", "payment"):
        assert drafts[f"{key}_title"] in titles(demo_job), key
    open_ground = new_job(plan_of(local={}))
    assert drafts["discharge_open_title"] in titles(open_ground)
    assert drafts["discharge_agreed_title"] not in titles(open_ground)


def test_drafts_say_that_they_are_drafts(demo_document: PlanDocument, demo_firm: Firm, holds: Holds) -> None:
    draft = "for the firm's own lawyer to read before use"
    assert holds(agreement(new_job(demo_document, demo_firm)), draft)
    assert not holds(agreement(new_job(demo_document, replace(demo_firm, terms_read=DATED))), draft)


def test_a_block_of_the_firm_is_used_and_an_empty_one_left_out(
    demo_document: PlanDocument, demo_firm: Firm, holds: Holds
) -> None:
    own = {"weather": "We come back in the dry within {payment_days} days. {unknown} *stays*", "plants": ""}
    pdf = agreement(new_job(demo_document, demo_firm, blocks=own))
    assert holds(pdf, "We come back in the dry within 14 days. {unknown} *stays*")
    assert not holds(pdf, draft_blocks("en")["weather"])
    assert not holds(pdf, draft_blocks("en")["plants"])


def test_acceptance_has_name_date_and_signature_for_both(demo_paper: bytes, text_of: Callable[[bytes], str]) -> None:
    last = text_of(demo_paper).rsplit("We accept this proposal", 1)[1]
    for word in ("Name", "Date", "Signature"):
        assert last.count(word) >= 2


def test_no_firm_no_customer_no_eye_no_tax_nothing_to_offer(plan_of: PlanOf, holds: Holds) -> None:
    document = plan_of(
        kinds={"rates": {"taxes": []}},
        eyes=[],
        surfaces=[],
        walls=[{"id": "w", "start": [0, 0], "end": [20, 0], "height": 10}],
    )
    pdf = agreement(new_job(document))
    assert holds(pdf, "No tax is added.")
    assert holds(pdf, "No place from which the public looks")
    assert holds(pdf, "Nothing that was seen on the walk is left out.")
    assert not holds(pdf, "Extras, if you want them")
    assert not holds(pdf, "Repeat visits")


def test_options_of_the_night_stand_with_their_prices(night_document: PlanDocument, holds: Holds) -> None:
    job = new_job(night_document)
    pdf = agreement(job)
    assert job.night is not None
    base = [option for option in job.night.options if option.scope == job.night.options[0].scope]
    assert len(base) == 3
    for option in base:
        assert holds(pdf, dollars(option.year))
        if option.repeat is not None:
            assert holds(pdf, f"{dollars(option.repeat)} before tax for each later visit")


def test_hostile_and_endless_names_are_plain_text(plan_of: PlanOf, holds: Holds) -> None:
    wall = {"id": "w", "name": HOSTILE, "start": [0, 0], "end": [20, 0], "height": 10, "excluded": HOSTILE}
    washed = {"id": "v", "name": "Long " * 120, "start": [30, 0], "end": [50, 0], "height": 10}
    job = new_job(
        plan_of(name=HOSTILE, walls=[wall, washed], eyes=[], surfaces=[]), customer=(HOSTILE, "מר כהן", "x" * 200)
    )
    pdf = agreement(job)
    assert holds(pdf, HOSTILE)
    assert holds(pdf, "Long " * 120)
    assert pdf == agreement(new_job(job.document, customer=job.customer))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_metric_sites_and_other_money(plan_of: PlanOf, holds: Holds, paper: Any) -> None:
    document = plan_of(kinds={"rates": {"currency": "CHF"}}, units="metric")
    pdf = agreement(new_job(document, paper=paper))
    assert holds(pdf, f"{document.plan.price.price:,.2f} CHF")
    assert holds(pdf, "m2")
    assert not holds(pdf, "$")


def test_deposit_is_rounded_half_up(plan_of: PlanOf, demo_firm: Firm) -> None:
    job = new_job(plan_of(), replace(demo_firm, terms=replace(demo_firm.terms, deposit=0.333)))
    wanted = (job.plan.price.total * Decimal("0.333")).quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert deposit(job) == wanted


def test_pages_are_tagged_and_reading_order_begins_with_the_title(demo_paper: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(demo_paper))
    root: Any = reader.trailer["/Root"]
    assert "/StructTreeRoot" in root
    assert reader.metadata is not None
    assert reader.metadata.title == "Proposal to wash Larkspur Corner shops"
