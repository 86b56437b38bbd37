"""2010 ADA Standards, section 502: least widths and slope (published), and sums of them (closed form)."""

import pytest

from sightwash.basis.units import INCH
from sightwash.science.accessible_stalls import module_width
from sightwash.science.tables import table_rows


def test_table_says_what_section_502_says():
    found = {row["name"]: float(row["value"]) for row in table_rows("accessible_dimensions")}
    assert found["car stall width"] == 96
    assert found["van stall width"] == 132
    assert found["access aisle width"] == 60
    assert found["vertical clearance for vans"] == 98
    assert found["sign bottom above ground"] == 60
    assert 100 * found["slope of stall and aisle"] == pytest.approx(100 / 48, abs=1e-4)


def test_groups():
    """Check 28 of the reference: car and aisle 156 in, van and aisle 192 in either way, shared aisle 288 in."""
    assert module_width(1, 0, 1) / INCH == pytest.approx(96 + 60)
    assert module_width(0, 1, 1) / INCH == pytest.approx(132 + 60)
    assert module_width(1, 0, 1, aisle_width=96 * INCH) / INCH == pytest.approx(192)
    assert module_width(1, 1, 1) / INCH == pytest.approx(96 + 60 + 132)
