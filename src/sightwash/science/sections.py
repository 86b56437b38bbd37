"""How long a stretch of wall may be treated before the rinse must begin.

::

    treated up to  |    ______________
    x = v_t t      |   /             / rinsed up to
                   |  /             /  x = v_r (t - t_0)
                   | /   t_0       /
                   |/_____________/________ t
"""

from __future__ import annotations

from sightwash.science._limits import above_zero, not_negative


def longest_section(wet_time: float, dwell: float, treat_speed: float, rinse_speed: float) -> float:
    """Longest stretch whose every part dwells long enough and is rinsed before it dries.

    ``t_0 + x (1/v_r - 1/v_t)`` from dwell to wet time for all x to L, with t_0 not before L / v_t

    Parameters
    ----------
    wet_time : float
        Time for which the film stays wet [s]
    dwell : float
        Time for which the mix must stand [s]
    treat_speed : float
        Speed along the wall while treating [m/s]
    rinse_speed : float
        Speed along the wall while rinsing [m/s]

    Returns
    -------
    float
        Longest stretch; zero where the film dries before its dwell is over [m]

    Raises
    ------
    OutOfRange
        If a time is negative or a speed not above zero.

    Notes
    -----
    Range: one person treats the stretch from one end and rinses it from the same end, at steady speeds.

    References
    ----------
    section-timeline

    Examples
    --------
    >>> round(longest_section(1200.0, 600.0, 0.02, 0.03), 1)
    24.0
    """
    not_negative("wet_time", min(wet_time, 1e9), "s")
    not_negative("dwell", dwell, "s")
    above_zero("treat_speed", treat_speed, "m/s")
    above_zero("rinse_speed", rinse_speed, "m/s")
    if wet_time < dwell:
        return 0.0
    slower = 1.0 / rinse_speed - 1.0 / treat_speed
    if slower > 0.0:
        return min((wet_time - dwell) / slower, wet_time * rinse_speed)
    closing = (wet_time - dwell) / -slower if slower < 0.0 else float("inf")
    return min(closing, wet_time * treat_speed)


def section_time(length: float, dwell: float, treat_speed: float, rinse_speed: float) -> float:
    """Time from the first treated inch of a stretch to its last rinsed one.

    ``t = t_0 + L / v_r``, t_0 the least start of the rinse that lets every part dwell

    Parameters
    ----------
    length : float
        Length of the stretch [m]
    dwell : float
        Time for which the mix must stand [s]
    treat_speed : float
        Speed along the wall while treating [m/s]
    rinse_speed : float
        Speed along the wall while rinsing [m/s]

    Returns
    -------
    float
        Time for the stretch [s]

    Raises
    ------
    OutOfRange
        If a length or time is negative or a speed not above zero.

    Notes
    -----
    Range: one person, steady speeds, no walk back from the far end.

    References
    ----------
    section-timeline

    Examples
    --------
    >>> round(section_time(24.0, 600.0, 0.02, 0.03))
    2000
    """
    not_negative("length", length, "m")
    not_negative("dwell", dwell, "s")
    above_zero("treat_speed", treat_speed, "m/s")
    above_zero("rinse_speed", rinse_speed, "m/s")
    start = max(length / treat_speed, dwell, dwell + length * (1.0 / treat_speed - 1.0 / rinse_speed))
    return start + length / rinse_speed
