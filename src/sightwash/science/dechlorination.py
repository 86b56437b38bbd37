"""Neutralising what chlorine is left, and the limits that discharged water must meet.

Organic soil and sun use up part of the chlorine, so the sums here are upper bounds: dose to a measured
residual, not to the chlorine bought. Overdosing takes oxygen from the water or lowers its pH. Never
pour a concentrated reducer into strong bleach. Local discharge rules and permits come first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from sightwash.science._limits import above_zero, not_negative, strength_within, within
from sightwash.science.strength import CHLORINE_MOLAR_MASS
from sightwash.science.tables import table_rows


@dataclass(frozen=True, slots=True)
class Neutraliser:
    """A chemical that removes chlorine; ``field_ratio`` is None where the field guide has none.

    Ratios are mass of agent over mass of chlorine; ``moles`` is agent over chlorine in the reaction.
    """

    id: str
    name: str
    molar_mass: float
    moles: float
    field_ratio: float | None
    pounds_printed: float | None
    kilograms_printed: float | None
    oxygen_scavenging: str
    source: str
    status: str


def _number(text: str) -> float | None:
    return float(text) if text else None


@cache
def neutralisers() -> Mapping[str, Neutraliser]:
    """Neutralising chemicals by id, with stoichiometry and field ratios.

    Returns
    -------
    mapping of str to Neutraliser
        Every row of the table by its id [-]

    Notes
    -----
    Range: field ratios are for pH 7 and rest on field results; check them on the site's own water.

    References
    ----------
    awwa-field-guide
    dechlorination-stoichiometry

    Examples
    --------
    >>> neutralisers()["sodium-bisulfite"].field_ratio
    1.61
    """
    found = {
        row["id"]: Neutraliser(
            row["id"],
            row["name"],
            float(row["molar_mass"]),
            float(row["moles"]),
            _number(row["field_ratio"]),
            _number(row["pounds_per_100000_gal"]),
            _number(row["kilograms_per_100_m3"]),
            row["oxygen_scavenging"],
            row["source"],
            row["status"],
        )
        for row in table_rows("neutralisers")
    }
    return MappingProxyType(found)


def stoichiometric_ratio(molar_mass: float, moles: float) -> float:
    """Mass of a neutraliser that one mass of chlorine takes by the reaction's equation.

    ``r = n M / 70.906``

    Parameters
    ----------
    molar_mass : float
        Molar mass of the neutraliser [g/mol]
    moles : float
        Moles of neutraliser for one mole of chlorine [-]

    Returns
    -------
    float
        Mass of neutraliser over mass of chlorine [-]

    Raises
    ------
    OutOfRange
        If an argument is not above zero.

    Notes
    -----
    Range: complete reaction; field ratios run about 10 % higher, and thiosulfate's depends on pH and time.

    References
    ----------
    dechlorination-stoichiometry

    Examples
    --------
    >>> round(stoichiometric_ratio(104.06, 1.0), 4)
    1.4676
    """
    above_zero("molar_mass", molar_mass, "g/mol")
    above_zero("moles", moles, "mol")
    return moles * molar_mass / CHLORINE_MOLAR_MASS


def neutraliser_mass(chlorine: float, ratio: float) -> float:
    """Mass of neutraliser for a mass of chlorine.

    ``m = r m_Cl``

    Parameters
    ----------
    chlorine : float
        Mass of available chlorine left to remove [kg]
    ratio : float
        Mass of neutraliser over mass of chlorine [-]

    Returns
    -------
    float
        Mass of neutraliser [kg]

    Raises
    ------
    OutOfRange
        If the chlorine is negative or the ratio not above zero.

    Notes
    -----
    Range: pH about 7 for the field ratios; an upper bound where soil and sun have used up chlorine.

    References
    ----------
    awwa-field-guide

    Examples
    --------
    >>> round(neutraliser_mass(0.757, 1.9), 2)
    1.44
    """
    not_negative("chlorine", chlorine, "kg")
    within("ratio", ratio, 0.01, 20.0, "0.01 to 20 mass of agent per mass of chlorine")
    return chlorine * ratio


def neutraliser_to_carry(chlorine: float, ratio: float, spare: float = 0.20) -> float:
    """Mass of neutraliser to bring to the site.

    ``m = (1 + s) r m_Cl``

    Parameters
    ----------
    chlorine : float
        Mass of available chlorine left to remove [kg]
    ratio : float
        Mass of neutraliser over mass of chlorine [-]
    spare : float
        Extra share; the field guide advises at least 20 % [-]

    Returns
    -------
    float
        Mass of neutraliser to carry [kg]

    Raises
    ------
    OutOfRange
        If the spare is outside 0 to 2 or another value outside its range.

    Notes
    -----
    Range: an amount to carry, not to pour: dose to a measured residual.

    References
    ----------
    awwa-field-guide

    Examples
    --------
    >>> round(neutraliser_to_carry(1.0, 2.5), 9)
    3.0
    """
    within("spare", spare, 0.0, 2.0, "0 to 2")
    return (1.0 + spare) * neutraliser_mass(chlorine, ratio)


def dilution_factor(strength: float, criterion: float) -> float:
    """Volumes of clean water and mix in one volume of mix that bring it down to a criterion.

    ``n = C / C_limit``

    Parameters
    ----------
    strength : float
        Available chlorine in the water to discharge [mg/L]
    criterion : float
        Highest residual allowed [mg/L]

    Returns
    -------
    float
        Total volumes per volume of mix; 1 or less where the water already meets the criterion [-]

    Raises
    ------
    OutOfRange
        If the criterion is not above zero or the strength outside 0 to 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L; dilution alone cannot bring a wash mix down to a stream criterion in practice.

    References
    ----------
    mass-balance
    epa-aquatic-life-criteria

    Examples
    --------
    >>> round(dilution_factor(10_000.0, 0.019))
    526316
    """
    strength_within("strength", strength)
    above_zero("criterion", criterion, "mg/L")
    return strength / criterion
