"""Path of a jet: against a general integrator, closed forms and properties."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science import jet, jet_flight

G = 9.80665
pytestmark = pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
bores = st.floats(2e-3, 2.5e-2)
pressures = st.floats(5e4, 2e6)
angles = st.floats(5.0, 85.0)
winds = st.floats(-6.0, 6.0)


def integrated_path(bore, pressure, angle, launch_height, head_wind, breakup_ratio=200.0, clump_ratio=0.90):
    """Return where the jet lands by scipy's DOP853 on the equations of motion, the stages one after the other."""
    speed, drag = math.sqrt(2 * pressure / 998), 4 / 3 * 998 / 1.204 * clump_ratio * bore / 0.45
    slope = math.radians(angle)

    def whole(_, s):
        return [s[2], s[3], 0.0, -G, math.hypot(s[2], s[3])]

    def broken(_, s):
        air = math.hypot(s[2] + head_wind, s[3])
        return [s[2], s[3], -air * (s[2] + head_wind) / drag, -G - air * s[3] / drag]

    def breaks(_, s):
        return s[4] - breakup_ratio * bore

    def lands(_, s):
        return s[1]

    breaks.terminal = lands.terminal = True
    lands.direction = -1
    start = [0.0, launch_height, speed * math.cos(slope), speed * math.sin(slope), 0.0]
    first = solve_ivp(whole, (0, 60), start, "DOP853", events=(breaks, lands), rtol=1e-11, atol=1e-11)
    if len(first.t_events[1]):
        return first.y_events[1][0][0]
    second = solve_ivp(broken, (0, 60), first.y[:4, -1], "DOP853", events=lands, rtol=1e-10, atol=1e-10)
    return second.y_events[0][0][0]


@settings(max_examples=40, deadline=None)
@given(bores, pressures, angles, st.floats(0.3, 5.0), winds, st.sampled_from([(200.0, 0.90), (100.0, 0.56)]))
def test_landing_is_that_of_a_general_integrator(bore, pressure, angle, launch_height, head_wind, ratios):
    # Independent program: scipy solve_ivp.
    expected = integrated_path(bore, pressure, angle, launch_height, head_wind, *ratios)
    landed = jet_flight.landing_distance(bore, pressure, angle, launch_height, head_wind, *ratios)
    assert landed == pytest.approx(expected, abs=5e-3)


@settings(deadline=None)
@given(st.floats(2e4, 4e5), angles, st.floats(0.0, 5.0))
def test_without_drag_it_is_a_parabola(pressure, angle, launch_height):
    # Closed form: range from a height in a vacuum.
    u, v = (math.sqrt(2 * pressure / 998) * f(math.radians(angle)) for f in (math.cos, math.sin))
    expected = u * (v + math.sqrt(v * v + 2 * G * launch_height)) / G
    for ratios in ((200.0, 1e8), (1e4, 0.9)):
        landed = jet_flight.landing_distance(0.02, pressure, angle, launch_height, 0.0, *ratios)
        assert landed == pytest.approx(expected, rel=1e-4)


@settings(deadline=None)
@given(bores, pressures, angles, winds)
def test_head_wind_shortens_and_pressure_lengthens(bore, pressure, angle, head_wind):
    here = jet_flight.landing_distance(bore, pressure, angle, 1.5, head_wind)
    assert jet_flight.landing_distance(bore, pressure, angle, 1.5, head_wind + 1.0) <= here + 1e-3
    calm = jet_flight.landing_distance(bore, pressure, angle, 1.5)
    assert jet_flight.landing_distance(bore, 1.1 * pressure, angle, 1.5) > calm


def test_many_angles_at_once_give_what_single_ones_give():
    many = np.array([-30.0, 0.0, 20.0, 45.0, 80.0])
    one_by_one = [jet_flight.landing_distance(0.013, 4.1e5, float(a), 1.5) for a in many]
    assert jet_flight.landing_distance(0.013, 4.1e5, many, 1.5) == pytest.approx(one_by_one)


@settings(deadline=None)
@given(bores, pressures, angles, winds)
def test_a_path_starts_at_the_nozzle_ends_on_the_ground_and_runs_forward_in_time(bore, pressure, angle, wind):
    path = jet_flight.jet_path(bore, pressure, angle, 1.4, wind)
    assert (path.distance[0], path.height[0], path.time[0]) == (0.0, 1.4, 0.0)
    assert path.height[-1] == 0.0
    assert path.height.min() >= 0.0
    assert np.all(np.diff(path.time) >= 0.0)
    assert path.distance[-1] == pytest.approx(jet_flight.landing_distance(bore, pressure, angle, 1.4, wind))


@pytest.mark.parametrize(("bore", "pressure"), [(0.0128, 4.1e5), (0.0028, 1.7e6)])
def test_a_path_near_upright_tops_out_at_the_closed_form(bore, pressure):
    path = jet_flight.jet_path(bore, pressure, 89.9, 0.0)
    assert path.height.max() == pytest.approx(jet.straight_up_height(bore, pressure), rel=1e-3)


@pytest.mark.filterwarnings("default")
def test_small_tips_at_high_pressure_are_said_to_be_beyond_what_was_measured():
    with pytest.warns(OutsidePublishedRange):
        jet_flight.landing_distance(2.8e-3, 1.7e6, 45.0, 1.4)
    with pytest.warns(OutsidePublishedRange):
        jet_flight.jet_path(2.8e-3, 1.7e6, 45.0, 1.4)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -100.0, 95.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: jet_flight.landing_distance(0.013, 4e5, bad, 1.5),
        lambda: jet_flight.landing_distance(0.013, 4e5, np.array([30.0, bad]), 1.5),
        lambda: jet_flight.landing_distance(0.013, 4e5, 30.0, 1.5, bad),
        lambda: jet_flight.jet_path(0.013, 4e5, bad, 1.5),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
    with pytest.raises(OutOfRange):
        jet_flight.jet_path(0.013, 4e5, 30.0, -0.1)
