"""Humidity at which 0.2 lb/ft2/h is reached at 10 mph.

Source: ACI 305, Hot weather concreting. Mark: from memory; an extra comparison only. The threshold itself, 0.2
lb/ft2/h or 1 kg/m2/h, was read in a publication on silica fume in concrete.
"""

from __future__ import annotations

import pytest

from sightwash.science.evaporation import menzel_evaporation, uno_evaporation

TABLE = [
    (105, 95, 0.85),
    (100, 90, 0.80),
    (95, 85, 0.75),
    (90, 80, 0.60),
    (85, 75, 0.55),
    (80, 70, 0.35),
    (75, 65, 0.20),
]


@pytest.mark.parametrize(("surface", "air", "humidity"), TABLE)
@pytest.mark.parametrize("formula", [uno_evaporation, menzel_evaporation])
def test_threshold(formula, surface: float, air: float, humidity: float) -> None:
    rate = formula((surface - 32.0) / 1.8, (air - 32.0) / 1.8, humidity, 10 * 0.44704)
    assert rate * 3600.0 * 0.204816 == pytest.approx(0.2, rel=0.10)


def test_pounds_and_kilograms_of_the_threshold() -> None:
    assert pytest.approx(0.2, abs=0.005) == 1.0 * 0.204816
