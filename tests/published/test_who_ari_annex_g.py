"""Dilution of bleach.

Source: World Health Organization, Infection prevention and control of epidemic- and pandemic-prone acute
respiratory infections in health care (2014), Annex G, Table G.1. Mark: worked example.
"""

from __future__ import annotations

import pytest

from sightwash.science.dilution import diluted_strength, stock_fraction, water_parts


def test_five_percent_to_five_hundred_ppm() -> None:
    assert water_parts(50_000.0, 500.0) == pytest.approx(99.0, abs=1e-9)


def test_two_and_a_half_percent_takes_two_parts_in_a_hundred() -> None:
    assert stock_fraction(25_000.0, 500.0) == pytest.approx(2.0 / 100.0, abs=1e-12)
    assert diluted_strength(25_000.0, 98.0 / 2.0) == pytest.approx(500.0, abs=1e-9)
