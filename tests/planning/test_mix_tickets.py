"""Mix tickets against published dilutions and against what was poured, counted again drop by drop.

Sources: Washington State Department of Health, publication 970-216, 2015 (published): 3 tablespoons of 5.25 to 6.25 %
bleach in a gallon of water for 600 to 800 ppm; WHO, Infection prevention and control of epidemic- and pandemic-prone
acute respiratory infections, 2014, Annex G, Table G.1 (published): 5 % to 0.05 % is 1 part to 99 of water; 49 CFR 173.6
and PHMSA interpretation 10-0265 (published): 440 lb gross, 43.3 gal of stock of specific gravity 1.16 at 5 % tare,
vessels of 30 L; Washington Administrative Code 296-800-15030 (published): 0.4 gal/min for 15 minutes; conservation of
chlorine and volume (closed form); 4 qt and 128 fl oz a gallon, NIST Handbook 44, appendix C (published).
"""

from __future__ import annotations

import dataclasses
import re
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.planning.bleach import BleachToday, plan_bleach
from sightwash.planning.mix_tickets import MixTickets, plan_mix_tickets
from sightwash.planning.mix_ways import Way, mix_ways
from sightwash.planning.mixes import Mix
from sightwash.planning.pouring import measured, measured_words, pours
from sightwash.planning.stock_load import plan_stock_load
from sightwash.planning.visit import VisitPlan
from sightwash.site.rig import Rig
from sightwash.site.site_file import Document

VISIT = date(2026, 7, 11)
GALLON = 3.785411784
OUNCE = GALLON / 128


def mix_of(strength: float, volume: float, stock: float = 125_000.0) -> Mix:
    liquor = volume * strength / stock
    return Mix(
        "mix", strength, volume, liquor, volume - liquor, volume / 128, stock / strength - 1, stock,
        strength * volume * 1e-6, "batch tank", strength, strength, (), (),
    )  # fmt: skip


@pytest.fixture(scope="session")
def stock(make: Any) -> BleachToday:
    """Fresh stock of 125 g/L."""
    bleach = {"strength": "125 g/L", "dated": "2026-07-11", "specific_gravity": 1.16, "volume": "45 gal"}
    found = plan_bleach(make("rig", bleach=bleach).bleach, VISIT)
    assert found is not None
    return found


def ways(make: Any, stock: BleachToday, mix: Mix, **rig: Any) -> dict[str, Way]:
    return {way.by: way for way in mix_ways(mix, stock, (), make("rig", **rig), "us")}


def tally(way: Way) -> tuple[float, float]:
    """Litres of stock and litres of everything that a way pours."""
    parts = [*way.each * way.times, *way.last]
    return sum(p.volume for p in parts if p.what == "bleach"), sum(p.volume for p in parts)


def ounces(words: str) -> float:
    """Fluid ounces that a measure's words say."""
    sizes = {"gal": 128.0, "qt": 32.0, "fl oz": 1.0}
    return sum(float(number) * sizes[unit] for number, unit in re.findall(r"([\d.]+) (gal|qt|fl oz)", words))


@given(st.floats(0.001, 600.0))
def test_measures_say_what_is_poured(volume: float) -> None:
    found = measured(volume, "us")
    if found:
        assert ounces(measured_words(found, "us")) == pytest.approx(found / OUNCE, abs=1e-6)
    assert abs(found - volume) <= max(0.25 * OUNCE, 0.03 * volume, 8 * OUNCE * (volume > 5 * GALLON)) + 1e-9


def test_three_tablespoons_a_gallon() -> None:
    """A tablespoon is half a fluid ounce: 700 ppm from 5.75 % of 1.07 specific gravity, 58.6 g/L of chlorine."""
    share = 700.0 / 58_600.0
    poured = pours((("water", GALLON * (1 - share)), ("bleach", GALLON * share)), "us")
    assert [part.words for part in poured] == ["3 qt 30 fl oz", "1.5 fl oz"]


