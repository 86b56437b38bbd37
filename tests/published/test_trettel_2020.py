"""B. Trettel, consolidated trajectory experiments with pipe jets, public repository pipe-jet-breakup-data [measured].

Speeds and mean landings were worked out from litres, frames and trough readings. The angle is not in the file; 35
degrees is assumed. The constants of the jet were chosen with these runs in view: a weak test, not a blind one.
"""

import pytest

from sightwash.science import jet_flight

FT = 0.3048
pytestmark = pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")

RUNS = [(4.851, 10.2, 0.34, 26.0), (4.851, 11.2, 0.37, 30.6), (8.81, 15.0, 0.57, 48.8), (4.851, 17.02, 0.365, 41.1)]


def landed(bore_mm, speed, height, angle=35.0):
    # Long pipes: the speed is known and stands in for the pressure.
    return jet_flight.landing_distance(bore_mm / 1000, 998.0 * speed**2 / 2, angle, height) / FT


@pytest.mark.parametrize(("bore", "speed", "height", "measured"), RUNS)
def test_each_mean_landing(bore, speed, height, measured):
    assert landed(bore, speed, height) == pytest.approx(measured, rel=0.15)


def test_the_model_is_on_the_short_side_as_a_whole():
    # Printed errors: -3, -14, -3 and -9 %.
    errors = [landed(*run[:3]) / run[3] - 1 for run in RUNS]
    assert -0.10 < sum(errors) / len(errors) < -0.04


def test_the_check_value_of_the_50_psi_run():
    # 40.0 ft by an independent stepper; measured mean 41.1 ft.
    assert landed(4.851, 17.02, 0.365) == pytest.approx(40.0, abs=0.1)
    assert landed(4.851, 17.02, 0.365) == pytest.approx(41.1, rel=0.10)


def test_the_angle_hardly_matters():
    spread = [landed(4.851, 17.02, 0.365, angle) for angle in (30.0, 35.0, 40.0, 45.0)]
    assert max(spread) / min(spread) < 1.04
