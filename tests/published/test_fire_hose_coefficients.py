"""Fire service table of hose friction (frictionlosscalculator.com/compact-table) [published]."""

import pytest

from sightwash.science import hose, hose_laws

PSI = 6894.757293
GPM = 3.785411784 / 60
INCH = 0.0254


@pytest.mark.parametrize(
    ("inches", "coefficient"),
    [(0.75, 1100), (1, 150), (1.25, 80), (1.5, 24), (1.75, 15.5), (2, 8), (2.5, 2), (3, 0.677)],
)
def test_coefficients(inches, coefficient):
    assert hose_laws.fire_service_coefficient(inches * INCH) == coefficient


def test_inch_and_three_quarters_at_150_gallons():
    assert hose_laws.fire_service_loss(150 * GPM, 30.48, 15.5) / PSI == pytest.approx(34.88, abs=0.01)


@pytest.mark.parametrize(("gpm", "psi"), [(5, 2.8), (10, 11.0), (15, 24.8), (20, 44)])
def test_three_quarter_inch_rows(gpm, psi):
    loss = hose_laws.fire_service_loss(gpm * GPM, 30.48, hose_laws.fire_service_coefficient(0.75 * INCH))
    assert loss / PSI == pytest.approx(psi, abs=0.06)


@pytest.mark.parametrize(("gpm", "psi"), [(10, 11.0), (15, 24.8), (20, 44)])
def test_darcy_in_smooth_hose_comes_near_the_rows(gpm, psi):
    # Another law for the same hose: the square is low at small flows and high at large ones.
    assert hose.darcy_loss(gpm * GPM, 30.48, 0.75 * INCH) / PSI == pytest.approx(psi, rel=0.15)