def test_one_part_to_ninety_nine(make: Any) -> None:
    rig = make("rig", bleach={"strength": "50 g/L", "dated": "2026-07-11"})
    weak = plan_bleach(rig.bleach, VISIT)
    assert weak is not None
    way = next(mix_ways(mix_of(500.0, 50 * GALLON, 50_000.0), weak, (), make("rig"), "us"))
    assert "99 parts water" in way.why.rule


def test_water_first_then_bleach_then_surfactant(make: Any, stock: BleachToday) -> None:
    way = ways(make, stock, mix_of(10_000.0, 60 * GALLON), tanks=[{"id": "b", "volume": "25 gal", "holds": "mix"}])
    batch = way["batch tank"]
    assert (batch.times, batch.vessel) == (2, pytest.approx(25 * GALLON))
    assert [part.what for part in batch.each] == ["water", "bleach", "surfactant"]
    assert batch.each[1].words == "2 gal", "25 gal at 1 % from 12.5 %: 8 % of it"
    assert tally(batch)[1] == pytest.approx(60 * GALLON, rel=0.01)


STRENGTHS = st.floats(2_000.0, 60_000.0)
VOLUMES = st.floats(2.0, 900.0)


@given(STRENGTHS, VOLUMES)
def test_chlorine_is_conserved_from_drum_to_wall(make: Any, stock: BleachToday, strength: float, volume: float) -> None:
    """Counted again from the pours: what left the drum is what is in the mix, within the marks of the measures."""
    rig = {
        "tanks": [{"id": "b", "volume": "50 gal", "holds": "mix"}],
        "proportioner": {"highest_share": "60 %", "marks": 0},
        "injector": {"draw": "3 gal/min", "total": "5.5 gal/min"},
    }
    for way in ways(make, stock, mix_of(strength, volume), **rig).values():
        if not way.possible:
            continue
        liquor, poured = tally(way)
        whole = poured if way.by != "downstream injector" else poured * 5.5 / 3.0
        assert liquor * stock.likely == pytest.approx(strength * volume, rel=0.05, abs=0.5 * OUNCE * stock.likely)
        if way.times == 0 and way.by != "proportioner":
            assert liquor * stock.likely == pytest.approx(way.strength * whole, rel=1e-9)


def test_a_ten_to_one_injector_cannot_make_two_percent(make: Any, stock: BleachToday) -> None:
    """One part to ten of water: 12.5 / 11 = 1.136 %."""
    injector = {"draw": "0.5 gal/min", "total": "5.5 gal/min"}
    way = ways(make, stock, mix_of(20_000.0, 40.0), injector=injector)["downstream injector"]
    assert not way.possible
    assert way.cannot is not None
    assert "12.5 % stock through a 10:1 injector cannot make 2 %: 1.14 % at most" in way.cannot
    assert "no stock is strong enough" in way.cannot
    batch = ways(make, stock, mix_of(20_000.0, 40.0), injector=injector)["batch tank"]
    assert batch.possible


def test_injector_with_cut_stock(make: Any, stock: BleachToday) -> None:
    """0.5 % at one to ten needs stock of 5.5 %: 44 % of the jug is bleach."""
    injector = {"draw": "0.5 gal/min", "total": "5.5 gal/min"}
    way = ways(make, stock, mix_of(5_000.0, 55 * GALLON), injector=injector)["downstream injector"]
    assert way.possible
    assert way.vessel == pytest.approx(5 * GALLON)
    assert tally(way)[0] == pytest.approx(0.44 * 5 * GALLON, rel=0.01)
    assert "cut to 5.50 %" in way.words
    assert way.strength == pytest.approx(5_000.0, rel=0.01)


def test_an_injector_does_not_draw_above_its_pressure(demo_plan: VisitPlan, demo: dict[str, Document]) -> None:
    rig = demo["rig"]
    assert isinstance(rig, Rig)
    pressed = {m.treat.pump_pressure for m in demo_plan.methods if m.treat is not None}
    limit = min(pressed) * 0.9
    injector = type(rig.injector)(rig.injector.draw, rig.injector.total, limit)  # type: ignore[union-attr, misc]
    mix = demo_plan.mixes.mixes[0]
    assert demo_plan.bleach is not None
    found = {
        way.by: way
        for way in mix_ways(mix, demo_plan.bleach, demo_plan.methods, dataclasses.replace(rig, injector=injector), "us")
    }
    cannot = found["downstream injector"].cannot
    assert cannot is not None
    assert "does not draw" in cannot


