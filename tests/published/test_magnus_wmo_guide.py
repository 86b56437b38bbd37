"""Dew points by the Magnus form.

Source: World Meteorological Organization, Guide to Meteorological Instruments and Methods of Observation (2008),
constants 611.2 Pa, 17.62, 243.12 degC, read in the documentation of libraries that cite it. Mark: published; the
dew points were worked out from them by another hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.vapour import dew_point, dew_point_fao, saturation_pressure_magnus


@pytest.mark.parametrize(
    ("temperature", "humidity", "dew"),
    [(25.0, 0.50, 13.85), (20.0, 0.70, 14.36), (30.0, 0.80, 26.17), (10.0, 0.90, 8.43), (21.111, 0.60, 13.04),
     (26.667, 0.65, 19.54)],
)  # fmt: skip
def test_dew_points(temperature: float, humidity: float, dew: float) -> None:
    assert dew_point(temperature, humidity) == pytest.approx(dew, abs=0.006)
    assert dew_point_fao(temperature, humidity) == pytest.approx(dew, abs=0.016)


@pytest.mark.parametrize(("temperature", "hectopascals"), [(20.0, 23.326), (25.0, 31.601)])
def test_saturation_pressure(temperature: float, hectopascals: float) -> None:
    assert saturation_pressure_magnus(temperature) / 100.0 == pytest.approx(hectopascals, abs=0.001)
