"""Water for an eyewash.

Source: Washington Administrative Code 296-800-15030, with ANSI/ISEA Z358.1: at least 0.4 gal/min (1.5 L/min) for
15 minutes; a drench shower 20 gal/min (75 L/min). Mark: published; gallons by multiplication.
"""

from __future__ import annotations

import pytest

from sightwash.basis.units import GALLON
from sightwash.science.hazards import eyewash_volume


def test_portable_eyewash() -> None:
    assert eyewash_volume() / GALLON == pytest.approx(6.0, abs=1e-6)
    assert eyewash_volume(1.5 / 60.0) == pytest.approx(22.5, abs=1e-9)


def test_drench_shower() -> None:
    assert eyewash_volume(20.0 * GALLON / 60.0) / GALLON == pytest.approx(300.0, abs=1e-9)
