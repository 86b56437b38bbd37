"""Other laws of loss in a hose, kept under their names beside Darcy's in ``hose``.

Both are fits in US units over the pipes and flows of their authors; small hoses run faster than either.
"""

from __future__ import annotations

import math
import warnings

import numpy as np

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.basis.units import FOOT, INCH, PSI
from sightwash.science._numbers import Real, above_zero, not_negative, power
from sightwash.science.friction import flow_speed
from sightwash.science.tables import figures
from sightwash.science.tips import GALLON_A_MINUTE


def hazen_williams_loss(flow: Real, length: float, bore: float, coefficient: float = 140.0) -> Real:
    """Friction loss in a hose by the formula of Hazen and Williams.

    ``p = 4.52 q^1.85 / (C^1.85 d^4.87)`` psi a foot, q gal/min, d in

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    length : float
        Length of the hose [m]
    bore : float
        Inner diameter of the hose [m]
    coefficient : float
        C: 150 for plastic or copper, 140 for new steel, 120 for old [-]

    Returns
    -------
    float or array
        Loss of pressure [Pa]

    Raises
    ------
    OutOfRange
        If the flow or the length is negative, or the bore or C not above zero.

    Notes
    -----
    Range: water near room temperature below about 10 ft/s; warns above. Small hoses run at 10 to 40 ft/s.

    References
    ----------
    hazen-williams

    Examples
    --------
    >>> round(hazen_williams_loss(2 * 3.785411784 / 60, 30.48, 0.5 * 0.0254) / 6894.757, 1)
    5.1
    """
    not_negative("length", length, "m")
    above_zero("coefficient", coefficient, "")
    if np.max(flow_speed(flow, bore)) > 10.0 * FOOT:
        warnings.warn("Hazen-Williams above 10 ft/s", OutsidePublishedRange, 2)
    a_foot = 4.52 * power(flow / GALLON_A_MINUTE, 1.85) / (power(coefficient, 1.85) * power(bore / INCH, 4.87))
    return a_foot * PSI * (length / FOOT)


def fire_service_loss(flow: Real, length: float, coefficient: float) -> Real:
    """Friction loss in a hose by the form of the fire service.

    ``FL = C (q/100)^2 (L/100)`` psi, q gal/min, L ft

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    length : float
        Length of the hose [m]
    coefficient : float
        C of the hose, psi in 100 ft at 100 gal/min [-]

    Returns
    -------
    float or array
        Loss of pressure [Pa]

    Raises
    ------
    OutOfRange
        If the flow or the length is negative or C not above zero.

    Notes
    -----
    Range: the flows of fire hoses; its fixed square makes it low at small flows, 3/4 in below 10 gal/min.

    References
    ----------
    fire-hose-coefficients

    Examples
    --------
    >>> round(fire_service_loss(150 * 3.785411784 / 60, 30.48, 15.5) / 6894.757, 2)
    34.88
    """
    not_negative("flow", flow, "L/s")
    not_negative("length", length, "m")
    above_zero("coefficient", coefficient, "")
    return coefficient * PSI * (length / FOOT / 100.0) * (flow / GALLON_A_MINUTE / 100.0) ** 2


def fire_service_coefficient(bore: float) -> float:
    """Published coefficient of a fire hose by its nominal bore.

    Parameters
    ----------
    bore : float
        Nominal bore, one of 3/4, 1, 1-1/4, 1-1/2, 1-3/4, 2, 2-1/2 and 3 in [m]

    Returns
    -------
    float
        C of the hose, psi in 100 ft at 100 gal/min [-]

    Raises
    ------
    OutOfRange
        If the table has no hose of this bore.

    Notes
    -----
    Range: the eight bores of the table; between them there is no figure.

    References
    ----------
    fire-hose-coefficients

    Examples
    --------
    >>> fire_service_coefficient(1.75 * 0.0254)
    15.5
    """
    rows = figures("fire_hose_coefficients")
    for nominal, row in rows.items():
        if math.isclose(float(nominal) * INCH, bore, rel_tol=1e-6):
            return row.value
    raise OutOfRange("bore", bore, "one of " + ", ".join(rows) + " in (in metres)")
