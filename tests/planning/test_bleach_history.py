"""The strength of the stock on the day: temperature histories, tests of the stock, refusals.

Source: L. C. Adam and G. Gordon, Inorganic Chemistry 38(6), 1999, 1299-1304 (published): the rate law, summed here by
hand over a history; 125 g/L kept 10 days at 70 F and 20 days at 95 F is 86.09 g/L at the rate as published, and
103.85 g/L after 30 days at 80 F (worked from the law apart from this package).
"""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.planning.bleach import BleachToday, plan_bleach
from sightwash.site.rig import Rig
from sightwash.site.site_file import document_from, document_text
from sightwash.site.tree import parse

MADE = date(2026, 6, 11)
VISIT = date(2026, 7, 11)


def bleach(make: Any, on: date = VISIT, **more: Any) -> BleachToday:
    rig = make("rig", bleach={"strength": "125 g/L", "dated": str(MADE), "specific_gravity": 1.16, **more})
    found = plan_bleach(rig.bleach, on)
    assert found is not None
    return found


def fahrenheit(value: float) -> str:
    return f"{value} F"


def test_constant_month_at_80_f(make: Any) -> None:
    assert bleach(make, storage_temperature="80 F").high == pytest.approx(103_850.0, rel=0.001)


def test_ten_days_cool_and_twenty_hot_by_day(make: Any) -> None:
    days = [
        {"date": str(MADE + timedelta(days=k)), "low": fahrenheit(t), "high": fahrenheit(t)}
        for k, t in enumerate([70] * 10 + [95] * 20)
    ]
    found = bleach(make, storage_days=days)
    assert found.high == pytest.approx(86_090.0, rel=0.001)
    assert not found.assumed
    assert "30 days by day" in found.history


def test_months_with_equal_ends_are_a_constant(make: Any) -> None:
    months = [{"month": month, "low": "80 F", "high": "80 F"} for month in (6, 7)]
    assert bleach(make, storage_months=months).likely == pytest.approx(
        bleach(make, storage_temperature="80 F").likely, rel=1e-9
    )


def test_a_swing_costs_more_than_its_mean(make: Any) -> None:
    """The rate rises faster than in proportion, so that hot afternoons outweigh cool nights."""
    months = [{"month": month, "low": "60 F", "high": "100 F"} for month in (6, 7)]
    swung = bleach(make, storage_months=months)
    assert swung.likely < bleach(make, storage_temperature="80 F").likely
    assert swung.storage_temperature == pytest.approx((80 - 32) / 1.8)


def test_days_go_before_months_and_months_before_one_figure(make: Any) -> None:
    days = [{"date": "2026-07-01", "low": "70 F", "high": "90 F"}]
    months = [{"month": 7, "low": "60 F", "high": "80 F"}]
    found = bleach(make, storage_days=days, storage_months=months, storage_temperature="75 F")
    assert found.history == "temperature known 1 day by day, 9 days by month, 20 days by one figure"


def test_a_titration_replaces_the_estimate_and_is_kept(make: Any) -> None:
    reading = {"strength": "9.8 trade %", "date": str(VISIT), "by": "titration"}
    found = bleach(make, storage_temperature="84 F", reading=reading)
    assert found.likely == 98_000.0
    assert (found.low, found.high) == (pytest.approx(98_000 * 0.98), pytest.approx(98_000 * 1.02))
    assert found.reading is not None
    assert (found.reading.typed, found.reading.by) == ("9.8 trade %", "titration")
    assert found.estimate != found.likely
    assert "replaces the estimate" in found.why.rule


def test_after_the_test_the_law_runs_on_with_the_salt_of_the_stock_as_made(make: Any) -> None:
    """By hand: 98 g/L for ten days at 80 F, ionic strength 3.626 as made, rate x 1.3."""
    reading = {"strength": "98 g/L", "date": str(VISIT - timedelta(days=10)), "error": "0 %"}
    found = bleach(make, storage_temperature="80 F", reading=reading)
    kelvin = (80 - 32) / 1.8 + 273.15
    k = 10 ** (0.149 * (2 * 125 / 70.906 + 0.1)) * 2.083e10 * kelvin
    k *= math.exp(-1.018e5 / (8.314462618 * kelvin) - 56.5 / 8.314462618)
    expected = 98_000.0 / (1.0 + 1.3 * k * 98 / 70.906 * 10 * 86_400)
    assert found.likely == pytest.approx(expected, rel=1e-6)


