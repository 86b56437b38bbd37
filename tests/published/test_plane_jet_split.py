"""Plane jet on an inclined smooth plate, textbook problem 4.109 (worked example; posted solution's summary table).

The table prints the share of the larger stream: 0.5 square-on, 0.853 (cut) at 45 degrees, 1 along the plate.
"""

import pytest

from sightwash.science.doors import plane_jet_share


def test_limits_and_the_printed_row():
    assert plane_jet_share(90.0) == pytest.approx(0.5, abs=1e-12)
    assert plane_jet_share(45.0) == pytest.approx(0.8535, abs=6e-4)
    assert plane_jet_share(1e-6) == pytest.approx(1.0, abs=1e-9)
