"""Jug marks, injector draw, a day's temperatures and a walk that dries: closed forms worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.ground_drying import drying_moment
from sightwash.science.injector_draw import draw_band
from sightwash.science.measures import measured_volume
from sightwash.science.storage_history import day_temperatures


@given(st.floats(0.0, 1000.0), st.floats(0.001, 5.0))
def test_a_measure_is_within_half_a_mark(volume: float, step: float) -> None:
    found = measured_volume(volume, step)
    assert abs(found - volume) <= step / 2 * (1 + 1e-9) + 1e-9
    assert found / step == pytest.approx(round(found / step), abs=1e-6)


def test_draw_at_another_flow() -> None:
    """Half a gallon a minute of 5.5 is one part to ten; at 4.4 the same draw would be one to 7.8."""
    assert draw_band(0.5, 5.5, 5.5) == (pytest.approx(1 / 11), pytest.approx(1 / 11))
    assert draw_band(0.5, 5.5, 4.4) == (pytest.approx(1 / 11), pytest.approx(0.5 / 4.4))
    assert draw_band(0.5, 5.5, 8.0).least == pytest.approx(0.5 / 8.0)


@given(st.floats(-20.0, 40.0), st.floats(0.0, 25.0), st.integers(2, 48))
def test_a_day_keeps_its_mean_and_its_bounds(low: float, swing: float, parts: int) -> None:
    temperatures = day_temperatures(low, low + swing, parts)
    assert float(np.mean(temperatures)) == pytest.approx(low + swing / 2, abs=1e-9)
    assert low - 1e-9 <= temperatures.min() <= temperatures.max() <= low + swing + 1e-9


def test_a_walk_dries_by_the_hour() -> None:
    """0.3 mm at 0.1 g/m2/s for 1000 s leaves 0.2 mm; at twice the rate that takes 1000 s more."""
    assert drying_moment(0.0003, [1e-4, 2e-4], [1000.0, 9000.0]) == pytest.approx(2000.0)
    assert drying_moment(0.0003, [-1e-4, 2e-4], [1000.0, 9000.0]) == pytest.approx(1000.0 + 2000.0)
    assert drying_moment(0.0003, [1e-4], [1000.0]) == math.inf
    assert drying_moment(0.0, [1e-4], [1000.0]) == 0.0


def test_refusals() -> None:
    with pytest.raises(OutOfRange):
        measured_volume(1.0, 0.0)
    with pytest.raises(OutOfRange):
        draw_band(6.0, 5.5, 5.5)
    with pytest.raises(OutOfRange):
        day_temperatures(20.0, 10.0)
    with pytest.raises(OutOfRange):
        drying_moment(0.0003, [1e-4], [1000.0, 2.0])
