"""Eighteen batting averages after 45 turns (published).

Efron and Morris, "Stein's paradox in statistics", Scientific American 236, 1977, 119-127: grand average 0.265,
shrinking factor 0.212, so that 0.400 becomes 0.294; hits out of 45, as the averages of three figures are quoted in
many places.
"""

import pytest

from sightwash.science.shrinkage import shrunk_groups

HITS = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7]
AVERAGES = [hits / 45 for hits in HITS]
GRAND = sum(AVERAGES) / len(AVERAGES)
ERROR = (GRAND * (1 - GRAND) / 45) ** 0.5


def test_averages_are_the_printed_ones():
    printed = [400, 378, 356, 333, 311, 311, 289, 267, 244, 244, 222, 222, 222, 222, 222, 200, 178, 156]
    assert [round(1000 * average) for average in AVERAGES] == printed
    assert round(GRAND, 3) == 0.265


def test_shrinking_factor():
    found = shrunk_groups(AVERAGES, [ERROR] * 18)
    assert found.kept == pytest.approx([0.212] * 18, abs=5e-4)
    assert round(found.values[0], 3) == 0.294
    assert sum(found.values) / 18 == pytest.approx(GRAND)


def test_reference_digits():
    """Check of the reference (computed there): grand mean 0.26543, factor 0.2117, 0.400 becomes 0.2939."""
    found = shrunk_groups(AVERAGES, [ERROR] * 18)
    assert pytest.approx(0.26543, abs=5e-6) == GRAND
    assert found.kept[0] == pytest.approx(0.2117, abs=5e-5)
    assert found.values[0] == pytest.approx(0.2939, abs=5e-5)
