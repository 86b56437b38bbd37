"""Who sees it in a browser: the eye is dragged, walks by keys, the wall and the view follow; missed strips open.

The page itself is held against axe (WCAG 2.2 AA, W3C 2023) [independent program]; that frames are not heaped up is our
own rule: one question at a time.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from django.urls import reverse
from world import World

PHONE, DESK = 360, 1280
both_sizes = pytest.mark.parametrize("width", [PHONE, DESK])


def opened(page: Any, world: World) -> Any:
    page.goto(reverse("who-sees-it", args=[world.larkspur.pk]))
    page.wait_for_selector("[data-look][data-frames]")
    page.wait_for_selector("[data-strip]")
    return page


def frames(page: Any) -> int:
    return int(page.locator("[data-look]").get_attribute("data-frames"))


def moved(page: Any, count: int) -> None:
    """Wait for another frame than those that were counted."""
    page.wait_for_function("n => Number(document.querySelector('[data-look]').dataset.frames) > n", arg=count)


@both_sizes
def test_the_eye_is_dragged_and_all_follows(
    width: int, live_world: World, page_at: Callable[..., Any], axe_clean: Callable[[Any], None]
) -> None:
    page = opened(page_at(width, person=live_world.crew), live_world)
    axe_clean(page)
    words, count = page.locator("[data-says]").inner_text(), frames(page)
    drawn = page.locator("[data-picture]").inner_html()
    page.locator("[data-board=plan]").scroll_into_view_if_needed()
    box = page.locator(".eye-now").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 60, y - 3, steps=12)
    page.mouse.up()
    moved(page, count)
    page.wait_for_timeout(300)
    assert page.locator("[data-says]").inner_text() != words
    assert page.locator("[data-picture]").inner_html() != drawn
    at = page.locator("[name=at]").input_value()
    assert at.endswith(", -300 ft")
    assert page.locator("[data-board=strip] .missed").count() >= 1
    assert page.locator("[data-board=strip] .hidden").count() >= 1


def test_only_one_question_is_under_way(live_world: World, page_at: Callable[..., Any]) -> None:
    page = opened(page_at(DESK), live_world)
    under_way, most, asked = 0, 0, []

    def begun(request: Any) -> None:
        nonlocal under_way, most
        if "/frame/" in request.url:
            under_way += 1
            most = max(most, under_way)
            asked.append(request.url)

    def ended(request: Any) -> None:
        nonlocal under_way
        under_way -= 1 if "/frame/" in request.url else 0

    page.on("request", begun)
    page.on("requestfinished", ended)
    count = frames(page)
    page.locator("[data-board=plan]").focus()
    for _ in range(30):
        page.keyboard.press("ArrowLeft")
    moved(page, count)
    page.wait_for_timeout(500)
    assert most == 1
    assert 1 <= len(asked) < 30
    last = page.evaluate("url => new URL(url).searchParams.get('x')", asked[-1])
    shown = page.locator("[name=at]").input_value().split(" ft")[0]
    assert float(last) == pytest.approx(float(shown) * 0.3048, abs=0.2)


def test_keys_walk_along_the_road(live_world: World, page_at: Callable[..., Any]) -> None:
    page = opened(page_at(DESK), live_world)
    page.locator("[name=eye]").select_option("larkspur-road")
    page.locator("[data-board=plan]").focus()
    before, count = page.locator("[name=at]").input_value(), frames(page)
    page.keyboard.press("Shift+ArrowRight")
    moved(page, count)
    after = page.locator("[name=at]").input_value()
    assert after != before
    assert after.endswith(", -300 ft")


@both_sizes
def test_a_missed_strip_tells_its_remedy(
    width: int, live_world: World, page_at: Callable[..., Any], axe_clean: Callable[[Any], None]
) -> None:
    page = opened(page_at(width), live_world)
    strip = page.locator("[data-board=strip]")
    strip.scroll_into_view_if_needed()
    page.locator(".letter").first.click()
    first = page.locator("[data-strip]").first
    assert first.locator("button").get_attribute("aria-expanded") == "true"
    assert "step back" in first.inner_text()
    assert "Larkspur Road" in first.inner_text()
    axe_clean(page)


def test_a_typed_place_is_looked_from(live_world: World, page_at: Callable[..., Any]) -> None:
    page = opened(page_at(DESK), live_world)
    count = frames(page)
    page.locator("[name=at]").fill("80 ft, -60 ft")
    page.locator("[name=height]").fill("5 ft 3 in")
    with page.expect_response("**/frame/**") as answer:
        page.get_by_role("button", name="Look from there").click()
    eye = json.loads(answer.value.body())["eye"]
    assert eye == pytest.approx([24.38, -18.29, 1.6], abs=0.01)
    moved(page, count)
    assert "looking north" in page.locator("[data-way]").inner_text()
