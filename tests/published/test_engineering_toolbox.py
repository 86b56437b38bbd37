"""Engineering Toolbox: jet propulsion [worked example] and water pressure loss in hoses [published, off a chart]."""

import pytest

from sightwash.science import hose, impact

PSI = 6894.757293
GPM = 3.785411784 / 60


def test_a_15_mm_opening_at_3_bar_pushes_with_106_n():
    assert impact.bore_reaction(0.015, 3e5) == pytest.approx(106, abs=0.5)


def test_2_gallons_through_half_inch_hose():
    # The chart shows about 5 psi for 100 ft.
    assert hose.darcy_loss(2 * GPM, 30.48, 0.0127) / PSI == pytest.approx(5.0, abs=0.6)
