"""Quantities behind the cautions: what a rig may carry, eyewash water, chlorine in air, plants.

Legal and safety figures date. Local codes, the product's label and safety data sheet, and a carrier's own
advice come first; these sums only show which question to ask.
"""

from __future__ import annotations

import math

from sightwash.science._limits import above_zero, not_negative, strength_within, within
from sightwash.science.dilution import chlorine_mass
from sightwash.science.strength import CHLORINE_MOLAR_MASS, HYPOCHLORITE_PER_CHLORINE


def carried_stock_limit(specific_gravity: float, tare_share: float = 0.05, gross_limit: float = 200.0) -> float:
    """Volume of stock that a truck and its trailer together may carry as materials of trade (US).

    ``V = M (1 - t) / SG``

    Parameters
    ----------
    specific_gravity : float
        Density of the stock over that of water [-]
    tare_share : float
        Mass of the packages over gross mass [-]
    gross_limit : float
        Gross mass allowed for the whole combination, all materials of trade together [kg]

    Returns
    -------
    float
        Volume of stock, if nothing else of the kind is carried [L]

    Raises
    ------
    OutOfRange
        If the specific gravity is outside 0.98 to 1.35, the tare outside 0 to 0.5 or the limit not above zero.

    Notes
    -----
    Range: packages of at most 30 L or 30 kg each; a drum or a tank of strong bleach is outside the exception.

    References
    ----------
    cfr-49-173-6
    phmsa-10-0265

    Examples
    --------
    >>> round(carried_stock_limit(1.16) / 3.785411784, 1)
    43.3
    """
    within("specific_gravity", specific_gravity, 0.98, 1.35, "0.98 to 1.35")
    within("tare_share", tare_share, 0.0, 0.5, "0 to 0.5")
    above_zero("gross_limit", gross_limit, "kg")
    return gross_limit * (1.0 - tare_share) / specific_gravity


def fewest_packages(volume: float, capacity: float = 30.0) -> int:
    """Fewest packages that hold a volume of stock.

    ``n = ceil(V / c)``

    Parameters
    ----------
    volume : float
        Volume of stock to carry [L]
    capacity : float
        Largest package; 30 L (8 gal) for materials of trade of packing group II and III [L]

    Returns
    -------
    int
        Number of packages [-]

    Raises
    ------
    OutOfRange
        If the volume is negative or the capacity not above zero.

    Notes
    -----
    Range: any volume; the limit on the whole rig is a separate one.

    References
    ----------
    cfr-49-173-6

    Examples
    --------
    >>> fewest_packages(100.0)
    4
    """
    not_negative("volume", volume, "L")
    above_zero("capacity", capacity, "L")
    return math.ceil(volume / capacity)


def eyewash_volume(flow: float = 0.0252360785, duration: float = 900.0) -> float:
    """Water that an eyewash must hold.

    ``V = q t``

    Parameters
    ----------
    flow : float
        Flow of the eyewash; at least 0.4 gal/min [L/s]
    duration : float
        Time of flushing; at least 15 min [s]

    Returns
    -------
    float
        Volume of clean water [L]

    Raises
    ------
    OutOfRange
        If an argument is not above zero.

    Notes
    -----
    Range: reached within 10 s, both eyes, hands free, water of 16 to 38 degC; a plain hose does not meet it.

    References
    ----------
    wac-296-800-15030

    Examples
    --------
    >>> round(eyewash_volume() / 3.785411784, 6)
    6.0
    """
    above_zero("flow", flow, "L/s")
    above_zero("duration", duration, "s")
    return flow * duration


def chlorine_in_air(parts_per_million: float, molar_volume: float = 24.45) -> float:
    """Mass of chlorine gas in air.

    ``c = ppm M / V_m``

    Parameters
    ----------
    parts_per_million : float
        Chlorine in air, parts per million by volume [-]
    molar_volume : float
        Volume of a mole of gas, 24.45 at 25 degC and one atmosphere [L/mol]

    Returns
    -------
    float
        Chlorine in air [mg/m3]

    Raises
    ------
    OutOfRange
        If the parts are outside 0 to 1 000 000 or the molar volume outside 20 to 30 L/mol.

    Notes
    -----
    Range: any share of chlorine in open air near 25 degC.

    References
    ----------
    standard-atomic-weights

    Examples
    --------
    >>> round(chlorine_in_air(0.5), 2)
    1.45
    """
    within("parts_per_million", parts_per_million, 0.0, 1e6, "0 to 1 000 000")
    within("molar_volume", molar_volume, 20.0, 30.0, "20 to 30 L/mol")
    return parts_per_million * CHLORINE_MOLAR_MASS / molar_volume


def hypochlorite_mass(strength: float, volume: float) -> float:
    """Mass of sodium hypochlorite in a volume.

    ``m = 1.0499 C V``

    Parameters
    ----------
    strength : float
        Available chlorine [mg/L]
    volume : float
        Volume [L]

    Returns
    -------
    float
        Mass of NaOCl [kg]

    Raises
    ------
    OutOfRange
        If the volume is negative or the strength outside 0 to 200 g/L.

    Notes
    -----
    Range: 0 to 200 g/L; release of a reportable quantity must be told to the authorities at once.

    References
    ----------
    standard-atomic-weights
    cercla-reportable-quantity

    Examples
    --------
    >>> round(hypochlorite_mass(125_000.0, 345.6), 1)
    45.4
    """
    return chlorine_mass(strength, volume) * HYPOCHLORITE_PER_CHLORINE


def plant_excess(strength: float, threshold: float = 2.5) -> float:
    """How many times over a plant's threshold a mix is.

    ``n = C / C_plant``

    Parameters
    ----------
    strength : float
        Available chlorine of the mix or the run-off [mg/L]
    threshold : float
        Free chlorine that harmed plants watered with it again and again [mg/L]

    Returns
    -------
    float
        Strength over threshold; 1 or less is harmless by that study [-]

    Raises
    ------
    OutOfRange
        If the threshold is not above zero or the strength outside 0 to 200 g/L.

    Notes
    -----
    Range: thresholds are for weeks of watering, not one splash; wet plants before, shield them, rinse after.

    References
    ----------
    nursery-chlorine-threshold

    Examples
    --------
    >>> plant_excess(10_000.0)
    4000.0
    """
    strength_within("strength", strength)
    above_zero("threshold", threshold, "mg/L")
    return strength / threshold
