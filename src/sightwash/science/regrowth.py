"""Regrowth: how much of the dirt is back after a time."""

from __future__ import annotations

import math

from sightwash.science._range import check_range


def regrown_share(elapsed: float, time_constant: float, shape: float = 1.0) -> float:
    """Share of the dirt found at first that is back after a time.

    ``X = 1 - exp(-(t / T)^n)``

    Parameters
    ----------
    elapsed : float
        Time t since the wash, in any unit [-]
    time_constant : float
        Time T after which 63 % is back, in the same unit [-]
    shape : float
        Exponent n: 1 settles steadily, as dust does; above 1 starts slowly and then spreads, as growth does [-]

    Returns
    -------
    float
        Share from 0 to 1 [-]

    Raises
    ------
    OutOfRange
        If the time is negative, or the time constant or the exponent is not above zero.

    Notes
    -----
    Range: the form was fitted to algae on mortar and brick kept wet in the laboratory; out of doors it is a judgement.

    References
    ----------
    avrami-algae

    Examples
    --------
    >>> round(regrown_share(6.0, 12.0), 4), round(regrown_share(6.0, 12.0, 2.0), 4)
    (0.3935, 0.2212)
    """
    check_range("elapsed", elapsed, "-", least=0.0)
    check_range("time_constant", time_constant, "-", above=0.0)
    check_range("shape", shape, "-", above=0.0)
    return -math.expm1(-((elapsed / time_constant) ** shape))
