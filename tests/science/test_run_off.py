"""Run-off: nothing is lost on the way (closed form), and shares across a fall against areas drawn by hand."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.run_off import downhill_area, settled_water, share_across, strength_of_run_off

LITRES = st.floats(0.0, 1e5)
DEPTHS = st.floats(0.0, 0.05)


@given(LITRES, st.floats(0.0, 5000.0), DEPTHS, DEPTHS)
def test_water_is_conserved(volume: float, area: float, left: float, taken: float) -> None:
    split = settled_water(volume, area, left, taken)
    assert sum(split) == pytest.approx(volume, rel=1e-12, abs=1e-12)
    assert min(split) >= 0.0
    assert split.absorbed <= 1000.0 * area * taken + 1e-9
    assert split.evaporated <= 1000.0 * area * left + 1e-9


@given(st.floats(0.0, 10.0), st.floats(0.001, 1e4), st.floats(0.001, 1e4))
def test_chlorine_is_conserved(chlorine: float, absorbed: float, run_off: float) -> None:
    strength = strength_of_run_off(chlorine, absorbed, run_off)
    assert strength * (absorbed + run_off) * 1e-6 == pytest.approx(chlorine, rel=1e-12, abs=1e-15)


def test_shares_across_a_fall() -> None:
    """A 160 ft walk that falls south meets a bed of 18 ft: 18/160 of the water."""
    walk, bed = shapely.box(0, -9, 160, 0), shapely.box(2, -12, 20, -9.5)
    assert share_across(walk, bed, 180.0) == pytest.approx(18 / 160)
    assert share_across(walk, shapely.box(-20, -12, 10, -9), 180.0) == pytest.approx(10 / 160)
    assert share_across(walk, shapely.box(200, -12, 210, -9), 180.0) == 0.0
    assert share_across(walk, bed, 90.0) == 0.0, "falling east, the bed lies south of the flow"


def test_downhill_ground() -> None:
    downhill = downhill_area(shapely.box(0, 0, 10, 2), 90.0, 5.0)
    assert downhill.area == pytest.approx(5.0 * 2.0)
    assert downhill.covers(shapely.Point(12, 1))
    assert not downhill.covers(shapely.Point(5, 1))
    assert downhill_area(shapely.box(0, 0, 10, 2), 45.0, 5.0).area == pytest.approx(12.0 * 5.0 / 2**0.5)


def test_refusals() -> None:
    with pytest.raises(OutOfRange):
        settled_water(-1.0, 1.0, 0.0, 0.0)
    with pytest.raises(OutOfRange):
        settled_water(1.0, 1.0, 0.5, 0.0)
    with pytest.raises(OutOfRange):
        share_across(shapely.Polygon(), shapely.box(0, 0, 1, 1), 0.0)
    with pytest.raises(OutOfRange):
        downhill_area(shapely.box(0, 0, 1, 1), 0.0, -1.0)
