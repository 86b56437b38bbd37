"""Spray tips by size number: the code's own arithmetic, worked by hand, and properties."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science import tips

PSI = 6894.757293
GPM = 3.785411784 / 60
numbers = st.floats(0.5, 60.0)


def test_a_size_4_tip_at_3000_psi():
    # Closed form: 4 sqrt(3/4) = 3.464 gal/min; the convention of the number is common practice, no source.
    assert tips.nozzle_flow(4, 3000 * PSI) / GPM == pytest.approx(3.464, abs=0.001)


@pytest.mark.parametrize(("psi", "gpm"), [(40, 0.4), (4000, 4.0)])
def test_the_two_conventions_are_one_code(psi, gpm):
    # Closed form: sqrt(4000/40) = 10.
    number = tips.tip_from_code("2504").number
    assert tips.nozzle_flow(number, psi * PSI) / GPM == pytest.approx(gpm, rel=1e-9)


def test_an_8002_tip_is_80_degrees_and_a_fifth_of_a_gallon_at_40_psi():
    # Lecture slides "Nozzles and pumps": 80 degrees at 40 psi; the 0.2 gal/min is common practice, no source.
    code = tips.tip_from_code("8002")
    assert code.fan_angle == 80.0
    assert tips.nozzle_flow(code.number, 40 * PSI) / GPM == pytest.approx(0.2)


def test_eight_gallons_through_size_40():
    # Closed form: 4000 (8/40)^2 = 160 psi.
    assert tips.nozzle_pressure(40, 8 * GPM) / PSI == pytest.approx(160.0, rel=1e-9)


def test_four_gallons_at_3000_psi_wants_size_4_62_and_a_5_runs_at_2560():
    # Worked by hand: 4/sqrt(0.75) = 4.62; 4000 (4/5)^2 = 2560 psi.
    assert tips.nozzle_number(4 * GPM, 3000 * PSI) == pytest.approx(4.62, abs=0.005)
    assert tips.nozzle_pressure(5.0, 4 * GPM) / PSI == pytest.approx(2560.0)


@pytest.mark.parametrize(("number", "inches"), [(20, 0.1056), (25, 0.1181), (30, 0.1294), (35, 0.1397), (40, 0.1494)])
def test_bores_by_the_trade_formula(number, inches):
    # Closed form in the trade's units: d = sqrt(N / (29.84 c sqrt(4000))), c = 0.95.
    by_hand = math.sqrt(number / (29.84 * 0.95 * math.sqrt(4000)))
    assert by_hand == pytest.approx(inches, abs=1e-4)
    assert tips.nozzle_bore(number) / 0.0254 == pytest.approx(inches, abs=1e-4)


@given(numbers, st.floats(1e4, 3e7))
def test_flow_pressure_number_and_bore_are_inverses(number, pressure):
    flow = tips.nozzle_flow(number, pressure)
    assert tips.nozzle_pressure(number, flow) == pytest.approx(pressure, rel=1e-9)
    assert tips.nozzle_number(flow, pressure) == pytest.approx(number, rel=1e-9)
    assert tips.number_of_bore(tips.nozzle_bore(number)) == pytest.approx(number, rel=1e-9)


@given(st.floats(1e6, 3e7), st.floats(0.0, 0.5))
def test_wear_is_read_back_from_the_pressure(pressure, wear):
    assert tips.tip_wear(pressure, tips.worn_pressure(pressure, wear)) == pytest.approx(wear, abs=1e-9)


@pytest.mark.parametrize("code", ["", "25", "250", "2500", "25000", "25-04", "250455", "abcd"])
def test_codes_that_are_none_are_refused(code):
    with pytest.raises(OutOfRange, match="2504"):
        tips.tip_from_code(code)


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -2.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: tips.nozzle_flow(bad, 1e6),
        lambda: tips.nozzle_pressure(bad, 0.2),
        lambda: tips.nozzle_number(0.2, bad),
        lambda: tips.nozzle_bore(bad),
        lambda: tips.number_of_bore(bad),
        lambda: tips.worn_pressure(bad, 0.1),
        lambda: tips.tip_wear(1e6, bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
