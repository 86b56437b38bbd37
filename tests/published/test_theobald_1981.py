"""C. R. Theobald, Fire Safety Journal 4, 1981, 1-13: ranges of nozzles 7, 9, 10 and 6 [measured].

Facts as tabulated in the public repository firemodels/exp. The nozzle's height is not in the file; 1.5 m is assumed.
The constants of the jet were chosen with ranges of nozzles 7 and 9 in view, so only nozzles 10 and 6 are held out.
"""

import numpy as np
import pytest

from sightwash.science import jet_flight

pytestmark = pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")

# nozzle, bore mm, bar, peak height m (None: not given), range m; all at 35 degrees
ROWS = [
    (7, 13, 2.1, 8.8, 24.4), (7, 13, 2.8, 10.1, 28.7), (7, 13, 4.1, 12.5, 34.4), (7, 13, 6.2, 13.4, 36.6),
    (7, 19, 2.1, 9.1, 32.0), (7, 19, 2.8, 10.4, 35.1), (7, 19, 4.1, 13.4, 44.2), (7, 19, 6.2, 14.6, 50.3),
    (7, 25.4, 2.1, 9.7, 32.0), (7, 25.4, 2.8, None, 38.1), (7, 25.4, 4.1, 14.6, 48.8), (7, 25.4, 6.2, 17.7, 56.4),
    (9, 13, 2.1, 8.5, 24.4), (9, 13, 2.8, 9.4, 27.7), (9, 13, 4.1, 11.6, 33.5), (9, 13, 6.2, 12.5, 35.0),
    (9, 19, 2.1, None, 29.0), (9, 19, 2.8, 10.0, 34.1), (9, 19, 4.1, 12.8, 38.1), (9, 19, 6.2, None, 42.7),
    (9, 25.4, 2.1, 9.4, 30.5), (9, 25.4, 2.8, None, 36.0), (9, 25.4, 4.1, 13.7, 44.2), (9, 25.4, 6.2, 16.4, 51.8),
]  # fmt: skip


def landed(bore_mm, bar, angle=35.0):
    return jet_flight.landing_distance(bore_mm / 1000, bar * 1e5, angle, 1.5)


@pytest.mark.parametrize(("nozzle", "bore", "bar", "_", "measured"), ROWS)
def test_each_range(nozzle, bore, bar, _, measured):
    # Nozzle 7 has the better shape, which the model does not know. Its worst row, 19 mm at 2.1 bar, is 9.6 % short.
    assert landed(bore, bar) == pytest.approx(measured, rel=0.10 if nozzle == 7 else 0.20)


def test_all_ranges_together():
    errors = np.array([landed(bore, bar) / measured - 1 for _, bore, bar, _, measured in ROWS])
    assert np.sqrt(np.mean(errors**2)) < 0.08
    assert abs(np.mean(errors)) < 0.05


def test_the_check_value_of_a_13_mm_nozzle():
    # 33.78 m by an independent stepper; measured 34.4 and 33.5 m.
    assert landed(13, 4.1) == pytest.approx(33.78, abs=0.1)
    assert landed(13, 4.1) == pytest.approx((34.4 + 33.5) / 2, rel=0.05)


def test_peak_heights_come_out_low():
    # A known weakness, kept in view: 13 % low on average, 21 % at worst.
    errors = np.array(
        [
            jet_flight.jet_path(bore / 1000, bar * 1e5, 35.0, 1.5).height.max() / peak - 1
            for _, bore, bar, peak, _ in ROWS
            if peak is not None
        ]
    )
    assert -0.16 < np.mean(errors) < -0.10
    assert np.all(np.abs(errors) < 0.22)


@pytest.mark.parametrize(("bar", "measured"), [(2.1, 26.4), (2.8, 28.8), (4.1, 34.7)])
def test_held_out_nozzle_10(bar, measured):
    assert landed(13.5, bar) == pytest.approx(measured, rel=0.05)


def test_held_out_nozzle_6_a_poor_one_falls_short_of_the_model():
    assert landed(13.5, 2.1) == pytest.approx(21.2, rel=0.20)
    assert landed(13.5, 2.1) > 21.2


def test_range_against_angle_of_nozzle_7():
    angles = np.array([20.0, 25.0, 30.0, 35.0, 40.0, 45.0])
    measured = np.array([32.0, 32.5, 34.8, 34.4, 34.0, 31.7])
    model = jet_flight.landing_distance(0.013, 4.1e5, angles, 1.5)
    assert model == pytest.approx(measured, rel=0.09)
    assert 25.0 <= angles[model.argmax()] <= 40.0
