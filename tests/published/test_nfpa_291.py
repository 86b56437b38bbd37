"""NFPA 291, Recommended practice for water flow testing and marking of hydrants.

The constant 29.84 and the coefficients of figure 4.9.1 [published, read in hydrant-test pages that quote them];
the flow rows are worked from the formula by hand [worked example], that the standard prints the same is from memory.
"""

import pytest

from sightwash.science import orifice

PSI = 6894.757293
GPM = 3.785411784 / 60
INCH = 0.0254
DENSITY = 999.0
"""Water of 62.37 lb/ft3, on which the constant 29.84 rests."""


@pytest.mark.parametrize(
    ("psi", "one_inch", "hydrant"),
    [
        (10, 94.4, 531),
        (20, 133.4, 751),
        (30, 163.4, 919),
        (40, 188.7, 1062),
        (50, 211.0, 1187),
        (100, 298.4, 1679),
    ],
)
def test_flow_rows(psi, one_inch, hydrant):
    assert orifice.orifice_flow(INCH, psi * PSI, 1.0, DENSITY) / GPM == pytest.approx(one_inch, abs=0.1)
    assert orifice.orifice_flow(2.5 * INCH, psi * PSI, 0.90, DENSITY) / GPM == pytest.approx(hydrant, abs=1)


def test_the_constant_29_84():
    assert orifice.orifice_flow(INCH, PSI, 1.0, DENSITY) / GPM == pytest.approx(29.84, abs=0.005)


@pytest.mark.parametrize(
    ("opening", "coefficient"),
    [("hydrant-rounded", 0.90), ("hydrant-square", 0.80), ("hydrant-projecting", 0.70), ("flow-tube", 0.95)],
)
def test_coefficients_of_outlets(opening, coefficient):
    assert orifice.discharge_coefficient(opening) == coefficient
