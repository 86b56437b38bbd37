"""Household bleach made up to a quart.

Source: Washington Administrative Code 296-823-14055: 1:100 is 2 teaspoons (10 mL) topped up to a quart (946 mL),
1:10 is 1/3 cup (79 mL) and a tablespoon (15 mL) topped up to a quart, from 5.25 %. Mark: published.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import blended_strength


def made_up(millilitres: float) -> float:
    return blended_strength([52_500.0, 0.0], [millilitres / 1000.0, (946.0 - millilitres) / 1000.0])


def test_one_in_ten() -> None:
    assert made_up(79.0 + 15.0) / 10_000.0 == pytest.approx(0.522, abs=0.001)
    assert made_up(79.0 + 15.0) == pytest.approx(52_500.0 / 10.0, rel=0.01)


def test_one_in_a_hundred() -> None:
    assert made_up(10.0) == pytest.approx(52_500.0 / 100.0, rel=0.06)
