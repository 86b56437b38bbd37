"""Working point of pump, unloader, hose and tip."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sightwash.basis.errors import OutOfRange
from sightwash.science import pump

PSI = 6894.757293
GPM = 3.785411784 / 60
FT = 0.3048
INCH = 0.0254


def test_without_hose_it_is_the_tip_alone():
    # Closed form: 8 gal/min through size 40 is 160 psi; through size 4 the unloader holds 3000 psi, 3.464 gal/min.
    large = pump.working_point(8 * GPM, 3000 * PSI, 40, [], [])
    assert large.tip_pressure / PSI == pytest.approx(160.0)
    assert large.bypass_flow == 0.0
    assert not large.unloader_open
    small = pump.working_point(8 * GPM, 3000 * PSI, 4, [], [])
    assert small.tip_flow / GPM == pytest.approx(3.464, abs=0.001)
    assert small.bypass_flow / GPM == pytest.approx(8 - 3.464, abs=0.001)
    assert small.pump_pressure / PSI == pytest.approx(3000)


def test_200_ft_of_three_eighths_and_15_ft_of_height():
    # Worked by hand: 239 psi in the hose and 6.5 psi of height leave 2755 of 3000 psi at 5.5 gal/min.
    tip = 5.5 / math.sqrt(2755 / 4000)
    point = pump.working_point(6 * GPM, 3000 * PSI, tip, [200 * FT], [0.375 * INCH], 15 * FT)
    assert point.unloader_open
    assert point.tip_flow / GPM == pytest.approx(5.5, abs=0.01)
    assert point.hose_loss / PSI == pytest.approx(239, abs=1)
    assert point.elevation_loss / PSI == pytest.approx(6.5, abs=0.05)
    assert point.tip_pressure / PSI == pytest.approx(2755, abs=2)


@pytest.mark.parametrize(("bore", "loss"), [(0.375, 469), (0.5, 117)])
def test_the_hose_decides_what_is_left_at_8_gallons(bore, loss):
    # Worked by hand: 469 psi on 3/8 in, 117 psi on 1/2 in, 200 ft.
    point = pump.working_point(8 * GPM, 3000 * PSI, 40, [200 * FT], [bore * INCH])
    assert point.hose_loss / PSI == pytest.approx(loss, rel=0.01)


rigs = st.fixed_dictionaries(
    {
        "pump_flow": st.floats(2 * GPM, 10 * GPM),
        "unloader_pressure": st.floats(100 * PSI, 4000 * PSI),
        "tip_number": st.floats(1, 60),
        "hose_lengths": st.just([30.0, 15.0]),
        "hose_bores": st.lists(st.floats(0.006, 0.02), min_size=2, max_size=2),
        "rise": st.floats(-5, 10),
        "speed_fraction": st.floats(0.3, 1.0),
        "velocity_heads": st.floats(0, 20),
    }
)


@given(rigs)
def test_flows_and_pressures_balance(rig):
    point = pump.working_point(**rig)
    parts = point.tip_pressure + point.hose_loss + point.fitting_loss + point.elevation_loss
    assert point.pump_pressure == pytest.approx(parts)
    assert point.tip_flow + point.bypass_flow == pytest.approx(rig["pump_flow"] * rig["speed_fraction"])
    assert point.pump_pressure <= rig["unloader_pressure"] * (1 + 1e-9)
    if point.unloader_open:
        assert point.pump_pressure == pytest.approx(rig["unloader_pressure"], rel=1e-9)


@given(rigs)
def test_a_larger_tip_gives_more_flow_at_less_pressure(rig):
    here = pump.working_point(**rig)
    larger = pump.working_point(**{**rig, "tip_number": 1.2 * rig["tip_number"]})
    assert larger.tip_flow >= here.tip_flow * (1 - 1e-9)
    assert larger.tip_pressure < here.tip_pressure


@given(rigs)
def test_less_engine_never_gives_more_at_the_tip(rig):
    here = pump.working_point(**rig)
    slower = pump.working_point(**{**rig, "speed_fraction": 0.9 * rig["speed_fraction"]})
    assert slower.tip_flow <= here.tip_flow * (1 + 1e-9)
    assert slower.tip_pressure <= here.tip_pressure * (1 + 1e-9)


def test_the_root_is_that_of_an_independent_solver():
    # Independent program: scipy brentq on the balance written out in US units with a hand-written Darcy loss.
    bore, length, number = 0.375, 150.0, 4.5
    point = pump.working_point(8 * GPM, 3000 * PSI, number, [length * FT], [bore * INCH])

    def balance(gpm):
        speed = 0.408496 * gpm / bore**2 * FT
        reynolds = speed * bore * INCH / 1.004e-6
        inner = 1.5e-6 / (3.7 * bore * INCH) + 5.74 / reynolds**0.9
        loss = 0.25 / math.log10(inner) ** 2 * length * FT / (bore * INCH) * 998 * speed**2 / 2 / PSI
        return 4000 * (gpm / number) ** 2 + loss - 3000

    assert point.tip_flow / GPM == pytest.approx(brentq(balance, 0.1, 8.0), rel=1e-3)


@given(st.floats(2, 60), st.floats(50 * PSI, 3000 * PSI), st.floats(0, 8))
def test_needed_pump_pressure_undoes_the_working_point(number, pressure, rise):
    lengths, bores = [40.0], [0.0127]
    needed = pump.needed_pump_pressure(number, pressure, lengths, bores, rise, 4.0)
    point = pump.working_point(100.0, needed, number, lengths, bores, rise, velocity_heads=4.0)
    assert point.tip_pressure == pytest.approx(pressure, rel=1e-6)


def test_a_tip_that_the_unloader_cannot_lift_water_to_is_refused():
    with pytest.raises(OutOfRange, match="lift") as refusal:
        pump.working_point(8 * GPM, 20 * PSI, 40, [], [], 50 * FT)
    assert refusal.value.parameter == "rise"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
@pytest.mark.parametrize("key", ["pump_flow", "unloader_pressure", "tip_number", "speed_fraction", "velocity_heads"])
def test_bad_numbers_are_refused(key, bad):
    good = {"pump_flow": 0.5, "unloader_pressure": 2e7, "tip_number": 4.0, "hose_lengths": [30.0], "hose_bores": [0.01]}
    with pytest.raises(OutOfRange):
        pump.working_point(**{**good, key: bad})
    with pytest.raises(OutOfRange):
        pump.needed_pump_pressure(4.0, bad, [30.0], [0.01])
