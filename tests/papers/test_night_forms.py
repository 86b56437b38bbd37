"""Mix ticket, load list, tenant notice, wash-water sheet, damage record: every figure is the plan's own.

The text is read back from the PDF by pypdf (independent program) and held against the plan; what must be on each paper
is the trade's own list (common practice, no source).
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pypdf
import pytest

from sightwash.basis.units import MASS, VOLUME, show
from sightwash.papers.damage_record import damage_record
from sightwash.papers.door_times import NEAR, WET, door_times, nights_on_site, outward
from sightwash.papers.job import Job, new_job
from sightwash.papers.load_list import load_list
from sightwash.papers.mix_ticket import mix_ticket, percent_words
from sightwash.papers.plan_document import plan_document
from sightwash.papers.tenant_notice import tenant_notice
from sightwash.papers.wash_water_sheet import wash_water_sheet
from sightwash.planning.night import plan_night
from sightwash.planning.visit import plan_visit
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
VISIT = date(2026, 7, 11)
KINDS = ("site", "rig", "rates", "conditions")
FORMS: dict[str, Callable[[Job], bytes]] = {
    "mix-ticket": mix_ticket,
    "load-list": load_list,
    "tenant-notice": tenant_notice,
    "wash-water-sheet": wash_water_sheet,
    "damage-record": damage_record,
}
SMALL: dict[str, dict[str, Any]] = {
    "site": {"id": "place", "name": "Place", "walls": [{"id": "front", "start": [0, 0], "end": [60, 0], "height": 16}]},
    "rig": {"id": "rig", "name": "Rig", "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi"}},
    "rates": {"id": "rates", "name": "Rates", "labour": {"wage": "24.00"}},
    "conditions": {"id": "night"},
}


@cache
def demo() -> Job:
    """Return the job of the demo with its night."""
    site, rig, rates, conditions = (read_document(DEMO / f"{kind}.yaml", kind) for kind in KINDS)
    plan = plan_visit(site, rig, rates, conditions, VISIT)  # type: ignore[arg-type]
    night = plan_night(site, rig, rates, conditions, plan)  # type: ignore[arg-type]
    firm = read_document(DEMO / "firm.yaml", "firm")
    return new_job(plan_document(plan, site, rig, rates, conditions, night), firm)  # type: ignore[arg-type]


def small(**more: dict[str, Any]) -> Job:
    """Return the job of a small site without a night."""
    found = [
        document_from(parse(json.dumps({"kind": k, "schema": 1, **SMALL[k], **more.get(k, {})}), f"{k}.json"), k)
        for k in KINDS
    ]
    plan = plan_visit(*found, VISIT)  # type: ignore[arg-type]
    return new_job(plan_document(plan, *found))


@cache
def said(name: str, language: str = "en", paper: str = "letter") -> str:
    return text_of(FORMS[name](replace(demo(), language=language, paper=paper)))  # type: ignore[arg-type]


def text_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def has(words: str, text: str) -> bool:
    """Return whether words stand in a text, wherever the lines were broken."""
    return "".join(words.split()) in "".join(text.split())


def test_a_ticket_for_every_mix_with_its_pours_in_order() -> None:
    text = said("mix-ticket")
    plan = demo().plan
    assert plan.tickets.tickets
    for ticket in plan.tickets.tickets:
        way = next(way for way in ticket.ways if way.by == ticket.chosen)
        page = text[text.index(f"{percent_words(ticket.strength)} at the wall") :]
        assert has(f"{percent_words(way.low)} to {percent_words(way.high)}", page)
        assert has(show(ticket.volume, VOLUME, "us"), page)
        poured = "".join(f"{pour.order}{pour.what}{pour.words}" for pour in (*way.each, *way.last))
        assert has(poured.split("1water", 1)[1], page)
        assert has(f"BLEACH MIX {percent_words(ticket.strength)}", page)
    assert all(has(pair.words, text) for pair in plan.tickets.incompatible)
    assert all(has(words, text) for words in plan.tickets.cannot)
    assert text.count("label and safety sheet say what to do") == len(plan.tickets.tickets)


def test_the_load_is_the_plans() -> None:
    text, plan = said("load-list"), demo().plan
    load = plan.tickets.load
    assert load is not None
    for words in (
        load.load_words,
        show(plan.water.neutraliser_mass, MASS, "us"),
        show(plan.water.total, VOLUME, "us"),
        f"{plan.water.refills} refills",
        *load.words,
        *(tip.tip for tip in plan.water.tips),
        *(f"{contact.name}" for contact in demo().site.contacts),
    ):
        assert has(words, text), words
    assert "eyewash" in text.lower()


def test_the_notice_gives_the_nights_and_each_shops_hours_to_the_quarter_outward() -> None:
    text = said("tenant-notice")
    night = demo().night
    assert night is not None
    for span in night.timeline.nights:
        assert has(clock(outward(span.arrives, False)), text)
        assert has(clock(outward(span.ends, True)), text)
    assert [time.start for time in nights_on_site(night)] == [span.arrives for span in night.timeline.nights]
    for wall in demo().site.walls:
        for door in wall.doors if wall.excluded is None else ():
            for time in door_times(night, wall, door):
                hours = f"{clock(outward(time.start, False))} to {clock(outward(time.end, True))}"
                assert has(hours, text) or "empty" in (door.tenant or "")
    assert "(empty)" not in text
    assert "Pennywhistle Books" in text
    assert "555-0120" in text


def clock(moment: Any) -> str:
    return f"{moment.hour % 12 or 12}:{moment.minute:02} {'a.m.' if moment.hour < 12 else 'p.m.'}"


def test_no_wet_work_lies_near_a_door_outside_its_hours() -> None:
    """Every minute of wet work within reach of a door falls into the hours that its shop is told (brute force)."""
    night = demo().night
    assert night is not None
    for wall in demo().site.walls:
        for door in wall.doors if wall.excluded is None else ():
            times = door_times(night, wall, door)
            for entry in night.timeline.entries:
                apart = entry.right > entry.left and (
                    entry.left >= door.left + door.width + NEAR or entry.right <= door.left - NEAR
                )
                if entry.along == wall.id and entry.action in WET and not apart:
                    assert any(time.start <= entry.start and entry.end <= time.end for time in times)


def test_the_water_sheet_carries_the_whole_balance() -> None:
    text, wash = said("wash-water-sheet"), demo().plan.wash_water
    assert wash.drains
    amounts = (wash.applied, wash.evaporated, wash.absorbed, wash.to_planting, wash.captured, wash.to_drains)
    assert all(has(show(amount, VOLUME, "us"), text) for amount in amounts)
    for drain in wash.drains:
        assert has(drain.words, text)
        assert has(f"{drain.strength_before:,.0f} mg/L", text)
    for dose in wash.doses:
        assert has(f"{dose.name} {show(dose.dose, MASS, 'us')} {show(dose.carry, MASS, 'us')}", text)
    assert all(has(question.question, text) for question in wash.questions)
    assert wash.allowed is not None
    assert has(wash.allowed, text)


def test_the_damage_record_shows_every_washed_wall_and_what_is_known() -> None:
    text = said("damage-record")
    for wall in demo().site.walls:
        assert has(wall.name or wall.id, text) == (wall.excluded is None)
    assert "Paint chalks" in text
    assert "door-5" in text
    assert text.count("Day and hour") == 2


@pytest.mark.parametrize("name", FORMS)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_a_form_is_tagged_has_a_language_and_is_the_same_twice(name: str, paper: str) -> None:
    """PDF/UA-1 (ISO 14289-1, published) asks for tags, a title and a language; sizes: ISO 216 and ANSI (published)."""
    job = replace(demo(), paper=paper)  # type: ignore[arg-type]
    first = FORMS[name](job)
    assert FORMS[name](replace(demo(), paper=paper)) == first  # type: ignore[arg-type]
    found = pypdf.PdfReader(io.BytesIO(first))
    root: Any = found.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert found.metadata is not None
    assert found.metadata.title
    assert b"pdfuaid" in first
    width, height = (float(side) for side in found.pages[0].mediabox[2:])
    assert (round(width), round(height)) == ((612, 792) if paper == "letter" else (595, 842))


@pytest.mark.parametrize("name", ["tenant-notice", "mix-ticket", "load-list"])
def test_spanish_forms_have_no_english_labels(name: str) -> None:
    text = said(name, "es")
    english = [
        words for key, words in demo().words(name).items() if len(words) > 12 and "{" not in words and ";" not in words
    ]
    spanish = replace(demo(), language="es").words(name)
    assert [words for words in english if has(words, text) and words not in spanish.values()] == []


@pytest.mark.parametrize("name", FORMS)
def test_an_almost_empty_site_gives_a_form_without_what_does_not_apply(name: str) -> None:
    text = text_of(FORMS[name](small()))
    assert "Place" in text or name == "load-list"
    assert not re.search(r"\b(None|nan|inf)\b|[{}]", text)
    if name == "tenant-notice":
        for words in ("air intakes", "awning", "Hours at your door", "mats", "alarm company"):
            assert words not in text
    if name == "mix-ticket":
        assert "No mix is planned" in text


HARD = "#strong[x] *b* _i_ $y$ <b>&amp; \\ @ref `raw` שלום مرحبا"


@pytest.mark.parametrize("name", FORMS)
def test_what_a_user_typed_is_text(name: str) -> None:
    wall = {
        **SMALL["site"]["walls"][0],
        "name": HARD,
        "doors": [{"id": "d", "left": 3, "width": 3, "height": 7, "tenant": HARD}],
    }
    site = {"name": HARD, "walls": [wall], "contacts": [{"name": HARD, "role": HARD, "phone": "555-0100"}]}
    text = text_of(FORMS[name](small(site=site)))
    assert has("#strong[x] *b* _i_ $y$ <b>&amp;", text)


@pytest.mark.parametrize("name", FORMS)
def test_long_names_stay_on_the_page(name: str) -> None:
    long = "Extraordinarily long name of a shop and all its partners, " * 8
    wall = {
        **SMALL["site"]["walls"][0],
        "name": long,
        "doors": [{"id": "d", "left": 3, "width": 3, "height": 7, "tenant": long}],
    }
    pdf = FORMS[name](small(site={"name": long, "walls": [wall]}))
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        places: list[float] = []
        page.extract_text(visitor_text=lambda _t, cm, tm, _f, _s, places=places: places.append(cm[4] + tm[4]))
        assert all(0 <= place <= float(page.mediabox[2]) for place in places)


def test_every_word_that_a_template_asks_for_is_in_the_catalogue() -> None:
    folder = Path(__file__).parents[2] / "src" / "sightwash" / "papers" / "templates"
    for name in (*FORMS, "invoice", "statement", "completion-record"):
        template = (folder / f"{name}.typ").read_text(encoding="utf-8")
        wanted = set(re.findall(r"data\.words\.(\w+)", template)) - {"at"}
        for language in ("en", "es"):
            missing = wanted - set(replace(demo(), language=language).words(name))  # type: ignore[arg-type]
            assert missing == set(), (name, language)
