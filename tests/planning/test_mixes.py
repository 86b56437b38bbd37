"""Bleach on the day and the mixes made from it, held against printed dilutions and a published rate law.

- World Health Organization, Infection prevention and control of epidemic- and pandemic-prone acute respiratory
  infections in health care (2014), Annex G, Table G.1: 5 % to 0.05 % is 1 part in 100, 2.5 % to 0.05 % 2 parts to 98
  (worked example).
- A teaching text on infection prevention: 3.5 % to 0.5 % takes 6 parts of water, 5 % to 0.1 % 49 (worked example).
- L. C. Adam and G. Gordon, Inorganic Chemistry 38(6), 1999: the rate law of the loss of hypochlorite; 125 g/L kept
  30 days at 80 F is then 103.85 g/L (published law, worked out by another hand).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.planning.bleach import BleachToday, plan_bleach
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.mixes import Mixes, plan_mixes
from sightwash.planning.visit import VisitPlan

VISIT = date(2026, 7, 11)
GALLON = 3.785411784


def bleach_of(make: Any, on: date = VISIT, **bleach: Any) -> BleachToday:
    found = plan_bleach(make("rig", bleach={"strength": "12.5 trade %", **bleach}).bleach, on)
    assert found is not None
    return found


def stock_of(make: Any, percent: float) -> BleachToday:
    """Return bleach of a strength on the day, fresh from the maker."""
    return bleach_of(make, strength=f"{percent:g} trade %", dated="2026-07-11", specific_gravity=1.16)


@pytest.fixture(scope="module")
def method(demo_plan: VisitPlan) -> SurfaceMethod:
    return next(m for m in demo_plan.methods if m.strength > 0)


def mixed(
    method: SurfaceMethod, bleach: BleachToday | None, *wanted: tuple[float, float], injector: Any = None
) -> Mixes:
    """Return the mixes for surfaces by strength [mg/L] and volume [L]."""
    methods = tuple(
        replace(method, target=f"wall-{k}", strength=strength, mix_volume=volume)
        for k, (strength, volume) in enumerate(wanted)
    )
    return plan_mixes(methods, bleach, injector)


@pytest.mark.parametrize(
    ("stock", "target", "parts"),
    [(5.0, 0.05, 99.0), (2.5, 0.05, 49.0), (3.5, 0.5, 6.0), (5.0, 0.1, 49.0)],
)
def test_printed_dilutions(make: Any, method: SurfaceMethod, stock: float, target: float, parts: float) -> None:
    (mix,) = mixed(method, stock_of(make, stock), (target * 10_000, 100.0)).mixes
    assert mix.water_parts == pytest.approx(parts, abs=1e-9)
    made = mix.water + mix.surfactant
    assert mix.stock / (mix.stock + made) == pytest.approx(1 / (parts + 1), abs=1e-12)


def test_what_is_poured_adds_up(make: Any, method: SurfaceMethod) -> None:
    """100 L and 10 % for waste of 1 % from 12.5 %: 8.8 L of stock, 1 fl oz of surfactant a gallon."""
    (mix,) = mixed(method, stock_of(make, 12.5), (10_000.0, 100.0)).mixes
    assert mix.volume == pytest.approx(110.0)
    assert mix.stock == pytest.approx(8.8)
    assert mix.surfactant == pytest.approx(110 / 128)
    assert mix.stock + mix.water + mix.surfactant == pytest.approx(110.0)


@settings(max_examples=50)
@given(
    wanted=st.lists(st.tuples(st.sampled_from([5e3, 8e3, 1.25e4, 2.5e4]), st.floats(0.5, 500)), min_size=1, max_size=6),
    stock=st.floats(3.0, 16.0),
)
def test_chlorine_is_conserved(make: Any, method: SurfaceMethod, wanted: Any, stock: float) -> None:
    """The chlorine poured is the chlorine in the mix, and surfaces of one strength share one mix."""
    bleach = stock_of(make, round(stock, 3))
    found = mixed(method, bleach, *wanted)
    strengths = [mix.strength for mix in found.mixes]
    assert strengths == sorted(set(strengths))
    for mix in found.mixes:
        assert mix.stock * bleach.likely == pytest.approx(mix.volume * mix.strength, rel=1e-9)
        assert mix.chlorine == pytest.approx(mix.volume * mix.strength * 1e-6, rel=1e-9)
        assert mix.volume == pytest.approx(1.1 * sum(v for s, v in wanted if s == mix.strength), rel=1e-9)
        assert mix.strength_low <= mix.strength * 1.000001
        assert mix.strength_high >= mix.strength * 0.999999
    assert found.stock == pytest.approx(sum(mix.stock for mix in found.mixes))


def test_what_the_stock_is_too_weak_for(make: Any, method: SurfaceMethod) -> None:
    found = mixed(method, stock_of(make, 2.0), (8_000.0, 10.0), (25_000.0, 10.0))
    assert [mix.strength for mix in found.mixes] == [8_000.0]
    (words,) = found.cannot
    assert "2.50 %" in words


def test_what_an_injector_cannot_make(make: Any, method: SurfaceMethod) -> None:
    """Ten to one: 0.5 of 5.5 gal/min drawn from 12.5 % gives 1.136 % at the wall: 0.8 % it makes, 1.25 % it cannot."""
    injector = make("rig", injector={"draw": "0.5 gal/min", "total": "5.5 gal/min"}).injector
    reach = 12.5 * 0.5 / 5.5
    assert reach == pytest.approx(1.136, abs=5e-4)
    bleach = stock_of(make, 12.5)
    weak, edge, strong = mixed(method, bleach, (8e3, 9.0), (1.1e4, 9.0), (1.25e4, 9.0), injector=injector).mixes
    assert (weak.by, edge.by, strong.by) == ("injector with cut stock", "injector", "batch tank")
    assert "1.14 %" in " ".join(why.rule for why in strong.why)


def test_stock_that_falls_short(make: Any, method: SurfaceMethod) -> None:
    """220 L of 2.5 % from 12.5 % take 44 L; on hand 10 gal."""
    bleach = bleach_of(make, dated="2026-07-11", volume="10 gal")
    found = mixed(method, bleach, (25_000.0, 200.0))
    assert found.stock == pytest.approx(44.0)
    assert found.short_of == pytest.approx(44.0 - 10 * GALLON)


def test_without_bleach_nothing_is_mixed_and_it_is_said(method: SurfaceMethod) -> None:
    found = mixed(method, None, (8_000.0, 10.0))
    assert found.mixes == ()
    assert "no bleach" in found.cannot[0]
    assert mixed(method, None).cannot == ()


def test_strength_after_thirty_days(make: Any) -> None:
    """The upper edge of the band is the law as published: 103.85 g/L; below it the likely and the low strength."""
    found = bleach_of(make, dated="2026-06-11", storage_temperature="80 F", specific_gravity=1.16)
    assert found.labelled == pytest.approx(125_000.0)
    assert found.high == pytest.approx(103_850.0, abs=10.0)
    assert found.low < found.likely < found.high


def test_bleach_dated_today_is_as_its_label_says(make: Any) -> None:
    found = stock_of(make, 12.5)
    assert found.low == found.likely == found.high == pytest.approx(125_000.0)


@pytest.mark.parametrize(
    ("label", "grams"),
    [("12.5 trade %", 125.0), ("125 g/L", 125.0), ("10.0 wt % chlorine", 116.0), ("11.31 wt % hypochlorite", 125.0)],
)
def test_the_terms_of_a_label(make: Any, label: str, grams: float) -> None:
    """At 1.16: 10 % by weight of chlorine is 116 g/L; of hypochlorite 11.31 % is 125 g/L (70.906 / 74.442 of it)."""
    found = bleach_of(make, strength=label, dated="2026-07-11", specific_gravity=1.16)
    assert found.labelled / 1000 == pytest.approx(grams, rel=5e-4)


def test_older_and_warmer_is_weaker(make: Any) -> None:
    def likely(dated: str, stored: str) -> float:
        return bleach_of(make, dated=dated, storage_temperature=stored, specific_gravity=1.16).likely

    assert likely("2026-06-11", "70 F") > likely("2026-05-11", "70 F") > likely("2026-05-11", "90 F")


def test_bleach_of_unknown_age_may_also_be_fresh(make: Any) -> None:
    """As the gap says: a band from fresh to 60 days old."""
    found = bleach_of(make)
    assert found.high == pytest.approx(125_000.0)
    assert found.low < 90_000.0
    assert "60 days old" in found.assumed


def test_salty_stock_is_taken_as_weaker(make: Any) -> None:
    kept = {"dated": "2026-05-11", "storage_temperature": "85 F", "specific_gravity": 1.17}
    assert bleach_of(make, salty=True, **kept).likely < bleach_of(make, **kept).likely


def test_bleach_dated_after_the_visit_is_refused(make: Any) -> None:
    with pytest.raises(InputError) as caught:
        make.visit(rig={"bleach": {"strength": "12.5 trade %", "dated": "2026-07-12"}})
    (problem,) = caught.value.problems
    assert problem.key == "bleach.dated"
    assert "2026-07-12" in problem.message


@pytest.mark.parametrize("label", ["22 trade %", "220 g/L", "22 wt % chlorine"])
def test_bleach_stronger_than_exists_is_refused(make: Any, label: str) -> None:
    with pytest.raises(InputError) as caught:
        make.visit(rig={"bleach": {"strength": label, "specific_gravity": 1.3}})
    assert caught.value.problems[0].key == "bleach.strength"


@pytest.mark.parametrize("stored", ["-22 F", "40 F", "140 F"])
def test_storage_beyond_what_was_measured_is_planned_without_a_python_warning(make: Any, stored: str) -> None:
    found = bleach_of(make, dated="2026-06-11", storage_temperature=stored)
    assert 0 < found.low <= found.likely <= found.high <= 125_000.0 * (1 + 1e-9)


def test_the_demo_mixes(demo_plan: VisitPlan) -> None:
    """Each strength of the methods is mixed once, enough for all of its surfaces and a tenth more."""
    volumes: dict[float, float] = {}
    for m in demo_plan.methods:
        if m.strength > 0:
            volumes[m.strength] = volumes.get(m.strength, 0.0) + m.mix_volume
    found = {mix.strength: mix.volume for mix in demo_plan.mixes.mixes}
    assert found == pytest.approx({strength: 1.1 * volume for strength, volume in volumes.items()})
    assert demo_plan.mixes.cannot == ()
