"""Learning from few jobs: between a first guess and the data, and one mean over unlike groups."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range
from sightwash.science.spread import Spread


def shrunk_mean(prior_mean: float, prior_sd: float, data_mean: float, data_sd: float, count: int) -> Spread:
    """Mean after some jobs, between the first guess and the jobs' own mean.

    ``m = (m0/s0^2 + n x/s^2) / (1/s0^2 + n/s^2); 1/sm^2 = 1/s0^2 + n/s^2``

    Parameters
    ----------
    prior_mean : float
        First guess m0, in any unit [-]
    prior_sd : float
        Standard deviation s0 of the first guess, in the same unit [-]
    data_mean : float
        Mean x of the jobs, in the same unit; not used when there is none [-]
    data_sd : float
        Standard deviation s from job to job, in the same unit [-]
    count : int
        Jobs n [-]

    Returns
    -------
    Spread
        Mean and its standard deviation, in the same unit [-]

    Raises
    ------
    OutOfRange
        If a deviation is not above zero or the count is negative.

    Notes
    -----
    Range: normal errors, the spread from job to job taken as known.

    References
    ----------
    normal-normal

    Examples
    --------
    >>> mean = shrunk_mean(400.0, 80.0, 320.0, 100.0, 4)
    >>> round(mean.mean, 3), round(mean.sd, 3)
    (342.472, 42.4)
    """
    check_range("prior_mean", prior_mean, "-")
    check_range("prior_sd", prior_sd, "-", above=0.0)
    check_range("data_mean", data_mean, "-")
    check_range("data_sd", data_sd, "-", above=0.0)
    check_range("count", count, "-", least=0)
    data_weight = count / data_sd**2
    weight = 1.0 / prior_sd**2 + data_weight
    return Spread(prior_mean + (data_mean - prior_mean) * (data_weight / weight), math.sqrt(1.0 / weight))


def _check_groups(values: Sequence[float], errors: Sequence[float], least: int) -> list[float]:
    """Return the weights 1/s^2, or refuse."""
    if len(values) != len(errors) or len(values) < least:
        raise OutOfRange("errors", len(errors), f"one standard error for each of {least} or more values")
    for value, error in zip(values, errors, strict=True):
        check_range("values", value, "-")
        check_range("errors", error, "-", above=0.0)
    return [1.0 / error**2 for error in errors]


def between_variance(values: Sequence[float], errors: Sequence[float]) -> float:
    """Variance between groups beyond what their own errors explain, by the method of moments.

    ``t2 = max(0, (Q - (k - 1)) / (sum w - sum w2 / sum w)); Q = sum w (x - xw)2; w = 1/s2``

    Parameters
    ----------
    values : sequence of float
        Mean of each group, in one unit [-]
    errors : sequence of float
        Standard error of each mean, in the same unit [-]

    Returns
    -------
    float
        Variance between groups, in the unit squared [-]

    Raises
    ------
    OutOfRange
        If there are fewer than two groups, or an error is not above zero.

    Notes
    -----
    Range: two groups and more; with few groups the result is itself very uncertain.

    References
    ----------
    dersimonian-laird-1986

    Examples
    --------
    >>> round(between_variance([1.0, 5.0], [1.0, 1.0]), 6)
    7.0
    """
    weights = _check_groups(values, errors, 2)
    total = math.fsum(weights)
    middle = math.fsum(w * x for w, x in zip(weights, values, strict=True)) / total
    excess = math.fsum(w * (x - middle) ** 2 for w, x in zip(weights, values, strict=True)) - (len(values) - 1)
    return max(0.0, excess / (total - math.fsum(w**2 for w in weights) / total))


def pooled_mean(values: Sequence[float], errors: Sequence[float], variance_between: float = 0.0) -> Spread:
    """Mean over groups that differ by more than their own errors (random effects).

    ``m = sum w x / sum w; w = 1 / (s2 + t2); sm = 1 / sqrt(sum w)``

    Parameters
    ----------
    values : sequence of float
        Mean of each group, in one unit [-]
    errors : sequence of float
        Standard error of each mean, in the same unit [-]
    variance_between : float
        Variance t2 between groups, in the unit squared; 0 pools them as one [-]

    Returns
    -------
    Spread
        Pooled mean and its standard error, in the same unit [-]

    Raises
    ------
    OutOfRange
        If there is no group, an error is not above zero or the variance is negative.

    Notes
    -----
    Range: normal errors; the error of the variance between groups is not in the answer.

    References
    ----------
    dersimonian-laird-1986
    rubin-1981

    Examples
    --------
    >>> pooled_mean([1.0, 5.0], [1.0, 1.0], 7.0)
    Spread(mean=3.0, sd=2.0)
    """
    _check_groups(values, errors, 1)
    check_range("variance_between", variance_between, "-", least=0.0)
    weights = [1.0 / (error**2 + variance_between) for error in errors]
    total = math.fsum(weights)
    return Spread(math.fsum(w * x for w, x in zip(weights, values, strict=True)) / total, math.sqrt(1.0 / total))
