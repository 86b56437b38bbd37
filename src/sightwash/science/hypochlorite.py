"""The law by which a sodium hypochlorite solution loses its strength.

Loss is second order in hypochlorite; its rate constant depends on temperature and ionic strength.
Ionic strength stays as it was when the stock was made, because decay swaps singly charged ions
one for one. What stored stock is worth is worked out in ``storage``.
"""

from __future__ import annotations

import numpy as np

from sightwash.basis.errors import OutOfRange
from sightwash.science._decay_law import (
    PUBLISHED_IONIC_STRENGTHS,
    PUBLISHED_TEMPERATURES,
    moles,
    rate_constants,
    warn_outside,
)
from sightwash.science._limits import strength_above_zero, strength_within, within
from sightwash.science.strength import CHLORINE_MOLAR_MASS


def molarity(strength: float) -> float:
    """Moles of hypochlorite in a litre.

    ``a = (g/L) / 70.906``

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]

    Returns
    -------
    float
        Concentration of hypochlorite [mol/L]

    Raises
    ------
    OutOfRange
        If the strength is negative or above 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L.

    References
    ----------
    standard-atomic-weights

    Examples
    --------
    >>> round(molarity(125_000.0), 3)
    1.763
    """
    strength_within("strength", strength)
    return moles(strength)


def strength_from_molarity(concentration: float) -> float:
    """Strength from moles of hypochlorite in a litre.

    ``g/L = 70.906 a``

    Parameters
    ----------
    concentration : float
        Concentration of hypochlorite [mol/L]

    Returns
    -------
    float
        Available chlorine [mg/L]

    Raises
    ------
    OutOfRange
        If the strength comes out above 200 g/L.

    Notes
    -----
    Range: 0 to 2.82 mol/L.

    References
    ----------
    standard-atomic-weights

    Examples
    --------
    >>> strength_from_molarity(1.0)
    70906.0
    """
    within("concentration", concentration, 0.0, 200.0 / CHLORINE_MOLAR_MASS, "0 to 2.82 mol/L")
    return concentration * CHLORINE_MOLAR_MASS * 1000.0


def ionic_strength(strength: float, salt_factor: float = 2.0, caustic: float = 0.10) -> float:
    """Ionic strength of a stock as made.

    ``mu = f a + c``

    Parameters
    ----------
    strength : float
        Available chlorine when the stock was made [mg/L]
    salt_factor : float
        Ionic strength per mole of hypochlorite: 2.0 for equal salt (as made), 3.1 for salty or old stock [-]
    caustic : float
        Excess sodium hydroxide [mol/L]

    Returns
    -------
    float
        Ionic strength [mol/L]

    Raises
    ------
    OutOfRange
        If the strength is above 200 g/L, the factor outside 1 to 10 or the caustic outside 0 to 1 mol/L.

    Notes
    -----
    Range: 0 to 200 g/L; the factor is an assumption and moves the half-life nearly two-fold between 2.0 and 3.1.

    References
    ----------
    adam-gordon-1999
    awwa-b300-appendix

    Examples
    --------
    >>> round(ionic_strength(125_000.0), 3)
    3.626
    """
    strength_above_zero("strength", strength)
    within("salt_factor", salt_factor, 1.0, 10.0, "1 to 10")
    within("caustic", caustic, 0.0, 1.0, "0 to 1 mol/L")
    return salt_factor * moles(strength) + caustic


def aged_salt_factor(made: float, present: float, salt_factor: float = 2.0) -> float:
    """Salt factor of stock that has lost strength: the salt stays while the hypochlorite goes.

    ``f' = f C0 / C``

    Parameters
    ----------
    made : float
        Available chlorine when the stock was made [mg/L]
    present : float
        Available chlorine now [mg/L]
    salt_factor : float
        Ionic strength per mole of hypochlorite when made [-]

    Returns
    -------
    float
        Ionic strength per mole of the hypochlorite that is left [-]

    Raises
    ------
    OutOfRange
        If the present strength is above the strength as made.

    Notes
    -----
    Range: present strength above zero and not above the strength as made.

    References
    ----------
    adam-gordon-1999

    Examples
    --------
    >>> aged_salt_factor(125_000.0, 100_000.0)
    2.5
    """
    strength_above_zero("made", made)
    strength_above_zero("present", present)
    if present > made:
        raise OutOfRange("present", present, f"not above the strength as made, {made:,.0f} mg/L")
    within("salt_factor", salt_factor, 1.0, 10.0, "1 to 10")
    return salt_factor * made / present


def decay_constant(temperature: float, ionic_strength: float) -> float:
    """Second-order rate constant of the loss of hypochlorite.

    ``log10 k = 0.149 mu + log10(2.083e10 T exp(-1.018e5 / (R T)) exp(-56.5 / R))``

    Parameters
    ----------
    temperature : float
        Temperature of the stock [degC]
    ionic_strength : float
        Ionic strength [mol/L]

    Returns
    -------
    float
        Rate constant of the whole loss [L/mol/s]

    Raises
    ------
    OutOfRange
        If the temperature is outside -30 to 100 degC or the ionic strength outside 0 to 12 mol/L.

    Warns
    -----
    OutsidePublishedRange
        Outside 15 to 55 degC or 1 to 6 mol/L.

    Notes
    -----
    Range: measured for 15 to 55 degC and an ionic strength of 1 to 6 mol/L, without catalytic metals.

    References
    ----------
    adam-gordon-1999
    gordon-storage-1995

    Examples
    --------
    >>> f"{decay_constant(25.0, 1.0):.3e}"
    '1.433e-08'
    """
    within("ionic_strength", ionic_strength, 0.0, 12.0, "0 to 12 mol/L")
    warn_outside("temperature", temperature, PUBLISHED_TEMPERATURES, "degC", level=3)
    warn_outside("ionic_strength", ionic_strength, PUBLISHED_IONIC_STRENGTHS, "mol/L", level=3)
    return float(rate_constants(np.array([temperature]), ionic_strength)[0])
