"""Friction factors of a round hose (Darcy's, four times Fanning's)."""

from __future__ import annotations

import math
import warnings

import numpy as np

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.science._numbers import (
    WATER_VISCOSITY,
    Real,
    above_zero,
    natural_log,
    not_negative,
    power,
    within,
)


def flow_speed(flow: Real, bore: float) -> Real:
    """Mean speed of a flow in a full round hose.

    ``v = q / (pi d^2 / 4)``, the trade's ``ft/s = 0.4085 gpm / in^2``

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    bore : float
        Inner diameter of the hose [m]

    Returns
    -------
    float or array
        Mean speed [m/s]

    Raises
    ------
    OutOfRange
        If the flow is negative or the bore not above zero.

    Notes
    -----
    Range: exact for a full hose.

    References
    ----------
    continuity

    Examples
    --------
    5.5 gal/min in 3/8 in hose runs at 16 ft/s:

    >>> round(flow_speed(5.5 * 3.785411784 / 60, 0.375 * 0.0254) / 0.3048, 1)
    16.0
    """
    not_negative("flow", flow, "L/s")
    above_zero("bore", bore, "m")
    return flow / 1000.0 / (math.pi / 4.0 * bore**2)


def reynolds_number(flow: Real, bore: float, viscosity: float = WATER_VISCOSITY) -> Real:
    """Reynolds number of a flow in a full round hose.

    ``Re = v d / nu``

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    bore : float
        Inner diameter of the hose [m]
    viscosity : float
        Kinematic viscosity of the water [m2/s]

    Returns
    -------
    float or array
        Reynolds number [-]

    Raises
    ------
    OutOfRange
        If the flow is negative, or the bore or the viscosity not above zero.

    Notes
    -----
    Range: exact; below about 2000 the flow is laminar, above about 4000 turbulent.

    References
    ----------
    continuity

    Examples
    --------
    >>> round(reynolds_number(5.5 * 3.785411784 / 60, 0.375 * 0.0254), -2)
    46200.0
    """
    above_zero("viscosity", viscosity, "m2/s")
    return flow_speed(flow, bore) * bore / viscosity


def churchill_friction(reynolds: Real, relative_roughness: float) -> Real:
    """Darcy friction factor after Churchill, for laminar and turbulent flow alike.

    ``f = 8 [(8/Re)^12 + (A + B)^-1.5]^(1/12)``, ``A = [2.457 ln(1/((7/Re)^0.9 + 0.27 e/d))]^16``,
    ``B = (37530/Re)^16``

    Parameters
    ----------
    reynolds : float or array
        Reynolds number [-]
    relative_roughness : float
        Height of the wall's roughness over the bore [-]

    Returns
    -------
    float or array
        Darcy friction factor [-]

    Raises
    ------
    OutOfRange
        If the Reynolds number is below 1e-9 or the relative roughness not from 0 to 0.05.

    Notes
    -----
    Range: all Reynolds numbers; between 2000 and 4000 real hoses scatter.

    References
    ----------
    churchill-1977
    fluids-library

    Examples
    --------
    >>> round(churchill_friction(1e5, 1e-4), 9)
    0.018462625
    """
    within("reynolds", reynolds, 1e-9, 1e12, "")
    within("relative_roughness", relative_roughness, 0.0, 0.05, "")
    # (A + B)^-1.5 underflows to zero harmlessly at the lowest Reynolds numbers.
    a = power(2.457 * abs(natural_log(power(7.0 / reynolds, 0.9) + 0.27 * relative_roughness)), 16.0)
    b = power(37530.0 / reynolds, 16.0)
    return 8.0 * power(power(8.0 / reynolds, 12.0) + power(a + b, -1.5), 1.0 / 12.0)


def swamee_jain_friction(reynolds: Real, relative_roughness: float) -> Real:
    """Darcy friction factor after Swamee and Jain, for turbulent flow.

    ``f = 0.25 / log10(e/(3.7 d) + 5.74/Re^0.9)^2``

    Parameters
    ----------
    reynolds : float or array
        Reynolds number [-]
    relative_roughness : float
        Height of the wall's roughness over the bore [-]

    Returns
    -------
    float or array
        Darcy friction factor [-]

    Raises
    ------
    OutOfRange
        If the Reynolds number is below 2000 or the relative roughness not from 0 to 0.05.

    Notes
    -----
    Range: Reynolds numbers from 5e3 to 1e8 and relative roughness from 1e-6 to 0.05; warns beyond. The
    constant 5.74 is 6.97^0.9 rounded; the unrounded one is used, as in the program of reference.

    References
    ----------
    swamee-jain-1976
    fluids-library

    Examples
    --------
    >>> round(swamee_jain_friction(1e5, 1e-4), 9)
    0.018452424
    """
    within("reynolds", reynolds, 2000.0, 1e12, "")
    within("relative_roughness", relative_roughness, 0.0, 0.05, "")
    if np.min(reynolds) < 5e3 or np.max(reynolds) > 1e8 or relative_roughness < 1e-6:
        warnings.warn("Swamee-Jain friction beyond Re 5e3 to 1e8, e/d 1e-6 to 0.05", OutsidePublishedRange, 2)
    inner = relative_roughness / 3.7 + power(6.97 / reynolds, 0.9)
    return 0.25 * (math.log(10.0) / natural_log(inner)) ** 2


def coiled_friction(straight_friction: Real, reynolds: Real, bore: float, coil_diameter: float) -> Real:
    """Darcy friction factor of hose on a reel, after Schmidt.

    ``f = f_s [1 + (28800/Re) (d/D)^0.62]`` up to Re 22000, then
    ``f = f_s [1 + 0.0823 (1 + d/D) (d/D)^0.53 Re^0.25]``

    Parameters
    ----------
    straight_friction : float or array
        Friction factor of the same hose laid straight [-]
    reynolds : float or array
        Reynolds number [-]
    bore : float
        Inner diameter of the hose [m]
    coil_diameter : float
        Diameter of the coil, hose centre to hose centre [m]

    Returns
    -------
    float or array
        Darcy friction factor on the reel [-]

    Raises
    ------
    OutOfRange
        If an input is not above zero or the coil not wider than the bore.

    Notes
    -----
    Range: turbulent flow in the coil, ``2300 [1 + 8.6 (d/D)^0.45]`` to 1.5e5; warns beyond.

    References
    ----------
    schmidt-1967
    fluids-library

    Examples
    --------
    A 20 mm bore on a 0.5 m drum loses a good quarter more:

    >>> round(coiled_friction(0.01795, 1e5, 0.02, 0.5) / 0.01795, 2)
    1.28
    """
    above_zero("straight_friction", straight_friction, "")
    above_zero("reynolds", reynolds, "")
    above_zero("bore", bore, "m")
    within("coil_diameter", coil_diameter, bore, 100.0, "m, wider than the bore")
    share = bore / coil_diameter
    if np.min(reynolds) < 2300.0 * (1.0 + 8.6 * power(share, 0.45)) or np.max(reynolds) > 1.5e5:
        warnings.warn("coiled friction beyond the turbulent range of Schmidt", OutsidePublishedRange, 2)
    low = 28800.0 * power(share, 0.62) / reynolds
    high = 0.0823 * (1.0 + share) * power(share, 0.53) * power(reynolds, 0.25)
    upper = reynolds >= 22000.0
    return straight_friction * (1.0 + upper * high + (1 - upper) * low)
