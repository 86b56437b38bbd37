"""Conditions for paint: 5 F above the dew point and rising; no paint when 40 F may come before it is dry.

Source: MIL-HDBK-1110 (UFC 3-190-06), Paints and protective coatings, sections 7.4.1 and 9.6.6 (published).
"""

from dataclasses import replace

import pytest

from sightwash.basis.units import convert
from sightwash.planning.paint_gates import COLDEST, DEW_MARGIN, plan_paint_gates
from sightwash.planning.weather import plan_air
from sightwash.science.vapour import dew_point
from sightwash.site.conditions import Conditions, Weather

MILD = Weather(air_temperature=20.0, humidity=0.5, wind_speed=2.0, rain_chance=0.0, coldest_before_dry=12.0)


def gates(weather):
    air = plan_air(Conditions("conditions", 1, "night", weather=weather))
    return {gate.id: gate for gate in plan_paint_gates(air, weather, None).gates}


def test_margin_and_cold_limit_as_printed():
    assert pytest.approx(5.0) == DEW_MARGIN * 9 / 5
    assert convert(40, "F", "degC") == pytest.approx(COLDEST)


def test_air_within_five_degrees_of_the_dew_point_shuts_the_gate():
    """At 20 degC the dew point of 84 % air is 17.2 degC (Magnus form), 5 F below; moister air is nearer."""
    assert gates(replace(MILD, humidity=0.82))["dew point"].state == "measure"
    assert gates(replace(MILD, humidity=0.86))["dew point"].state == "shut"
    assert 20.0 - dew_point(20.0, 0.86) < 5.0 / 1.8 < 20.0 - dew_point(20.0, 0.82)


def test_cold_before_dry_shuts_the_gate():
    assert gates(MILD)["cold before dry"].state == "open"
    assert gates(replace(MILD, coldest_before_dry=convert(39, "F", "degC")))["cold before dry"].state == "shut"
