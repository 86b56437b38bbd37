"""The rate law of hypochlorite's loss, worked out apart from the code.

Source: L. C. Adam and G. Gordon, Inorganic Chemistry 38(6), 1299-1304 (1999), abstract: log10 k = 0.149 mu +
log10(2.083e10 T exp(-1.018e5 / RT) exp(-56.5 / R)). Mark: published. The numbers below were worked out from the
printed law by another hand; the table is printed to about three figures.
"""

from __future__ import annotations

import warnings

import pytest

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.science.hypochlorite import decay_constant, ionic_strength
from sightwash.science.storage import half_life, strength_after, strength_after_history, time_until

DAY = 86400.0
FAHRENHEIT = (60, 70, 77, 80, 90, 100, 110, 140)
HALF_LIVES = {  # g/L: days at each temperature
    160: (410, 181, 104, 82, 38.3, 18.4, 9.0, 1.24),
    125: (736, 324, 186, 147, 68.8, 33.0, 16.2, 2.23),
    100: (1170, 516, 296, 234, 110, 52.5, 25.9, 3.55),
    60: (2880, 1270, 727, 576, 269, 129, 63.5, 8.7),
    50: (3800, 1680, 961, 761, 355, 170, 83.9, 11.5),
    25: (9690, 4270, 2450, 1940, 905, 434, 214, 29.3),
}
STRENGTHS = {  # degF: trade % after 7, 14, 30, 60, 90 days, rate x 1, then x 1.5
    60: ((12.38, 12.27, 12.01, 11.56, 11.14), (12.32, 12.15, 11.78, 11.14, 10.56)),
    70: ((12.24, 11.98, 11.44, 10.55, 9.79), (12.11, 11.74, 10.98, 9.79, 8.83)),
    80: ((11.93, 11.41, 10.38, 8.88, 7.76), (11.67, 10.94, 9.57, 7.76, 6.52)),
    90: ((11.35, 10.39, 8.70, 6.68, 5.41), (10.84, 9.58, 7.56, 5.41, 4.22)),
    100: ((10.31, 8.78, 6.55, 4.44, 3.35), (9.48, 7.64, 5.29, 3.35, 2.46)),
    110: ((8.74, 6.71, 4.39, 2.66, 1.91), (7.59, 5.45, 3.32, 1.91, 1.34)),
}


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@pytest.mark.parametrize(
    ("mu", "constant"), [(0.0, 1.017e-8), (1.0, 1.433e-8), (2.0, 2.020e-8), (3.6, 3.497e-8), (6.0, 7.968e-8)]
)
def test_constant_at_25_degrees(mu: float, constant: float) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutsidePublishedRange)
        assert decay_constant(25.0, mu) == pytest.approx(constant, rel=0.001)


@pytest.mark.parametrize(("fahrenheit", "constant"), [(77, 3.529e-8), (80, 4.458e-8), (104, 2.650e-7)])
def test_constant_of_strong_stock(fahrenheit: float, constant: float) -> None:
    assert decay_constant(celsius(fahrenheit), ionic_strength(125_000.0)) == pytest.approx(constant, rel=0.001)


@pytest.mark.parametrize("grams", HALF_LIVES)
@pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
def test_half_lives(grams: int) -> None:
    found = [half_life(grams * 1000.0, celsius(degrees)) / DAY for degrees in FAHRENHEIT]
    assert found == pytest.approx(HALF_LIVES[grams], rel=0.008)


@pytest.mark.parametrize("degrees", STRENGTHS)
def test_strength_of_trade_stock(degrees: int) -> None:
    for multiplier, row in zip((1.0, 1.5), STRENGTHS[degrees], strict=True):
        found = [
            strength_after(125_000.0, celsius(degrees), days * DAY, multiplier=multiplier) / 10_000.0
            for days in (7, 14, 30, 60, 90)
        ]
        assert found == pytest.approx(row, abs=0.0055)


@pytest.mark.parametrize(
    ("grams", "fahrenheit", "days", "left"),
    [(125, 80, 30, 103.85), (125, 90, 14, 103.86), (60, 90, 30, 53.98), (160, 100, 7, 115.86)],
)
def test_worked_sums(grams: float, fahrenheit: float, days: float, left: float) -> None:
    after = strength_after(grams * 1000.0, celsius(fahrenheit), days * DAY)
    assert after / 1000.0 == pytest.approx(left, abs=0.01)


def test_cool_then_hot() -> None:
    left = strength_after_history(125_000.0, [celsius(70), celsius(95)], [10 * DAY, 20 * DAY])
    assert left / 1000.0 == pytest.approx(86.09, abs=0.01)


def test_days_to_a_fifth_lost() -> None:
    assert time_until(125_000.0, 100_000.0, celsius(85)) / DAY == pytest.approx(25.08, abs=0.01)


def test_half_life_of_strong_stock_in_a_warm_shed() -> None:
    assert half_life(125_000.0, celsius(80)) / DAY == pytest.approx(147.3, rel=0.001)


def test_salty_setting_nearly_halves_the_half_life() -> None:
    """Worked out with an ionic strength of 3.1 per mole and no caustic on top."""
    days = [half_life(125_000.0, celsius(f), salt_factor=3.1, caustic=0.0) / DAY for f in (60, 70, 77, 90, 100)]
    assert days == pytest.approx([392, 173, 99, 37, 18], rel=0.025)
