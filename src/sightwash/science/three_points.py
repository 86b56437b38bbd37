"""Low, usual and high as the ends and the middle of a lognormal spread, and back."""

from __future__ import annotations

import math
from typing import NamedTuple

from sightwash.science._range import check_range


class ThreePoints(NamedTuple):
    """Low, usual and high value."""

    low: float
    usual: float
    high: float


def ends_of_lognormal(mu: float, sigma: float, deviations: float = 3.0) -> ThreePoints:
    """Low, usual and high value of a lognormal number.

    ``low, usual, high = exp(mu - k sigma), exp(mu), exp(mu + k sigma)``

    Parameters
    ----------
    mu : float
        Mean of the logarithm [-]
    sigma : float
        Standard deviation of the logarithm [-]
    deviations : float
        Deviations k from the middle to either end; 3 goes with the three-point rule [-]

    Returns
    -------
    ThreePoints
        Low, usual and high value, in the unit of the number [-]

    Raises
    ------
    OutOfRange
        If the deviation is negative or k is not above zero.

    Notes
    -----
    Range: the three-point rule takes the ends as six deviations apart, so that the spread is kept where it is small.

    References
    ----------
    pert-three-point
    lognormal-moments

    Examples
    --------
    >>> [round(value, 4) for value in ends_of_lognormal(0.0, 0.1)]
    [0.7408, 1.0, 1.3499]
    """
    check_range("mu", mu, "-")
    check_range("sigma", sigma, "-", least=0.0)
    check_range("deviations", deviations, "-", above=0.0)
    return ThreePoints(math.exp(mu - deviations * sigma), math.exp(mu), math.exp(mu + deviations * sigma))


def deviation_of_ends(low: float, high: float, deviations: float = 6.0) -> float:
    """Deviation of the logarithm of a number from its low and high value.

    ``sigma = ln(high / low) / k``

    Parameters
    ----------
    low : float
        Low value, in any unit [-]
    high : float
        High value, in the same unit [-]
    deviations : float
        Deviations k between the two; 6 goes with the three-point rule [-]

    Returns
    -------
    float
        Standard deviation of the logarithm [-]

    Raises
    ------
    OutOfRange
        If the values are not above zero and in order, or k is not above zero.

    Notes
    -----
    Range: that of the three-point rule.

    References
    ----------
    pert-three-point
    lognormal-moments

    Examples
    --------
    >>> round(deviation_of_ends(0.7408, 1.3499), 4)
    0.1
    """
    check_range("low", low, "-", above=0.0)
    check_range("high", high, "-", least=low)
    check_range("deviations", deviations, "-", above=0.0)
    return math.log(high / low) / deviations
