"""UFGS-02763A Pavement Markings, section 3: 105 +- 5 ft2/gal, beads 6 lb/gal (published)."""

import pytest

from sightwash.basis.units import convert
from sightwash.science.paint import UFGS_BEADS, UFGS_COVERAGE, bead_mass, paint_volume
from sightwash.science.stalls import row_line_length


def test_rates():
    assert convert(UFGS_COVERAGE, "m2/L", "ft2/gal") == pytest.approx(105.0, rel=1e-9)
    assert convert(UFGS_BEADS, "kg/L", "lb/gal") == pytest.approx(6.0, rel=1e-9)


def test_twenty_stalls():
    """Check 30 of the reference: 21 lines of 18 ft, 4 in wide: 378 ft2/3 at 105 ft2/gal is 1.20 gal; beads 7.2 lb."""
    length = convert(row_line_length(20, 18.0), "ft", "m")
    paint = paint_volume(length, convert(4, "in", "m"))
    assert convert(paint, "L", "gal") == pytest.approx(126.0 / 105.0, abs=0.01)
    assert convert(bead_mass(paint), "kg", "lb") == pytest.approx(7.2, abs=0.05)
