"""Temperature of a dry wall in the sun.

Source: ASHRAE, Handbook of Fundamentals, sol-air temperature te = to + a It / ho - e dR / ho, with a/ho = 0.15
(light) and 0.30 (dark) h ft2 degF/Btu, ho about 3.0 Btu/h ft2 degF, correction 0 for walls and 7 degF (4 K) for
flat roofs, read second-hand. Mark: published; the temperatures are worked out from it by hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.wall_heat import sol_air_temperature

BTU_H_FT2 = 3.154591
HO = 3.0 * BTU_H_FT2 * 1.8


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32.0


def test_coefficient_of_three_is_seventeen() -> None:
    assert pytest.approx(17.0, abs=0.05) == HO


def test_dark_wall() -> None:
    surface = sol_air_temperature((90.0 - 32.0) / 1.8, 250.0 * BTU_H_FT2, 0.90, HO)
    assert fahrenheit(surface) == pytest.approx(165.0, abs=0.1)


def test_light_flat_roof() -> None:
    surface = sol_air_temperature((90.0 - 32.0) / 1.8, 250.0 * BTU_H_FT2, 0.45, HO, 7.0 / 1.8)
    assert fahrenheit(surface) == pytest.approx(120.5, abs=0.1)


def test_metric_wall() -> None:
    assert sol_air_temperature(32.0, 800.0, 0.7) == pytest.approx(64.9, abs=0.05)
