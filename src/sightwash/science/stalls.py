"""Parking stalls: geometry at an angle, and the lines of a row.

A stall of width w and length l lies at an angle t to the aisle; 90 is square to it::

         ______________________   wall or interlock
        /      /      /      /  |
       /      /      /      /   | depth
      /______/______/______/    |
      |<-w/sin t->|
"""

from __future__ import annotations

import math

from sightwash.science._range import check_range


def _check_stall(width: float, length: float, angle: float) -> float:
    """Return the angle in radians, or refuse."""
    check_range("width", width, "m", above=0.0)
    check_range("length", length, "m", above=0.0)
    check_range("angle", angle, "deg", above=0.0, most=90.0)
    return math.radians(angle)


def stall_curb_length(width: float, angle: float) -> float:
    """Length of curb or aisle that one stall takes.

    ``c = w / sin t``

    Parameters
    ----------
    width : float
        Stall width, square to its lines [m]
    angle : float
        Angle of the stall to the aisle; 90 is square to it [deg]

    Returns
    -------
    float
        Length along the aisle [m]

    Raises
    ------
    OutOfRange
        If the width is not above zero or the angle is not above 0 and at most 90 degrees.

    Notes
    -----
    Range: straight rows of equal stalls.

    References
    ----------
    stall-geometry
    portsmouth-parking

    Examples
    --------
    >>> round(stall_curb_length(9.0, 45.0), 3)
    12.728
    """
    turned = _check_stall(width, 1.0, angle)
    return width / math.sin(turned)


def stall_depth(width: float, length: float, angle: float) -> float:
    """Depth of a row of stalls from the aisle to a wall.

    ``d = l sin t + w cos t``

    Parameters
    ----------
    width : float
        Stall width, square to its lines [m]
    length : float
        Stall length along its lines [m]
    angle : float
        Angle of the stall to the aisle; 90 is square to it [deg]

    Returns
    -------
    float
        Depth square to the aisle [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the angle is not above 0 and at most 90 degrees.

    Notes
    -----
    Range: straight rows; some ordinances print less because a bumper may overhang the curb.

    References
    ----------
    stall-geometry
    portsmouth-parking

    Examples
    --------
    >>> round(stall_depth(9.0, 18.0, 45.0), 3)
    19.092
    """
    turned = _check_stall(width, length, angle)
    return length * math.sin(turned) + width * math.cos(turned)


def interlock_depth(width: float, length: float, angle: float) -> float:
    """Depth of a row of stalls from the aisle to the middle of its interlock with the next row.

    ``d = l sin t + (w / 2) cos t``

    Parameters
    ----------
    width : float
        Stall width, square to its lines [m]
    length : float
        Stall length along its lines [m]
    angle : float
        Angle of the stall to the aisle; 90 is square to it [deg]

    Returns
    -------
    float
        Depth square to the aisle [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the angle is not above 0 and at most 90 degrees.

    Notes
    -----
    Range: two facing rows of equal stalls at the same angle.

    References
    ----------
    stall-geometry

    Examples
    --------
    >>> round(interlock_depth(9.0, 18.0, 45.0), 2)
    15.91
    """
    turned = _check_stall(width, length, angle)
    return length * math.sin(turned) + width * math.cos(turned) / 2.0


def stall_line_length(width: float, length: float, angle: float) -> float:
    """Length of the painted line that gives a stall its full length on both sides.

    ``L = l + w / tan t``

    Parameters
    ----------
    width : float
        Stall width, square to its lines [m]
    length : float
        Stall length along its lines [m]
    angle : float
        Angle of the stall to the aisle; 90 is square to it [deg]

    Returns
    -------
    float
        Length of one line [m]

    Raises
    ------
    OutOfRange
        If a size is not above zero or the angle is not above 0 and at most 90 degrees.

    Notes
    -----
    Range: straight rows; many lots stop their lines at the stall length, so measure what is there.

    References
    ----------
    stall-geometry

    Examples
    --------
    >>> round(stall_line_length(9.0, 18.0, 60.0), 3)
    23.196
    """
    turned = _check_stall(width, length, angle)
    return length + width * math.cos(turned) / math.sin(turned)


def row_line_length(stalls: int, line_length: float, head_line: float = 0.0) -> float:
    """Length of line in one row of stalls.

    ``L = (n + 1) l + h``

    Parameters
    ----------
    stalls : int
        Stalls in the row [-]
    line_length : float
        Length of one stall line [m]
    head_line : float
        Length of a line across the heads of the stalls, if one is painted [m]

    Returns
    -------
    float
        Length of line, no line for no stall [m]

    Raises
    ------
    OutOfRange
        If the count or the head line is negative or the line is not above zero.

    Notes
    -----
    Range: an unbroken row with a line at both ends; a row between curbs has two lines fewer.

    References
    ----------
    stall-geometry

    Examples
    --------
    >>> row_line_length(20, 18.0)
    378.0
    """
    check_range("stalls", stalls, "-", least=0)
    check_range("line_length", line_length, "m", above=0.0)
    check_range("head_line", head_line, "m", least=0.0)
    return (stalls + 1) * line_length + head_line if stalls else 0.0
