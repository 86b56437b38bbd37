"""29 CFR 1910.333(c)(3)(i)(A): 10 ft to 50 kV, plus 4 in for every 10 kV over 50 kV (published, text as quoted)."""

import pytest

from sightwash.basis.units import FOOT, INCH
from sightwash.science.clearances import unqualified_line_clearance


@pytest.mark.parametrize(
    ("kilovolts", "inches_more"), [(0.12, 0), (7.2, 0), (50, 0), (60, 4), (70, 8), (100, 20), (150, 40)]
)
def test_rule(kilovolts, inches_more):
    assert unqualified_line_clearance(kilovolts * 1000) == pytest.approx(10 * FOOT + inches_more * INCH, abs=1e-9)
