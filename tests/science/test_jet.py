"""Two-stage jet straight up: closed forms, an independent integrator, and properties."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science import jet

PSI = 6894.757293
FT = 0.3048
G = 9.80665
small = pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
bores = st.floats(1e-3, 3e-2)
pressures = st.floats(2e4, 3e6)


@small
@pytest.mark.parametrize(
    ("ratios", "feet"), [((200.0, 0.90), 43.01), ((100.0, 0.56), 29.50)], ids=["last water", "effective"]
)
def test_height_of_a_2_8_mm_jet_at_250_psi_against_a_general_integrator(ratios, feet):
    # Check values 43.01 and 29.50 ft; independent program: scipy solve_ivp on the equation of motion.
    bore, speed = 2.8e-3, math.sqrt(2 * 250 * PSI / 998)
    drag = 4 / 3 * 998 / 1.204 * ratios[1] * bore / 0.45

    def motion(_, state):
        height, rise = state
        return [rise, -G - (rise * abs(rise) / drag if height >= ratios[0] * bore else 0.0)]

    def top(_, state):
        return state[1]

    top.terminal = True
    solved = solve_ivp(motion, (0, 10), [0.0, speed], events=top, rtol=1e-10, atol=1e-10, max_step=1e-3)
    assert solved.y_events[0][0][0] / FT == pytest.approx(feet, abs=0.05)
    assert jet.straight_up_height(bore, 250 * PSI, *ratios) / FT == pytest.approx(feet, abs=0.05)


@small
@given(bores, pressures)
def test_without_drag_a_jet_rises_to_its_head(bore, pressure):
    # Closed form: V^2 / 2g = p / (rho g).
    head = pressure / (998 * G)
    assert jet.straight_up_height(bore, pressure, clump_ratio=1e9) == pytest.approx(head, rel=1e-4)
    assert jet.straight_up_height(bore, pressure, breakup_ratio=1e4) <= head * (1 + 1e-12)


def test_50_psi_of_head_is_115_5_ft():
    # Closed form: 2.31 ft for each psi.
    assert jet.straight_up_height(0.02, 50 * PSI, clump_ratio=1e9) / FT == pytest.approx(115.5, abs=0.3)


@small
@given(bores, pressures)
def test_reach_rises_with_pressure_and_with_bore(bore, pressure):
    here = jet.straight_up_height(bore, pressure)
    assert jet.straight_up_height(bore, 1.1 * pressure) > here
    assert jet.straight_up_height(1.1 * bore, pressure) >= here


@small
@given(bores, pressures)
def test_the_effective_stream_never_passes_the_last_water(bore, pressure):
    effective = jet.straight_up_height(bore, pressure, jet.EFFECTIVE_BREAKUP, jet.EFFECTIVE_CLUMP)
    assert effective <= jet.straight_up_height(bore, pressure)


@small
@given(bores, pressures)
def test_pressure_and_height_are_inverses(bore, pressure):
    height = jet.straight_up_height(bore, pressure)
    assert jet.straight_up_pressure(bore, height) == pytest.approx(pressure, rel=1e-6)


def test_drag_length_is_where_speed_without_weight_falls_to_1_over_e():
    # Closed form: du/ds = -u/l; check value 2456 De (998 and 1.204 kg/m3, 0.45).
    assert jet.drag_length(1.0) == pytest.approx(2456, abs=0.5)


def test_small_tips_at_high_pressure_are_said_to_be_beyond_what_was_measured():
    assert not jet.beyond_measured(0.013, 4.1e5)
    with pytest.warns(OutsidePublishedRange, match="measured"):
        jet.straight_up_height(2.8e-3, 250 * PSI)


def test_a_height_that_no_pressure_reaches_is_refused():
    with pytest.raises(OutOfRange, match="1000 bar"):
        jet.straight_up_pressure(1e-3, 300.0)


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: jet.beyond_measured(bad, 1e5),
        lambda: jet.drag_length(bad),
        lambda: jet.jet_lengths(0.01, 200.0, bad),
        lambda: jet.straight_up_height(bad, 4e5),
        lambda: jet.straight_up_height(0.01, bad),
        lambda: jet.straight_up_pressure(0.01, bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
