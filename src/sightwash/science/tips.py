"""Spray tips by their size number: flow, pressure, bore, marking and wear.

A tip's size number is its flow in gal/min at 4000 psi; a tenth of it is the flow at 40 psi, which is how
general spray tips are marked. So ``2504`` is 25 degrees wide and passes 4 gal/min at 4000 psi, 0.4 at 40 psi.
"""

from __future__ import annotations

import math
import re
from typing import Final, NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import GALLON, PSI
from sightwash.science._numbers import WATER_DENSITY, Real, above_zero, not_negative, root
from sightwash.science.orifice import orifice_bore, orifice_flow

GALLON_A_MINUTE: Final = GALLON / 60.0
"""One US gallon a minute [L/s]."""
RATING_PRESSURE: Final = 4000.0 * PSI
"""Pressure at which a tip's size number is its flow in gal/min [Pa]."""

_CODE = re.compile(r"(?P<angle>\d{2})(?P<size>\d{2,3})")


class TipCode(NamedTuple):
    """What the digits on a tip say."""

    fan_angle: float
    """Width of the fan at its rating pressure [deg]."""
    number: float
    """Size number: gal/min at 4000 psi [-]."""


def nozzle_flow(number: float, pressure: Real, rating_pressure: float = RATING_PRESSURE) -> Real:
    """Flow of a tip by its size number.

    ``q = N sqrt(p / 4000 psi)`` gal/min

    Parameters
    ----------
    number : float
        Size number: gal/min at 4000 psi; for several tips on one bar, their sum [-]
    pressure : float or array
        Gauge pressure at the tip [Pa]
    rating_pressure : float
        Pressure at which the number is the flow in gal/min [Pa]

    Returns
    -------
    float or array
        Flow [L/s]

    Raises
    ------
    OutOfRange
        If the number is not above zero or the pressure is negative.

    Notes
    -----
    Range: tips that are not worn; a tip as much as 10 % over its rating is due for replacement.

    References
    ----------
    spray-tip-practice

    Examples
    --------
    >>> round(nozzle_flow(4, 3000 * 6894.757) / (3.785411784 / 60), 3)
    3.464
    """
    above_zero("number", number, "gal/min at the rating pressure")
    not_negative("pressure", pressure, "Pa")
    above_zero("rating_pressure", rating_pressure, "Pa")
    return number * GALLON_A_MINUTE * root(pressure / rating_pressure)


def nozzle_pressure(number: float, flow: Real, rating_pressure: float = RATING_PRESSURE) -> Real:
    """Pressure at which a tip passes a flow.

    ``p = 4000 psi (q / N)^2``

    Parameters
    ----------
    number : float
        Size number: gal/min at 4000 psi [-]
    flow : float or array
        Flow [L/s]
    rating_pressure : float
        Pressure at which the number is the flow in gal/min [Pa]

    Returns
    -------
    float or array
        Gauge pressure at the tip [Pa]

    Raises
    ------
    OutOfRange
        If the number is not above zero or the flow is negative.

    Notes
    -----
    Range: tips that are not worn.

    References
    ----------
    spray-tip-practice

    Examples
    --------
    8 gal/min through a size 40 tip needs 160 psi:

    >>> round(nozzle_pressure(40, 8 * 3.785411784 / 60) / 6894.757, 3)
    160.0
    """
    above_zero("number", number, "gal/min at the rating pressure")
    not_negative("flow", flow, "L/s")
    above_zero("rating_pressure", rating_pressure, "Pa")
    return rating_pressure * (flow / (number * GALLON_A_MINUTE)) ** 2


def nozzle_number(flow: float, pressure: float, rating_pressure: float = RATING_PRESSURE) -> float:
    """Size number of the tip that passes a flow at a pressure.

    ``N = q / sqrt(p / 4000 psi)``

    Parameters
    ----------
    flow : float
        Flow [L/s]
    pressure : float
        Gauge pressure at the tip [Pa]
    rating_pressure : float
        Pressure at which the number is the flow in gal/min [Pa]

    Returns
    -------
    float
        Size number [-]

    Raises
    ------
    OutOfRange
        If the flow or the pressure is not above zero.

    Notes
    -----
    Range: the number that comes out is seldom a size on sale; the next larger one runs at less pressure.

    References
    ----------
    spray-tip-practice

    Examples
    --------
    >>> round(nozzle_number(4 * 3.785411784 / 60, 3000 * 6894.757), 2)
    4.62
    """
    above_zero("flow", flow, "L/s")
    above_zero("pressure", pressure, "Pa")
    above_zero("rating_pressure", rating_pressure, "Pa")
    return flow / GALLON_A_MINUTE / math.sqrt(pressure / rating_pressure)


