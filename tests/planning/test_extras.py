"""Add-ons and exclusions: one price in one place, and no words about what is not there.

Sums by hand from the guide specification's 105 ft2 a gallon (UFGS-02763A, section 3: published) and the documents' own
wages; 24.00 an hour, margin 30 %, as the smallest rates have them.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from sightwash.planning.extras import plan_add_ons, plan_exclusions
from sightwash.planning.ground import plan_ground_takeoff
from sightwash.planning.gum import plan_gum
from sightwash.planning.hour_needs import needs
from sightwash.planning.marking import plan_marking
from sightwash.site.shapes import placed_walls

FOOT = 0.3048
KERB = {"id": "kerb", "kind": "kerb", "path": [[0, -20], [100, -20]], "state": "faded"}
BLOCK = {
    "buildings": [{"id": "shop", "outline": [[0, 0], [60, 0], [60, 40], [0, 40]], "height": 16}],
    "walls": [
        {
            "id": "front", "building": "shop", "start": [0, 0], "end": [60, 0], "height": 16,
            "doors": [{"id": "door", "left": 28, "width": 3, "height": 7, "threshold": "0.5 in"}],
        }
    ],
    "surfaces": [{"id": "walk", "along": "front", "width": 10, "material": "concrete"}],
}  # fmt: skip
RIG = {
    "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi", "hot": True},
    "surface_cleaners": [{"id": "twenty", "diameter": "20 in", "edge_gap": "1 in"}],
}


def with_gum(make: Any, *at: tuple[float, float], wash: bool = True, **gum: Any) -> tuple[Any, ...]:
    surfaces = [BLOCK["surfaces"][0] | {"wash": wash}]
    spots = [{"id": "gum", "surface": "walk", "at": [list(p) for p in at], **gum}] if at or gum else []
    site, rig, rates = make("site", **(BLOCK | {"surfaces": surfaces, "gum": spots})), make("rig", **RIG), make("rates")
    walls = placed_walls(site)
    ground = plan_ground_takeoff(site, walls, rig.surface_cleaners[0])
    return site, rig, rates, ground, plan_gum(site, walls, ground, rig, rates)


def excluded(make: Any, *at: tuple[float, float], **more: Any) -> dict[str, str]:
    site, _, _, ground, gum = with_gum(make, *at, **more)
    return {each.id: each.words for each in plan_exclusions(site, ground, (), gum)}


def test_a_faded_kerb_by_hand(make: Any) -> None:
    """100 ft at 200 ft/h are 0.5 h of burdened wage; 50 ft2 of a 6 in face are 50/105 gal at 30.00; over 0.7."""
    rates = make("rates", materials={"marking_paint": "30.00"}, overhead="0 %", margin="30 %", rounding="0.01")
    (add_on,) = plan_add_ons(make("site", markings=[KERB]), (), rates)
    burden = 1.0 + float(rates.labour.burden)
    assert float(add_on.price) == pytest.approx((0.5 * 24.0 * burden + 50.0 / 105.0 * 30.0) / 0.7, abs=0.011)
    assert add_on.hours == pytest.approx(0.5)
    assert add_on.quantity == pytest.approx(100 * FOOT)


def test_one_sum_in_one_place(make: Any) -> None:
    """What is offered costs what the take-off of marking says, and only faded or worn marks are offered."""
    words = {"id": "words", "kind": "letters", "path": [[0, -30], [9, -30]], "text": "NO PARKING", "state": "worn"}
    row = {"id": "row", "at": [0, -40], "toward": 90, "count": 9, "width": 9, "length": 18, "state": "faded"}
    site = make("site", markings=[KERB, words, KERB | {"id": "fresh", "state": "good"}], stalls=[row])
    marking = plan_marking(site, make("rates"))
    priced = {line.id: line.price for line in (*marking.lines, *(each.line for each in marking.stalls))}
    offered = {each.id.split("-", 1)[1]: each.price for each in plan_add_ons(site, (), make("rates"))}
    assert offered == {name: priced[name] for name in ("kerb", "words", "row")}


def test_a_mark_to_be_measured_first_is_not_offered(make: Any) -> None:
    sign = {"id": "sign", "kind": "symbol", "path": [[0, -30], [3, -30]], "state": "faded"}
    assert plan_add_ons(make("site", markings=[sign]), (), make("rates")) == ()


def test_words_about_gum_only_where_it_is_scraped_machined_or_left(make: Any) -> None:
    """4 ft out a jet has bearings, 1 ft out only a scraper; in the open the cleaner takes it; none at all: no word."""
    assert not any("gum" in words for words in excluded(make).values())
    assert not any("gum" in words for words in excluded(make, (29.5, -4.5), (10, -5)).values())
    assert "1 spots by hand" in excluded(make, (29.5, -1.0), (29.5, -4.5))["gum-doors-walk"]
    many = [(28.0 + 0.25 * number, -0.6) for number in range(12)]
    assert "12 spots by low-water machine" in excluded(make, *many)["gum-doors-walk"]
    left = excluded(make, (29.5, -4.5), (10, -5), wash=False)
    assert "about 2 spots" in left["gum-left-walk"]
    assert "gum-doors-walk" not in left


def test_hours_follow_the_way_each_spot_is_taken(make: Any) -> None:
    """One for the scraper, one for a jet, one in the open: two by wand or cleaner, one by hand, none by machine."""
    site, rig, _, ground, _ = with_gum(make, (29.5, -1.0), (29.5, -4.5), (10, -5))
    wanted = {need.work: need for need in needs(site, (), (), ground, (), rig) if need.work.startswith("gum")}
    assert {work: need.quantity for work, need in wanted.items()} == {"gum-wand": 2, "gum-hand": 1, "gum-machine": 0}
    assert [wanted[work].wet for work in ("gum-wand", "gum-hand", "gum-machine")] == [True, False, False]
    many = [(28.0 + 0.25 * number, -0.6) for number in range(12)]
    site, rig, _, ground, _ = with_gum(make, *many)
    wanted = {need.work: need for need in needs(site, (), (), ground, (), rig) if need.work.startswith("gum")}
    assert wanted["gum-machine"].quantity == 12


def test_a_low_water_machine_has_a_rate_that_a_firm_can_replace(make: Any) -> None:
    """80 spots an hour to start with: 45 s each; a firm's own 120: 30 s each."""
    many = [(28.0 + 0.25 * number, -0.6) for number in range(12)]
    site, rig, _, ground, gum = with_gum(make, *many)
    assert [spot.time for spot in gum] == pytest.approx([45.0] * 12)
    own = [{"work": "gum-machine", "low": 100, "usual": 120, "high": 150, "unit": "1/h"}]
    faster = plan_gum(site, placed_walls(site), ground, rig, make("rates", production=own))
    assert [spot.time for spot in faster] == pytest.approx([30.0] * 12)
    assert faster[0].price < gum[0].price


def test_gum_left_out_with_its_surface_is_offered(make: Any) -> None:
    """60 spots an hour by scraper and 150 by wand: one at the door and two in the open are 60 + 48 s."""
    site, _, rates, ground, _ = with_gum(make, (29.5, -1.0), (10, -5), (20, -5), wash=False)
    (add_on,) = [each for each in plan_add_ons(site, ground, rates) if each.id == "gum-gum"]
    assert add_on.hours * 3600.0 == pytest.approx(108.0)
    assert add_on.price > Decimal(0)
