"""Robust means: one bad night counts, but not for more than it should."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from typing import Final

from sightwash.basis.errors import NumericalFailure, OutOfRange
from sightwash.science._range import check_range

NORMAL_QUARTILE: Final = 0.6744897501960817
"""Upper quartile of the standard normal distribution [-]."""
_MOST_ROUNDS: Final = 500


def median_deviation(values: Sequence[float]) -> float:
    """Spread of numbers by their median distance from their median, scaled to a normal's deviation.

    ``s = median |x - median x| / 0.6745``

    Parameters
    ----------
    values : sequence of float
        Numbers, in any unit [-]

    Returns
    -------
    float
        Deviation, in the same unit [-]

    Raises
    ------
    OutOfRange
        If there is no number or one is not finite.

    Notes
    -----
    Range: half of the numbers may be wild; zero where more than half are equal.

    References
    ----------
    venables-ripley-5-5

    Examples
    --------
    >>> round(median_deviation([1.0, 2.0, 3.0, 4.0, 100.0]), 4)
    1.4826
    """
    _check_values(values)
    middle = median(values)
    return median(abs(value - middle) for value in values) / NORMAL_QUARTILE


def huber_weight(residual: float, scale: float, bend: float = 1.345) -> float:
    """Weight of one number by how far it lies from the middle.

    ``w = min(1, k s / |r|)``

    Parameters
    ----------
    residual : float
        Distance r from the middle, in any unit [-]
    scale : float
        Usual deviation s, in the same unit [-]
    bend : float
        Deviations k beyond which a number loses weight [-]

    Returns
    -------
    float
        Weight from 0 to 1 [-]

    Raises
    ------
    OutOfRange
        If scale or bend is not above zero.

    Notes
    -----
    Range: 1.345 keeps 95 % of the mean's efficiency where errors are normal.

    References
    ----------
    huber-1964

    Examples
    --------
    >>> huber_weight(1.0, 1.0), huber_weight(-2.69, 1.0)
    (1.0, 0.5)
    """
    check_range("residual", residual, "-")
    check_range("scale", scale, "-", above=0.0)
    check_range("bend", bend, "-", above=0.0)
    return 1.0 if abs(residual) <= bend * scale else bend * scale / abs(residual)


def huber_mean(values: Sequence[float], scale: float, bend: float = 1.345) -> float:
    """Mean in which far numbers count less.

    ``sum w(x - m) (x - m) = 0``, from the median, weights by ``huber_weight``

    Parameters
    ----------
    values : sequence of float
        Numbers, in any unit [-]
    scale : float
        Usual deviation s, in the same unit [-]
    bend : float
        Deviations k beyond which a number loses weight [-]

    Returns
    -------
    float
        Robust mean m, in the same unit [-]

    Raises
    ------
    OutOfRange
        If there is no number, or scale or bend is not above zero.
    NumericalFailure
        If the rounds do not settle.

    Notes
    -----
    Range: the scale is taken as known; one wild number moves the result by at most ``k s / n`` or so.

    References
    ----------
    huber-1964
    venables-ripley-5-5

    Examples
    --------
    >>> round(huber_mean([1.0, 2.0, 3.0, 100.0], 1.0, 1.5), 6)
    2.5
    """
    _check_values(values)
    middle = median(values)
    for _ in range(_MOST_ROUNDS):
        weights = [huber_weight(value - middle, scale, bend) for value in values]
        moved = sum(w * x for w, x in zip(weights, values, strict=True)) / sum(weights)
        if abs(moved - middle) <= 1e-12 * max(scale, abs(moved)):
            return moved
        middle = moved
    raise NumericalFailure(f"the robust mean of {len(values)} numbers did not settle")


def _check_values(values: Sequence[float]) -> None:
    if not values:
        raise OutOfRange("values", len(values), "one number or more")
    for value in values:
        check_range("values", value, "-")
