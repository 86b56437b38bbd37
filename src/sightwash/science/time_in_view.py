"""How long a passing vehicle has a piece of frontage in view."""

from __future__ import annotations

import math

from sightwash.science._range import check_range


def time_abeam(frontage: float, speed: float) -> float:
    """Time that a vehicle takes to pass a frontage.

    ``t = L / v``

    Parameters
    ----------
    frontage : float
        Length passed [m]
    speed : float
        Speed of the vehicle [m/s]

    Returns
    -------
    float
        Time [s]

    Raises
    ------
    OutOfRange
        If the length is negative or the speed is not above zero.

    Notes
    -----
    Range: steady speed.

    References
    ----------
    time-in-view

    Examples
    --------
    >>> round(time_abeam(300 * 0.3048, 35 * 0.44704), 5)
    5.84416
    """
    check_range("frontage", frontage, "m", least=0.0)
    check_range("speed", speed, "m/s", above=0.0)
    return frontage / speed


def time_in_cone(offset: float, half_angle: float, seen_from: float, speed: float) -> float:
    """Time that a place beside the road stays inside a driver's forward cone of view.

    ``t = max(0, (X - D / tan A) / v)``

    Parameters
    ----------
    offset : float
        Distance D of the place from the driver's line of travel [m]
    half_angle : float
        Half angle A of the cone about the way ahead; 10 to 30 degrees are used [deg]
    seen_from : float
        Distance X ahead, along the road, at which the place comes into sight [m]
    speed : float
        Speed of the vehicle [m/s]

    Returns
    -------
    float
        Time [s]

    Raises
    ------
    OutOfRange
        If the offset or the distance is negative, the angle is not between 0 and 90 degrees or the speed is
        not above zero.

    Notes
    -----
    Range: a straight road and steady speed; nothing in between.

    References
    ----------
    time-in-view

    Examples
    --------
    >>> round(time_in_cone(60 * 0.3048, 20.0, 500 * 0.3048, 35 * 0.44704), 3)
    6.529
    """
    check_range("offset", offset, "m", least=0.0)
    check_range("half_angle", half_angle, "deg", above=0.0, below=90.0)
    check_range("seen_from", seen_from, "m", least=0.0)
    check_range("speed", speed, "m/s", above=0.0)
    return max(0.0, (seen_from - offset / math.tan(math.radians(half_angle))) / speed)
