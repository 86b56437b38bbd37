"""R. Gunn and G. D. Kinzer, Journal of Meteorology 6, 1949, 243-248, table 2 [measured].

Terminal fall speed of water drops at 20 degC and 1013 hPa, read twice alike in two open programs' data.
"""

import math

import numpy as np
import pytest

from sightwash.science import drops

ROWS = [
    (0.078, 0.18), (0.1, 0.27), (0.2, 0.72), (0.3, 1.17), (0.4, 1.62), (0.5, 2.06), (0.6, 2.47), (0.7, 2.87),
    (0.8, 3.27), (0.9, 3.67), (1.0, 4.03), (1.2, 4.64), (1.4, 5.17), (1.6, 5.65), (1.8, 6.09), (2.0, 6.49),
    (2.2, 6.90), (2.4, 7.27), (2.6, 7.57), (2.8, 7.82), (3.0, 8.06), (3.2, 8.26), (3.4, 8.44), (3.6, 8.60),
    (3.8, 8.72), (4.0, 8.83), (4.2, 8.92), (4.4, 8.98), (4.6, 9.03), (4.8, 9.07), (5.0, 9.09), (5.2, 9.12),
    (5.4, 9.14), (5.6, 9.16), (5.8, 9.17),
]  # fmt: skip


@pytest.mark.parametrize(("millimetres", "speed"), ROWS)
def test_the_table_row_by_row(millimetres, speed):
    assert drops.fall_speed(millimetres / 1000) == pytest.approx(speed, abs=1e-9)


def test_the_sphere_law_against_the_table_up_to_2_mm():
    # Known quality: 4.0 % rms, 11 % at worst.
    errors = np.array([drops.sphere_fall_speed(d / 1000) / v - 1 for d, v in ROWS if d <= 2.0])
    assert np.sqrt(np.mean(errors**2)) < 0.05
    assert np.abs(errors).max() < 0.12


@pytest.mark.parametrize(("millimetres", "speed"), [(1.0, 4.03), (2.0, 6.49)])
def test_the_sphere_law_at_1_and_2_mm(millimetres, speed):
    assert drops.sphere_fall_speed(millimetres / 1000) == pytest.approx(speed, rel=0.05)


@pytest.mark.parametrize("millimetres", [0.65, 1.1, 1.7, 2.3, 3.1, 4.3, 5.1])
def test_between_rows_against_another_fit(millimetres):
    # Atlas and others 1973, v = 9.65 - 10.3 exp(-0.6 D) [from memory, so only beside the rows above].
    atlas = 9.65 - 10.3 * math.exp(-0.6 * millimetres)
    assert drops.fall_speed(millimetres / 1000) == pytest.approx(atlas, rel=0.02)
