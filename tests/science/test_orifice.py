"""Flow through openings: closed forms of hydraulics and properties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science import orifice

PSI = 6894.757293
GPM = 3.785411784 / 60
HP = 745.69987
bores = st.floats(5e-4, 0.1)
pressures = st.floats(1e3, 4e7)
coefficients = st.floats(0.4, 1.0)


def test_trade_constant_for_water_of_62_37_lb_ft3():
    # Closed form: (pi/4) in^2 sqrt(2 psi / rho) in gal/min, by hand for 999 kg/m3. Check value 29.839.
    one_inch_one_psi = orifice.orifice_flow(0.0254, PSI, 1.0, 999.0) / GPM
    assert one_inch_one_psi == pytest.approx(29.839, abs=0.01)


def test_jet_speed_at_250_psi():
    # Closed form: 3.717 sqrt(psi) m/s, 12.19 sqrt(psi) ft/s for 998 kg/m3.
    assert orifice.jet_speed(250 * PSI) == pytest.approx(58.77, abs=0.1)
    assert orifice.jet_speed(250 * PSI) / 0.3048 == pytest.approx(12.19 * math.sqrt(250), rel=1e-3)


def test_speed_of_a_jet_lifts_water_back_to_its_head():
    # Closed form (Torricelli): a head of 10 m gives the speed of a fall from 10 m.
    assert orifice.jet_speed(998.0 * 9.80665 * 10) == pytest.approx(math.sqrt(2 * 9.80665 * 10), rel=1e-12)


def test_hydraulic_horsepower_constant():
    # Closed form: 231 in3/gal over 12 in x 33,000 ft lbf/min is 1/1714.29 (definition of units).
    assert orifice.hydraulic_power(8 * GPM, 3500 * PSI) / HP == pytest.approx(8 * 3500 / 1714.286, rel=1e-5)


@given(bores, pressures, coefficients)
def test_flow_pressure_and_bore_are_inverses(bore, pressure, coefficient):
    flow = orifice.orifice_flow(bore, pressure, coefficient)
    assert orifice.orifice_pressure(flow, bore, coefficient) == pytest.approx(pressure, rel=1e-9)
    assert orifice.orifice_bore(flow, pressure, coefficient) == pytest.approx(bore, rel=1e-9)
    assert orifice.fitted_coefficient(flow, bore, pressure) == pytest.approx(coefficient, rel=1e-9)


@given(bores, pressures)
def test_four_times_the_pressure_doubles_the_flow(bore, pressure):
    assert orifice.orifice_flow(bore, 4 * pressure) == pytest.approx(2 * orifice.orifice_flow(bore, pressure))


def test_arrays_give_what_single_numbers_give():
    pressures_ = np.array([0.0, 1e5, 2e7])
    one_by_one = [orifice.orifice_flow(0.003, float(p)) for p in pressures_]
    assert orifice.orifice_flow(0.003, pressures_) == pytest.approx(one_by_one)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: orifice.jet_speed(bad),
        lambda: orifice.orifice_flow(bad, 1e5),
        lambda: orifice.orifice_flow(0.003, np.array([1e5, bad])),
        lambda: orifice.orifice_pressure(bad, 0.003),
        lambda: orifice.orifice_bore(bad, 1e5),
        lambda: orifice.fitted_coefficient(1.0, bad, 1e5),
        lambda: orifice.hydraulic_power(bad, 1e5),
        lambda: orifice.orifice_flow(0.003, 1e5, bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()


def test_refusal_names_the_parameter_and_the_unit():
    with pytest.raises(OutOfRange, match="m") as refusal:
        orifice.orifice_flow(0.0, 1e5)
    assert refusal.value.parameter == "bore"


def test_a_measured_flow_that_no_opening_passes_is_refused():
    with pytest.raises(OutOfRange, match="coefficient"):
        orifice.fitted_coefficient(5.0, 0.003, 1e5)


def test_an_unknown_form_of_opening_is_refused_with_the_known_ones():
    with pytest.raises(OutOfRange, match="sharp-edged"):
        orifice.discharge_coefficient("funnel")
