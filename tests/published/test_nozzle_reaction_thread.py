"""Physics Forums, thread 838884: R = 0.157 p d^2 in N, bar and mm; 130 N at 1.52 bar and 23.4 mm [worked example]."""

import pytest

from sightwash.science import impact


def test_reaction_of_a_23_4_mm_nozzle():
    assert impact.bore_reaction(0.0234, 1.52e5) == pytest.approx(130, abs=1)


def test_the_constant_0_157():
    assert impact.bore_reaction(0.001, 1e5) == pytest.approx(0.157, abs=5e-4)
