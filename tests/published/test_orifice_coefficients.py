"""Orifice flow reference page (costcalculator.calculator.city/?p=44734): discharge coefficients [published].

A secondary page.
"""

import pytest

from sightwash.science import orifice


@pytest.mark.parametrize(
    ("opening", "low", "high"), [("sharp-edged", 0.61, 0.65), ("short-tube", 0.80, 0.80), ("well-rounded", 0.97, 0.99)]
)
def test_coefficients_lie_in_the_printed_span(opening, low, high):
    assert low <= orifice.discharge_coefficient(opening) <= high
