"""Evaporation from still pools.

Source: ASHRAE paper 4146, Carrier's formula W = (95 + 0.425 v)(pw - pa) / Y in lb/h/ft2, and undisturbed water at
74 % of it. Mark: published; 80/80 degF, 50 %, still air, Y = 1050 Btu/lb worked out from it by another hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.evaporation import carrier_evaporation

POUNDS_AN_HOUR = 3600.0 * 0.204816


def test_still_pool() -> None:
    rate = carrier_evaporation(26.6667, 26.6667, 0.50, 0.0, 1050.0 * 2326.0) * POUNDS_AN_HOUR
    assert rate == pytest.approx(0.0468, abs=0.0002)


def test_undisturbed_pool() -> None:
    rate = carrier_evaporation(26.6667, 26.6667, 0.50, 0.0, 1050.0 * 2326.0, activity=0.74) * POUNDS_AN_HOUR
    assert rate == pytest.approx(0.0347, abs=0.0002)
