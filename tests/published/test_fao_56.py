"""Vapour pressure of air.

Source: Allen and others, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56 (1998): Example 3, es(24.5)
= 3.075 and es(15) = 1.705 kPa, read as repeated by a national centre's library (published); es(25) = 3.168 and the
psychrometer example at 1200 m, 25.6 and 19.5 degC, 1.91 kPa (from memory).
"""

from __future__ import annotations

import pytest

from sightwash.science.vapour import saturation_pressure, vapour_pressure_from_wet_bulb, wet_bulb


@pytest.mark.parametrize(("temperature", "kilopascals"), [(24.5, 3.075), (15.0, 1.705), (25.0, 3.168)])
def test_saturation_pressure(temperature: float, kilopascals: float) -> None:
    assert saturation_pressure(temperature) / 1000.0 == pytest.approx(kilopascals, abs=0.0005)


def test_psychrometer_at_altitude() -> None:
    pressure = 101_300.0 * ((293.0 - 0.0065 * 1200.0) / 293.0) ** 5.26
    vapour = vapour_pressure_from_wet_bulb(25.6, 19.5, pressure)
    assert vapour / 1000.0 == pytest.approx(1.91, abs=0.005)
    assert wet_bulb(25.6, 1910.0 / saturation_pressure(25.6), pressure) == pytest.approx(19.5, abs=0.05)
