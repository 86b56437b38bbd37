"""Spread of an estimate: three-point estimates, and sums of uncertain parts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range


class Spread(NamedTuple):
    """Mean and standard deviation of an uncertain number."""

    mean: float
    sd: float


class BetaShapes(NamedTuple):
    """The two shapes of a beta distribution between a low and a high value."""

    alpha: float
    beta: float


def _check_points(low: float, usual: float, high: float) -> None:
    check_range("low", low, "-")
    check_range("usual", usual, "-", least=low)
    check_range("high", high, "-", least=usual)


def three_point_spread(low: float, usual: float, high: float) -> Spread:
    """Mean and standard deviation of a three-point (PERT) estimate.

    ``mean = (a + 4 m + b) / 6; sd = (b - a) / 6``

    Parameters
    ----------
    low : float
        Lowest value, in any unit [-]
    usual : float
        Most likely value, in the same unit [-]
    high : float
        Highest value, in the same unit [-]

    Returns
    -------
    Spread
        Mean and standard deviation, in the same unit [-]

    Raises
    ------
    OutOfRange
        If the three values are not finite and in order.

    Notes
    -----
    Range: the classic rule; its sd equals that of the beta distribution only for some shapes.

    References
    ----------
    pert-three-point

    Examples
    --------
    >>> spread = three_point_spread(4.0, 6.0, 14.0)
    >>> spread.mean, round(spread.sd**2, 4)
    (7.0, 2.7778)
    """
    _check_points(low, usual, high)
    return Spread((low + 4.0 * usual + high) / 6.0, (high - low) / 6.0)


def three_point_shapes(low: float, usual: float, high: float) -> BetaShapes:
    """Shapes of the beta distribution that a three-point estimate stands for.

    ``alpha = 1 + 4 (m - a) / (b - a); beta = 1 + 4 (b - m) / (b - a)``

    Parameters
    ----------
    low : float
        Lowest value, in any unit [-]
    usual : float
        Most likely value, in the same unit [-]
    high : float
        Highest value, in the same unit, above the lowest [-]

    Returns
    -------
    BetaShapes
        Shapes on the way from the lowest to the highest value [-]

    Raises
    ------
    OutOfRange
        If the three values are not finite and in order, or the first and the last are equal.

    Notes
    -----
    Range: exact for the mean and the most likely value of the distribution.

    References
    ----------
    pert-three-point

    Examples
    --------
    >>> three_point_shapes(4.0, 6.0, 14.0)
    BetaShapes(alpha=1.8, beta=4.2)
    """
    _check_points(low, usual, high)
    check_range("high", high, "-", above=low)
    return BetaShapes(1.0 + 4.0 * (usual - low) / (high - low), 1.0 + 4.0 * (high - usual) / (high - low))


def sum_spread(means: Sequence[float], sds: Sequence[float], correlation: float = 0.0) -> Spread:
    """Mean and standard deviation of a sum whose parts share a common cause.

    ``m = sum mi; s2 = (1 - c) sum si2 + c (sum si)2``

    Parameters
    ----------
    means : sequence of float
        Mean of each part, in one unit [-]
    sds : sequence of float
        Standard deviation of each part, in the same unit [-]
    correlation : float
        Correlation c of every two parts: 0 independent, 1 all late together [-]

    Returns
    -------
    Spread
        Mean and standard deviation of the sum, in the same unit [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length, a deviation is negative, or the correlation is not from 0 to 1.

    Notes
    -----
    Range: one correlation for all pairs, such as the same crew, weather or guess behind every part.

    References
    ----------
    variance-of-sum

    Examples
    --------
    >>> sum_spread([1.0, 2.0], [3.0, 4.0]), sum_spread([1.0, 2.0], [3.0, 4.0], 1.0)
    (Spread(mean=3.0, sd=5.0), Spread(mean=3.0, sd=7.0))
    """
    if len(means) != len(sds):
        raise OutOfRange("sds", len(sds), f"as many deviations as means, {len(means)}")
    check_range("correlation", correlation, "-", least=0.0, most=1.0)
    for mean, sd in zip(means, sds, strict=True):
        check_range("means", mean, "-")
        check_range("sds", sd, "-", least=0.0)
    apart, together = math.fsum(sd**2 for sd in sds), math.fsum(sds) ** 2
    return Spread(math.fsum(means), math.sqrt((1.0 - correlation) * apart + correlation * together))
