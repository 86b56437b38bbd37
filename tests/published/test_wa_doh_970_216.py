"""Spoons and cups of bleach in a gallon.

Source: Washington State Department of Health, publication 970-216 (2015): 600 to 800 ppm from 1/3 cup and a
tablespoon of 2.75 %, 3 tablespoons of 5.25 to 6.25 %, or 2 tablespoons of 8.25 % in a gallon of water. Mark:
published; the columns were jumbled in the excerpt read and are paired here by what gives the printed range. The
percentages are taken as grams in 100 mL, as the publication does.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import blended_strength

TABLESPOON = 1.0 / 256.0
CUP = 1.0 / 16.0


@pytest.mark.parametrize(
    ("percent", "gallons"),
    [(2.75, CUP / 3.0 + TABLESPOON), (5.25, 3 * TABLESPOON), (6.25, 3 * TABLESPOON), (8.25, 2 * TABLESPOON)],
)
def test_each_recipe_gives_six_to_eight_hundred_ppm(percent: float, gallons: float) -> None:
    assert 600.0 <= blended_strength([percent * 10_000.0, 0.0], [gallons, 1.0]) <= 800.0
