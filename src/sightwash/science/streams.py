"""A jet against the streams with which enclosures are tested (IP ratings)."""

from __future__ import annotations

import math
from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._range import check_range
from sightwash.science.tables import table_rows


class Stream(NamedTuple):
    """A stream of water at its nozzle: flow [L/s], speed [m/s], dynamic pressure [Pa] and force [N]."""

    flow: float
    speed: float
    pressure: float
    force: float


class StreamRatio(NamedTuple):
    """How many times a stream's pressure and force another one has."""

    pressure: float
    force: float


def stream_of_bore(flow: float, bore: float, density: float = 998.2) -> Stream:
    """Stream that leaves a nozzle of known bore.

    ``v = Q / A; q = rho v2 / 2; F = rho Q v``

    Parameters
    ----------
    flow : float
        Flow [L/s]
    bore : float
        Diameter of the nozzle [m]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    flow : float
        Flow [L/s]
    speed : float
        Speed [m/s]
    pressure : float
        Dynamic pressure [Pa]
    force : float
        Force, the flow of momentum [N]

    Raises
    ------
    OutOfRange
        If an argument is not above zero.

    Notes
    -----
    Range: a full bore; a sharp-edged nozzle's stream is narrower and faster.

    References
    ----------
    stream-energy

    Examples
    --------
    >>> stream = stream_of_bore(100.0 / 60.0, 0.0125)
    >>> round(stream.speed, 3), round(stream.pressure / 1000, 2), round(stream.force, 3)
    (13.581, 92.06, 22.595)
    """
    check_range("flow", flow, "L/s", above=0.0)
    check_range("bore", bore, "m", above=0.0)
    check_range("density", density, "kg/m3", above=0.0)
    speed = flow / 1000.0 / (math.pi * bore**2 / 4.0)
    return Stream(flow, speed, density * speed**2 / 2.0, density * flow / 1000.0 * speed)


def stream_of_pressure(flow: float, pressure: float, density: float = 998.2) -> Stream:
    """Stream that leaves a nozzle at a known pressure.

    ``v = sqrt(2 p / rho); F = rho Q v``

    Parameters
    ----------
    flow : float
        Flow [L/s]
    pressure : float
        Pressure at the nozzle [Pa]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    flow : float
        Flow [L/s]
    speed : float
        Speed [m/s]
    pressure : float
        Dynamic pressure [Pa]
    force : float
        Force, the flow of momentum [N]

    Raises
    ------
    OutOfRange
        If an argument is not above zero.

    Notes
    -----
    Range: no loss in the nozzle.

    References
    ----------
    stream-energy

    Examples
    --------
    >>> stream = stream_of_pressure(4 * 3.785411784 / 60, 3000 * 6894.757)
    >>> round(stream.force / 4.4482216, 2)
    11.53
    """
    check_range("flow", flow, "L/s", above=0.0)
    check_range("pressure", pressure, "Pa", above=0.0)
    check_range("density", density, "kg/m3", above=0.0)
    speed = math.sqrt(2.0 * pressure / density)
    return Stream(flow, speed, pressure, density * flow / 1000.0 * speed)


def rating_stream(rating: str, density: float = 998.2) -> Stream:
    """Stream with which an enclosure of a rating is tested.

    ``v = Q / A (IPX5, IPX6); v = sqrt(2 p / rho) (IPX9)``

    The standard gives the nozzle's bore and flow, or the pressure and flow.

    Parameters
    ----------
    rating : str
        IPX5, IPX6 or IPX9 [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    flow : float
        Flow [L/s]
    speed : float
        Speed [m/s]
    pressure : float
        Dynamic pressure [Pa]
    force : float
        Force, the flow of momentum [N]

    Raises
    ------
    OutOfRange
        If the rating has no test stream.

    Notes
    -----
    Range: at the nozzle; lower ratings are tested with drops or spray, not with a stream.

    References
    ----------
    iec-60529
    iec-60529-9

    Examples
    --------
    >>> round(rating_stream("IPX5").speed, 3)
    6.683
    """
    known = {row["rating"]: row for row in table_rows("ip_streams")}
    if rating not in known:
        raise OutOfRange("rating", rating, "one of " + ", ".join(known))
    flow = float(known[rating]["flow_l_min"]) / 60.0
    if known[rating]["bore_mm"]:
        return stream_of_bore(flow, float(known[rating]["bore_mm"]) / 1000.0, density)
    return stream_of_pressure(flow, float(known[rating]["pressure_kpa"]) * 1000.0, density)


def stream_ratio(flow: float, pressure: float, rating: str, density: float = 998.2) -> StreamRatio:
    """Pressure and force of a jet as multiples of a rating's test stream, both at the nozzle.

    ``p / p_test; F / F_test``

    Parameters
    ----------
    flow : float
        Flow of the jet [L/s]
    pressure : float
        Pressure at the jet's nozzle [Pa]
    rating : str
        IPX5, IPX6 or IPX9 [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    StreamRatio
        Multiples; above one the test does not cover the jet at close range [-]

    Raises
    ------
    OutOfRange
        If the flow or the pressure is not above zero, or the rating has no test stream.

    Notes
    -----
    Range: at the nozzle; a rating is a test of a new enclosure, not a promise about an old one.

    References
    ----------
    iec-60529
    iec-60529-9
    stream-energy

    Examples
    --------
    >>> ratio = stream_ratio(4 * 3.785411784 / 60, 3000 * 6894.757, "IPX6")
    >>> round(ratio.pressure), round(ratio.force, 2)
    (225, 2.27)
    """
    jet, test = stream_of_pressure(flow, pressure, density), rating_stream(rating, density)
    return StreamRatio(jet.pressure / test.pressure, jet.force / test.force)
