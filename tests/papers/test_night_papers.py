"""The clock list, the timeline's drawing and the money charts, held against the plan that they show.

Sources: W3C, "Scalable Vector Graphics (SVG) 2", 2018 (published); lengths on the tape and places on the plot by
proportion (closed form).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from sightwash.basis.sources import Why
from sightwash.papers.clock_list import clock_list, merged
from sightwash.papers.drawings.money import PLOT, chance_drawing, money_drawing, round_step
from sightwash.papers.drawings.timeline import HOUR, timeline_drawing
from sightwash.planning.night_entries import NightSpan, TimelineEntry
from sightwash.planning.price import Price
from sightwash.planning.price_risk import MoneyShare, PriceChance
from sightwash.planning.relaxations import Relaxation
from sightwash.planning.timeline import Timeline
from sightwash.site.model import Site
from sightwash.site.site_file import document_from
from sightwash.site.tree import parse

NAMESPACE = "{http://www.w3.org/2000/svg}"
NINE = datetime(2026, 7, 11, 21, 0)
SITE = document_from(
    parse("kind: site\nschema: 1\nid: s\nname: Shop <&>\nwalls: [{id: front, length: 60, height: 12}]\n", "s.yaml"),
    "site",
)


def entry(person: int, start: int, end: int, action: str, left: float = 0.0, right: float = 0.0, machine: bool = False,
          words: str = "") -> TimelineEntry:  # fmt: skip
    at, until = NINE + timedelta(minutes=start), NINE + timedelta(minutes=end)
    along = "front" if right > left else ""
    said = words or f"{action} the front"
    return TimelineEntry(person, 1, at, until, action, said, "front", along, left, right, machine, machine, True,
                         f"{action}-{start}")  # fmt: skip


ENTRIES = (
    entry(1, -20, 0, "drive"), entry(1, 0, 30, "set up"), entry(1, 30, 45, "treat", 0.0, 9.0, True),
    entry(1, 45, 60, "treat", 9.0, 18.0, True), entry(1, 60, 90, "break"), entry(1, 90, 120, "rinse", 0.0, 18.0, True),
    entry(2, -20, 0, "drive"), entry(2, 0, 30, "set up"), entry(2, 30, 60, "mind"), entry(2, 60, 90, "break"),
    entry(2, 90, 120, "rinse glass", 0.0, 18.0),
)  # fmt: skip
SPAN = NightSpan(1, NINE - timedelta(minutes=20), NINE, NINE + timedelta(minutes=120), NINE + timedelta(minutes=140),
                 NINE + timedelta(hours=8), "the stated end", 7200.0, 9600.0, 3600.0)  # fmt: skip
TIMELINE = Timeline(
    True, (), (), 2, 1, (SPAN,), ENTRIES, SPAN.ends, SPAN.ends, 0.0, True, 0, (), None, (), (),
)  # fmt: skip


def texts(svg: str) -> list[str]:
    return [each.text or "" for each in ElementTree.fromstring(svg).iter(f"{NAMESPACE}text")]


def test_clock_list_names_each_person_with_their_times() -> None:
    words = clock_list(TIMELINE)
    assert "NIGHT 1   Saturday 11 July 2026   on site 21:00 to 23:00, home 23:20; shift 2.7 h" in words
    assert words.count("Person ") == 2
    assert "21:30-22:00  treat the front, first 59 ft" in words
    assert "(MQ)" in words
    assert "no plan under these rules ends sooner" in words
    assert max(len(line) for line in words.splitlines()) <= 100


def test_neighbouring_stretches_become_one_line_and_no_time_is_lost() -> None:
    own = [each for each in ENTRIES if each.person == 1]
    found = merged(own)
    assert len(found) == len(own) - 1
    assert sum((each.end - each.start for each in found), timedelta()) == sum(
        (each.end - each.start for each in own), timedelta()
    )


def test_what_must_be_agreed_stands_on_top() -> None:
    tried = (Relaxation(("one more night",), True, 2, 0.0, "one more night, 2 in all"),
             Relaxation(("one more person",), False, 1, 600.0, "one more person: still 10 min short"))  # fmt: skip
    asked = replace(TIMELINE, holds=False, asks=("one more night",), reasons=("too short",), relaxations=tried)
    lines = clock_list(asked).splitlines()
    assert lines.index("Only if this is agreed first:") < lines.index("Person 1")
    assert any("still 10 min short" in line for line in lines)


def test_drawing_runs_downward_at_one_scale_and_escapes_names() -> None:
    assert isinstance(SITE, Site)
    svg = timeline_drawing(SITE, TIMELINE)
    root = ElementTree.fromstring(svg)
    assert "Shop <&>: who is where, when" in texts(svg)
    people = [each for each in root.iter(f"{NAMESPACE}g") if each.get("class") == "person"]
    assert [each.get("data-person") for each in people] == ["1", "2"]
    heavy = [path for path in people[0].iter(f"{NAMESPACE}path") if float(path.get("stroke-width", "0")) > 2.0]
    assert len(heavy) == 3
    for path, minutes in zip(heavy, (15, 15, 30), strict=True):
        (_, top), (_, bottom) = [tuple(map(float, p.split())) for p in (path.get("d") or "")[1:].split("L")]
        assert bottom - top == pytest.approx(minutes / 60 * HOUR, abs=0.01)


def test_no_timeline_is_said() -> None:
    assert isinstance(SITE, Site)
    empty = replace(TIMELINE, nights=(), entries=(), finish=None, bound=None, gap=None)
    assert any("no timeline" in words for words in texts(timeline_drawing(SITE, empty)))


def test_the_tape_is_cut_in_proportion() -> None:
    shares = (MoneyShare("a", "labour", Decimal("600.00"), 0.6), MoneyShare("b", "bleach", Decimal("10.00"), 0.01),
              MoneyShare("c", "margin", Decimal("390.00"), 0.39))  # fmt: skip
    svg = money_drawing(shares, "USD")
    boxes = [each for each in ElementTree.fromstring(svg).iter(f"{NAMESPACE}rect") if each.get("stroke")]
    widths = [float(each.get("width", "0")) for each in boxes]
    assert widths[0] / widths[2] == pytest.approx(600 / 390, rel=1e-3)
    assert sum(widths) == pytest.approx(448.0, abs=0.01)
    assert "Where 1,000.00 USD goes" in texts(svg)
    assert {"60.0%", "1.0%", "39.0%"} <= set(texts(svg))


def price(chance: float) -> Price:
    return Price(
        "USD", (), Decimal(800), Decimal(750), Decimal(400), "32%", "47.1%", Decimal(200), False, Decimal(1000), (),
        Decimal(1000), (), Decimal(900), Decimal(1100), chance, (Why("given"),),
    )  # fmt: skip


def test_the_planned_price_is_marked_where_its_chance_is() -> None:
    chances = tuple(
        PriceChance(Decimal(p), Decimal(0), 0.0, 0.0, c) for p, c in ((500, 0.9), (750, 0.5), (1000, 0.04), (1500, 0.0))
    )
    svg = chance_drawing(price(0.04), chances)
    (disc,) = ElementTree.fromstring(svg).iter(f"{NAMESPACE}circle")
    left, top, width, height = PLOT
    assert float(disc.get("cx", "0")) == pytest.approx(left + width / 2, abs=0.01)
    assert float(disc.get("cy", "0")) == pytest.approx(top + height * (1 - 0.04 / 0.9), abs=0.01)
    assert "planned, 4.0%" in texts(svg)
    assert "planned, under 0.1%" in texts(chance_drawing(price(0.0), chances))


@pytest.mark.parametrize(("least", "step"), [(424, 500), (0.03, 0.05), (1.0, 1.0), (101, 200), (0, 1)])
def test_round_steps(least: float, step: float) -> None:
    assert round_step(least) == pytest.approx(step)


def test_only_black_white_and_grey() -> None:
    assert isinstance(SITE, Site)
    drawings = (timeline_drawing(SITE, TIMELINE), money_drawing((MoneyShare("a", "all", Decimal(1), 1.0),), "USD"))
    for svg in drawings:
        inks = {each.get(key) for each in ElementTree.fromstring(svg).iter() for key in ("fill", "stroke")}
        for ink in inks - {None, "none"}:
            assert ink is not None
            assert ink.startswith("#")
            assert len({ink[1:3], ink[3:5], ink[5:7]}) == 1
