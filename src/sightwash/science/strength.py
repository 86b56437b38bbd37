"""Strength of a sodium hypochlorite solution in the terms that labels use.

Inside, strength is milligrams of available chlorine in a litre of solution. "12.5 %" on a drum may be
trade percent (125 g/L), weight percent of available chlorine (145 g/L at a specific gravity of 1.16) or
weight percent of sodium hypochlorite (138 g/L), so the term must always be asked for, never assumed.
Specific gravity depends on salt and excess caustic: it is measured or read from the maker's sheet.
"""

from __future__ import annotations

from typing import Final

from sightwash.science._limits import strength_within, within

CHLORINE_MOLAR_MASS: Final = 70.906
"""Molar mass of Cl2 [g/mol]."""
HYPOCHLORITE_MOLAR_MASS: Final = 74.442
"""Molar mass of NaOCl [g/mol]."""
HYPOCHLORITE_PER_CHLORINE: Final = HYPOCHLORITE_MOLAR_MASS / CHLORINE_MOLAR_MASS
"""Mass of NaOCl that carries one mass of available chlorine [-]."""

_MG_PER_TRADE_PERCENT: Final = 10_000.0


def _gravity_within(specific_gravity: float) -> None:
    within("specific_gravity", specific_gravity, 0.98, 1.35, "0.98 to 1.35")


def trade_percent(strength: float) -> float:
    """Trade percent: grams of available chlorine in 100 mL of solution.

    ``trade % = (g/L) / 10``

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]

    Returns
    -------
    float
        Trade percent [%]

    Raises
    ------
    OutOfRange
        If the strength is negative or above 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L.

    References
    ----------
    white-chlorination-handbook

    Examples
    --------
    >>> trade_percent(125_000.0)
    12.5
    """
    strength_within("strength", strength)
    return strength / _MG_PER_TRADE_PERCENT


def strength_from_trade_percent(percent: float) -> float:
    """Strength from trade percent.

    ``g/L = 10 (trade %)``

    Parameters
    ----------
    percent : float
        Trade percent: grams of available chlorine in 100 mL [%]

    Returns
    -------
    float
        Available chlorine [mg/L]

    Raises
    ------
    OutOfRange
        If the percentage is negative or above 20.

    Notes
    -----
    Range: 0 to 20 trade percent.

    References
    ----------
    white-chlorination-handbook

    Examples
    --------
    >>> strength_from_trade_percent(12.5)
    125000.0
    """
    within("percent", percent, 0.0, 20.0, "0 to 20 trade percent")
    return percent * _MG_PER_TRADE_PERCENT


def grams_per_litre(strength: float) -> float:
    """Available chlorine in grams per litre.

    ``g/L = (mg/L) / 1000``

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]

    Returns
    -------
    float
        Available chlorine [g/L]

    Raises
    ------
    OutOfRange
        If the strength is negative or above 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L.

    References
    ----------
    white-chlorination-handbook

    Examples
    --------
    >>> grams_per_litre(125_000.0)
    125.0
    """
    strength_within("strength", strength)
    return strength / 1000.0


def strength_from_grams_per_litre(grams: float) -> float:
    """Strength from grams of available chlorine per litre.

    ``mg/L = 1000 (g/L)``

    Parameters
    ----------
    grams : float
        Available chlorine [g/L]

    Returns
    -------
    float
        Available chlorine [mg/L]

    Raises
    ------
    OutOfRange
        If the strength is negative or above 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L.

    References
    ----------
    white-chlorination-handbook

    Examples
    --------
    >>> strength_from_grams_per_litre(60.0)
    60000.0
    """
    within("grams", grams, 0.0, 200.0, "0 to 200 g/L of available chlorine")
    return grams * 1000.0


