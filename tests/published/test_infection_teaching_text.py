"""Dilution of bleach and of chlorine powder.

Source: a teaching text on infection prevention, read on a page that repeats it: parts of water = stock / target -
1, with 3.5 % to 0.5 %, 5 % to 0.1 %, and grams of 35 % powder in a litre of 0.5 %. Mark: worked example.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import powder_mass, water_parts


@pytest.mark.parametrize(("stock", "target", "parts"), [(35_000.0, 5_000.0, 6.0), (50_000.0, 1_000.0, 49.0)])
def test_parts_of_water(stock: float, target: float, parts: float) -> None:
    assert water_parts(stock, target) == pytest.approx(parts, abs=1e-9)


def test_powder_in_a_litre() -> None:
    assert powder_mass(1.0, 5_000.0, 0.35) * 1000.0 == pytest.approx(14.3, abs=0.05)
