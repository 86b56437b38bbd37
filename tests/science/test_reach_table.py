"""Reach at many standoffs: against the search for each, against the parabola of safety, and its properties."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.jet_reach import reach_band
from sightwash.science.reach_table import reach_table

PSI, FT, G = 6894.757293, 0.3048, 9.80665
STANDOFFS = [feet * FT for feet in (6, 10, 15, 20, 30, 45)]
bores, pressures = st.floats(2e-3, 8e-3), st.floats(2e5, 2.5e6)


def bands(bore, pressure, launch, wind):
    return np.array([reach_band(bore, pressure, away, launch, wind)[:3] for away in STANDOFFS]).T


@settings(max_examples=8, deadline=None)
@given(bores, pressures, st.floats(0.5, 3.0))
def test_in_calm_air_it_is_within_2_percent_below_the_search(bore, pressure, launch):
    searched, table = bands(bore, pressure, launch, 0.0), np.array(reach_table(bore, pressure, STANDOFFS, launch))
    assert (table <= 1.001 * searched + 1e-9).all()  # the search itself stops a thousandth short of the best
    assert (table >= 0.98 * searched - 0.02).all()


@settings(max_examples=8, deadline=None)
@given(bores, pressures, st.floats(0.5, 4.5))
def test_in_a_head_wind_it_errs_to_the_low_side(bore, pressure, wind):
    """There the best angle stands at an edge beyond which nothing arrives, and the search falls short of it as well.

    Stated: up to 16 % below the search, and above it by no more than the 5 % that the search may miss.
    """
    searched, table = bands(bore, pressure, 1.4, wind), np.array(reach_table(bore, pressure, STANDOFFS, 1.4, wind))
    arrives = searched[:, :3] > 3.0
    assert (table[:, :3] <= 1.05 * searched[:, :3]).all()
    assert (table[:, :3][arrives] >= 0.84 * searched[:, :3][arrives]).all()


@settings(max_examples=25, deadline=None)
@given(bores, pressures, st.floats(0.0, 3.0))
def test_without_air_it_is_the_parabola_of_safety(bore, pressure, launch):
    """Closed form (Torricelli): no shot of speed V gets above h + V^2 / 2g - g D^2 / 2V^2, and one just gets there."""
    square = 2 * pressure / 998.2
    away = np.array(STANDOFFS)
    top = launch + square / (2 * G) - G * away**2 / (2 * square)
    for heights in reach_table(bore, pressure, STANDOFFS, launch, density=998.2, air_density=1e-4):
        # 120 angles crowd toward the upright; where the best is flat or beyond 89.5 degrees they miss it by little
        assert (heights <= np.maximum(top, 0.0) * (1 + 1e-6) + 1e-9).all()
        steep = np.degrees(np.arctan(square / (G * away))) < 89.4
        assert (heights[steep] >= 0.985 * top[steep] - 0.05).all()


@settings(max_examples=20, deadline=None)
@given(bores, pressures, st.floats(1.0, 2.0))
def test_more_pressure_never_lowers_it_in_calm_air(bore, pressure, more):
    weak, strong = (np.array(reach_table(bore, p, STANDOFFS, 1.4)) for p in (pressure, pressure * more))
    assert (strong >= weak * 0.995 - 1e-9).all()


@settings(max_examples=20, deadline=None)
@given(bores, pressures)
def test_in_calm_air_it_falls_with_the_standoff(bore, pressure):
    for heights in reach_table(bore, pressure, np.arange(2.0, 18.0, 0.5), 1.4):
        assert (np.diff(heights) <= 0.01 * heights[:-1] + 1e-9).all()


@settings(max_examples=20, deadline=None)
@given(bores, pressures, st.floats(0.5, 6.0))
def test_a_head_wind_lowers_it(bore, pressure, wind):
    calm, against = (np.array(reach_table(bore, pressure, STANDOFFS, 1.4, w)) for w in (0.0, wind))
    assert (against <= calm * 1.005).all()
    assert (against[calm > 3.0] < calm[calm > 3.0]).any()


@settings(max_examples=20, deadline=None)
@given(bores, pressures, st.floats(-3.0, 4.0))
def test_bands_are_in_order(bore, pressure, wind):
    low, mid, high = reach_table(bore, pressure, STANDOFFS, 1.4, wind)
    assert (low <= mid).all()
    assert (mid <= high).all()


def test_a_wider_bore_at_one_pressure_reaches_higher():
    thin, wide = (reach_table(bore, 250 * PSI, [10 * FT], 4.5 * FT) for bore in (0.0025, 0.0032))
    assert thin.mid[0] < wide.mid[0]
    assert thin.high[0] < wide.high[0]


@pytest.mark.parametrize(
    ("standoffs", "launch", "wind", "parameter"),
    [
        ([0.0, 1.0], 1.0, 0.0, "standoffs"), ([-1.0], 1.0, 0.0, "standoffs"), ([math.nan], 1.0, 0.0, "standoffs"),
        (3.0, 1.0, 0.0, "standoffs"), ([1.0], -0.1, 0.0, "launch_height"), ([1.0], 1.0, 25.0, "head_wind"),
    ],
)  # fmt: skip
def test_refusals(standoffs, launch, wind, parameter):
    with pytest.raises(OutOfRange) as refused:
        reach_table(0.003, 1e6, standoffs, launch, wind)
    assert refused.value.parameter == parameter


def test_what_does_not_arrive_is_0():
    assert reach_table(0.002, 2e5, [60.0], 1.4) == ([0.0], [0.0], [0.0])
