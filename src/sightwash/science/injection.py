"""Stock drawn into flowing water, and the stock that an area needs.

Two ways of measuring the draw give two strengths: as a part of the total flow at the nozzle (the usual
bucket test), or beside the motive flow that enters the injector. Each has its own function.
"""

from __future__ import annotations

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import above_zero, not_negative, share_within, strength_above_zero, within
from sightwash.science.dilution import stock_fraction


def strength_in_total_flow(stock: float, draw: float, total_flow: float) -> float:
    """Strength at the nozzle when the draw is part of the total flow.

    ``C = C_stock q / Q``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    draw : float
        Flow of stock drawn [L/s]
    total_flow : float
        Flow out of the nozzle, draw included [L/s]

    Returns
    -------
    float
        Strength at the nozzle [mg/L]

    Raises
    ------
    OutOfRange
        If the draw is negative or above the total flow.

    Notes
    -----
    Range: draw of 0 to the total flow.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> strength_in_total_flow(125_000.0, 1.0, 8.0)
    15625.0
    """
    strength_above_zero("stock", stock)
    above_zero("total_flow", total_flow, "L/s")
    within("draw", draw, 0.0, total_flow, f"0 to the total flow, {total_flow:g} L/s")
    return stock * draw / total_flow


def strength_in_motive_flow(stock: float, draw: float, motive_flow: float) -> float:
    """Strength at the nozzle when the draw is added to a motive flow.

    ``C = C_stock q / (Q_m + q)``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    draw : float
        Flow of stock drawn [L/s]
    motive_flow : float
        Flow of water into the injector [L/s]

    Returns
    -------
    float
        Strength at the nozzle [mg/L]

    Raises
    ------
    OutOfRange
        If the draw is negative or the motive flow not above zero.

    Notes
    -----
    Range: any draw from zero up.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> round(strength_in_motive_flow(125_000.0, 1.0, 8.0))
    13889
    """
    strength_above_zero("stock", stock)
    not_negative("draw", draw, "L/s")
    above_zero("motive_flow", motive_flow, "L/s")
    return stock * draw / (motive_flow + draw)


def draw_of_total_flow(stock: float, target: float, total_flow: float) -> float:
    """Draw needed, as part of the total flow.

    ``q = Q C_target / C_stock``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    target : float
        Strength wanted at the nozzle [mg/L]
    total_flow : float
        Flow out of the nozzle, draw included [L/s]

    Returns
    -------
    float
        Flow of stock to draw [L/s]

    Raises
    ------
    OutOfRange
        If the target is above the stock.

    Notes
    -----
    Range: target above zero and not above the stock.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> draw_of_total_flow(125_000.0, 10_000.0, 8.0)
    0.64
    """
    above_zero("total_flow", total_flow, "L/s")
    return total_flow * stock_fraction(stock, target)


def draw_beside_motive_flow(stock: float, target: float, motive_flow: float) -> float:
    """Draw needed beside a motive flow.

    ``q = Q_m C_target / (C_stock - C_target)``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    target : float
        Strength wanted at the nozzle [mg/L]
    motive_flow : float
        Flow of water into the injector [L/s]

    Returns
    -------
    float
        Flow of stock to draw [L/s]

    Raises
    ------
    OutOfRange
        If the target is not below the stock.

    Notes
    -----
    Range: target above zero and below the stock.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> round(draw_beside_motive_flow(125_000.0, 10_000.0, 11.5), 9)
    1.0
    """
    above_zero("motive_flow", motive_flow, "L/s")
    share = stock_fraction(stock, target)
    if share >= 1.0:
        raise OutOfRange("target", target, f"below the stock's {stock:,.0f} mg/L")
    return motive_flow * share / (1.0 - share)


def achievable_strength(stock: float, draw_share: float) -> float:
    """Strongest mix that an injector gives by its greatest draw.

    ``C = C_stock s``

    Parameters
    ----------
    stock : float
        Strength of the stock, or of the pre-mix that feeds the injector [mg/L]
    draw_share : float
        Greatest draw over total flow; one part drawn to n parts of water is 1 / (1 + n) [-]

    Returns
    -------
    float
        Strongest mix at the nozzle [mg/L]

    Raises
    ------
    OutOfRange
        If the share is outside 0 to 1 or the stock outside 0 to 200 g/L.

    Notes
    -----
    Range: a share of 0 to 1, measured on the rig with its hose and nozzle, since draw falls with back pressure.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> achievable_strength(100_000.0, 0.1)
    10000.0
    """
    strength_above_zero("stock", stock)
    share_within("draw_share", draw_share)
    return stock * draw_share


def stock_needed(target: float, draw: float, total_flow: float) -> float:
    """Strength that the stock must have for a mix, with the draw that the injector gives.

    ``C_stock = C_target Q / q``

    Parameters
    ----------
    target : float
        Strength wanted at the nozzle [mg/L]
    draw : float
        Flow of stock drawn [L/s]
    total_flow : float
        Flow out of the nozzle, draw included [L/s]

    Returns
    -------
    float
        Strength of stock needed [mg/L]

    Raises
    ------
    OutOfRange
        If no stock of trade is strong enough, or the draw is above the total flow.

    Notes
    -----
    Range: draw above zero and up to the total flow; answers up to 200 g/L.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> stock_needed(10_000.0, 0.8, 8.0)
    100000.0
    """
    strength_above_zero("target", target)
    above_zero("total_flow", total_flow, "L/s")
    above_zero("draw", draw, "L/s")
    within("draw", draw, 0.0, total_flow, f"above 0 and up to the total flow, {total_flow:g} L/s")
    needed = target * total_flow / draw
    strength_above_zero("stock needed", needed)
    return needed


def mix_volume(area: float, film: float, passes: float) -> float:
    """Volume of mix that wets an area.

    ``V = A t n``

    Parameters
    ----------
    area : float
        Area to wet [m2]
    film : float
        Thickness of the film that clings, about 0.0001 to 0.0003 on smooth walls, an assumption [m]
    passes : float
        Number of applications [-]

    Returns
    -------
    float
        Volume of mix [L]

    Raises
    ------
    OutOfRange
        If an argument is negative or the film above 5 mm.

    Notes
    -----
    Range: films up to 5 mm; what runs off, drifts or soaks into porous walls is extra.

    References
    ----------
    film-volume

    Examples
    --------
    >>> round(mix_volume(100.0, 0.0002, 2.0), 9)
    40.0
    """
    not_negative("area", area, "m2")
    within("film", film, 0.0, 0.005, "0 to 0.005 m")
    not_negative("passes", passes, "passes")
    return area * film * passes * 1000.0


def stock_volume(area: float, film: float, passes: float, stock: float, target: float) -> float:
    """Volume of stock that an area needs.

    ``V_stock = A t n C_target / C_stock``

    Parameters
    ----------
    area : float
        Area to wet [m2]
    film : float
        Thickness of the film that clings [m]
    passes : float
        Number of applications [-]
    stock : float
        Strength of the stock today [mg/L]
    target : float
        Strength wanted on the wall [mg/L]

    Returns
    -------
    float
        Volume of stock [L]

    Raises
    ------
    OutOfRange
        If the target is above the stock or another value outside its range.

    Notes
    -----
    Range: films up to 5 mm; target above zero and not above the stock.

    References
    ----------
    film-volume
    mass-balance

    Examples
    --------
    >>> round(stock_volume(100.0, 0.0002, 2.0, 125_000.0, 10_000.0), 9)
    3.2
    """
    return mix_volume(area, film, passes) * stock_fraction(stock, target)
