"""Length and time of ground work: the bound with overlap, a trim that is too wide, time before a door."""

from __future__ import annotations

import math

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range


def overlapped_path(area: float, head_width: float, overlap: float = 0.0) -> float:
    """Length of a path of a round head whose every pass overlaps the one before by a share of its width.

    ``L = (A - pi w2 / 4) / (w (1 - o))``

    Without overlap it is the length below which no path covers the area.

    Parameters
    ----------
    area : float
        Area to cover [m2]
    head_width : float
        Width that the head cleans [m]
    overlap : float
        Share of the width that is swept twice [-]

    Returns
    -------
    float
        Length of the path without turns, moves and a last narrow pass [m]

    Raises
    ------
    OutOfRange
        If the area is negative, the width is not above zero or the overlap is not from 0 to below 1.

    Notes
    -----
    Range: areas many passes wide; a bound only without overlap.

    References
    ----------
    tube-formula
    back-and-forth

    Examples
    --------
    >>> round(overlapped_path(2.0, 1.0, 0.2), 6)
    1.518252
    """
    check_range("area", area, "m2", least=0.0)
    check_range("head_width", head_width, "m", above=0.0)
    check_range("overlap", overlap, "-", least=0.0, below=1.0)
    return max(0.0, (area - math.pi * head_width**2 / 4.0) / (head_width * (1.0 - overlap)))


def wide_trim_time(
    length: float, width: float, wand_rate: float, cleaner_rate: float, shroud_gap: float = 0.0254
) -> float:
    """Time that a trim strip costs when it is wider than what the cleaner's shroud leaves.

    ``t = L (b - e) (1 / q_w - 1 / q_c)``

    The wand does, slowly, what the cleaner would have done.

    Parameters
    ----------
    length : float
        Length of the trim strip [m]
    width : float
        Width that is trimmed [m]
    wand_rate : float
        Area an hour by wand, as a rate [m2/s]
    cleaner_rate : float
        Area an hour by surface cleaner, as a rate [m2/s]
    shroud_gap : float
        Width that the shroud leaves and that has to be trimmed [m]

    Returns
    -------
    float
        Extra time; negative where the wand is faster than the cleaner [s]

    Raises
    ------
    OutOfRange
        If the length or the gap is negative, the width is below the gap or a rate is not above zero.

    Notes
    -----
    Range: the cleaner comes along the wall in any case.

    References
    ----------
    practice-trim

    Examples
    --------
    >>> round(wide_trim_time(100.0, 0.3254, 0.01, 0.03, 0.0254))
    2000
    """
    check_range("length", length, "m", least=0.0)
    check_range("shroud_gap", shroud_gap, "m", least=0.0)
    check_range("width", width, "m", least=shroud_gap)
    check_range("wand_rate", wand_rate, "m2/s", above=0.0)
    check_range("cleaner_rate", cleaner_rate, "m2/s", above=0.0)
    return length * (width - shroud_gap) * (1.0 / wand_rate - 1.0 / cleaner_rate)


def time_before(part: float, length: float, time: float) -> float:
    """Time that a path at a steady pace spends on a part of its length.

    ``t = T p / L``

    Parameters
    ----------
    part : float
        Length of the path in front of a door [m]
    length : float
        Length of the whole path [m]
    time : float
        Working time of the whole path [s]

    Returns
    -------
    float
        Time on the part [s]

    Raises
    ------
    OutOfRange
        If the length is not above zero, the time is negative or the part is not from 0 to the length.

    Notes
    -----
    Range: the pace is the same everywhere; the working time holds the crew's usual stops.

    References
    ----------
    practice-door-time

    Examples
    --------
    >>> time_before(12.0, 300.0, 3600.0)
    144.0
    """
    check_range("length", length, "m", above=0.0)
    check_range("time", time, "s", least=0.0)
    if not 0.0 <= part <= length * (1.0 + 1e-9):
        raise OutOfRange("part", part, f"from 0 to the path's length of {length:g} m")
    return time * part / length
