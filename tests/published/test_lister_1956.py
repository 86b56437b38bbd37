"""Activation energy of hypochlorite's loss, found by another laboratory.

Source: M. W. Lister, Canadian Journal of Chemistry 34 (1956), abstract: 24.8 kcal/mol for the slow step. Mark:
published.
"""

from __future__ import annotations

import math

import pytest

from sightwash.science.hypochlorite import decay_constant


def test_activation_energy_at_40_degrees() -> None:
    low, high = 313.0, 313.3
    slope = math.log(decay_constant(high - 273.15, 2.0) / decay_constant(low - 273.15, 2.0))
    energy = 8.314462618 * slope / (1.0 / low - 1.0 / high) / 4184.0
    assert energy == pytest.approx(24.8, abs=0.3)