def weight_percent_chlorine(strength: float, specific_gravity: float) -> float:
    """Weight percent of available chlorine.

    ``wt % Cl2 = (trade %) / SG``

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]
    specific_gravity : float
        Density of the solution over that of water [-]

    Returns
    -------
    float
        Weight percent of available chlorine [%]

    Raises
    ------
    OutOfRange
        If the strength is above 200 g/L or the specific gravity outside 0.98 to 1.35.

    Notes
    -----
    Range: 0 to 200 g/L, specific gravity 0.98 to 1.35.

    References
    ----------
    white-chlorination-handbook

    Examples
    --------
    >>> round(weight_percent_chlorine(125_000.0, 1.16), 2)
    10.78
    """
    _gravity_within(specific_gravity)
    return trade_percent(strength) / specific_gravity


def strength_from_weight_percent_chlorine(percent: float, specific_gravity: float) -> float:
    """Strength from weight percent of available chlorine.

    ``trade % = SG (wt % Cl2)``

    Parameters
    ----------
    percent : float
        Weight percent of available chlorine [%]
    specific_gravity : float
        Density of the solution over that of water [-]

    Returns
    -------
    float
        Available chlorine [mg/L]

    Raises
    ------
    OutOfRange
        If the strength comes out above 200 g/L or the specific gravity is outside 0.98 to 1.35.

    Notes
    -----
    Range: up to 200 g/L, specific gravity 0.98 to 1.35.

    References
    ----------
    white-chlorination-handbook

    Examples
    --------
    >>> round(strength_from_weight_percent_chlorine(10.0, 1.14), 6)
    114000.0
    """
    _gravity_within(specific_gravity)
    most = 20.0 / specific_gravity
    within("percent", percent, 0.0, most, f"0 to {most:.4g} weight percent of available chlorine")
    return percent * specific_gravity * _MG_PER_TRADE_PERCENT


def weight_percent_hypochlorite(strength: float, specific_gravity: float) -> float:
    """Weight percent of sodium hypochlorite.

    ``wt % NaOCl = 1.0499 (trade %) / SG`` (commonly rounded to 1.05)

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]
    specific_gravity : float
        Density of the solution over that of water [-]

    Returns
    -------
    float
        Weight percent of NaOCl [%]

    Raises
    ------
    OutOfRange
        If the strength is above 200 g/L or the specific gravity outside 0.98 to 1.35.

    Notes
    -----
    Range: 0 to 200 g/L, specific gravity 0.98 to 1.35.

    References
    ----------
    white-chlorination-handbook
    standard-atomic-weights

    Examples
    --------
    >>> round(weight_percent_hypochlorite(125_000.0, 1.16), 2)
    11.31
    """
    return weight_percent_chlorine(strength, specific_gravity) * HYPOCHLORITE_PER_CHLORINE


def strength_from_weight_percent_hypochlorite(percent: float, specific_gravity: float) -> float:
    """Strength from weight percent of sodium hypochlorite, the usual term on household bleach.

    ``trade % = SG (wt % NaOCl) / 1.0499``

    Parameters
    ----------
    percent : float
        Weight percent of NaOCl [%]
    specific_gravity : float
        Density of the solution over that of water [-]

    Returns
    -------
    float
        Available chlorine [mg/L]

    Raises
    ------
    OutOfRange
        If the strength comes out above 200 g/L or the specific gravity is outside 0.98 to 1.35.

    Notes
    -----
    Range: up to 200 g/L, specific gravity 0.98 to 1.35.

    References
    ----------
    white-chlorination-handbook
    standard-atomic-weights

    Examples
    --------
    >>> round(strength_from_weight_percent_hypochlorite(6.0, 1.08))
    61722
    """
    _gravity_within(specific_gravity)
    most = 20.0 * HYPOCHLORITE_PER_CHLORINE / specific_gravity
    within("percent", percent, 0.0, most, f"0 to {most:.4g} weight percent of sodium hypochlorite")
    return percent / HYPOCHLORITE_PER_CHLORINE * specific_gravity * _MG_PER_TRADE_PERCENT
