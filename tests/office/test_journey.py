"""The whole way of a new firm in one browser, on a phone and on a desk: begin, type walls, draw the rest, look, plan,
price, offer, accept, tick off. No error on the console, no barrier that axe finds (WCAG 2.2 AA) [independent program].

What is typed is checked by what the office then holds and says; lengths are as typed, money is only asked to be there.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from typing import Any

import pytest
from browsing import LONG, settled
from draw_page import write
from pypdf import PdfReader
from world import PASSWORD

from sightwash.office.models import Offer, Person, Property, Visit

REST: tuple[dict[str, str], ...] = (
    {"slug": "eye", "kind": "road", "path": "-150, -120; 270, -120", "height": "3 ft 6 in", "name": "Damson Lane"},
    {"slug": "projection", "kind": "canopy", "on": "front", "left": "20 ft", "width": "80 ft", "bottom": "9 ft",
     "height": "1 ft", "depth": "6 ft"},
    {"slug": "walk", "along": "east-end", "width": "6 ft"},
    {"slug": "door", "on": "front", "left": "40 ft", "width": "6 ft", "height": "7 ft"},
)  # fmt: skip
"""What is drawn by the sentence after the walls have their places."""


def ask(page: Any, question: str) -> None:
    """Go to a question's page as a person does, by its name above the page."""
    page.locator(".questions").get_by_role("link", name=question).click()
    page.wait_for_selector(f"h1:has-text('{question}')")
    settled(page)


@pytest.mark.parametrize("width", [360, 1280])
def test_a_new_firm_from_the_first_run_to_done(
    width: int, opened_at: Callable[..., Any], axe_clean: Callable[..., None]
) -> None:
    page = opened_at(width)
    begin(page)
    axe_clean(page)
    type_walls(page)
    axe_clean(page)
    draw_the_rest(page)
    look(page)
    axe_clean(page)
    plan_a_visit(page)
    assume_otherwise(page)
    axe_clean(page)
    price_and_offer(page)
    axe_clean(page)
    tick_off(page)
    axe_clean(page)


def begin(page: Any) -> None:
    """The first to open the office makes the firm and owns it."""
    page.goto("/")
    page.wait_for_url("**/first-run/")
    for name, text in {"firm": "Alder Wash", "name": "Nia", "email": "nia@example.org", "password": PASSWORD}.items():
        page.fill(f"[name={name}]", text)
    page.get_by_role("button", name="Make the firm").click()
    page.wait_for_selector("text=No property yet")
    assert Person.objects.get().role == "owner"


def type_walls(page: Any) -> None:
    """Two lengths and heights become the strip and a first price."""
    page.get_by_role("link", name="Type the walls").click()
    page.fill("#id_name", "Damson Court")
    page.fill("#id_walls", "Front 120 ft x 14 ft\nEast end 60 ft x 14 ft")
    page.fill("#id_walk", "8 ft")
    page.get_by_role("button", name="Make the strip").click()
    page.wait_for_selector("#look svg", timeout=LONG)
    assert re.search(r"[1-9]\d* USD", page.inner_text("#look .figures"))
    assert page.locator("#look svg g.name").count() == 2


def draw_the_rest(page: Any) -> None:
    """The question leads to the drawing; both walls get their places, then the sentence takes the rest."""
    ask(page, "Who sees it?")
    page.get_by_role("link", name="Give Front its place").click()
    page.wait_for_selector("[data-status]:has-text('zero point')")
    write(page)
    page.get_by_role("button", name="Give it a place").click()
    write(page)
    page.locator("[data-sentence] [name=verb]").select_option("add")
    for blanks in REST:
        page.locator("[data-sentence] [name=slug]").select_option(blanks["slug"])
        write(page, **{name: text for name, text in blanks.items() if name != "slug"})
    site = json.loads(Property.objects.get().site)
    front, east = site["walls"]
    assert (front["start"], front["end"]) == (["0", "0"], ["120 ft", "0 ft"])
    assert (east["start"], east["end"]) == (["120 ft", "0 ft"], ["120 ft", "60 ft"])
    assert (front["doors"][0]["left"], front["projections"][0]["depth"]) == ("40 ft", "6 ft")
    assert [each["along"] for each in site["surfaces"]] == ["front", "east-end"]
    assert (site["eyes"][0]["kind"], site["eyes"][0]["name"]) == ("road", "Damson Lane")


