"""Evaporation from concrete, a classic table.

Source: W. Lerch, Plastic shrinkage, ACI Journal (1957). Mark: from memory; an extra comparison only, with its
error stated. Still air and 100 degF are the outliers, and the recollection of the 100 degF entry is doubtful.
"""

from __future__ import annotations

import numpy as np
import pytest

from sightwash.science.evaporation import menzel_evaporation, uno_evaporation

TABLE = [  # surface and air degF, humidity, mph, lb/ft2/h
    (70, 0.70, 0, 0.015), (70, 0.70, 5, 0.038), (70, 0.70, 10, 0.062), (70, 0.70, 15, 0.085), (70, 0.70, 20, 0.110),
    (70, 0.70, 25, 0.135), (70, 0.90, 10, 0.020), (70, 0.50, 10, 0.100), (70, 0.30, 10, 0.135), (70, 0.10, 10, 0.175),
    (50, 0.70, 10, 0.026), (60, 0.70, 10, 0.043), (80, 0.70, 10, 0.077), (90, 0.70, 10, 0.110), (100, 0.70, 10, 0.180),
]  # fmt: skip


@pytest.mark.parametrize(
    ("formula", "rms", "worst"), [(uno_evaporation, 0.085, 0.22), (menzel_evaporation, 0.078, 0.19)]
)
def test_stated_error(formula, rms: float, worst: float) -> None:
    off = []
    for fahrenheit, humidity, mph, printed in TABLE:
        degrees = (fahrenheit - 32.0) / 1.8
        off.append(formula(degrees, degrees, humidity, mph * 0.44704) * 3600.0 * 0.204816 / printed - 1.0)
    assert np.mean(off) == pytest.approx(-0.04, abs=0.01)
    assert np.sqrt(np.mean(np.square(off))) == pytest.approx(rms, abs=0.006)
    assert np.max(np.abs(off)) == pytest.approx(worst, abs=0.012)
