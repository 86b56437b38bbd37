"""The lognormal distribution: a number that cannot be negative and errs more upward than downward."""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import NamedTuple

from sightwash.science._range import check_range
from sightwash.science.spread import Spread

_NORMAL = NormalDist()


class Lognormal(NamedTuple):
    """Mean and standard deviation of the logarithm."""

    mu: float
    sigma: float


def lognormal_of_moments(mean: float, sd: float) -> Lognormal:
    """Lognormal distribution with a mean and a standard deviation.

    ``sigma2 = ln(1 + (s/m)2); mu = ln m - sigma2 / 2``

    Parameters
    ----------
    mean : float
        Mean, in any unit [-]
    sd : float
        Standard deviation, in the same unit [-]

    Returns
    -------
    Lognormal
        Mean and standard deviation of the logarithm [-]

    Raises
    ------
    OutOfRange
        If the mean is not above zero or the deviation is negative.

    Notes
    -----
    Range: every mean above zero; used for a sum it matches two moments, not the tail.

    References
    ----------
    lognormal-moments

    Examples
    --------
    >>> shape = lognormal_of_moments(8.0, 2.0)
    >>> round(shape.mu, 5), round(shape.sigma, 5)
    (2.04913, 0.24622)
    """
    check_range("mean", mean, "-", above=0.0)
    check_range("sd", sd, "-", least=0.0)
    variance = math.log1p((sd / mean) ** 2)
    return Lognormal(math.log(mean) - variance / 2.0, math.sqrt(variance))


def lognormal_of_guesses(low: float, usual: float, high: float, below_low: float = 0.1) -> Lognormal:
    """Lognormal distribution whose middle is the usual value and whose width is that of two guesses.

    ``mu = ln(usual); sigma = ln(high / low) / (2 z)``

    z is the normal quantile of ``1 - below_low``.

    Parameters
    ----------
    low : float
        Value that a share of jobs stay below, in any unit [-]
    usual : float
        Value that half of the jobs stay below, in the same unit [-]
    high : float
        Value that the same share of jobs exceed, in the same unit [-]
    below_low : float
        Share of jobs below the low value and above the high one [-]

    Returns
    -------
    Lognormal
        Mean and standard deviation of the logarithm [-]

    Raises
    ------
    OutOfRange
        If the values are not above zero and in order, or the share is not between 0 and 0.5.

    Notes
    -----
    Range: low and high are met exactly only where ``usual2 = low * high``; else their ratio is met.

    References
    ----------
    lognormal-moments

    Examples
    --------
    >>> shape = lognormal_of_guesses(4.0, 8.0, 16.0)
    >>> round(lognormal_quantile(shape.mu, shape.sigma, 0.9), 6)
    16.0
    """
    check_range("low", low, "-", above=0.0)
    check_range("usual", usual, "-", least=low)
    check_range("high", high, "-", least=usual)
    check_range("below_low", below_low, "-", above=0.0, below=0.5)
    return Lognormal(math.log(usual), math.log(high / low) / (2.0 * _NORMAL.inv_cdf(1.0 - below_low)))


def lognormal_quantile(mu: float, sigma: float, share: float) -> float:
    """Value that a share of a lognormal distribution stays below.

    ``x = exp(mu + sigma z)``

    Parameters
    ----------
    mu : float
        Mean of the logarithm [-]
    sigma : float
        Standard deviation of the logarithm [-]
    share : float
        Share that stays below [-]

    Returns
    -------
    float
        Value, in the unit of the distribution [-]

    Raises
    ------
    OutOfRange
        If the deviation is negative or the share is not between 0 and 1.

    Notes
    -----
    Range: shares between 0 and 1, both left out.

    References
    ----------
    lognormal-moments

    Examples
    --------
    >>> shape = lognormal_of_moments(8.0, 2.0)
    >>> round(lognormal_quantile(shape.mu, shape.sigma, 0.8), 4)
    9.5482
    """
    check_range("mu", mu, "-")
    check_range("sigma", sigma, "-", least=0.0)
    check_range("share", share, "-", above=0.0, below=1.0)
    return math.exp(mu + sigma * _NORMAL.inv_cdf(share))


def lognormal_share_below(mu: float, sigma: float, value: float) -> float:
    """Share of a lognormal distribution below a value.

    ``P = Phi((ln x - mu) / sigma)``

    Parameters
    ----------
    mu : float
        Mean of the logarithm [-]
    sigma : float
        Standard deviation of the logarithm [-]
    value : float
        Value, in the unit of the distribution [-]

    Returns
    -------
    float
        Share below the value [-]

    Raises
    ------
    OutOfRange
        If the deviation is negative or the value is not finite.

    Notes
    -----
    Range: every value; nothing lies at zero or below.

    References
    ----------
    lognormal-moments

    Examples
    --------
    >>> lognormal_share_below(0.0, 1.0, 1.0)
    0.5
    """
    check_range("mu", mu, "-")
    check_range("sigma", sigma, "-", least=0.0)
    check_range("value", value, "-")
    if value <= 0.0:
        return 0.0
    if sigma == 0.0:
        return 1.0 if math.log(value) >= mu else 0.0
    return _NORMAL.cdf((math.log(value) - mu) / sigma)


def lognormal_spread(mu: float, sigma: float) -> Spread:
    """Mean and standard deviation of a lognormal distribution.

    ``m = exp(mu + sigma2 / 2); s = m sqrt(exp(sigma2) - 1)``

    Parameters
    ----------
    mu : float
        Mean of the logarithm [-]
    sigma : float
        Standard deviation of the logarithm [-]

    Returns
    -------
    Spread
        Mean and standard deviation, in the unit of the distribution [-]

    Raises
    ------
    OutOfRange
        If the deviation is negative.

    Notes
    -----
    Range: every shape.

    References
    ----------
    lognormal-moments

    Examples
    --------
    >>> spread = lognormal_spread(2.0491254, 0.2462207)
    >>> round(spread.mean, 4), round(spread.sd, 4)
    (8.0, 2.0)
    """
    check_range("mu", mu, "-")
    check_range("sigma", sigma, "-", least=0.0)
    mean = math.exp(mu + sigma**2 / 2.0)
    return Spread(mean, mean * math.sqrt(math.expm1(sigma**2)))
