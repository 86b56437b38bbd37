"""Ladders and overhead lines: where the foot stands and how far off everything must stay.

Local codes, the utility and the ladder's label come first. A wand, a hose and a solid jet count as part of the person.
"""

from __future__ import annotations

import math

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import FOOT, INCH
from sightwash.science._range import check_range
from sightwash.science.tables import table_rows


def ladder_angle(setback: float = 0.25) -> float:
    """Angle of a leaning ladder above the ground.

    ``a = acos(s)``

    Parameters
    ----------
    setback : float
        Distance of the foot from the wall as a share of the working length; a quarter by rule [-]

    Returns
    -------
    float
        Angle above the ground [deg]

    Raises
    ------
    OutOfRange
        If the share is not above 0 and below 1.

    Notes
    -----
    Range: level, firm, dry ground; "four up, one out" as a slope is 75.96 degrees, not this.

    References
    ----------
    cfr-1926-1053

    Examples
    --------
    >>> round(ladder_angle(), 3)
    75.522
    """
    check_range("setback", setback, "-", above=0.0, below=1.0)
    return math.degrees(math.acos(setback))


def ladder_length(contact_height: float, above_contact: float = 0.0, setback: float = 0.25) -> float:
    """Length of ladder from its foot to its top.

    ``L = (h + x) / sqrt(1 - s2)``

    Parameters
    ----------
    contact_height : float
        Height at which the ladder rests [m]
    above_contact : float
        Height of the rails above the contact; 3 ft where a person steps off [m]
    setback : float
        Distance of the foot from the wall as a share of the working length [-]

    Returns
    -------
    float
        Length along the rails [m]

    Raises
    ------
    OutOfRange
        If the height is not above zero, the rise above it is negative, or the share is not above 0 and below 1.

    Notes
    -----
    Range: the contact and the foot are at the ladder's own slope; an extension ladder's overlap is extra.

    References
    ----------
    cfr-1926-1053

    Examples
    --------
    >>> round(ladder_length(10.0), 2), round(ladder_length(10.0, 3.0), 2)
    (10.33, 13.43)
    """
    check_range("contact_height", contact_height, "m", above=0.0)
    check_range("above_contact", above_contact, "m", least=0.0)
    return (contact_height + above_contact) / math.sin(math.radians(ladder_angle(setback)))


def ladder_foot_distance(contact_height: float, setback: float = 0.25) -> float:
    """Distance of a ladder's foot from the wall it leans on.

    ``f = s h / sqrt(1 - s2)``

    Parameters
    ----------
    contact_height : float
        Height at which the ladder rests [m]
    setback : float
        Distance of the foot from the wall as a share of the working length [-]

    Returns
    -------
    float
        Distance of the foot from below the contact [m]

    Raises
    ------
    OutOfRange
        If the height is not above zero or the share is not above 0 and below 1.

    Notes
    -----
    Range: level ground.

    References
    ----------
    cfr-1926-1053

    Examples
    --------
    >>> round(ladder_foot_distance(10.0), 2)
    2.58
    """
    return setback * ladder_length(contact_height, 0.0, setback)


def line_clearance(voltage: float) -> float:
    """Least distance of equipment from an overhead line, by the table for cranes and lifts in construction.

    ``29 CFR 1926.1408 Table A``

    The voltage after "to" is included.

    Parameters
    ----------
    voltage : float
        Nominal voltage of the line [V]

    Returns
    -------
    float
        Least clear distance in every direction [m]

    Raises
    ------
    OutOfRange
        If the voltage is not above zero or is over 1000 kV, where the utility or its engineer decides.

    Notes
    -----
    Range: up to 1000 kV; over 350 kV another section presumes 50 ft unless this table is chosen.

    References
    ----------
    cfr-1926-1408

    Examples
    --------
    >>> [round(line_clearance(kilovolts * 1000.0) / 0.3048) for kilovolts in (7.2, 60, 230, 345)]
    [10, 15, 20, 20]
    """
    check_range("voltage", voltage, "V", above=0.0)
    for row in table_rows("line_clearances"):
        if voltage <= float(row["up_to_kv"]) * 1000.0:
            return float(row["clearance_ft"]) * FOOT
    raise OutOfRange("voltage", voltage, "at most 1000000 V", "ask the utility for the clear distance in writing")


def unqualified_line_clearance(voltage: float) -> float:
    """Least distance of an unqualified person, and of the longest thing held, from an overhead line.

    ``10 ft + 4 in * ceil(max(0, U - 50 kV) / 10 kV)``

    Parameters
    ----------
    voltage : float
        Voltage of the line to ground [V]

    Returns
    -------
    float
        Least distance from any unguarded live line [m]

    Raises
    ------
    OutOfRange
        If the voltage is not above zero.

    Notes
    -----
    Range: work near lines by a person who is not an electrical worker; the rule does not say how a part of
    10 kV counts, so it counts whole.

    References
    ----------
    cfr-1910-333

    Examples
    --------
    >>> round(unqualified_line_clearance(138000.0) / 0.3048, 6)
    13.0
    """
    check_range("voltage", voltage, "V", above=0.0)
    steps = max(0, math.ceil((voltage - 50000.0) / 10000.0 - 1e-9))
    return 10.0 * FOOT + steps * 4.0 * INCH