def test_proportioner_by_its_marks(make: Any, stock: BleachToday) -> None:
    """1 % from 12.5 % is 8 % stock: mark 1.6 of 10 at 50 % full; the nearest half mark is 1.5, 0.94 %."""
    way = ways(make, stock, mix_of(10_000.0, 100.0), proportioner={"highest_share": "50 %"})["proportioner"]
    assert "stock valve at 1.5 of 10" in way.words
    assert way.strength == pytest.approx(125_000.0 * 0.075)
    weak = ways(make, stock, mix_of(60_000.0, 100.0), proportioner={"highest_share": "30 %"})["proportioner"]
    assert weak.cannot is not None


def test_load_and_its_carriage(stock: BleachToday) -> None:
    light = plan_stock_load((mix_of(10_000.0, 100 * GALLON),), stock)
    assert light.needed == pytest.approx(8 * GALLON)
    assert light.load == pytest.approx(8 * 1.15 * GALLON, abs=0.07 * GALLON)
    assert light.carried_limit / GALLON == pytest.approx(43.3, abs=0.1)
    assert light.within_limit
    assert light.packages == 2, "30 L each"
    heavy = plan_stock_load((mix_of(25_000.0, 300 * GALLON),), stock)
    assert not heavy.within_limit
    assert any("full carriage rules" in words for words in heavy.words)
    assert heavy.short_of > 0.0


def test_cautions_follow_the_strength(demo_plan: VisitPlan, demo: dict[str, Document]) -> None:
    found = tickets(demo_plan, demo)
    strong = max(found.tickets, key=lambda ticket: ticket.strength)
    stock_words = " ".join(c.words for c in strong.stock_cautions)
    assert "burns skin and eyes" in stock_words
    for ticket in found.tickets:
        words = " ".join(c.words for c in ticket.cautions)
        assert "6 gal" in words, "0.4 gal/min for 15 minutes"
        assert ("Stronger than published" in words) == (ticket.strength > 15_000.0)


def tickets(plan: VisitPlan, documents: dict[str, Document]) -> MixTickets:
    return plan_mix_tickets(
        documents["site"],
        documents["rig"],
        plan.methods,
        plan.mixes,
        plan.bleach,  # type: ignore[arg-type]
    )


def test_demo_tickets(demo_plan: VisitPlan, demo: dict[str, Document]) -> None:
    found = tickets(demo_plan, demo)
    assert [ticket.id for ticket in found.tickets] == [mix.id for mix in demo_plan.mixes.mixes]
    for ticket in found.tickets:
        assert ticket.ways[0].by == ticket.chosen
        assert ticket.ways[0].possible
        assert sum(d.volume for d in ticket.demand) * (1 + ticket.waste) == pytest.approx(ticket.volume, rel=1e-6)
    names = {item.id for item in found.incompatible}
    assert {"acids", "ammonia", "hot-water", "metals"} <= names, "the demo rig heats, the demo site has metal"
    wrong = {item.material for item in found.wrong_surfaces}
    assert wrong == {"eifs", "painted metal", "glass", "fabric"}


def test_no_ticket_promises_more_than_clean(demo_plan: VisitPlan, demo: dict[str, Document]) -> None:
    text = repr(tickets(demo_plan, demo)).lower()
    assert not re.search(r"\bkill|disinfect|sanitiz|steriliz|will not return", text)


def test_without_bleach_nothing_is_poured(make: Any) -> None:
    plan = make.visit()
    found = plan_mix_tickets(make("site"), make("rig"), plan.methods, plan.mixes, None)
    assert (found.tickets, found.load) == ((), None)
    assert found.cannot
