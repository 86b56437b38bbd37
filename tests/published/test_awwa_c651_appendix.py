"""Pounds of neutraliser for 100 000 gal.

Source: AWWA C651, Disinfecting water mains, appendix. Mark: from memory; an extra comparison only, the field
guide's own tables stand in test_awwa_field_guide.py. The entries belong to ratios of 1.0, 1.5, 1.75, 1.44 and 2.5.
"""

from __future__ import annotations

import pytest

from sightwash.basis.units import GALLON, POUND
from sightwash.science.dechlorination import neutraliser_mass
from sightwash.science.dilution import chlorine_mass

RATIOS = (1.0, 1.5, 1.75, 1.44, 2.5)
TABLE = {
    1.0: (0.8, 1.2, 1.4, 1.2, 2.1), 2.0: (1.7, 2.5, 2.9, 2.4, 4.2), 10.0: (8.3, 12.5, 14.6, 12.0, 20.9),
    50.0: (41.7, 62.6, 73.0, 60.0, 104.0),
}  # fmt: skip


@pytest.mark.parametrize("residual", TABLE)
def test_pounds(residual: float) -> None:
    """The table drops digits rather than rounding them: 1.46 lb of sulfite stands there as 1.4."""
    chlorine = chlorine_mass(residual, 100_000.0 * GALLON)
    found = [neutraliser_mass(chlorine, ratio) / POUND for ratio in RATIOS]
    assert found == pytest.approx(TABLE[residual], rel=0.005, abs=0.065)
