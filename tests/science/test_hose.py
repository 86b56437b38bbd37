"""Losses in hoses: closed forms and properties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science import hose

PSI = 6894.757293
GPM = 3.785411784 / 60
FT = 0.3048
INCH = 0.0254
flows = st.floats(0.05, 0.7)
bores = st.floats(0.006, 0.02)


def test_laminar_loss_is_that_of_hagen_and_poiseuille():
    # Closed form: dp = 128 mu L Q / (pi d^4).
    flow, length, bore = 0.01, 10.0, 0.02
    expected = 128 * 998.0 * 1.004e-6 * length * flow / 1000 / (math.pi * bore**4)
    assert hose.darcy_loss(flow, length, bore) == pytest.approx(expected, rel=1e-3)


def test_three_eighths_hose_at_5_5_gallons():
    # Check value 119.5 psi for 100 ft: Darcy with Churchill's factor by hand in SI; see also the fluids peer.
    assert hose.darcy_loss(5.5 * GPM, 100 * FT, 0.375 * INCH) / PSI == pytest.approx(119.5, rel=0.01)


def test_still_water_loses_nothing():
    assert hose.darcy_loss(0.0, 30.0, 0.01) == 0.0
    assert hose.darcy_loss(np.array([0.0, 0.3]), 30.0, 0.01)[0] == 0.0


@given(flows, bores)
def test_loss_falls_with_about_the_4_9th_power_of_the_bore(flow, bore):
    # Closed form for turbulent smooth pipes (Blasius): 4.75; fully rough 5.
    power = math.log(hose.darcy_loss(flow, 30, bore) / hose.darcy_loss(flow, 30, 1.1 * bore)) / math.log(1.1)
    reynolds = flow / 1000 / (math.pi / 4 * bore**2) * bore / 1.004e-6
    if reynolds > 1e4:
        assert 4.7 < power < 5.0


@given(flows, st.floats(1, 100), bores)
def test_loss_rises_with_flow_and_in_step_with_length(flow, length, bore):
    loss = hose.darcy_loss(flow, length, bore)
    assert hose.darcy_loss(1.1 * flow, length, bore) > loss
    assert hose.darcy_loss(flow, 2 * length, bore) == pytest.approx(2 * loss)


def test_a_bore_one_64th_under_costs_a_fifth_to_a_quarter_more():
    # Closed form: (0.375 / 0.359375)^4.8 = 1.227.
    band = hose.loss_band(4 * GPM, 100 * FT, 0.375 * INCH)
    assert band.low < band.mid < band.high
    assert band.high / band.mid == pytest.approx((0.375 / 0.359375) ** 4.8, rel=0.01)


@given(flows, st.lists(st.tuples(st.floats(1, 60), bores), min_size=1, max_size=4))
def test_runs_in_series_add_up_in_any_order(flow, runs):
    lengths, diameters = zip(*runs, strict=True)
    total = hose.series_loss(flow, lengths, diameters)
    assert total == pytest.approx(sum(hose.darcy_loss(flow, length, bore) for length, bore in runs))
    assert hose.series_loss(flow, lengths[::-1], diameters[::-1]) == pytest.approx(total)


def test_no_hose_no_loss_and_arrays_pass_through():
    assert hose.series_loss(0.3, [], []) == 0.0
    flow = np.array([0.0, 0.1, 0.5])
    one_by_one = [hose.series_loss(float(q), [10.0, 5.0], [0.01, 0.008]) for q in flow]
    assert hose.series_loss(flow, [10.0, 5.0], [0.01, 0.008]) == pytest.approx(one_by_one)


def test_a_foot_of_height_is_0_433_psi():
    # Closed form: 62.37 lb/ft3 / 144 = 0.4331 psi (999 kg/m3).
    assert hose.elevation_loss(FT, 999.07) / PSI == pytest.approx(0.4331, abs=5e-5)
    assert hose.elevation_loss(-FT) == -hose.elevation_loss(FT)


def test_a_velocity_head_is_the_pressure_that_would_stop_the_flow():
    # Closed form: rho v^2 / 2.
    speed = 0.5 / 1000 / (math.pi / 4 * 0.0127**2)
    assert hose.fitting_loss(0.5, 0.0127, 1.0) == pytest.approx(998 * speed**2 / 2)


def test_what_200_ft_of_three_eighths_hose_holds():
    # Closed form in US units: (pi/4) 0.375^2 in2 x 2400 in / 231 in3.
    gallons = math.pi / 4 * 0.375**2 * 2400 / 231
    assert hose.hose_volume(200 * FT, 0.375 * INCH) / 3.785411784 == pytest.approx(gallons)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: hose.darcy_loss(bad, 30, 0.01),
        lambda: hose.darcy_loss(0.3, bad, 0.01),
        lambda: hose.darcy_loss(0.3, 30, bad),
        lambda: hose.darcy_loss(0.3, 30, 0.01, bad),
        lambda: hose.loss_band(0.3, 30, 0.01, bad),
        lambda: hose.series_loss(0.3, [30, bad], [0.01, 0.01]),
        lambda: hose.fitting_loss(0.3, 0.01, bad),
        lambda: hose.elevation_loss(1.0, bad),
        lambda: hose.hose_volume(bad, 0.01),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()


def test_a_rise_must_be_finite_and_bores_must_match_lengths():
    with pytest.raises(OutOfRange, match="finite"):
        hose.elevation_loss(math.inf)
    with pytest.raises(OutOfRange, match="one bore for each length"):
        hose.series_loss(0.3, [30.0, 10.0], [0.01])
    with pytest.raises(OutOfRange, match="half the bore"):
        hose.loss_band(0.3, 30.0, 0.01, 0.006)
