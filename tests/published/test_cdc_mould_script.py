"""The upper limit for mould on hard things indoors.

Source: Centers for Disease Control and Prevention, public-service script on mould removal: not more than one cup
of household bleach in a gallon of water. Mark: published; 0.31 % from 5.25 % and 0.35 % from 6 % worked out by
hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import diluted_strength
from sightwash.science.strength import trade_percent


@pytest.mark.parametrize(("percent", "mix"), [(5.25, 0.31), (6.0, 0.35)])
def test_a_cup_in_a_gallon(percent: float, mix: float) -> None:
    assert trade_percent(diluted_strength(percent * 10_000.0, 16.0)) == pytest.approx(mix, abs=0.005)
