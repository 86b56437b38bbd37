"""Mildew on finished wood.

Source: USDA Forest Products Laboratory, Wood Handbook, chapter 16: 1 part of 5 % bleach to 5 parts of water is
usually enough, never stronger than 1 to 3. Mark: published; 1.25 % and 0.83 % follow by hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import diluted_strength
from sightwash.science.strength import trade_percent


def test_never_stronger_than_one_to_three() -> None:
    assert trade_percent(diluted_strength(50_000.0, 3.0)) == 1.25


def test_usual_mix() -> None:
    assert trade_percent(diluted_strength(50_000.0, 5.0)) == pytest.approx(0.83, abs=0.005)
