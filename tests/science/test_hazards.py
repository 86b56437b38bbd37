"""Hazard sums: proportions (closed form), refusals, and tables whose rows all name a source."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.basis.sources import STATUSES, register
from sightwash.basis.units import convert
from sightwash.science.hazards import (
    carried_stock_limit,
    chlorine_in_air,
    eyewash_volume,
    fewest_packages,
    hypochlorite_mass,
    plant_excess,
)
from sightwash.science.tables import figures

TABLES = (
    "discharge_criteria",
    "chlorine_limits",
    "plant_tolerance",
    "hypochlorite_hazard_classes",
    "carriage_limits",
    "bleach_specific_gravity",
)


@pytest.mark.parametrize("table", TABLES)
def test_every_figure_has_source_status_and_unit(table: str) -> None:
    assert figures(table)
    for figure in figures(table).values():
        assert figure.source in register()
        assert figure.status in STATUSES
        assert figure.name
        assert figure.range
        assert figure.unit == "ppm" or convert(1.0, figure.unit, figure.unit) == 1.0


def test_tables_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        figures("chlorine_limits")["osha-ceiling"] = None


@given(st.floats(0.98, 1.35), st.floats(0.0, 0.5))
def test_load_weighs_the_limit(gravity: float, tare: float) -> None:
    stock = carried_stock_limit(gravity, tare) * gravity
    assert stock / (1.0 - tare) == pytest.approx(200.0, rel=1e-12)


@given(st.floats(0.001, 5000.0), st.floats(1.0, 60.0))
def test_packages_hold_the_volume_and_one_fewer_would_not(volume: float, capacity: float) -> None:
    count, rounding = fewest_packages(volume, capacity), 1e-9 * volume
    assert count * capacity >= volume - rounding
    assert (count - 1) * capacity < volume + rounding


def test_nothing_to_carry_takes_no_package() -> None:
    assert fewest_packages(0.0) == 0


@pytest.mark.parametrize(
    ("parameter", "call"),
    [
        ("specific_gravity", lambda: carried_stock_limit(0.5)),
        ("tare_share", lambda: carried_stock_limit(1.16, 5.0)),
        ("gross_limit", lambda: carried_stock_limit(1.16, 0.05, 0.0)),
        ("capacity", lambda: fewest_packages(10.0, 0.0)),
        ("volume", lambda: fewest_packages(math.nan)),
        ("duration", lambda: eyewash_volume(0.025, 0.0)),
        ("parts_per_million", lambda: chlorine_in_air(-1.0)),
        ("strength", lambda: hypochlorite_mass(250_000.0, 1.0)),
        ("threshold", lambda: plant_excess(10_000.0, 0.0)),
    ],
)
def test_refused(parameter: str, call) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
