"""Volumes as a jug can measure them."""

from __future__ import annotations

from sightwash.science._limits import above_zero, not_negative


def measured_volume(volume: float, step: float) -> float:
    """Volume to the nearest mark of a measure.

    ``V = s round(V / s)``

    Parameters
    ----------
    volume : float
        Volume wanted [L]
    step : float
        Distance between the marks [L]

    Returns
    -------
    float
        Volume at the nearest mark; the upper one halfway between two [L]

    Raises
    ------
    OutOfRange
        If the volume is negative or the step not above zero.

    Notes
    -----
    Range: any volume; the error is at most half a step.

    References
    ----------
    volume-units

    Examples
    --------
    >>> round(measured_volume(7.2, 0.5), 6)
    7.0
    """
    not_negative("volume", volume, "L")
    above_zero("step", step, "L")
    return step * float((volume / step + 0.5) // 1.0)