def look(page: Any) -> None:
    """The eye is dragged along the road; what the canopy hides from the crew is listed, and tells its remedy."""
    ask(page, "Who sees it?")
    page.wait_for_selector("[data-look][data-frames]")
    strips = page.locator("[data-strip]")
    strips.first.wait_for(timeout=LONG)
    page.locator("[data-board=plan]").scroll_into_view_if_needed()
    box, at = page.locator(".eye-now").bounding_box(), page.locator("[name=at]").input_value()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] - 20, box["y"] + box["height"] / 2, steps=8)
    page.mouse.up()
    page.wait_for_function("at => document.querySelector('[name=at]').value !== at", arg=at)
    assert page.locator("[name=at]").input_value().endswith(", -120 ft")
    page.locator("[data-board=strip]").scroll_into_view_if_needed()
    page.locator(".letter").first.click()
    assert strips.first.locator("button").get_attribute("aria-expanded") == "true"
    assert "Damson Lane" in strips.first.inner_text()


def plan_a_visit(page: Any) -> None:
    """A visit gives the plan its day and its weather; the questions answer for it."""
    ask(page, "What does it cost?")
    page.get_by_role("link", name="Plan a visit").first.click()
    page.fill("#id_on", "2027-07-10")
    page.get_by_role("button", name="Plan the visit").click()
    page.wait_for_selector("h1:has-text('10 July 2027')")
    for question in ("Who reaches it?", "With what?", "How long?"):
        ask(page, question)
        assert page.locator("dl.asked dd .value").count() >= 2, question


def assume_otherwise(page: Any) -> None:
    """One more person on the crew moves the price; nothing is kept."""
    page.get_by_role("link", name="Assume otherwise").click()
    page.get_by_label("People on the crew").fill("4")
    page.get_by_role("button", name="See what moves").click()
    page.wait_for_selector("#moves", timeout=LONG)
    moved = page.locator("main table tbody tr:has-text('Price before tax') td").all_inner_texts()
    assert len(moved) == 2
    assert moved[0] != moved[1]


def price_and_offer(page: Any) -> None:
    """The price becomes an offer, whose agreement is a PDF of the very bytes that were kept; it is accepted."""
    ask(page, "What does it cost?")
    shown = page.locator("dl.asked .value").first.inner_text().removesuffix(" USD")
    page.get_by_role("link", name="Make an offer").click()
    page.get_by_role("button", name="Make the offer").click(timeout=LONG)
    page.wait_for_selector("text=What did the customer say?", timeout=LONG)
    with page.expect_download() as download:
        page.get_by_role("link", name="agreement.pdf").click()
    content = download.value.path().read_bytes()
    assert content == bytes(Offer.objects.get().papers.get(name="agreement.pdf").bytes)
    printed = " ".join(each.extract_text() for each in PdfReader(io.BytesIO(content)).pages)
    assert "Damson Court" in printed
    assert shown in printed
    page.get_by_label("Who said so").fill("Mx C")
    page.get_by_role("button", name="Accepted").click()
    page.wait_for_selector("dt:has-text('Agreed')")
    assert Visit.objects.get().state == Visit.State.AGREED


def tick_off(page: Any) -> None:
    """Every part is ticked on the night."""
    ask(page, "Is it done?")
    parts = page.locator("#parts fieldset")
    for number in range(parts.count()):
        parts.nth(number).get_by_label("As planned").check()
    page.get_by_role("button", name="Keep the ticks").click()
    page.wait_for_selector("text=Written down.")
    count = parts.count()
    assert f"{count} of {count}" in page.inner_text("dl.asked")
