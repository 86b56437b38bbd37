"""Pipe friction reference page (fire.ezvirtualtools.com): p = 4.52 q^1.85 / (C^1.85 d^4.87) psi a foot [published].

The rows are worked from the printed form by hand in US units [worked example].
"""

import pytest

from sightwash.science import hose_laws

PSI = 6894.757293
GPM = 3.785411784 / 60
INCH = 0.0254
pytestmark = pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")


def test_half_inch_at_10_gallons():
    assert hose_laws.hazen_williams_loss(10 * GPM, 30.48, 0.5 * INCH) / PSI == pytest.approx(100.2, abs=0.5)


@pytest.mark.parametrize("gpm", [2, 5.5, 8])
@pytest.mark.parametrize("bore", [0.25, 0.375, 0.5, 0.75])
@pytest.mark.parametrize("c", [120, 140, 150])
def test_the_printed_form_in_us_units(gpm, bore, c):
    printed = 100 * 4.52 * gpm**1.85 / (c**1.85 * bore**4.87)
    assert hose_laws.hazen_williams_loss(gpm * GPM, 30.48, bore * INCH, c) / PSI == pytest.approx(printed, rel=1e-6)
