"""Simulation of a night: tasks that err together because they share a cause, and sums of them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from statistics import NormalDist
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range
from sightwash.science.spread import Spread

Array = NDArray[np.float64]
_NORMAL = NormalDist()


class Levels(NamedTuple):
    """Values that 10, 50, 80 and 95 of a hundred nights stay below."""

    p10: float
    p50: float
    p80: float
    p95: float


def task_draws(
    mus: Sequence[float], sigmas: Sequence[float], correlation: float = 0.5, draws: int = 100_000, seed: int = 1
) -> Array:
    """Draws of lognormal tasks that share one cause, one row a task and one column a night.

    ``T_i = exp(mu_i + sigma_i (sqrt(c) Z + sqrt(1 - c) E_i))``

    Z is one standard normal number a night, E_i one a task and night; the same seed gives the same numbers,
    and a task added at the end leaves those of the others as they were.

    Parameters
    ----------
    mus : sequence of float
        Mean of each task's logarithm [-]
    sigmas : sequence of float
        Standard deviation of each task's logarithm [-]
    correlation : float
        Correlation c of the logarithms of any two tasks: 0 independent, 1 all late together [-]
    draws : int
        Nights drawn [-]
    seed : int
        Seed of the generator (PCG64) [-]

    Returns
    -------
    array
        Time of each task in each night, in the unit of the tasks [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length, a deviation is negative, the correlation is not from 0 to 1, or a count is
        below 1.

    Notes
    -----
    Range: one cause with the same weight in every task; a cause that strikes one kind of work only is not in it.

    References
    ----------
    one-common-cause
    numpy-pcg64

    Examples
    --------
    >>> task_draws([0.0, 0.0], [1.0, 1.0], 1.0, 3).std(axis=0).tolist()
    [0.0, 0.0, 0.0]
    """
    return np.array(list(_rows(mus, sigmas, correlation, draws, seed))).reshape(len(mus), draws)


def _rows(mus: Sequence[float], sigmas: Sequence[float], correlation: float, draws: int, seed: int) -> Iterator[Array]:
    """Yield the draws of each task in turn, so that many tasks need little memory."""
    _check_tasks(mus, sigmas, correlation)
    check_range("draws", draws, "-", least=1)
    check_range("seed", seed, "-", least=0)
    generator = np.random.Generator(np.random.PCG64(seed))
    shared = generator.standard_normal(draws) * math.sqrt(correlation)
    apart = math.sqrt(1.0 - correlation)
    for mu, sigma in zip(mus, sigmas, strict=True):
        row = generator.standard_normal(draws)
        row *= apart
        row += shared
        row *= sigma
        row += mu
        yield np.exp(row, out=row)


def simulated_sums(
    mus: Sequence[float],
    sigmas: Sequence[float],
    weights: Sequence[Sequence[float]],
    correlation: float = 0.5,
    draws: int = 100_000,
    seed: int = 1,
) -> Array:
    """Draws of weighted sums of tasks that share one cause, one row a sum and one column a night.

    ``S_k = sum w_ki T_i``

    Parameters
    ----------
    mus : sequence of float
        Mean of each task's logarithm [-]
    sigmas : sequence of float
        Standard deviation of each task's logarithm [-]
    weights : sequence of sequence of float
        For each sum the weight of each task, such as the people at it [-]
    correlation : float
        Correlation c of the logarithms of any two tasks: 0 independent, 1 all late together [-]
    draws : int
        Nights drawn [-]
    seed : int
        Seed of the generator (PCG64) [-]

    Returns
    -------
    array
        Each sum in each night, in the unit of the tasks [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length or a value is outside its range.

    Notes
    -----
    Range: that of the draws; the error of a quantile falls with the square root of the draws.

    References
    ----------
    one-common-cause
    numpy-pcg64

    Examples
    --------
    >>> simulated_sums([0.0, 0.0], [0.0, 0.0], [[1.0, 2.0]], draws=2).tolist()
    [[3.0, 3.0]]
    """
    for each in weights:
        if len(each) != len(mus):
            raise OutOfRange("weights", len(each), f"a weight for each of {len(mus)} tasks")
    check_range("draws", draws, "-", least=1)
    sums = np.zeros((len(weights), draws))
    for number, row in enumerate(_rows(mus, sigmas, correlation, draws, seed)):
        for k, each in enumerate(weights):
            if each[number]:
                sums[k] += each[number] * row
    return sums


def levels(values: Array) -> Levels:
    """Levels of certainty of draws.

    Parameters
    ----------
    values : array
        Draws of one number, in any unit [-]

    Returns
    -------
    Levels
        Values that 10, 50, 80 and 95 in a hundred draws stay below, in the same unit [-]

    Raises
    ------
    OutOfRange
        If there is no draw.

    Notes
    -----
    Range: linear between neighbouring draws; the ends are only as sure as the number of draws allows.

    References
    ----------
    numpy-pcg64

    Examples
    --------
    >>> levels(np.arange(101.0))
    Levels(p10=10.0, p50=50.0, p80=80.0, p95=95.0)
    """
    if not len(values):
        raise OutOfRange("values", len(values), "one draw or more")
    return Levels(*(float(each) for each in np.quantile(values, (0.10, 0.50, 0.80, 0.95))))


def correlated_sum_spread(
    mus: Sequence[float], sigmas: Sequence[float], weights: Sequence[float], correlation: float = 0.5
) -> Spread:
    """Mean and standard deviation of a weighted sum of lognormal tasks that share one cause, exactly.

    ``m = sum w m_i; s2 = sum sum w_i w_j m_i m_j (exp(c_ij sigma_i sigma_j) - 1); m_i = exp(mu_i + sigma_i2 / 2)``

    c_ij is c for two tasks and 1 for a task with itself.

    Parameters
    ----------
    mus : sequence of float
        Mean of each task's logarithm [-]
    sigmas : sequence of float
        Standard deviation of each task's logarithm [-]
    weights : sequence of float
        Weight of each task, such as the people at it [-]
    correlation : float
        Correlation c of the logarithms of any two tasks [-]

    Returns
    -------
    Spread
        Mean and standard deviation, in the unit of the tasks [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length or a value is outside its range.

    Notes
    -----
    Range: every shape; the distribution of the sum itself has no closed form.

    References
    ----------
    lognormal-covariance

    Examples
    --------
    >>> spread = correlated_sum_spread([0.0, 0.0], [1.0, 1.0], [1.0, 1.0], 1.0)
    >>> round(spread.mean, 4), round(spread.sd, 4)
    (3.2974, 4.3224)
    """
    _check_tasks(mus, sigmas, correlation)
    if len(weights) != len(mus):
        raise OutOfRange("weights", len(weights), f"a weight for each of {len(mus)} tasks")
    sigma = np.asarray(sigmas, np.float64)
    means = np.asarray(weights, np.float64) * np.exp(np.asarray(mus, np.float64) + sigma**2 / 2.0)
    shared = means @ np.expm1(correlation * np.outer(sigma, sigma)) @ means
    own = np.sum(means**2 * (np.expm1(sigma**2) - np.expm1(correlation * sigma**2)))
    return Spread(math.fsum(means.tolist()), math.sqrt(float(shared + own)))


def dependent_sum_quantile(
    mus: Sequence[float], sigmas: Sequence[float], weights: Sequence[float], share: float
) -> float:
    """Value that a share of nights stays below when all tasks are late together, exactly.

    ``x = sum w_i exp(mu_i + sigma_i z)``

    Parameters
    ----------
    mus : sequence of float
        Mean of each task's logarithm [-]
    sigmas : sequence of float
        Standard deviation of each task's logarithm [-]
    weights : sequence of float
        Weight of each task, none below zero [-]
    share : float
        Share of nights below [-]

    Returns
    -------
    float
        Value, in the unit of the tasks [-]

    Raises
    ------
    OutOfRange
        If the lists differ in length or a value is outside its range.

    Notes
    -----
    Range: full dependence; quantiles then add, which they do not otherwise.

    References
    ----------
    comonotonic-sum

    Examples
    --------
    >>> dependent_sum_quantile([0.0, 0.0], [1.0, 0.5], [1.0, 1.0], 0.5)
    2.0
    """
    _check_tasks(mus, sigmas, 1.0)
    if len(weights) != len(mus):
        raise OutOfRange("weights", len(weights), f"a weight for each of {len(mus)} tasks")
    for weight in weights:
        check_range("weights", weight, "-", least=0.0)
    check_range("share", share, "-", above=0.0, below=1.0)
    z = _NORMAL.inv_cdf(share)
    return math.fsum(w * math.exp(mu + sigma * z) for mu, sigma, w in zip(mus, sigmas, weights, strict=True))


def _check_tasks(mus: Sequence[float], sigmas: Sequence[float], correlation: float) -> None:
    if len(mus) != len(sigmas):
        raise OutOfRange("sigmas", len(sigmas), f"as many deviations as means, {len(mus)}")
    check_range("correlation", correlation, "-", least=0.0, most=1.0)
    for mu, sigma in zip(mus, sigmas, strict=True):
        check_range("mus", mu, "-")
        check_range("sigmas", sigma, "-", least=0.0)
