"""Unlike groups measured with error: each is drawn toward the mean of all, the unsure ones most."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science.pooling import between_variance, pooled_mean


class ShrunkGroups(NamedTuple):
    """Estimates of the groups and the share of its own distance from the common mean that each keeps."""

    values: tuple[float, ...]
    kept: tuple[float, ...]


def shrunk_groups(values: Sequence[float], errors: Sequence[float]) -> ShrunkGroups:
    """Estimates of several groups, each drawn toward the mean of all.

    ``x_i' = m + k_i (x_i - m); k_i = 1 - (k - 3) / (k - 1) s_i2 / (s_i2 + t2)``

    m and t2 are the pooled mean and the variance between groups by the method of moments. With equal errors
    and a variance between them above zero, k_i is that of Stein's estimator, ``1 - (k - 3) s2 / sum (x - m)2``.

    Parameters
    ----------
    values : sequence of float
        Mean of each group, in one unit [-]
    errors : sequence of float
        Standard error of each mean, in the same unit [-]

    Returns
    -------
    ShrunkGroups
        Estimate of each group, in the same unit, and the share kept of its distance from the mean [-]

    Raises
    ------
    OutOfRange
        If there is no group, or an error is not above zero.

    Notes
    -----
    Range: normal errors; with fewer than four groups the correction for few groups is left out.

    References
    ----------
    morris-1983
    efron-morris-1977

    Examples
    --------
    >>> [round(value, 3) for value in shrunk_groups([0.0, 0.0, 0.0, 0.0, 10.0], [1.0] * 5).values]
    [0.05, 0.05, 0.05, 0.05, 9.8]
    """
    count = len(values)
    if count != len(errors):
        raise OutOfRange("errors", len(errors), f"one standard error for each of {count} values")
    variance = between_variance(values, errors) if count > 1 else 0.0
    middle = pooled_mean(values, errors, variance).mean
    correction = (count - 3) / (count - 1) if count > 3 else 1.0
    kept = tuple(1.0 - correction * error**2 / (error**2 + variance) for error in errors)
    if variance == 0.0:
        kept = (0.0,) * count
    return ShrunkGroups(tuple(middle + k * (x - middle) for k, x in zip(kept, values, strict=True)), kept)
