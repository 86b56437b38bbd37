"""What household labels come to.

Source: posts on a hobby forum about pool water, read there: 6 weight % NaOCl = 6.17 trade % = 5.71 weight %
available chlorine; 8.25 weight % NaOCl = 7.86 weight % available chlorine. Mark: worked example (secondary).
"""

from __future__ import annotations

import pytest

from sightwash.science.strength import (
    strength_from_weight_percent_hypochlorite,
    trade_percent,
    weight_percent_chlorine,
)
from sightwash.science.tables import figures


def test_six_weight_percent() -> None:
    strength = strength_from_weight_percent_hypochlorite(6.0, figures("bleach_specific_gravity")["weight-6"].value)
    assert trade_percent(strength) == pytest.approx(6.17, abs=0.005)
    assert weight_percent_chlorine(strength, 1.08) == pytest.approx(5.71, abs=0.006)


def test_eight_and_a_quarter_weight_percent() -> None:
    strength = strength_from_weight_percent_hypochlorite(8.25, 1.10)
    assert weight_percent_chlorine(strength, 1.10) == pytest.approx(7.86, abs=0.005)
