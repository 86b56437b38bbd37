"""Recipes for a tank: a fresh batch, a batch on top of a leftover, and a leftover made weaker.

Volumes are taken as additive. Water first, then stock; never acid or ammonia in the same tank.
"""

from __future__ import annotations

from typing import NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import above_zero, not_negative, share_within, strength_within, target_within, within
from sightwash.science.dilution import water_parts


class Batch(NamedTuple):
    """Volumes that make one batch [L]."""

    stock: float
    water: float
    additive: float


def batch(volume: float, stock: float, target: float, additive_share: float = 0.0) -> Batch:
    """Volumes of stock, water and additive for one batch.

    ``V_stock = V C_target / C_stock``

    Parameters
    ----------
    volume : float
        Volume of the batch [L]
    stock : float
        Strength of the stock today [mg/L]
    target : float
        Strength wanted [mg/L]
    additive_share : float
        Volume of surfactant or other additive over volume of batch [-]

    Returns
    -------
    Batch
        Stock, water and additive [L]

    Raises
    ------
    OutOfRange
        If the target is above the stock, or stock and additive together exceed the batch.

    Notes
    -----
    Range: stock and additive together not above the batch; the additive is taken as free of chlorine.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> batch(100.0, 125_000.0, 10_000.0, 0.01)
    Batch(stock=8.0, water=91.0, additive=1.0)
    """
    above_zero("volume", volume, "L")
    target_within(target, stock)
    share_within("additive_share", additive_share)
    liquor = volume * target / stock
    additive = volume * additive_share
    water = volume - liquor - additive
    if water < 0.0:
        room = 1.0 - target / stock
        raise OutOfRange("additive_share", additive_share, f"not above {room:.4g}, what the stock leaves")
    return Batch(liquor, water, additive)


def leftover_batch(leftover: float, leftover_strength: float, volume: float, stock: float, target: float) -> Batch:
    """Stock and water to add to an already mixed leftover for a new batch.

    ``V_stock = (V C_target - V_left C_left) / C_stock``

    Parameters
    ----------
    leftover : float
        Volume left in the tank [L]
    leftover_strength : float
        Its strength today [mg/L]
    volume : float
        Volume of the new batch, leftover included [L]
    stock : float
        Strength of the stock today [mg/L]
    target : float
        Strength wanted [mg/L]

    Returns
    -------
    Batch
        Stock and water to add; no additive [L]

    Raises
    ------
    OutOfRange
        If the leftover alone carries too much chlorine for the batch, or stock and leftover overfill it.

    Notes
    -----
    Range: leftover of 0 to the whole batch; test the leftover's strength, weak mixes fade fast once dirty.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> leftover_batch(20.0, 5_000.0, 100.0, 100_000.0, 10_000.0)
    Batch(stock=9.0, water=71.0, additive=0.0)
    """
    above_zero("volume", volume, "L")
    within("leftover", leftover, 0.0, volume, f"0 to the batch's {volume:g} L")
    strength_within("leftover_strength", leftover_strength)
    target_within(target, stock)
    liquor = (volume * target - leftover * leftover_strength) / stock
    if liquor < 0.0:
        least = leftover * leftover_strength / target
        raise OutOfRange("volume", volume, f"at least {least:.4g} L, or the leftover makes the batch too strong")
    water = volume - leftover - liquor
    if water < 0.0:
        raise OutOfRange("leftover", leftover, f"not above {volume - liquor:.4g} L", "draw some of the leftover off")
    return Batch(liquor, water, 0.0)


def dilution_water(volume: float, strength: float, target: float) -> float:
    """Water to add to an already mixed volume to weaken it.

    ``V_water = V (C / C_target - 1)``

    Parameters
    ----------
    volume : float
        Volume of the mix [L]
    strength : float
        Its strength today [mg/L]
    target : float
        Strength wanted [mg/L]

    Returns
    -------
    float
        Water to add [L]

    Raises
    ------
    OutOfRange
        If the target is above the strength or the volume negative.

    Notes
    -----
    Range: target above zero and not above the strength.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> dilution_water(10.0, 30_000.0, 10_000.0)
    20.0
    """
    not_negative("volume", volume, "L")
    return volume * water_parts(strength, target)
