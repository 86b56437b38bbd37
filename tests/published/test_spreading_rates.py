"""Theoretical spreading rates in ft2/gal by solids and dry film, as printed in estimating guides (published).

1604 ft2/gal is one mil of a paint of pure solids; other columns are cut or rounded by one.
"""

import pytest

from sightwash.basis.units import convert
from sightwash.science.paint import coverage_of_film, dry_film


@pytest.mark.parametrize(
    ("percent", "mils", "printed"),
    [
        (100, 1, 1604),
        (35, 1, 561),
        (35, 2, 281),
        (60, 3, 321),
        (50, 5, 160),
        (45, 10, 72),
        (100, 6, 267),
        (60, 8, 120),
    ],
)
def test_coverage(percent, mils, printed):
    dry = convert(mils, "mil", "m")
    wet = dry / (percent / 100)
    assert dry_film(wet, percent / 100) == pytest.approx(dry)
    assert convert(coverage_of_film(wet), "m2/L", "ft2/gal") == pytest.approx(printed, abs=1.0)
