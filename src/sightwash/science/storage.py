"""What stored sodium hypochlorite is worth today, and until when it will do.

The closed forms are exact within the rate law, for varying temperature too. Not modelled: sunlight,
metals (nickel, cobalt, copper, iron) and pH under 11, all of which speed the loss; the ``multiplier``
on the rate constant stands for them. A test strip or a titration on the day beats any model.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutOfRange
from sightwash.science._decay_law import (
    PUBLISHED_IONIC_STRENGTHS,
    PUBLISHED_STRENGTHS,
    PUBLISHED_TEMPERATURES,
    moles,
    rate_constants,
    warn_outside,
)
from sightwash.science._limits import above_zero, not_negative, strength_above_zero, within
from sightwash.science.hypochlorite import ionic_strength

Series = Sequence[float] | NDArray[np.float64]


class StrengthBand(NamedTuple):
    """Strength of stored stock as a band [mg/L], with the choices behind each end in words."""

    low: float
    likely: float
    high: float
    choices: tuple[str, ...]


def strength_after(
    strength: float,
    temperature: float,
    age: float,
    salt_factor: float = 2.0,
    caustic: float = 0.10,
    multiplier: float = 1.0,
) -> float:
    """Strength of stock after storage at one temperature.

    ``C = C0 / (1 + m k a0 t)``

    Parameters
    ----------
    strength : float
        Available chlorine when the stock was made [mg/L]
    temperature : float
        Temperature of the stock [degC]
    age : float
        Time since the stock was made [s]
    salt_factor : float
        Ionic strength per mole of hypochlorite: 2.0 as made, 3.1 for salty or old stock [-]
    caustic : float
        Excess sodium hydroxide [mol/L]
    multiplier : float
        Factor on the rate constant: 1 as published, 1.3 to 1.5 for doubtful storage [-]

    Returns
    -------
    float
        Available chlorine at that age [mg/L]

    Raises
    ------
    OutOfRange
        If the age is negative, the strength above 200 g/L or the temperature outside -30 to 100 degC.

    Warns
    -----
    OutsidePublishedRange
        Outside 15 to 55 degC, 50 to 213 g/L or an ionic strength of 1 to 6 mol/L.

    Notes
    -----
    Range: 50 to 200 g/L, 15 to 55 degC, no metals, no sun, pH above 11.

    References
    ----------
    adam-gordon-1999

    Examples
    --------
    >>> round(strength_after(125_000.0, 26.667, 30 * 86400.0), -1)
    103850.0
    """
    not_negative("age", age, "s")
    loss = _loss(strength, np.array([temperature]), np.array([age]), salt_factor, caustic, multiplier)
    return strength / (1.0 + loss)


def strength_after_history(
    strength: float,
    temperatures: Series,
    durations: Series,
    salt_factor: float = 2.0,
    caustic: float = 0.10,
    multiplier: float = 1.0,
) -> float:
    """Strength of stock after a history of temperatures.

    ``1 / a = 1 / a0 + m sum(k(T_i) dt_i)``; exact, because ionic strength does not change with decay

    Parameters
    ----------
    strength : float
        Available chlorine when the stock was made [mg/L]
    temperatures : float array
        Mean temperature of the stock in each spell [degC]
    durations : float array
        Length of each spell [s]
    salt_factor : float
        Ionic strength per mole of hypochlorite: 2.0 as made, 3.1 for salty or old stock [-]
    caustic : float
        Excess sodium hydroxide [mol/L]
    multiplier : float
        Factor on the rate constant: 1 as published, 1.3 to 1.5 for doubtful storage [-]

    Returns
    -------
    float
        Available chlorine at the end [mg/L]

    Raises
    ------
    OutOfRange
        If a duration is negative, the arrays differ in length, or a value is outside its range.

    Warns
    -----
    OutsidePublishedRange
        Outside 15 to 55 degC, 50 to 213 g/L or an ionic strength of 1 to 6 mol/L.

    Notes
    -----
    Range: as for storage at one temperature; a daily mean of the place where the drum stands is fine enough.

    References
    ----------
    adam-gordon-1999

    Examples
    --------
    >>> round(strength_after_history(125_000.0, [21.111, 35.0], [10 * 86400.0, 20 * 86400.0]), -1)
    86090.0
    """
    spells = _history(temperatures, durations)
    return strength / (1.0 + _loss(strength, *spells, salt_factor, caustic, multiplier))


def half_life(
    strength: float,
    temperature: float,
    salt_factor: float = 2.0,
    caustic: float = 0.10,
    multiplier: float = 1.0,
) -> float:
    """Time in which stock loses half of its strength.

    ``t = 1 / (m k a0)``

    Parameters
    ----------
    strength : float
        Available chlorine when the stock was made [mg/L]
    temperature : float
        Temperature of the stock [degC]
    salt_factor : float
        Ionic strength per mole of hypochlorite: 2.0 as made, 3.1 for salty or old stock [-]
    caustic : float
        Excess sodium hydroxide [mol/L]
    multiplier : float
        Factor on the rate constant: 1 as published, 1.3 to 1.5 for doubtful storage [-]

    Returns
    -------
    float
        Half-life [s]

    Raises
    ------
    OutOfRange
        If the strength is above 200 g/L or the temperature outside -30 to 100 degC.

    Warns
    -----
    OutsidePublishedRange
        Outside 15 to 55 degC, 50 to 213 g/L or an ionic strength of 1 to 6 mol/L.

    Notes
    -----
    Range: 50 to 200 g/L, 15 to 55 degC, no metals, no sun, pH above 11.

    References
    ----------
    adam-gordon-1999

    Examples
    --------
    >>> round(half_life(125_000.0, 26.667) / 86400.0)
    147
    """
    return 1.0 / _loss(strength, np.array([temperature]), np.array([1.0]), salt_factor, caustic, multiplier)


def time_until(
    strength: float,
    target: float,
    temperature: float,
    salt_factor: float = 2.0,
    caustic: float = 0.10,
    multiplier: float = 1.0,
) -> float:
    """Time until stock has fallen to a strength.

    ``t = (C0 / C - 1) / (m k a0)``

    Parameters
    ----------
    strength : float
        Available chlorine when the stock was made [mg/L]
    target : float
        Available chlorine to which it falls [mg/L]
    temperature : float
        Temperature of the stock [degC]
    salt_factor : float
        Ionic strength per mole of hypochlorite: 2.0 as made, 3.1 for salty or old stock [-]
    caustic : float
        Excess sodium hydroxide [mol/L]
    multiplier : float
        Factor on the rate constant: 1 as published, 1.3 to 1.5 for doubtful storage [-]

    Returns
    -------
    float
        Age at which the stock has that strength [s]

    Raises
    ------
    OutOfRange
        If the target is above the strength as made, or a value is outside its range.

    Warns
    -----
    OutsidePublishedRange
        Outside 15 to 55 degC, 50 to 213 g/L or an ionic strength of 1 to 6 mol/L.

    Notes
    -----
    Range: 50 to 200 g/L, 15 to 55 degC, no metals, no sun, pH above 11.

    References
    ----------
    adam-gordon-1999

    Examples
    --------
    >>> round(time_until(125_000.0, 100_000.0, 29.444) / 86400.0, 1)
    25.1
    """
    strength_above_zero("target", target)
    if target > strength:
        raise OutOfRange("target", target, f"not above the strength as made, {strength:,.0f} mg/L")
    rate = _loss(strength, np.array([temperature]), np.array([1.0]), salt_factor, caustic, multiplier)
    return (strength / target - 1.0) / rate


def strength_band(
    strength: float,
    temperatures: Series,
    durations: Series,
    fresh_salt_factor: float = 2.0,
    salty_salt_factor: float = 3.1,
    reserve: float = 1.3,
    caustic: float = 0.10,
) -> StrengthBand:
    """Strength of stored stock as a band from careful to hopeful.

    High: the law as published, equal salt. Likely: the rate times the reserve. Low: salty stock and the reserve.

    Parameters
    ----------
    strength : float
        Available chlorine when the stock was made [mg/L]
    temperatures : float array
        Mean temperature of the stock in each spell [degC]
    durations : float array
        Length of each spell [s]
    fresh_salt_factor : float
        Ionic strength per mole of hypochlorite with no salt beyond that of making [-]
    salty_salt_factor : float
        The same for salty or old stock [-]
    reserve : float
        Factor on the rate constant for ordinary storage [-]
    caustic : float
        Excess sodium hydroxide [mol/L]

    Returns
    -------
    low : float
        Strength of salty stock with the reserve [mg/L]
    likely : float
        Strength with the reserve [mg/L]
    high : float
        Strength by the law as published [mg/L]
    choices : tuple of str
        The choices behind the band, in words [-]

    Raises
    ------
    OutOfRange
        If the salty factor is below the fresh one, the reserve below 1, or a value outside its range.

    Warns
    -----
    OutsidePublishedRange
        Outside 15 to 55 degC, 50 to 213 g/L or an ionic strength of 1 to 6 mol/L.

    Notes
    -----
    Range: 50 to 200 g/L, 15 to 55 degC. The reserve of 1.3 centres the law on a modelled table within a month.

    References
    ----------
    adam-gordon-1999
    awwa-b300-appendix
    bleach-decay-table

    Examples
    --------
    >>> band = strength_band(125_000.0, [26.667], [30 * 86400.0])
    >>> [round(value, -3) for value in band[:3]]
    [83000.0, 99000.0, 104000.0]
    """
    within("salty_salt_factor", salty_salt_factor, fresh_salt_factor, 10.0, f"{fresh_salt_factor:g} to 10")
    within("reserve", reserve, 1.0, 10.0, "1 to 10")
    spells = _history(temperatures, durations)
    high = strength / (1.0 + _loss(strength, *spells, fresh_salt_factor, caustic, 1.0))
    likely = strength / (1.0 + _loss(strength, *spells, fresh_salt_factor, caustic, reserve))
    low = strength / (1.0 + _loss(strength, *spells, salty_salt_factor, caustic, reserve))
    choices = (
        f"low: ionic strength {salty_salt_factor:g} per mole of hypochlorite, rate x {reserve:g}",
        f"likely: ionic strength {fresh_salt_factor:g} per mole of hypochlorite, rate x {reserve:g}",
        f"high: ionic strength {fresh_salt_factor:g} per mole of hypochlorite, rate as published",
        f"all: {caustic:g} mol/L of caustic, dark, no metals; a titration on the day beats the band",
    )
    return StrengthBand(low, likely, high, choices)


def _history(temperatures: Series, durations: Series) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return both series as arrays of one length."""
    degrees = np.asarray(temperatures, dtype=np.float64)
    seconds = np.asarray(durations, dtype=np.float64)
    if degrees.ndim != 1 or degrees.shape != seconds.shape:
        raise OutOfRange("durations", f"{seconds.size} values", f"one for each of {degrees.size} temperatures")
    not_negative("durations", seconds, "s")
    return degrees, seconds


def _loss(
    strength: float,
    temperatures: NDArray[np.float64],
    durations: NDArray[np.float64],
    salt_factor: float,
    caustic: float,
    multiplier: float,
) -> float:
    """Return the loss ``m a0 sum(k dt)``; public functions call it directly, so that warnings name their caller."""
    above_zero("multiplier", multiplier, "[-]")
    mu = ionic_strength(strength, salt_factor, caustic)
    rates = rate_constants(temperatures, mu)
    for extreme in sorted({float(temperatures.min(initial=20.0)), float(temperatures.max(initial=20.0))}):
        warn_outside("temperature", extreme, PUBLISHED_TEMPERATURES, "degC", level=4)
    warn_outside("strength", strength, PUBLISHED_STRENGTHS, "mg/L", level=4)
    warn_outside("ionic strength", mu, PUBLISHED_IONIC_STRENGTHS, "mol/L", level=4)
    return float(multiplier * moles(strength) * np.sum(rates * durations))
