"""The house in Chromium: pages for anybody, what is wrong beside its field, joining, the keyboard, few bytes.
Held against axe (WCAG 2.2 AA, W3C 2023) [independent program]; every page by itself is in test_pages_in_browser.py.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from browsing import faults_of_size
from world import PASSWORD, World

from sightwash.office.bridge.planning import plan_now, visit_inputs
from sightwash.office.people.invitations import new_invitation

FIRST_PAGE: int = 150_000
"""Bytes of a first visit, photographs apart: the bar of the issue."""


def check(page: Any, axe_clean: Callable[..., None]) -> None:
    """Hold a page against the rules."""
    page.wait_for_load_state()
    assert faults_of_size(page) == [], page.url
    axe_clean(page)


@pytest.mark.parametrize(("width", "night"), [(360, True), (1280, False)])
def test_pages_for_anybody_are_clean(
    live_world: World, page_at: Callable[..., Any], axe_clean: Callable[..., None], width: int, night: bool
) -> None:
    page = page_at(width, person=None, night=night)
    for address in ("/sign-in/", f"/join/{live_world.token}/"):
        page.goto(address)
        check(page, axe_clean)


def test_what_is_wrong_stands_beside_its_field(page_at: Callable[..., Any], axe_clean: Callable[..., None]) -> None:
    page = page_at(360)
    page.goto("/properties/add/walls/")
    page.fill("#id_name", "Damson Court")
    page.fill("#id_walls", "Front 120 quarts x 14 ft")
    page.click("main form button")
    page.wait_for_selector("#id_walls_error")
    assert page.get_attribute("#id_walls", "aria-invalid") == "true"
    assert "id_walls_error" in str(page.get_attribute("#id_walls", "aria-describedby"))
    check(page, axe_clean)


@pytest.mark.parametrize("width", [360, 1280])
def test_person_joins_adds_a_property_and_sees_strip_and_price(
    live_world: World, page_at: Callable[..., Any], width: int
) -> None:
    token = new_invitation(live_world.other_firm, "nia@example.org", "planner", live_world.stranger_owner)
    page = page_at(width, person=None)
    page.goto(f"/join/{token}/")
    page.fill("#id_name", "Nia")
    page.fill("#id_password", PASSWORD)
    page.click("main form button")
    page.get_by_role("link", name="Type the walls").click()
    page.fill("#id_name", "Damson Court")
    page.fill("#id_walls", "Front 120 ft x 14 ft\nEast end 60 ft x 14 ft")
    page.fill("#id_walk", "8 ft")
    page.get_by_role("button", name="Make the strip").click()
    page.wait_for_selector("#look svg", timeout=20_000)
    assert "USD" in page.inner_text("#look .figures")
    assert page.locator("#look svg g.name").count() == 2
    page.get_by_role("link", name="Properties").click()
    page.fill("#q", "dams")
    page.wait_for_url("**/?q=dams")
    page.get_by_role("link", name="Damson Court").click()
    page.get_by_role("button", name="Night sheet").click()
    page.wait_for_selector("html[data-sheet=night]")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/")


def test_keyboard_reaches_the_page_first(page_at: Callable[..., Any]) -> None:
    page = page_at(1280)
    page.goto("/")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.textContent") == "Skip to the page"
    page.keyboard.press("Enter")
    assert page.evaluate("() => document.activeElement.id") == "main"


def test_first_visit_is_few_bytes(live_world: World, page_at: Callable[..., Any]) -> None:
    plan_now(visit_inputs(live_world.visit))
    page = page_at(360)
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    sizes: list[float] = []
    session.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    page.goto(f"/properties/{live_world.larkspur.pk}/", wait_until="networkidle")
    assert len(sizes) >= 4
    assert sum(sizes) < FIRST_PAGE
