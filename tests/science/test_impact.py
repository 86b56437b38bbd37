"""Reaction and impact: closed forms of momentum and properties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science import impact, orifice

PSI = 6894.757293
GPM = 3.785411784 / 60
LBF = 4.4482216
pressures = st.floats(1e5, 4e7)


@pytest.mark.parametrize(
    ("gpm", "psi", "pounds"), [(4, 3000, 11.5), (5.5, 3000, 15.8), (8, 3500, 24.9), (8, 200, 5.95)]
)
def test_reaction_by_the_trade_constant(gpm, psi, pounds):
    # Closed form: 0.0526 gpm sqrt(psi) lbf, the constant being 2 (pi/4) / 29.84.
    assert pounds == pytest.approx(0.0526 * gpm * math.sqrt(psi), abs=0.05)
    assert impact.reaction_force(gpm * GPM, psi * PSI) / LBF == pytest.approx(pounds, abs=0.1)


@given(st.floats(1e-3, 0.03), pressures)
def test_reaction_by_flow_and_by_bore_agree_for_a_coefficient_of_one(bore, pressure):
    flow = orifice.orifice_flow(bore, pressure, 1.0)
    assert impact.reaction_force(flow, pressure) == pytest.approx(impact.bore_reaction(bore, pressure))
    assert impact.flow_at_reaction(impact.reaction_force(flow, pressure), pressure) == pytest.approx(flow)


def test_support_limit_at_3500_psi():
    # Worked by hand: 33.7 / (0.0526 sqrt(3500)) = 10.8 gal/min.
    flow = impact.flow_at_reaction(impact.SUPPORT_FORCE.value, 3500 * PSI)
    assert flow / GPM == pytest.approx(33.7 / (0.0526 * math.sqrt(3500)), rel=5e-3)


@given(st.floats(0.05, 0.6), pressures, st.floats(0, 89))
def test_square_on_is_the_whole_reaction_and_a_slant_less(flow, pressure, incidence):
    whole = impact.impact_force(flow, pressure)
    assert whole == pytest.approx(impact.reaction_force(flow, pressure))
    # Closed form: the part of the momentum square to the wall.
    assert impact.impact_force(flow, pressure, incidence) == pytest.approx(whole * math.cos(math.radians(incidence)))


def test_fan_of_90_degrees_is_twice_as_wide_as_it_is_far():
    # Closed form: tan 45 = 1.
    assert impact.fan_width(0.3, 90.0) == pytest.approx(0.6)


@given(st.floats(0.1, 1.0), st.floats(0, 80), st.floats(0, 80))
def test_mean_pressure_falls_with_distance_and_never_passes_the_tips(standoff, angle, incidence):
    near = impact.mean_impact_pressure(0.35, 2e7, standoff, angle, 0.005, incidence)
    far = impact.mean_impact_pressure(0.35, 2e7, 2 * standoff, angle, 0.005, incidence)
    assert far <= near <= 2e7


def test_mean_pressure_times_the_strip_is_the_force():
    # Closed form: force over area, 1 ft away, 25 degrees, 1/4 in thick.
    mean = impact.mean_impact_pressure(5.5 * GPM, 3000 * PSI, 0.3048, 25.0, 0.00635)
    width = 2 * 12 * math.tan(math.radians(12.5))
    assert mean / PSI == pytest.approx(15.8 / (width * 0.25), rel=0.01)


def test_a_tilt_counts_twice():
    straight = impact.mean_impact_pressure(0.35, 2e7, 0.3, 25.0, 0.005)
    # Closed form: cos^2 60 = 1/4.
    assert impact.mean_impact_pressure(0.35, 2e7, 0.3, 25.0, 0.005, 60.0) == pytest.approx(straight / 4)


def test_arrays_give_what_single_numbers_give():
    flow = np.array([0.1, 0.5])
    expected = [impact.reaction_force(0.1, 1e7), impact.reaction_force(0.5, 1e7)]
    assert impact.reaction_force(flow, 1e7) == pytest.approx(expected)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: impact.reaction_force(bad, 1e6),
        lambda: impact.bore_reaction(bad, 1e6),
        lambda: impact.flow_at_reaction(100.0, bad),
        lambda: impact.impact_force(0.3, 1e6, bad),
        lambda: impact.fan_width(bad, 25.0),
        lambda: impact.fan_width(0.3, bad),
        lambda: impact.mean_impact_pressure(0.3, 1e6, 0.3, 25.0, bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
