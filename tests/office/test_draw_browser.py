"""The draw page in a browser: typed and drawn are the same, saved at once, undone, in conflict, kept while away.

What is drawn is checked by what the office then holds: lengths as typed, places to the foot (our own rules); the page
itself by axe (WCAG 2.2 AA, W3C 2023) [independent program].
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from draw_page import DESK, PHONE, both_sizes, ground, new_property, opened, tree_of, walls, write
from world import World


@pytest.fixture
def refusable_page_at(page_at: Callable[..., Any]) -> Iterator[Callable[..., Any]]:
    """Return what opens a page whose console may tell of an answer that refuses (4xx, 5xx), and of nothing else."""
    said: list[str] = []

    def opened_at(width: int) -> Any:
        page = page_at(width).context.new_page()
        page.on("console", lambda line: said.append(line.text) if line.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: said.append(str(error)))
        return page

    yield opened_at
    assert [words for words in said if not words.startswith("Failed to load resource")] == []


@both_sizes
def test_a_new_firm_types_walls_and_draws_the_rest(
    width: int, live_world: World, page_at: Callable[..., Any], axe_clean: Callable[[Any], None]
) -> None:
    record = new_property(live_world)
    page = opened(page_at(width), record)
    assert page.locator("[data-needs-wall]").is_visible()
    axe_clean(page)
    write(page, start="0, 0", length="120 ft", toward="right", height="12 ft 6 in", name="Front")
    wall = tree_of(record)["walls"][0]
    assert (wall["start"], wall["end"], wall["height"]) == (["0", "0"], ["120 ft", "0 ft"], "12 ft 6 in")
    assert page.locator("[data-needs-wall]").is_hidden()

    form = page.locator("[data-sentence]")
    assert form.locator("[name=start]").input_value() == "120 ft, 0 ft"
    write(page, length="40", toward="up")
    assert tree_of(record)["walls"][1]["end"] == ["120 ft", "40 ft"]

    form.locator("[name=slug]").select_option("door")
    strip = walls(page)
    strip.scroll_into_view_if_needed()
    place = strip.locator(".face").first.bounding_box()
    assert place is not None
    left = max(place["x"], 0) + 30
    page.mouse.move(left, place["y"] + place["height"] - 3)
    page.mouse.down()
    page.mouse.move(left + 40, place["y"] + place["height"] / 2, steps=4)
    page.mouse.up()
    assert form.locator("[name=on]").input_value() == "wall-1"
    write(page, width="6 ft", height="7 ft", left="20 ft", swing="out")
    door = tree_of(record)["walls"][0]["doors"][0]
    assert (door["left"], door["width"], door["height"], door["swing"]) == ("20 ft", "6 ft", "7 ft", "out")

    form.locator("[name=slug]").select_option("drain")
    plan = ground(page)
    plan.scroll_into_view_if_needed()
    box = plan.bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] * 0.6)
    assert form.locator("[name=at]").input_value()
    write(page, leads_to="storm")
    assert tree_of(record)["drains"][0]["leads_to"] == "storm"
    axe_clean(page)


def test_a_drawn_wall_is_a_typed_wall(live_world: World, page_at: Callable[..., Any]) -> None:
    record = new_property(live_world)
    page = opened(page_at(DESK), record)
    plan = ground(page)
    box = plan.bounding_box()
    assert box is not None
    y = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + 200, y)
    page.mouse.down()
    page.mouse.move(box["x"] + 500, y + 4, steps=6)
    page.mouse.up()
    form = page.locator("[data-sentence]")
    assert form.locator("[name=toward]").input_value() == "right"
    drawn = form.locator("[name=length]").input_value()
    write(page, height="14 ft")
    wall = tree_of(record)["walls"][0]
    ends = [float(wall[end][0].removesuffix(" ft")) for end in ("start", "end")]
    assert f"{ends[1] - ends[0]:g} ft" == drawn
    assert wall["start"][1] == wall["end"][1]


@both_sizes
def test_a_broken_value_is_said_beside_its_blank(
    width: int, live_world: World, refusable_page_at: Callable[..., Any], axe_clean: Callable[[Any], None]
) -> None:
    record = new_property(live_world)
    page = opened(refusable_page_at(width), record)
    form = page.locator("[data-sentence]")
    form.locator("[name=start]").fill("0, 0")
    form.locator("[name=length]").fill("120 ft")
    form.locator("[name=toward]").fill("right")
    form.locator("[name=height]").fill("12 lb")
    with page.expect_response(lambda answer: answer.status == 422):
        form.locator("[data-write]:visible").last.click()
    words = form.locator("label:has([name=height]) em")
    words.wait_for()
    assert "lb does not measure a length" in words.inner_text()
    assert form.locator("[name=height]").get_attribute("aria-invalid") == "true"
    assert form.locator("[name=length]").input_value() == "120 ft"
    assert tree_of(record).get("walls") is None
    axe_clean(page)


def test_undo_and_redo_by_hand_and_by_key(live_world: World, page_at: Callable[..., Any]) -> None:
    record = live_world.larkspur
    before = tree_of(record)
    page = opened(page_at(DESK), record)
    form = page.locator("[data-sentence]")
    form.locator("[name=verb]").select_option("change")
    form.locator("[name=element]").select_option("row-east")
    write(page, height="19 ft 6 in")
    changed = tree_of(record)
    assert changed != before
    with page.expect_response("**/operations/"):
        page.locator("[data-undo]").click()
    assert tree_of(record) == before
    page.wait_for_selector("[data-redo]:not([disabled])")
    page.locator("[data-board=plan]").focus()
    with page.expect_response("**/operations/"):
        page.keyboard.press("Control+y")
    assert tree_of(record) == changed
    page.reload()
    page.wait_for_selector("[data-undo]:not([disabled])")
    with page.expect_response("**/operations/"):
        page.locator("[data-undo]").click()
    assert tree_of(record) == before


def test_keys_alone_draw_a_drain_and_move_it(live_world: World, page_at: Callable[..., Any]) -> None:
    record = live_world.larkspur
    page = opened(page_at(DESK), record)
    page.locator("[data-sentence] [name=slug]").select_option("drain")
    page.locator("[data-board=plan]").focus()
    for key in ("ArrowDown", "Shift+ArrowDown", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    at = page.locator("[data-sentence] [name=at]").input_value()
    assert at
    write(page)
    drain = tree_of(record)["drains"][-1]
    assert (drain["id"], ", ".join(drain["at"])) == ("drain-1", at)
    page.locator("[data-sentence] [name=verb]").select_option("change")
    page.locator("[data-sentence] [name=element]").select_option("drain-1")
    page.locator("[data-board=plan]").focus()
    with page.expect_response("**/operations/"):
        page.keyboard.press("Alt+ArrowRight")
    moved = tree_of(record)["drains"][-1]["at"]
    assert moved[0] != drain["at"][0]
    assert moved[1] == drain["at"][1]
    page.locator("[data-board=plan]").focus()
    with page.expect_response("**/operations/"):
        page.keyboard.press("Delete")
    assert [each["id"] for each in tree_of(record)["drains"]] == ["lot-inlet", "clean-out"]


@both_sizes
def test_a_conflict_shows_both_sides_and_a_choice(
    width: int,
    live_world: World,
    refusable_page_at: Callable[..., Any],
    client_of: Callable[..., Client],
    axe_clean: Callable[[Any], None],
) -> None:
    record = live_world.larkspur
    page = opened(refusable_page_at(width), record)
    theirs = {"do": "change", "id": "row-east", "keys": {"height": "20 ft 6 in"}}
    body = {"operation": theirs, "base": 1, "token": "somebody else"}
    client_of(live_world.planner).post(
        reverse("operations", args=[record.pk]), json.dumps(body), content_type="application/json"
    )
    form = page.locator("[data-sentence]")
    form.locator("[name=verb]").select_option("change")
    form.locator("[name=element]").select_option("row-east")
    form.locator("[name=height]").fill("19 ft 6 in")
    form.locator("[data-write]:visible").last.click()
    kept = page.locator("[data-kept]")
    kept.locator("dl").wait_for()
    words = kept.inner_text()
    assert "planner one, revision 2: 20 ft 6 in" in words
    assert "you: 19 ft 6 in" in words
    axe_clean(page)
    with page.expect_response("**/operations/"):
        kept.get_by_role("button", name="Write mine down").click()
    kept.wait_for(state="hidden")
    assert next(wall for wall in tree_of(record)["walls"] if wall["id"] == "row-east")["height"] == "19 ft 6 in"


def test_what_cannot_be_sent_is_kept_and_sent_later(live_world: World, refusable_page_at: Callable[..., Any]) -> None:
    record = live_world.larkspur
    page = opened(refusable_page_at(PHONE), record)
    page.route("**/operations/", lambda route: route.fulfill(status=503, body="away"))
    form = page.locator("[data-sentence]")
    form.locator("[name=verb]").select_option("change")
    form.locator("[name=element]").select_option("row-east")
    form.locator("[name=height]").fill("19 ft 6 in")
    form.locator("[data-write]:visible").last.click()
    page.locator("[data-kept] p").first.wait_for()
    assert "kept on this device" in page.locator("[data-kept]").inner_text()
    assert record.operations.count() == 0
    page.unroute("**/operations/")
    with page.expect_response("**/operations/"):
        page.reload()
    page.locator("[data-kept]").wait_for(state="hidden")
    assert next(wall for wall in tree_of(record)["walls"] if wall["id"] == "row-east")["height"] == "19 ft 6 in"
    assert record.operations.count() == 1


def test_a_change_made_without_a_signal_is_sent_when_it_is_back(
    live_world: World, refusable_page_at: Callable[..., Any]
) -> None:
    record = live_world.larkspur
    page = opened(refusable_page_at(PHONE), record)
    page.context.set_offline(True)
    form = page.locator("[data-sentence]")
    for slug, blanks in (("drain", {"at": "10, -20"}), ("tap", {"at": "12, -20"})):
        form.locator("[name=slug]").select_option(slug)
        for name, text in blanks.items():
            form.locator(f"[name={name}]").fill(text)
        form.locator("[data-write]:visible").last.click()
    page.wait_for_function("() => document.querySelectorAll('[data-kept] .kept').length === 2")
    assert "2 changes are kept on this device" in page.locator("[data-kept]").inner_text()
    ground(page)
    page.wait_for_selector("[data-board=plan] .ghost.waits", state="attached")
    assert form.locator("[name=at]").input_value() == ""
    assert record.operations.count() == 0
    page.context.set_offline(False)
    page.locator("[data-kept]").wait_for(state="hidden")
    tree = tree_of(record)
    assert (tree["drains"][-1]["at"], tree["taps"][-1]["at"]) == (["10", "-20"], ["12", "-20"])
    assert record.operations.count() == 2


def test_a_second_press_writes_nothing_twice(live_world: World, page_at: Callable[..., Any]) -> None:
    record = live_world.larkspur
    page = opened(page_at(DESK), record)
    page.route("**/operations/", lambda route: route.continue_())
    form = page.locator("[data-sentence]")
    form.locator("[name=slug]").select_option("drain")
    form.locator("[name=at]").fill("10, -20")
    form.locator("[data-write]:visible").last.dblclick()
    page.wait_for_function("() => document.querySelector('[data-status]').textContent.startsWith('Written')")
    page.wait_for_timeout(600)
    assert [each["id"] for each in tree_of(record)["drains"]] == ["lot-inlet", "clean-out", "drain-1"]
