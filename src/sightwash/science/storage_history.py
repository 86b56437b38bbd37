"""Temperatures of a store over the day, for the loss of strength of what stands in it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import within


def day_temperatures(lowest: float, highest: float, parts: int = 12) -> NDArray[np.float64]:
    """Temperatures of one day between its lowest and its highest, in equal parts of the day.

    ``T_i = (T_low + T_high) / 2 - (T_high - T_low) / 2 cos(2 pi (i + 1/2) / n)``

    Parameters
    ----------
    lowest : float
        Lowest temperature of the day [degC]
    highest : float
        Highest temperature of the day [degC]
    parts : int
        Number of parts [-]

    Returns
    -------
    float array
        Temperature in the middle of each part, from the coldest hour on [degC]

    Raises
    ------
    OutOfRange
        If the highest is below the lowest, a temperature outside -60 to 100 degC or the parts outside 2 to 1440.

    Notes
    -----
    Range: air that swings like a sine wave; a full drum swings less, so that the loss comes out high.

    References
    ----------
    sine-day

    Examples
    --------
    >>> [round(float(t), 1) for t in day_temperatures(10.0, 30.0, 4)]
    [12.9, 27.1, 27.1, 12.9]
    """
    within("lowest", lowest, -60.0, 100.0, "-60 to 100 degC")
    within("highest", highest, -60.0, 100.0, "-60 to 100 degC")
    within("parts", parts, 2, 1440, "2 to 1440")
    if highest < lowest:
        raise OutOfRange("highest", highest, f"at least the lowest, {lowest:g} degC")
    turn = 2.0 * math.pi * (np.arange(parts) + 0.5) / parts
    return np.asarray(0.5 * (lowest + highest) - 0.5 * (highest - lowest) * np.cos(turn))
