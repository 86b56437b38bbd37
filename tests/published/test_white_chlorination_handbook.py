"""Strength terms of hypochlorite.

Source: G. C. White, Handbook of Chlorination (1972), the three relations trade % = g/L / 10, weight % of available
chlorine = trade % / SG and weight % of NaOCl = 1.05 trade % / SG, read as quoted on a product-profile sheet. Mark:
published; the rows below are worked out by hand from the relations (1.0499 for 1.05), closed form.
"""

from __future__ import annotations

import pytest

from sightwash.science.hypochlorite import molarity
from sightwash.science.strength import (
    HYPOCHLORITE_PER_CHLORINE,
    strength_from_trade_percent,
    weight_percent_chlorine,
    weight_percent_hypochlorite,
)

# trade %, specific gravity, weight % Cl2, weight % NaOCl, mol/L
ROWS = [
    (5.0, 1.07, 4.67, 4.91, 0.705),
    (6.0, 1.09, 5.50, 5.78, 0.846),
    (8.0, 1.12, 7.14, 7.50, 1.128),
    (10.0, 1.14, 8.77, 9.21, 1.410),
    (12.5, 1.16, 10.78, 11.31, 1.763),
    (12.5, 1.20, 10.42, 10.94, 1.763),
    (15.0, 1.20, 12.50, 13.12, 2.115),
    (16.0, 1.21, 13.22, 13.88, 2.257),
]


def test_mass_ratio_rounds_to_the_handbook_s() -> None:
    assert pytest.approx(1.0499, abs=1e-4) == HYPOCHLORITE_PER_CHLORINE
    assert round(HYPOCHLORITE_PER_CHLORINE, 2) == 1.05


@pytest.mark.parametrize(("trade", "gravity", "chlorine", "hypochlorite", "moles"), ROWS)
def test_terms_of_one_strength(
    trade: float, gravity: float, chlorine: float, hypochlorite: float, moles: float
) -> None:
    strength = strength_from_trade_percent(trade)
    assert weight_percent_chlorine(strength, gravity) == pytest.approx(chlorine, abs=0.0051)
    assert weight_percent_hypochlorite(strength, gravity) == pytest.approx(hypochlorite, abs=0.01)
    assert molarity(strength) == pytest.approx(moles, abs=0.0006)
