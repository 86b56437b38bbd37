"""Hands on the draw page: fingers, drags, boxes on the strip, buildings, a picture to scale.

What is drawn is checked by what the office then holds (our own rules); lengths against the one reader of lengths.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from draw_page import DESK, EMPTY, FOOT, PHONE, ground, new_property, opened, tree_of, write
from PIL import Image
from world import World

from sightwash.basis.units import LENGTH, parse_quantity


def test_a_canopy_and_dirt_are_drawn_on_the_strip(live_world: World, page_at: Callable[..., Any]) -> None:
    record = new_property(
        live_world, EMPTY[:-1] + ', "walls": [{"id": "front", "length": "60 ft", "height": "15 ft"}]}'
    )
    page = opened(page_at(DESK), record)
    form = page.locator("[data-sentence]")
    face = page.locator("[data-board=strip] .face").bounding_box()
    assert face is not None
    foot = face["width"] / 60
    for slug, blanks in (("soiling", {"kind": "algae"}), ("projection", {"kind": "canopy", "depth": "5 ft"})):
        form.locator("[name=slug]").select_option(slug)
        page.mouse.move(face["x"] + 10 * foot, face["y"] + face["height"] - 8 * foot)
        page.mouse.down()
        page.mouse.move(face["x"] + 40 * foot, face["y"] + face["height"] - 12 * foot, steps=4)
        page.mouse.up()
        write(page, **blanks)
    wall = tree_of(record)["walls"][0]
    dirt, canopy = wall["soiling"][0], wall["projections"][0]
    assert (dirt["left"], dirt["width"], dirt["bottom"], dirt["top"]) == ("10 ft", "30 ft", "8 ft", "12 ft")
    assert (canopy["left"], canopy["width"], canopy["bottom"], canopy["height"]) == ("10 ft", "30 ft", "8 ft", "4 ft")


def test_lengths_are_read_in_the_page_as_the_reader_reads_them(live_world: World, page_at: Callable[..., Any]) -> None:
    """Held against the reader of ``basis.units``, which is held against pint elsewhere [independent program]."""
    page = opened(page_at(DESK), new_property(live_world))
    typed = ["12 ft 6 in", "12.5", "3/4 in", "6 1/2 in", "12' 6\"", "-3 ft", "3.8 m", "40 cm", "250 mm", "1 yd", "0"]
    source = (
        page.locator("script[src*='draw/draw.js']").get_attribute("src").split("?")[0].replace("draw.js", "units.js")
    )
    for system in ("us", "metric"):
        read = page.evaluate(
            "async ([source, typed, system]) => { const units = await import(source);"
            " return typed.map((each) => units.lengthOf(each, system)); }",
            [source, typed, system],
        )
        assert read == pytest.approx([float(parse_quantity(each, LENGTH, system)) for each in typed])


def test_fingers_tap_pinch_and_draw_on_a_phone(live_world: World, page_at: Callable[..., Any]) -> None:
    record = new_property(live_world)
    page = opened(page_at(PHONE), record)
    plan = ground(page)
    plan.scroll_into_view_if_needed()
    box = plan.bounding_box()
    assert box is not None
    middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    scale = "document.querySelector('[data-board=plan] .scale').getBBox().width"
    words = "document.querySelector('[data-board=plan] text').textContent"
    before = page.evaluate(f"[{words}, {scale}]")
    fingers = page.context.new_cdp_session(page)
    for kind, apart in (("touchStart", 30), ("touchMove", 60), ("touchMove", 90), ("touchEnd", 0)):
        points = [{"x": middle[0] - apart, "y": middle[1], "id": 1}, {"x": middle[0] + apart, "y": middle[1], "id": 2}]
        sent = {"type": kind, "touchPoints": points if apart else []}
        fingers.send("Input.dispatchTouchEvent", sent)
    page.wait_for_function(f"before => JSON.stringify([{words}, {scale}]) !== JSON.stringify(before)", arg=before)
    assert page.locator("[data-sentence] [name=start]").input_value() == ""
    page.touchscreen.tap(middle[0] - 60, middle[1])
    page.touchscreen.tap(middle[0] + 60, middle[1])
    form = page.locator("[data-sentence]")
    assert form.locator("[name=toward]").input_value() == "right"
    assert form.locator("[name=length]").input_value()
    assert "Add a wall from" in page.locator("[data-short]").inner_text()
    write(page, height="12 ft")
    assert tree_of(record)["walls"][0]["height"] == "12 ft"


def test_a_picture_is_put_under_the_ground_and_to_scale(live_world: World, page_at: Callable[..., Any]) -> None:
    out = io.BytesIO()
    Image.new("RGB", (400, 200), "lightgrey").save(out, "PNG")
    page = opened(page_at(DESK), live_world.larkspur)
    panel = page.locator("[data-scaling]")
    panel.locator("summary").click()
    panel.locator("[name=picture]").set_input_files(
        {"name": "a.png", "mimeType": "image/png", "buffer": out.getvalue()}
    )
    with page.expect_navigation():
        panel.get_by_role("button", name="Put it under the ground").click()
    page.wait_for_selector("[data-board=plan] image")
    page.locator("[data-scale-start]").click()
    page.locator("[data-board=plan]").scroll_into_view_if_needed()
    shown = page.locator("[data-board=plan] image").bounding_box()
    assert shown is not None
    for share in (0.25, 0.75):
        page.mouse.click(shown["x"] + share * shown["width"], shown["y"] + 0.5 * shown["height"])
    page.locator("#scale-length").fill("100 ft")
    with page.expect_response("**/picture/scale/") as answer:
        page.get_by_role("button", name="Put it to scale").click()
    assert answer.value.json()["place"]["scale"] == pytest.approx(100 * FOOT / 200, rel=0.02)


def test_a_building_brings_its_walls(live_world: World, page_at: Callable[..., Any]) -> None:
    """Walls run so that their outside is on the right hand, whichever way round the corners were tapped."""
    record = new_property(live_world)
    page = opened(page_at(DESK), record)
    page.locator("[data-sentence] [name=slug]").select_option("building")
    write(page, outline="0, 0; 0, 40 ft; 60 ft, 40 ft; 60 ft, 0", height="14 ft", name="Shop")
    tree = tree_of(record)
    assert [wall["building"] for wall in tree["walls"]] == ["building-1"] * 4
    assert ["0", "0"] in [wall["start"] for wall in tree["walls"]]
    south = next(wall for wall in tree["walls"] if wall["start"] == ["0", "0"])
    assert south["end"] == ["60 ft", "0"]


def test_a_move_is_typed_or_dragged(live_world: World, page_at: Callable[..., Any]) -> None:
    """Door 1 begins 23 ft along; 2 ft farther is 25 ft. The drag says its own length before the hand lets go."""
    record = live_world.larkspur
    page = opened(page_at(DESK), record)
    form = page.locator("[data-sentence]")
    form.locator("[name=verb]").select_option("move")
    form.locator("[name=element]").select_option("door-1")
    write(page, right="2 ft")
    doors = tree_of(record)["walls"][0]["doors"]
    assert doors[0]["left"] == "25 ft"
    form.locator("[name=verb]").select_option("change")
    form.locator("[name=element]").select_option("bench")
    page.locator("[data-of=plan] [data-zoom='1.4']").click(click_count=3)
    page.wait_for_timeout(200)
    bench = page.locator("[data-board=plan] [data-id=bench]").bounding_box()
    assert bench is not None
    x, y = bench["x"] + bench["width"] / 2, bench["y"] + bench["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y, steps=5)
    said = page.locator("[data-where]").inner_text()
    with page.expect_response("**/operations/"):
        page.mouse.up()
    moved = next(post for post in tree_of(record)["posts"] if post["id"] == "bench")["at"]
    right = float(said.removeprefix("Moved by ").split(" ft")[0])
    assert right > 0
    assert moved == [f"{45 + right:g} ft", "-2"]


SAID: dict[str, dict[str, str]] = {
    "wall": {"length": "30 ft", "height": "12 ft"},
    "building": {"outline": "400, 0; 430, 0; 430, 20; 400, 20", "height": "14 ft", "name": "Shed"},
    "walk": {"along": "pad-west", "width": "4 ft", "material": "concrete"},
    "surface": {"use": "drive", "outline": "300, 0; 320, 0; 320, 20", "material": "asphalt"},
    "stalls": {"count": "4", "at": "300, -50", "toward": "98 deg", "width": "9 ft", "length": "18 ft"},
    "drain": {"at": "12 m, -20 ft", "leads_to": "sanitary"},
    "planting": {"kind": "hedge", "outline": "300, 40; 310, 40; 310, 42", "height": "3 ft"},
    "gum": {"surface": "pad-walk", "at": "200, 0; 201, 1"},
    "marking": {"kind": "line", "path": "300, -20; 320, -20", "width": "4 in", "colour": "white"},
    "post": {"at": "200, -6", "size": "6 in", "height": "3 ft"},
    "tap": {"at": "250, 20", "flow": "5 gal/min"},
    "rig": {"at": "300, -70"},
    "parked": {"outline": "300, -90; 310, -90; 310, -100", "height": "5 ft"},
    "fence": {"path": "300, 60; 340, 60", "height": "6 ft"},
    "neighbour": {"outline": "500, 0; 510, 0; 510, 10", "what": "a garden"},
    "keep-out": {"outline": "150, -12; 152, -12; 152, -14", "reason": "a pit"},
    "line": {"start": "0, 90 ft, 22 ft", "end": "60, 90 ft, 22 ft"},
    "eye": {"kind": "walk", "path": "0, -20; 100, -20", "height": "5 ft 3 in", "per_day": "40"},
    "opening": {"kind": "vent", "on": "row-back", "left": "3 ft", "width": "2 ft", "bottom": "8 ft", "height": "1 ft"},
    "door": {"on": "row-back", "left": "20 ft", "width": "3 ft", "height": "7 ft", "swing": "in"},
    "projection": {"kind": "pipe", "on": "row-back", "left": "50 ft", "width": "4 in", "bottom": "0", "height": "18 ft",
                   "depth": "4 in"},
    "fixture": {"kind": "camera", "on": "row-back", "left": "70 ft", "height": "12 ft"},
    "soiling": {"kind": "rust", "on": "row-back", "left": "80 ft", "width": "3 ft", "bottom": "2 ft", "top": "6 ft"},
    "ground-soiling": {"kind": "oil", "on": "pad-walk", "degree": "heavy"},
}  # fmt: skip


def test_every_sentence_can_be_written_down_and_taken_back(live_world: World, page_at: Callable[..., Any]) -> None:
    """All that the page offers is taken by the reader as typed; undone one by one, the document is what it was."""
    record = live_world.larkspur
    before = tree_of(record)
    page = opened(page_at(DESK), record)
    slugs = page.locator("[name=slug] option").evaluate_all("all => all.map(each => each.value)")
    assert sorted(slugs) == sorted(SAID)
    for slug in slugs:
        page.locator("[name=slug]").select_option(slug)
        write(page, **SAID[slug])
        assert page.locator("[data-wrong]").inner_text() == "", slug
        assert page.locator("[data-status]").inner_text().startswith("Written down"), slug
    assert record.operations.count() == len(SAID)
    for _ in slugs:
        page.wait_for_selector("[data-undo]:not([disabled])")
        with page.expect_response("**/operations/"):
            page.locator("[data-undo]").click()
    page.wait_for_selector("[data-undo][disabled]")
    assert tree_of(record) == before


def test_a_row_of_stalls_is_counted_by_its_width(live_world: World, page_at: Callable[..., Any]) -> None:
    """A run drawn from left to right has the bearing 90 deg + 8 deg, since the sheet's up is at 8 deg."""
    page = opened(page_at(DESK), live_world.larkspur)
    form = page.locator("[data-sentence]")
    form.locator("[name=slug]").select_option("stalls")
    form.locator("[name=width]").fill("10 ft")
    box = page.locator("[data-board=plan]").bounding_box()
    assert box is not None
    y = box["y"] + box["height"] - 30
    page.mouse.move(box["x"] + 40, y)
    page.mouse.down()
    page.mouse.move(box["x"] + 240, y, steps=5)
    page.mouse.up()
    assert form.locator("[name=toward]").input_value() == "98 deg"
    assert int(form.locator("[name=count]").input_value()) > 3


def test_a_stepped_top_takes_the_place_of_a_height(live_world: World, page_at: Callable[..., Any]) -> None:
    record = live_world.larkspur
    page = opened(page_at(DESK), record)
    form = page.locator("[data-sentence]")
    form.locator("[name=verb]").select_option("change")
    form.locator("[name=element]").select_option("row-back")
    form.locator("[data-more] summary").click()
    write(page, profile="0, 20 ft; 80 ft, 20 ft; 80 ft, 22 ft; 160 ft, 22 ft")
    wall = next(each for each in tree_of(record)["walls"] if each["id"] == "row-back")
    assert "height" not in wall
    assert wall["profile"][2] == {"left": "80 ft", "height": "22 ft"}