def nozzle_bore(number: float, coefficient: float = 0.95, density: float = WATER_DENSITY) -> float:
    """Equivalent round bore of a tip by its size number.

    The bore that passes N gal/min at 4000 psi.

    Parameters
    ----------
    number : float
        Size number: gal/min at 4000 psi [-]
    coefficient : float
        Discharge coefficient [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Equivalent bore [m]

    Raises
    ------
    OutOfRange
        If the number is not above zero or the coefficient outside 0.3 to 1.05.

    Notes
    -----
    Range: as good as the coefficient; 0.90 to 0.98 moves the bore by 4 %.

    References
    ----------
    bernoulli-orifice
    spray-tip-practice

    Examples
    --------
    >>> round(nozzle_bore(40) * 1000, 2)
    3.79
    """
    above_zero("number", number, "gal/min at the rating pressure")
    return orifice_bore(number * GALLON_A_MINUTE, RATING_PRESSURE, coefficient, density)


def number_of_bore(bore: float, coefficient: float = 0.95, density: float = WATER_DENSITY) -> float:
    """Size number of a round bore.

    The flow in gal/min at 4000 psi.

    Parameters
    ----------
    bore : float
        Diameter of the opening [m]
    coefficient : float
        Discharge coefficient [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Size number: gal/min at 4000 psi [-]

    Raises
    ------
    OutOfRange
        If the bore is not above zero or the coefficient outside 0.3 to 1.05.

    Notes
    -----
    Range: as good as the coefficient.

    References
    ----------
    bernoulli-orifice
    spray-tip-practice

    Examples
    --------
    >>> round(number_of_bore(0.1181 * 0.0254))
    25
    """
    return orifice_flow(bore, RATING_PRESSURE, coefficient, density) / GALLON_A_MINUTE


def tip_from_code(code: str) -> TipCode:
    """Fan angle and size number from the digits on a tip.

    Two digits of angle, then the size: two digits are whole, three are tenths.

    Parameters
    ----------
    code : str
        Four or five digits, such as ``2504`` or ``25055`` [-]

    Returns
    -------
    fan_angle : float
        Width of the fan at its rating pressure [deg]
    number : float
        Size number: gal/min at 4000 psi [-]

    Raises
    ------
    OutOfRange
        If the code is not four or five digits or its size is zero.

    Notes
    -----
    Range: the usual marking of fan tips; the angle holds near the rating pressure and narrows below it.

    References
    ----------
    spray-tip-practice

    Examples
    --------
    >>> tip_from_code("2504")
    TipCode(fan_angle=25.0, number=4.0)
    >>> tip_from_code("25055").number
    5.5
    """
    match = _CODE.fullmatch(code)
    digits = match["size"] if match else "0"
    number = float(digits) / (10.0 if len(digits) == 3 else 1.0)
    if match is None or number == 0.0:
        raise OutOfRange("code", code, "four or five digits, such as 2504 or 25055")
    return TipCode(float(match["angle"]), number)


def worn_pressure(rated_pressure: float, wear: float) -> float:
    """Pressure left at a worn tip when the pump's flow stays the same.

    ``p = p_rated / (1 + w)^2``

    Parameters
    ----------
    rated_pressure : float
        Pressure of the tip when new, at this flow [Pa]
    wear : float
        Share by which the worn tip passes more than a new one at one pressure [-]

    Returns
    -------
    float
        Pressure at the worn tip [Pa]

    Raises
    ------
    OutOfRange
        If the pressure is not above zero or the wear negative.

    Notes
    -----
    Range: a pump of positive displacement with its unloader shut.

    References
    ----------
    bernoulli-orifice
    nozzles-and-pumps

    Examples
    --------
    >>> round(worn_pressure(3000 * 6894.757, 0.10) / 6894.757)
    2479
    """
    above_zero("rated_pressure", rated_pressure, "Pa")
    not_negative("wear", wear, "")
    return rated_pressure / (1.0 + wear) ** 2


def tip_wear(rated_pressure: float, gauge_pressure: float) -> float:
    """Wear of a tip from the pressure that it no longer holds.

    ``w = sqrt(p_rated / p) - 1``

    Parameters
    ----------
    rated_pressure : float
        Pressure of the tip when new, at this flow [Pa]
    gauge_pressure : float
        Pressure now read at the tip, at the same flow [Pa]

    Returns
    -------
    float
        Share by which the tip passes more than a new one; 0.10 means replace it [-]

    Raises
    ------
    OutOfRange
        If a pressure is not above zero.

    Notes
    -----
    Range: a pump of positive displacement with its unloader shut and sound valves.

    References
    ----------
    bernoulli-orifice
    nozzles-and-pumps

    Examples
    --------
    >>> round(tip_wear(3000 * 6894.757, 2479 * 6894.757), 3)
    0.1
    """
    above_zero("rated_pressure", rated_pressure, "Pa")
    above_zero("gauge_pressure", gauge_pressure, "Pa")
    return math.sqrt(rated_pressure / gauge_pressure) - 1.0
