"""The questions in a browser, on a phone and on a desk: taps that answer, an offer from plan to payment, ticks.
Held against axe (WCAG 2.2 AA, W3C 2023) [independent program]; every page is in test_pages_in_browser.py.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from browsing import settled
from django.urls import reverse
from questions_world import warm
from world import World

from sightwash.office.models import Visit

WIDTHS = (360, 1280)


@pytest.mark.parametrize("width", WIDTHS)
def test_tap_on_a_part_answers_all_six(
    width: int, live_world: World, page_at: Callable[..., Any], axe_clean: Callable[[Any], None]
) -> None:
    warm(live_world)
    page = page_at(width)
    settled(page, reverse("with-what", args=[live_world.larkspur.pk]))
    page.locator('.strip a.part[data-part="west-growth"]').click()
    page.wait_for_selector("#part-name")
    assert page.locator(".answers h3").count() == 6
    assert "Row, west end" in page.inner_text("#part-name")
    assert page.evaluate("document.activeElement.id") == "part-name"
    axe_clean(page)


def test_part_opens_by_keyboard_and_without_script(live_world: World, page_at: Callable[..., Any]) -> None:
    warm(live_world)
    page = page_at(1280)
    settled(page, reverse("how-long", args=[live_world.larkspur.pk]))
    page.locator('.strip a.part[data-part="west-growth"]').focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#part-name")
    link = page.locator('.parts-list a[data-part="west-growth"]').get_attribute("href")
    page.goto(link)
    assert page.locator(".answers h3").count() == 6


def test_offer_from_plan_to_payment(live_world: World, page_at: Callable[..., Any]) -> None:
    warm(live_world)
    page = page_at(360)
    settled(page, reverse("what-does-it-cost", args=[live_world.larkspur.pk]))
    page.get_by_role("link", name="Make an offer").click()
    page.get_by_role("button", name="Make the offer").click(timeout=60_000)
    page.wait_for_selector("text=What did the customer say?", timeout=60_000)
    with page.expect_download() as download:
        page.get_by_role("link", name="agreement.pdf").click()
    assert download.value.suggested_filename.endswith("agreement.pdf")
    page.fill("#id_accepted_by", "Mx C")
    page.get_by_role("button", name="Accepted").click()
    page.goto(reverse("visit", args=[live_world.visit.pk]))
    page.locator("button[value=done]").click()
    page.get_by_role("button", name="Write the invoice").click()
    page.wait_for_selector("text=Wrote invoice")
    total = page.locator("table td.number").first.inner_text().split()[-1].replace(",", "")
    page.fill("[name=amount]", total)
    page.fill("[name=by]", "transfer")
    page.get_by_role("button", name="Note a payment").click()
    page.wait_for_selector("text=Done and paid")
    assert Visit.objects.get(pk=live_world.visit.pk).state == Visit.State.PAID


def test_crew_ticks_on_a_phone_in_the_dark(
    live_world: World, page_at: Callable[..., Any], axe_clean: Callable[[Any], None]
) -> None:
    warm(live_world)
    page = page_at(360, person=live_world.crew, night=True)
    settled(page, reverse("is-it-done", args=[live_world.larkspur.pk]))
    page.locator('[name="how:row-front"][value="as planned"]').check()
    page.get_by_role("button", name="Keep the ticks").click()
    page.wait_for_selector("text=Written down.")
    assert "1 of" in page.inner_text("dl.asked")
    axe_clean(page)
