"""Stored stock of 12.5 trade percent against somebody else's model.

Source: Breakdown of bleach over time by storage temperature, a hobby wiki on pool water. Mark: independent
program: it is its author's own fit with factors of his own, not a measurement, so this is a comparison whose error
is stated. It falls faster at first and more slowly later than a second-order law. Months are 30, 61, 91, 122, 152
and 183 days.
"""

from __future__ import annotations

import numpy as np
import pytest

from sightwash.science.storage import strength_after, strength_band

DAY = 86400.0
FAHRENHEIT = (100, 95, 90, 85, 80, 75, 70)
TABLE = {
    1: (11.92, 12.10, 12.22, 12.31, 12.37, 12.41, 12.44),
    2: (11.42, 11.74, 11.97, 12.13, 12.25, 12.33, 12.39),
    3: (10.99, 11.41, 11.73, 11.96, 12.13, 12.25, 12.33),
    4: (10.61, 11.12, 11.51, 11.80, 12.02, 12.17, 12.28),
    5: (10.28, 10.85, 11.30, 11.65, 11.91, 12.09, 12.22),
    6: (9.98, 10.60, 11.10, 11.50, 11.80, 12.02, 12.17),
    7: (9.71, 10.37, 10.92, 11.36, 11.69, 11.94, 12.12),
    14: (8.33, 9.13, 9.87, 10.51, 11.04, 11.46, 11.78),
    21: (7.45, 8.29, 9.10, 9.85, 10.50, 11.04, 11.47),
    30: (6.68, 7.51, 8.36, 9.18, 9.93, 10.57, 11.11),
    61: (5.14, 5.90, 6.73, 7.60, 8.49, 9.33, 10.10),
    91: (4.27, 4.95, 5.72, 6.57, 7.48, 8.40, 9.28),
    122: (3.79, 4.42, 5.13, 5.93, 6.81, 7.74, 8.67),
    152: (3.47, 4.05, 4.72, 5.48, 6.33, 7.24, 8.18),
    183: (3.23, 3.78, 4.41, 5.13, 5.95, 6.84, 7.78),
}


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


def differences(longest: int, multiplier: float) -> tuple[np.ndarray, np.ndarray]:
    """Return model minus table in trade percent, and the table, up to so many days."""
    rows = [(days, row) for days, row in TABLE.items() if days <= longest]
    table = np.array([row for _, row in rows])
    model = [
        [strength_after(125_000.0, celsius(f), days * DAY, multiplier=multiplier) / 1e4 for f in FAHRENHEIT]
        for days, _ in rows
    ]
    return np.array(model) - table, table


@pytest.mark.parametrize(
    ("longest", "multiplier", "mean", "rms", "worst"),
    [
        (30, 1.0, 0.27, 0.32, 0.60),
        (30, 1.3, 0.01, 0.19, 0.95),
        (91, 1.0, 0.22, 0.35, 0.94),
        (183, 1.0, 0.08, 0.46, 1.32),
    ],
)
def test_stated_error(longest: int, multiplier: float, mean: float, rms: float, worst: float) -> None:
    off, _ = differences(longest, multiplier)
    assert off.mean() == pytest.approx(mean, abs=0.006)
    assert np.sqrt((off**2).mean()) == pytest.approx(rms, abs=0.006)
    assert np.abs(off).max() == pytest.approx(worst, abs=0.006)


def test_within_a_month_the_law_is_good_to_a_few_percent() -> None:
    off, table = differences(30, 1.0)
    assert np.sqrt(((off / table) ** 2).mean()) < 0.032


def test_band_holds_the_table_within_a_month_but_for_one_entry() -> None:
    """The one outside is a month at 100 degF: the table reads 6.68, the band's high end 6.55."""
    outside = []
    for days, row in TABLE.items():
        if days > 30:
            continue
        for fahrenheit, value in zip(FAHRENHEIT, row, strict=True):
            band = strength_band(125_000.0, [celsius(fahrenheit)], [days * DAY])
            if not band.low <= value * 1e4 <= band.high:
                outside.append((days, fahrenheit))
    assert outside == [(30, 100)]


def test_band_s_careful_end_is_never_above_the_table() -> None:
    for days, row in TABLE.items():
        for fahrenheit, value in zip(FAHRENHEIT, row, strict=True):
            assert strength_band(125_000.0, [celsius(fahrenheit)], [days * DAY]).low <= value * 1e4
