"""Accessible parking: how many stalls, how many for vans, and how wide a group of them is.

Counts are for one parking facility (a lot or a garage), never for a site. State and local codes may ask for more.
"""

from __future__ import annotations

import math
from functools import cache

from sightwash.basis.units import INCH
from sightwash.science._range import check_range
from sightwash.science.tables import table_rows


@cache
def _counts() -> tuple[tuple[int, int], ...]:
    """Return (largest total, accessible stalls) of the rows with a fixed count."""
    fixed = [row for row in table_rows("accessible_stalls") if row["to_total"] and row["accessible"]]
    return tuple((int(row["to_total"]), int(row["accessible"])) for row in fixed)


def accessible_stalls(total: int) -> int:
    """Least number of accessible stalls in a parking facility.

    ``table 208.2 to 500; ceil(0.02 n) to 1000; 20 + ceil((n - 1000) / 100) above``

    Parameters
    ----------
    total : int
        Stalls in the facility, accessible ones included [-]

    Returns
    -------
    int
        Accessible stalls, van stalls included [-]

    Raises
    ------
    OutOfRange
        If there is no stall.

    Notes
    -----
    Range: facilities other than hospital outpatient, rehabilitation and residential ones.

    References
    ----------
    ada-2010-208
    access-board-parking

    Examples
    --------
    >>> [accessible_stalls(total) for total in (25, 26, 550, 1001)]
    [1, 2, 11, 21]
    """
    check_range("total", total, "-", least=1)
    for largest, count in _counts():
        if total <= largest:
            return count
    return -(-2 * total // 100) if total <= 1000 else 20 + -(-(total - 1000) // 100)


def outpatient_stalls(total: int, percent: int = 10) -> int:
    """Least number of accessible stalls where a percentage of patients' and visitors' parking is asked for.

    ``ceil(p n / 100)``

    Parameters
    ----------
    total : int
        Patient and visitor stalls that serve the facility [-]
    percent : int
        10 for hospital outpatient facilities; 20 for rehabilitation and outpatient physical therapy [-]

    Returns
    -------
    int
        Accessible stalls, van stalls included [-]

    Raises
    ------
    OutOfRange
        If there is no stall or the percentage is not from 1 to 100.

    Notes
    -----
    Range: sections 208.2.1 and 208.2.2; a part of a stall counts as one.

    References
    ----------
    ada-2010-208

    Examples
    --------
    >>> outpatient_stalls(41, 20)
    9
    """
    check_range("total", total, "-", least=1)
    check_range("percent", percent, "-", least=1, most=100)
    return -(-percent * total // 100)


def van_stalls(accessible: int) -> int:
    """Least number of accessible stalls that must fit a van.

    ``ceil(n / 6)``

    Parameters
    ----------
    accessible : int
        Accessible stalls that are asked for [-]

    Returns
    -------
    int
        Van stalls among them [-]

    Raises
    ------
    OutOfRange
        If the count is negative.

    Notes
    -----
    Range: section 208.2.4, one for every six or fraction of six; the 1991 rule of one in eight is gone.

    References
    ----------
    ada-2010-208
    access-board-parking

    Examples
    --------
    >>> [van_stalls(count) for count in (1, 6, 7, 25)]
    [1, 1, 2, 5]
    """
    check_range("accessible", accessible, "-", least=0)
    return math.ceil(accessible / 6)


def module_width(
    car_stalls: int,
    van_wide_stalls: int,
    aisles: int,
    car_width: float = 96 * INCH,
    van_width: float = 132 * INCH,
    aisle_width: float = 60 * INCH,
) -> float:
    """Least width of a group of accessible stalls and their aisles, between the middles of the outer lines.

    ``W = n_car w_car + n_van w_van + n_aisle w_aisle``

    Parameters
    ----------
    car_stalls : int
        Stalls of car width [-]
    van_wide_stalls : int
        Stalls of van width [-]
    aisles : int
        Access aisles; two stalls may share one [-]
    car_width : float
        Least width of a car stall [m]
    van_width : float
        Least width of a van stall [m]
    aisle_width : float
        Least width of an aisle [m]

    Returns
    -------
    float
        Width between the middles of the outer lines [m]

    Raises
    ------
    OutOfRange
        If a count is negative, a width is not above zero, or there are too few aisles to share.

    Notes
    -----
    Range: section 502; a van stall of car width needs an aisle of 96 in, which comes to the same width.

    References
    ----------
    ada-2010-502

    Examples
    --------
    >>> round(module_width(1, 1, 1) / 0.0254, 6)
    288.0
    """
    check_range("car_stalls", car_stalls, "-", least=0)
    check_range("van_wide_stalls", van_wide_stalls, "-", least=0)
    check_range("aisles", aisles, "-", least=math.ceil((car_stalls + van_wide_stalls) / 2))
    for name, width in (("car_width", car_width), ("van_width", van_width), ("aisle_width", aisle_width)):
        check_range(name, width, "m", above=0.0)
    return car_stalls * car_width + van_wide_stalls * van_width + aisles * aisle_width
