"""Noise of a machine at a distance, from one reading beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range


def level_at_distance(level: float, reading_distance: float, distance: float) -> float:
    """Sound level at a distance from a small source in the open.

    ``L = L0 - 20 log10(d / d0)``

    Parameters
    ----------
    level : float
        Level read beside the machine [dB]
    reading_distance : float
        Distance of the reading [m]
    distance : float
        Distance asked about [m]

    Returns
    -------
    float
        Level there [dB]

    Raises
    ------
    OutOfRange
        If a distance is not above zero or the level is not finite.

    Notes
    -----
    Range: open ground, both distances large beside the machine; a wall behind it adds up to 3 dB, a building
    between takes away more.

    References
    ----------
    noise-distance

    Examples
    --------
    >>> round(level_at_distance(85.0, 25.0, 100.0), 2)
    72.96
    """
    check_range("level", level, "dB")
    check_range("reading_distance", reading_distance, "m", above=0.0)
    check_range("distance", distance, "m", above=0.0)
    return level - 20.0 * math.log10(distance / reading_distance)


def distance_of_level(level: float, reading_distance: float, limit: float) -> float:
    """Distance beyond which a small source in the open is no louder than a limit.

    ``d = d0 10^((L0 - L) / 20)``

    Parameters
    ----------
    level : float
        Level read beside the machine [dB]
    reading_distance : float
        Distance of the reading [m]
    limit : float
        Level allowed at the neighbour's [dB]

    Returns
    -------
    float
        Distance [m]

    Raises
    ------
    OutOfRange
        If the distance is not above zero or a level is not finite.

    Notes
    -----
    Range: open ground; limits are local and differ by zone and hour.

    References
    ----------
    noise-distance

    Examples
    --------
    >>> round(distance_of_level(85.0, 25.0, 60.0)), round(distance_of_level(85.0, 25.0, 55.0))
    (445, 791)
    """
    check_range("level", level, "dB")
    check_range("reading_distance", reading_distance, "m", above=0.0)
    check_range("limit", limit, "dB")
    return reading_distance * math.pow(10.0, (level - limit) / 20.0)


def combined_level(levels: Sequence[float]) -> float:
    """Level of several machines heard together.

    ``L = 10 log10(sum 10^(Li / 10))``

    Parameters
    ----------
    levels : sequence of float
        Level of each machine at the same place [dB]

    Returns
    -------
    float
        Level of all [dB]

    Raises
    ------
    OutOfRange
        If there is no level or one is not finite.

    Notes
    -----
    Range: machines that do not run in step.

    References
    ----------
    noise-distance

    Examples
    --------
    >>> round(combined_level([80.0, 80.0]), 2)
    83.01
    """
    if not levels:
        raise OutOfRange("levels", "none", "at least one level")
    for level in levels:
        check_range("levels", level, "dB")
    loudest = max(levels)
    return loudest + 10.0 * math.log10(sum(10.0 ** ((level - loudest) / 10.0) for level in levels))
