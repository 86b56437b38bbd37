"""Half-lives of hypochlorite in a classic table.

Source: the half-life table in the Handbook of Chlorination, crediting Sconce. Mark: from memory; an extra
comparison only, the law itself is checked in test_adam_gordon_1999.py.
"""

from __future__ import annotations

import math

import pytest

from sightwash.science.storage import half_life

DAY = 86400.0
TABLE = [  # g/L, degF, days
    (100, 140, 3.5), (100, 77, 220), (100, 59, 800), (50, 140, 13), (50, 77, 790), (50, 59, 5000), (25, 140, 28),
    (25, 77, 1800),
]  # fmt: skip


def ratio(grams: float, fahrenheit: float, days: float) -> float:
    return half_life(grams * 1000.0, (fahrenheit - 32.0) / 1.8) / DAY / days


@pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
def test_strongest_stock_when_hot() -> None:
    assert ratio(100, 140, 3.5) == pytest.approx(1.0, abs=0.05)


@pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
def test_rows_of_25_to_100_grams() -> None:
    logs = [math.log(ratio(*row)) for row in TABLE]
    assert math.exp(sum(logs) / len(logs)) == pytest.approx(1.13, abs=0.01)
    assert math.exp(math.sqrt(sum(value**2 for value in logs) / len(logs))) == pytest.approx(1.28, abs=0.01)
    assert math.exp(max(map(abs, logs))) == pytest.approx(1.59, abs=0.01)
