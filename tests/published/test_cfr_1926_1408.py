"""29 CFR 1926.1408 Table A, minimum clearance distances; the value after "to" is included (published)."""

import pytest

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import FOOT
from sightwash.science.clearances import line_clearance


@pytest.mark.parametrize(
    ("kilovolts", "feet"),
    [
        (0.12, 10),
        (50, 10),
        (50.001, 15),
        (200, 15),
        (200.001, 20),
        (350, 20),
        (350.001, 25),
        (500, 25),
        (500.001, 35),
        (750, 35),
        (750.001, 45),
        (1000, 45),
    ],
)
def test_rows(kilovolts, feet):
    assert line_clearance(kilovolts * 1000) == pytest.approx(feet * FOOT, abs=1e-12)


@pytest.mark.parametrize(("kilovolts", "feet"), [(7.2, 10), (60, 15), (230, 20), (345, 20)])
def test_usual_lines(kilovolts, feet):
    """Check 32 of the reference."""
    assert line_clearance(kilovolts * 1000) == pytest.approx(feet * FOOT, abs=1e-12)


def test_over_a_million_volts_the_utility_decides():
    with pytest.raises(OutOfRange, match="utility"):
        line_clearance(1000001.0)
