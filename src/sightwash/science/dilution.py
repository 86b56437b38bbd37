"""Mixing stock with water: parts, fractions, blends and the chlorine that they carry.

Both strengths are on the volume basis (mg/L); volumes are taken as additive. "1:10" means one part in
ten in some papers and one part with ten of water in others, so these functions speak of parts of
water added to one part of stock. Always add stock to water, never mix with acid or ammonia, and
follow the product's label first.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._limits import STRONGEST, above_zero, not_negative, strength_within, target_within, within


def water_parts(stock: float, target: float) -> float:
    """Parts of water to add to one part of stock.

    ``n = C_stock / C_target - 1``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    target : float
        Strength wanted [mg/L]

    Returns
    -------
    float
        Parts of water added to one part of stock [-]

    Raises
    ------
    OutOfRange
        If the target is above the stock, not above zero, or the stock above 200 g/L.

    Notes
    -----
    Range: target above zero and not above the stock; the same strength term for both.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> water_parts(125_000.0, 10_000.0)
    11.5
    """
    target_within(target, stock)
    return stock / target - 1.0


def stock_fraction(stock: float, target: float) -> float:
    """Share of the mix that is stock.

    ``f = C_target / C_stock``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    target : float
        Strength wanted [mg/L]

    Returns
    -------
    float
        Volume of stock over volume of mix [-]

    Raises
    ------
    OutOfRange
        If the target is above the stock, not above zero, or the stock above 200 g/L.

    Notes
    -----
    Range: target above zero and not above the stock.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> stock_fraction(125_000.0, 10_000.0)
    0.08
    """
    target_within(target, stock)
    return target / stock


def diluted_strength(stock: float, parts: float) -> float:
    """Strength of one part of stock with parts of water.

    ``C = C_stock / (1 + n)``

    Parameters
    ----------
    stock : float
        Strength of the stock [mg/L]
    parts : float
        Parts of water added to one part of stock [-]

    Returns
    -------
    float
        Strength of the mix [mg/L]

    Raises
    ------
    OutOfRange
        If the parts are negative or the stock above 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L, any parts of water from zero up.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> diluted_strength(50_000.0, 3.0)
    12500.0
    """
    strength_within("stock", stock)
    not_negative("parts", parts, "parts")
    return stock / (1.0 + parts)


def blended_strength(
    strengths: Sequence[float] | NDArray[np.float64], volumes: Sequence[float] | NDArray[np.float64]
) -> float:
    """Strength of several volumes poured together.

    ``C = sum(C_i V_i) / sum(V_i)``

    Parameters
    ----------
    strengths : float array
        Strength of each volume; water is 0 [mg/L]
    volumes : float array
        Each volume [L]

    Returns
    -------
    float
        Strength of the blend [mg/L]

    Raises
    ------
    OutOfRange
        If a volume is negative, all are zero, or the arrays differ in length.

    Notes
    -----
    Range: any number of volumes of 0 to 200 g/L; volumes are taken as additive.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> blended_strength([125_000.0, 0.0], [8.0, 92.0])
    10000.0
    """
    strong = np.asarray(strengths, dtype=np.float64)
    litres = np.asarray(volumes, dtype=np.float64)
    if strong.shape != litres.shape or strong.ndim != 1:
        raise OutOfRange("volumes", f"{litres.size} values", f"one for each of {strong.size} strengths")
    strength_within("strengths", strong)
    not_negative("volumes", litres, "L")
    above_zero("sum of volumes", litres.sum(), "L")
    return float(np.dot(strong, litres) / litres.sum())


def chlorine_mass(strength: float, volume: float) -> float:
    """Mass of available chlorine in a volume.

    ``m = C V``

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]
    volume : float
        Volume [L]

    Returns
    -------
    float
        Mass of available chlorine [kg]

    Raises
    ------
    OutOfRange
        If the volume is negative or the strength outside 0 to 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L.

    References
    ----------
    mass-balance

    Examples
    --------
    >>> round(chlorine_mass(10_000.0, 75.7), 3)
    0.757
    """
    strength_within("strength", strength)
    not_negative("volume", volume, "L")
    return strength * volume * 1e-6


def powder_mass(volume: float, target: float, available: float) -> float:
    """Mass of a chlorine powder for a volume of mix.

    ``m = V C_target / w``

    Parameters
    ----------
    volume : float
        Volume of the mix [L]
    target : float
        Strength wanted [mg/L]
    available : float
        Mass of available chlorine over mass of powder [-]

    Returns
    -------
    float
        Mass of powder [kg]

    Raises
    ------
    OutOfRange
        If the share of available chlorine is not above zero and up to 1.

    Notes
    -----
    Range: powders of 1 to 100 % available chlorine; the powder's own volume is left out.

    References
    ----------
    infection-teaching-text

    Examples
    --------
    >>> round(powder_mass(1.0, 5_000.0, 0.35), 4)
    0.0143
    """
    not_negative("volume", volume, "L")
    within("target", target, 0.0, STRONGEST, f"0 to {STRONGEST:,.0f} mg/L of available chlorine")
    within("available", available, 0.01, 1.0, "0.01 to 1")
    return volume * target * 1e-6 / available