def test_the_same_stock_in_other_terms(make: Any) -> None:
    """125 g/L at a specific gravity of 1.16 is 12.5 trade %, 10.78 wt % chlorine and 11.31 wt % hypochlorite."""
    for typed in ("12.5 trade %", "10.776 wt % chlorine", "11.313 wt % hypochlorite"):
        found = bleach(make, storage_temperature="80 F", strength=typed)
        assert found.labelled == pytest.approx(125_000.0, rel=2e-4)


def test_what_lies_beyond_the_law_is_said(make: Any) -> None:
    assert bleach(make, storage_temperature="40 F").beyond
    assert not bleach(make, storage_temperature="80 F").beyond


@given(st.lists(st.tuples(st.floats(20.0, 120.0), st.floats(0.0, 30.0)), min_size=30, max_size=30), st.integers(0, 29))
def test_more_heat_never_slows_the_loss(make: Any, temperatures: list[tuple[float, float]], hotter: int) -> None:
    def strength(rises: list[float]) -> tuple[float, float, float]:
        days = [
            {"date": str(MADE + timedelta(days=k)), "low": fahrenheit(low + r), "high": fahrenheit(low + r + swing / 2)}
            for k, ((low, swing), r) in enumerate(zip(temperatures, rises, strict=True))
        ]
        found = bleach(make, storage_days=days)
        return found.low, found.likely, found.high

    plain = strength([0.0] * 30)
    warmed = strength([5.0 if k == hotter else 0.0 for k in range(30)])
    assert all(hot <= cold * (1.0 + 1e-12) for hot, cold in zip(warmed, plain, strict=True))


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"dated": "2026-07-12"}, "dated-after-visit"),
        ({"reading": {"strength": "98 g/L", "date": "2026-07-12"}}, "dated-after-visit"),
    ],
)
def test_a_date_in_the_future_is_refused(make: Any, more: dict[str, Any], code: str) -> None:
    with pytest.raises(InputError) as caught:
        bleach(make, **more)
    problem = caught.value.problems[0]
    assert problem.code == code
    assert problem.key


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"strength": "12.5 %"}, "strength-without-term"),
        ({"strength": "30 trade %"}, "out-of-range"),
        ({"reading": {"strength": "98", "date": "2026-07-01"}}, "strength-without-term"),
        ({"reading": {"strength": "98 g/L", "date": "2026-06-01"}}, "reading-before-bleach"),
        ({"storage_temperature": "-40 F"}, "out-of-range"),
        ({"storage_temperature": "200 F"}, "out-of-range"),
        ({"storage_months": [{"month": 13, "low": "70 F", "high": "80 F"}]}, "no-month"),
        ({"storage_months": [{"month": 7, "low": "80 F", "high": "70 F"}]}, "low-above-high"),
        ({"storage_months": [{"month": 7, "low": "60 F", "high": "70 F"}] * 2}, "doubled-month"),
        ({"storage_days": [{"date": "2026-07-01", "low": "-50 F", "high": "70 F"}]}, "out-of-range"),
        ({"storage_days": [{"date": "2026-07-01", "low": "60 F", "high": "70 F"}] * 2}, "doubled-day"),
    ],
)
def test_bad_bleach_is_refused_with_its_place(make: Any, more: dict[str, Any], code: str) -> None:
    with pytest.raises(InputError) as caught:
        bleach(make, **more)
    problem = caught.value.problems[0]
    assert problem.code == code
    assert problem.key is not None
    assert problem.key.startswith("bleach.")


def test_a_rig_with_all_of_it_reads_back_as_itself(make: Any) -> None:
    rig = make(
        "rig",
        bleach={
            "strength": "125 g/L", "reading": {"strength": "9.8 trade %", "date": "2026-07-01", "by": "test strip"},
            "storage_months": [{"month": 7, "low": "60 F", "high": "90 F"}],
            "storage_days": [{"date": "2026-07-01", "low": "61 F", "high": "88 F"}],
        },
        proportioner={"highest_share": "50 %", "flow": "6 gal/min", "marks": 20},
        containment={"berm": "120 ft", "drain_covers": 2, "vacuum": "3 gal/min", "recovered": "70 %"},
    )  # fmt: skip
    assert isinstance(rig, Rig)
    assert document_from(parse(document_text(rig), "again.json"), "rig") == rig
