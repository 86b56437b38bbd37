"""One part in ten of household bleach.

Source: a sodium hypochlorite (bleach) safety fact sheet, read in an excerpt: 5.25 % diluted 1:10 is 0.53 %, 5 250
ppm; its 1:10 means one part in ten in all. Mark: worked example.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import diluted_strength
from sightwash.science.strength import trade_percent


def test_one_in_ten_is_nine_parts_of_water() -> None:
    assert diluted_strength(52_500.0, 9.0) == pytest.approx(5_250.0, abs=1e-9)
    assert trade_percent(diluted_strength(52_500.0, 9.0)) == pytest.approx(0.53, abs=0.0051)
