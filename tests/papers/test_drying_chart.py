"""The drying chart: bars as high as the sections they stand for, hatches by sun and dark, the same bytes each time.

Sources: W3C, "Scalable Vector Graphics (SVG) 2", 2018 (published): rectangles and pattern references; proportion of a
bar to the section it shows (closed form).
"""

from __future__ import annotations

import dataclasses
import json
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import pytest

from sightwash.papers.drawings.drying_chart import BAR, drying_chart
from sightwash.planning.drying_clock import DryingClock, plan_drying_clock
from sightwash.planning.methods import plan_methods
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.planning.weather import plan_air
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
DAY = ("88 F, 50 %, wind 6 mph, clear, rain 10 %", "08:00", "19:00", date(2026, 7, 11))
NIGHT = ("45 F, 75 %, wind 3 mph, rain 10 %, coldest 38 F", "21:00", "05:00", date(2026, 11, 14))
SITE = read_document(DEMO / "site.yaml", "site")
assert isinstance(SITE, Site)


def clock(weather: str, start: str, end: str, on: date) -> DryingClock:
    tree = {"kind": "conditions", "schema": 1, "id": "c", "start": start, "end": end, "weather": weather}
    when = document_from(parse(json.dumps(tree), "c.json"), "conditions")
    assert isinstance(SITE, Site)
    assert isinstance(when, Conditions)
    rig, rates = read_document(DEMO / "rig.yaml"), read_document(DEMO / "rates.yaml")
    walls = placed_walls(SITE)
    offs = tuple(plan_wall_takeoff(wall) for wall in walls)
    methods = tuple(
        method
        for wall, off in zip(walls, offs, strict=True)
        for method in plan_methods(wall, off, rig, plan_air(when))  # type: ignore[arg-type]
    )
    return plan_drying_clock(SITE, walls, solids(SITE, walls), offs, methods, rates, when, on)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def clocks() -> list[tuple[str, DryingClock]]:
    return [("July by day", clock(*DAY)), ("November by night", clock(*NIGHT))]


def cells(text: str) -> list[ElementTree.Element]:
    return [g for g in ElementTree.fromstring(text).iter(f"{NAMESPACE}g") if g.get("class") == "hour"]


def test_one_cell_a_wall_and_hour_as_high_as_its_section(clocks: list[tuple[str, DryingClock]]) -> None:
    assert isinstance(SITE, Site)
    found = cells(drying_chart(SITE, clocks))
    hours = [(wall, hour) for _, each in clocks for wall in each.walls for hour in wall.hours]
    assert len(found) == len(hours)
    for cell, (wall, hour) in zip(found, hours, strict=True):
        boxes = cell.findall(f"{NAMESPACE}rect")
        height = sum(float(box.get("height", "0")) for box in boxes)
        assert height == pytest.approx(BAR * hour.section / wall.length, abs=0.06)
        words = cell.findall(f"{NAMESPACE}text")[0].text
        feet = hour.section / 0.3048
        assert words == (f"{feet:.0f}" if feet >= 0.5 else "-")


def test_hatches_by_sun_and_dark(clocks: list[tuple[str, DryingClock]]) -> None:
    assert isinstance(SITE, Site)
    (_, july), (_, november) = clocks
    day = cells(drying_chart(SITE, clocks[:1]))
    fills = {box.get("fill") for cell in day for box in cell.findall(f"{NAMESPACE}rect")}
    assert fills == {"#ffffff", "url(#drying-sun)"}
    night = cells(drying_chart(SITE, clocks[1:]))
    assert {box.get("fill") for cell in night for box in cell.findall(f"{NAMESPACE}rect")} == {"#ececec"}
    assert any(hour.avoid for wall in july.walls for hour in wall.hours)
    assert all(hour.dark for hour in november.hours)


def test_it_stays_black_and_white_while_all_is_go(clocks: list[tuple[str, DryingClock]]) -> None:
    assert isinstance(SITE, Site)
    text = drying_chart(SITE, clocks)
    assert "#a4260e" not in text, "the accent is for what needs a decision"
    stopped = clock("45 F, 75 %, wind 3 mph, rain 90 %", *NIGHT[1:])
    assert "#a4260e" in drying_chart(SITE, [("rain", stopped)])


def test_the_same_clocks_give_the_same_bytes(clocks: list[tuple[str, DryingClock]]) -> None:
    assert isinstance(SITE, Site)
    assert drying_chart(SITE, clocks) == drying_chart(SITE, clocks)


def test_no_clock_and_no_wall_draw_too(clocks: list[tuple[str, DryingClock]]) -> None:
    assert isinstance(SITE, Site)
    assert ElementTree.fromstring(drying_chart(SITE, []))
    bare = dataclasses.replace(clocks[0][1], walls=(), order=())
    assert "no wall is treated" in drying_chart(SITE, [("nothing", bare)])
