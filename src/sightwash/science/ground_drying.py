"""When a wet pavement is dry, from evaporation that changes by the hour."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import not_negative, within

Series = Sequence[float] | NDArray[np.float64]


def drying_moment(film: float, evaporations: Series, durations: Series) -> float:
    """Time after which a film is gone under a course of evaporation.

    ``sum(E_i dt_i) = rho d``; dew in a spell makes the film thicker

    Parameters
    ----------
    film : float
        Thickness of the film at the start [m]
    evaporations : float array
        Evaporation in each spell; below zero where dew falls [kg/m2/s]
    durations : float array
        Length of each spell [s]

    Returns
    -------
    float
        Time until the film is gone; infinite where it lasts beyond the last spell [s]

    Raises
    ------
    OutOfRange
        If the film is outside 0 to 20 mm, a duration negative or the arrays differ in length.

    Notes
    -----
    Range: even films; puddles, joints and cold spots stay wet for longer.

    References
    ----------
    film-volume

    Examples
    --------
    >>> drying_moment(0.0003, [0.0001, 0.0002], [1000.0, 9000.0])
    2000.0
    """
    within("film", film, 0.0, 0.02, "0 to 0.02 m")
    rates = np.asarray(evaporations, dtype=np.float64)
    seconds = np.asarray(durations, dtype=np.float64)
    if rates.ndim != 1 or rates.shape != seconds.shape:
        raise OutOfRange("durations", f"{seconds.size} values", f"one for each of {rates.size} spells")
    not_negative("durations", seconds, "s")
    within("evaporations", rates, -1.0, 1.0, "-1 to 1 kg/m2/s")
    left, now = film * 1000.0, 0.0
    for rate, spell in zip(rates.tolist(), seconds.tolist(), strict=True):
        if left <= 0.0:
            return now
        if rate * spell >= left:
            return float(now + left / rate)
        left -= rate * spell
        now += spell
    return now if left <= 0.0 else math.inf
