"""Where the water goes: the share of a jet's water that runs towards a door.

Azimuths are measured on the pavement from the jet's forward direction; a bearing of 0 points the jet
straight at the door, 90 along it, 180 away from it. ``p`` is the jet's angle above the pavement::

    door  ======[ opening ]======
                    ^   \\ b
        stand-off   |    \\ jet's forward direction
                    spot
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sightwash.science._range import check_range


class Azimuths(NamedTuple):
    """Two directions in degrees, the second not below the first."""

    start: float
    end: float


def plane_jet_share(jet_angle: float) -> float:
    """Share of a wide plane jet that runs forward over the pavement.

    ``s = (1 + cos p) / 2``

    The rest runs back.

    Parameters
    ----------
    jet_angle : float
        Angle of the jet above the pavement; 90 is straight down [deg]

    Returns
    -------
    float
        Share that runs forward [-]

    Raises
    ------
    OutOfRange
        If the angle is not above 0 and at most 90 degrees.

    Notes
    -----
    Range: a fan seen edge-on, no friction, no slope, no rebound.

    References
    ----------
    plane-jet-split

    Examples
    --------
    >>> round(plane_jet_share(45.0), 6)
    0.853553
    """
    check_range("jet_angle", jet_angle, "deg", above=0.0, most=90.0)
    return (1.0 + math.cos(math.radians(jet_angle))) / 2.0


def round_jet_share(jet_angle: float, start: float, end: float) -> float:
    """Share of a round jet's water that runs off between two azimuths.

    ``F(t) = (E - e sin E) / (2 pi); e = cos p; tan(E/2) = sqrt((1 - e) / (1 + e)) tan((t - 180) / 2)``

    F is the integral of ``sin3 p / (2 pi (1 - cos p cos t)2)``, which is Kepler's law of areas.

    Parameters
    ----------
    jet_angle : float
        Angle p of the jet above the pavement; 90 is straight down [deg]
    start : float
        Azimuth at which the sector starts, from the jet's forward direction [deg]
    end : float
        Azimuth at which the sector ends, not below the start and at most a full turn on [deg]

    Returns
    -------
    float
        Share of the water in the sector [-]

    Raises
    ------
    OutOfRange
        If the angle is not above 0 and at most 90 degrees, or the sector is negative or over a full turn.

    Notes
    -----
    Range: a round jet on level ground, no friction, no slope, no rebound, no moving wand.

    References
    ----------
    oblique-round-jet

    Examples
    --------
    >>> round(round_jet_share(45.0, 90.0, 270.0), 6)
    0.090845
    """
    check_range("jet_angle", jet_angle, "deg", above=0.0, most=90.0)
    check_range("start", start, "deg")
    check_range("end", end, "deg", least=start, most=start + 360.0)
    return _share_up_to(jet_angle, end) - _share_up_to(jet_angle, start)


def _share_up_to(jet_angle: float, azimuth: float) -> float:
    """Return F(azimuth), which grows by one a turn."""
    eccentricity = math.cos(math.radians(jet_angle))
    turns = math.floor(azimuth / 360.0)
    anomaly = math.radians(azimuth - 360.0 * turns) - math.pi
    ratio = math.sqrt((1.0 - eccentricity) / (1.0 + eccentricity))
    eccentric = 2.0 * math.atan2(ratio * math.sin(anomaly / 2.0), math.cos(anomaly / 2.0))
    return turns + 0.5 + (eccentric - eccentricity * math.sin(eccentric)) / (2.0 * math.pi)


def door_half_share(jet_angle: float, bearing: float) -> float:
    """Share of a round jet's water sent into the half plane of a door.

    ``s = F(b + 90) - F(b - 90)``

    Parameters
    ----------
    jet_angle : float
        Angle of the jet above the pavement; 90 is straight down [deg]
    bearing : float
        Bearing of the jet from straight at the door [deg]

    Returns
    -------
    float
        Share of the water that runs towards the door's wall [-]

    Raises
    ------
    OutOfRange
        If the angle is not above 0 and at most 90 degrees.

    Notes
    -----
    Range: level pavement; where it falls towards the door, still water follows the fall as well.

    References
    ----------
    oblique-round-jet

    Examples
    --------
    >>> round(door_half_share(30.0, 0.0), 4), round(door_half_share(30.0, 90.0), 4)
    (0.9712, 0.5)
    """
    return round_jet_share(jet_angle, -bearing - 90.0, -bearing + 90.0)


def opening_azimuths(width: float, stand_off: float, offset: float = 0.0) -> Azimuths:
    """Directions of an opening's two sides as seen from the spot that the jet strikes.

    ``t = atan((offset -+ width/2) / stand_off)``

    Both count from straight at the wall.

    Parameters
    ----------
    width : float
        Clear width of the opening [m]
    stand_off : float
        Distance of the spot from the plane of the opening [m]
    offset : float
        Sideways offset of the opening's middle, positive on the side to which bearings count [m]

    Returns
    -------
    Azimuths
        Directions of the two sides [deg]

    Raises
    ------
    OutOfRange
        If the width or the stand-off is not above zero.

    Notes
    -----
    Range: a straight wall and a spot in front of it.

    References
    ----------
    oblique-round-jet

    Examples
    --------
    >>> [round(side, 4) for side in opening_azimuths(6.0, 3.0)]
    [-45.0, 45.0]
    """
    check_range("width", width, "m", above=0.0)
    check_range("stand_off", stand_off, "m", above=0.0)
    check_range("offset", offset, "m")
    sides = [math.degrees(math.atan2(offset + side * width / 2.0, stand_off)) for side in (-1.0, 1.0)]
    return Azimuths(*sides)


def opening_share(jet_angle: float, bearing: float, width: float, stand_off: float, offset: float = 0.0) -> float:
    """Share of a round jet's water that runs straight at an opening.

    ``s = F(t2 - b) - F(t1 - b)``

    t1 and t2 are the azimuths of the opening's sides.

    Parameters
    ----------
    jet_angle : float
        Angle of the jet above the pavement; 90 is straight down [deg]
    bearing : float
        Bearing of the jet from straight at the wall [deg]
    width : float
        Clear width of the opening [m]
    stand_off : float
        Distance of the spot from the plane of the opening [m]
    offset : float
        Sideways offset of the opening's middle, positive on the side to which bearings count [m]

    Returns
    -------
    float
        Share of the water sent at the opening [-]

    Raises
    ------
    OutOfRange
        If the angle is not above 0 and at most 90 degrees, or the width or the stand-off is not above zero.

    Notes
    -----
    Range: level pavement, no friction; a share of direction, not a forecast of a leak.

    References
    ----------
    oblique-round-jet

    Examples
    --------
    >>> round(opening_share(45.0, 90.0, 3.0, 4.0), 4)
    0.0431
    """
    check_range("bearing", bearing, "deg")
    sides = opening_azimuths(width, stand_off, offset)
    return round_jet_share(jet_angle, sides.start - bearing, sides.end - bearing)


def allowed_bearings(
    jet_angle: float, width: float, stand_off: float, offset: float = 0.0, fraction: float = 0.1
) -> Azimuths | None:
    """Bearings whose share into an opening is at most a fraction of the worst bearing's.

    ``share(b) <= fraction * share(middle)``

    The share falls steadily from the opening's middle to its back.

    Parameters
    ----------
    jet_angle : float
        Angle of the jet above the pavement; 90 is straight down [deg]
    width : float
        Clear width of the opening [m]
    stand_off : float
        Distance of the spot from the plane of the opening [m]
    offset : float
        Sideways offset of the opening's middle, positive on the side to which bearings count [m]
    fraction : float
        Share of the worst bearing's share that is accepted [-]

    Returns
    -------
    Azimuths or None
        First and last allowed bearing, the way round by the back; None if no bearing is good enough [deg]

    Raises
    ------
    OutOfRange
        If an argument of the opening's share is, or the fraction is not above 0 and at most 1.

    Notes
    -----
    Range: level pavement, no friction; straight down is the same for every bearing.

    References
    ----------
    oblique-round-jet

    Examples
    --------
    >>> [round(bearing, 1) for bearing in allowed_bearings(45.0, 3.0, 4.0)]
    [90.2, 269.8]
    """
    check_range("fraction", fraction, "-", above=0.0, most=1.0)
    sides = opening_azimuths(width, stand_off, offset)
    half, middle = (sides.end - sides.start) / 2.0, (sides.start + sides.end) / 2.0
    limit = fraction * round_jet_share(jet_angle, -half, half)

    def too_much(turn: float) -> bool:
        return round_jet_share(jet_angle, turn - half, turn + half) > limit

    if too_much(180.0):
        return None
    low, high = 0.0, 180.0
    while high - low > 1e-9:
        turn = (low + high) / 2.0
        low, high = (turn, high) if too_much(turn) else (low, turn)
    return Azimuths(middle + high, middle + 360.0 - high)
