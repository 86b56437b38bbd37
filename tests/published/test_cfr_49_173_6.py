"""Bleach carried as materials of trade.

Sources: 49 CFR 173.6(a)(1)(ii) and (d): 30 kg (66 lb) or 30 L (8 gal) a package, 200 kg (440 lb) gross a motor
vehicle; PHMSA interpretation 10-0265 (2011): truck and trailer count as one. Mark: published; gallons worked out
by hand.
"""

from __future__ import annotations

import pytest

from sightwash.basis.units import GALLON, POUND
from sightwash.science.hazards import carried_stock_limit, fewest_packages, hypochlorite_mass
from sightwash.science.tables import figures


@pytest.mark.parametrize(("gravity", "tare", "gallons"), [(1.16, 0.0, 45.5), (1.16, 0.05, 43.3), (1.20, 0.0, 43.9)])
def test_strong_stock_on_the_whole_rig(gravity: float, tare: float, gallons: float) -> None:
    assert carried_stock_limit(gravity, tare) / GALLON == pytest.approx(gallons, abs=0.2)


def test_limits_as_printed() -> None:
    table = figures("carriage_limits")
    assert table["rig-mass"].value == pytest.approx(440.0 * POUND, rel=0.005)
    assert table["package-mass"].value == pytest.approx(66.0 * POUND, rel=0.005)
    assert table["package-capacity"].value == pytest.approx(8.0 * GALLON, rel=0.01)


def test_a_drum_s_worth_takes_seven_packages() -> None:
    assert fewest_packages(55.0 * GALLON) == 7


def test_reportable_quantity_in_gallons() -> None:
    """100 lb of NaOCl (40 CFR 302.4, from memory) is in 91.3 gal of 12.5 trade percent, by hand."""
    assert hypochlorite_mass(125_000.0, 91.3 * GALLON) / POUND == pytest.approx(100.0, abs=0.1)
