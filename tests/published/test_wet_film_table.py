"""Wet time of films on walls, worked out apart from the code.

Source: the heat balance of a wet film on an insulated wall, with h_c = 5.7 + 3.8 v, h_r = 5.7 W/m2K, L = 2.45
MJ/kg and a Lewis factor of 0.908, and Uno's formula at air temperature for the quick bound. Mark: closed form,
solved by another hand printed in whole minutes; the coefficients are from memory and are
arguments of the functions.
"""

from __future__ import annotations

import pytest

from sightwash.science.drying import quick_wet_time, slow_wet_time
from sightwash.science.wall_heat import wet_film

# air degF, humidity, mph, absorbed sun W/m2, slow minutes for 0.1, 0.2, 0.3 mm, film degC, quick minutes
ROWS = [
    (60, 0.80, 3, 0, (135, 270, 404), 13.7, (104, 208, 313)),
    (70, 0.70, 2, 0, (85, 170, 256), 17.9, (58, 116, 174)),
    (70, 0.70, 5, 0, (59, 119, 178), 17.7, (35, 69, 104)),
    (70, 0.50, 5, 0, (34, 69, 103), 15.1, (21, 42, 62)),
    (80, 0.50, 5, 0, (29, 59, 88), 19.7, (15, 30, 45)),
    (80, 0.50, 5, 300, (12, 25, 37), 25.0, (15, 30, 45)),
    (90, 0.40, 10, 0, (14, 28, 42), 22.0, (6, 11, 17)),
    (90, 0.40, 10, 500, (6, 13, 19), 27.3, (6, 11, 17)),
    (95, 0.30, 10, 700, (5, 9, 14), 29.1, (4, 8, 13)),
]


@pytest.mark.parametrize(("fahrenheit", "humidity", "mph", "sun", "slow", "settled", "quick"), ROWS)
def test_row(fahrenheit, humidity, mph, sun, slow, settled, quick) -> None:
    air, wind = (fahrenheit - 32.0) / 1.8, mph * 0.44704
    assert wet_film(air, humidity, wind, sun).temperature == pytest.approx(settled, abs=0.06)
    films = (0.0001, 0.0002, 0.0003)
    found = [slow_wet_time(film, air, humidity, wind, sun) / 60.0 for film in films]
    assert found == pytest.approx(slow, abs=0.55, rel=0.003)
    found = [quick_wet_time(film, air, air, humidity, wind) / 60.0 for film in films]
    assert found == pytest.approx(quick, abs=0.55)
