"""Fire service hydraulics, 1970, quoted by Fire Engineering: R = 2 p A, rounded to gpm sqrt(psi)/20 [published]."""

import math

import pytest

from sightwash.science import impact

PSI = 6894.757293
GPM = 3.785411784 / 60
LBF = 4.4482216


def test_twice_pressure_times_area():
    assert impact.bore_reaction(0.0254, 50 * PSI) / LBF == pytest.approx(2 * 50 * math.pi / 4)


@pytest.mark.parametrize(("gpm", "psi"), [(4, 3000), (8, 200), (150, 50)])
def test_the_rounded_form_is_within_6_percent(gpm, psi):
    assert impact.reaction_force(gpm * GPM, psi * PSI) / LBF == pytest.approx(gpm * math.sqrt(psi) / 20, rel=0.06)
