"""Dwell: how much wall may be treated in one go, and when its rinse must come."""

from __future__ import annotations

import math
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range


class RinseWindow(NamedTuple):
    """Earliest and latest start of the rinse after the start of the treatment."""

    least: float
    most: float


def rinse_window(treat: float, rinse: float, dwell: float, wet: float) -> RinseWindow:
    """When to start rinsing a stretch so that no spot of it is rinsed too soon or dries first.

    ``least = max(a, d, d + a - b);  most = w - max(0, b - a)``

    Along the stretch a spot at share x is treated at a x and rinsed at r + b x; its time on the wall,
    r + (b - a) x, must lie between d and w.

    Parameters
    ----------
    treat : float
        Time a to treat the whole stretch [s]
    rinse : float
        Time b to rinse it, in the same direction [s]
    dwell : float
        Time d that the mix is to act [s]
    wet : float
        Time w that the film stays wet [s]

    Returns
    -------
    RinseWindow
        Earliest and latest start r of the rinse, counted from the start of the treatment [s]

    Raises
    ------
    OutOfRange
        If a time is negative, or the stretch is too long for any start to do.

    Notes
    -----
    Range: steady pace both times, one person, the same direction along the wall.

    References
    ----------
    rinse-before-dry

    Examples
    --------
    >>> rinse_window(900.0, 600.0, 600.0, 2400.0)
    RinseWindow(least=900.0, most=2400.0)
    """
    for name, value in (("treat", treat), ("rinse", rinse), ("dwell", dwell), ("wet", wet)):
        check_range(name, value, "s", least=0.0)
    least = max(treat, dwell, dwell + treat - rinse)
    most = wet - max(0.0, rinse - treat)
    if least > most + 1e-9:
        raise OutOfRange("treat", treat, f"a stretch that is rinsed before it dries, {wet:g} s after it is treated")
    return RinseWindow(least, max(least, most))


def stretches(treat: float, rinse: float, dwell: float, wet: float, share: float = 0.5) -> int:
    """Number of equal stretches that a wall is treated in, so that each is rinsed before it dries.

    ``n = ceil(max(a / (u w), b / w, |a - b| / (w - d)))``

    Parameters
    ----------
    treat : float
        Time a to treat the whole wall [s]
    rinse : float
        Time b to rinse it [s]
    dwell : float
        Time d that the mix is to act [s]
    wet : float
        Time w that the film stays wet, above the dwell [s]
    share : float
        Share u of the wet time that treating one stretch may take; a half leaves room for a second stretch [-]

    Returns
    -------
    int
        Stretches, 1 or more [-]

    Raises
    ------
    OutOfRange
        If a time is negative, the film dries before the dwell is over, or the share is not above 0 and at most 1.

    Notes
    -----
    Range: steady pace; stretches of equal area.

    References
    ----------
    rinse-before-dry

    Examples
    --------
    >>> stretches(3600.0, 2700.0, 600.0, 2400.0)
    3
    """
    for name, value in (("treat", treat), ("rinse", rinse), ("dwell", dwell)):
        check_range(name, value, "s", least=0.0)
    check_range("share", share, "-", above=0.0, most=1.0)
    check_range("wet", wet, "s", above=dwell)
    return max(1, math.ceil(max(treat / (share * wet), rinse / wet, abs(treat - rinse) / (wet - dwell)) - 1e-9))
