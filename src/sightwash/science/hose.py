"""Pressure lost in a hose: friction, height, fittings; and what the hose holds.

Darcy's law with Churchill's friction factor is the default. For new smooth hose it is good to about 10 %,
but a bore 1/64 in under nominal 3/8 in costs 23 % more: the tolerance of the bore outweighs the choice of
law, so a loss is best shown as the band of ``loss_band``. Other laws stand in ``hose_laws``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import INCH, STANDARD_GRAVITY
from sightwash.science._numbers import (
    WATER_DENSITY,
    WATER_VISCOSITY,
    Real,
    above_zero,
    finite,
    not_negative,
)
from sightwash.science.friction import churchill_friction, flow_speed, reynolds_number

SMOOTH_HOSE: Final = 1.5e-6
"""Roughness of new smooth hose [m]."""


class LossBand(NamedTuple):
    """Loss in a hose with the bore at the large end of its tolerance, as marked, and at the small end."""

    low: float
    mid: float
    high: float


def darcy_loss(
    flow: Real,
    length: float,
    bore: float,
    roughness: float = SMOOTH_HOSE,
    density: float = WATER_DENSITY,
    viscosity: float = WATER_VISCOSITY,
) -> Real:
    """Friction loss in a hose by Darcy and Weisbach with Churchill's factor.

    ``dp = f (L/d) rho v^2 / 2``

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    length : float
        Length of the hose [m]
    bore : float
        Inner diameter of the hose [m]
    roughness : float
        Roughness of the wall [m]
    density : float
        Density of the water [kg/m3]
    viscosity : float
        Kinematic viscosity of the water [m2/s]

    Returns
    -------
    float or array
        Loss of pressure [Pa]

    Raises
    ------
    OutOfRange
        If the flow or the length is negative, the bore not above zero, or the wall rougher than 5 % of the bore.

    Notes
    -----
    Range: straight round hose of known bore; about 10 % for new smooth hose, more for old.

    References
    ----------
    darcy-weisbach
    churchill-1977
    toolbox-hose-loss

    Examples
    --------
    5.5 gal/min through 100 ft of 3/8 in hose loses 120 psi:

    >>> round(darcy_loss(5.5 * 3.785411784 / 60, 30.48, 0.375 * 0.0254) / 6894.757, 1)
    119.5
    """
    not_negative("length", length, "m")
    above_zero("density", density, "kg/m3")
    speed = flow_speed(flow, bore)
    # A trace is added so that still water, which loses nothing, has a Reynolds number too.
    reynolds = reynolds_number(flow, bore, viscosity) + 1e-9
    return churchill_friction(reynolds, roughness / bore) * (length / bore * density / 2.0) * speed**2


def loss_band(
    flow: float, length: float, bore: float, bore_tolerance: float = INCH / 64.0, roughness: float = SMOOTH_HOSE
) -> LossBand:
    """Friction loss in a hose as a band over the tolerance of its bore.

    ``dp`` at ``d + t``, ``d`` and ``d - t``

    Parameters
    ----------
    flow : float
        Flow [L/s]
    length : float
        Length of the hose [m]
    bore : float
        Inner diameter marked on the hose [m]
    bore_tolerance : float
        By how much the bore may be off [m]
    roughness : float
        Roughness of the wall [m]

    Returns
    -------
    LossBand
        Loss at the large, marked and small bore [Pa]

    Raises
    ------
    OutOfRange
        If the tolerance is negative or half the bore and more, or as in ``darcy_loss``.

    Notes
    -----
    Range: as ``darcy_loss``; 1/64 in is a judgement, a caliper on the coupling end is better.

    References
    ----------
    darcy-weisbach
    hose-bore-judgement

    Examples
    --------
    >>> band = loss_band(5.5 * 3.785411784 / 60, 30.48, 0.375 * 0.0254)
    >>> [round(loss / 6894.757) for loss in band]
    [98, 119, 147]
    """
    not_negative("bore_tolerance", bore_tolerance, "m")
    if bore_tolerance >= bore / 2.0:
        raise OutOfRange("bore_tolerance", bore_tolerance, f"a tolerance below half the bore, {bore / 2.0:g} m")
    low, mid, high = (darcy_loss(flow, length, bore + t, roughness) for t in (bore_tolerance, 0.0, -bore_tolerance))
    return LossBand(low, mid, high)


def series_loss(
    flow: Real,
    lengths: Sequence[float],
    bores: Sequence[float],
    roughness: float = SMOOTH_HOSE,
    density: float = WATER_DENSITY,
    viscosity: float = WATER_VISCOSITY,
) -> Real:
    """Friction loss in hose runs joined end to end.

    The sum of ``darcy_loss`` over the runs.

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    lengths : sequence of float
        Length of each run [m]
    bores : sequence of float
        Inner diameter of each run, in the same order [m]
    roughness : float
        Roughness of the wall [m]
    density : float
        Density of the water [kg/m3]
    viscosity : float
        Kinematic viscosity of the water [m2/s]

    Returns
    -------
    float or array
        Loss of pressure [Pa]

    Raises
    ------
    OutOfRange
        If there are not as many bores as lengths, or as in ``darcy_loss``.

    Notes
    -----
    Range: as ``darcy_loss``; couplings are not counted, see ``fitting_loss``.

    References
    ----------
    darcy-weisbach

    Examples
    --------
    >>> loss = series_loss(0.5047, [30.48, 15.24], [0.0127, 0.009525])
    >>> round(loss / 6894.757)
    176
    """
    not_negative("flow", flow, "L/s")
    if len(lengths) != len(bores):
        raise OutOfRange("bores", len(bores), f"one bore for each length, {len(lengths)} in all")
    loss = 0.0 * flow
    for length, bore in zip(lengths, bores, strict=True):
        loss = loss + darcy_loss(flow, length, bore, roughness, density, viscosity)
    return loss


def fitting_loss(flow: Real, bore: float, velocity_heads: float, density: float = WATER_DENSITY) -> Real:
    """Loss in fittings counted in velocity heads.

    ``dp = K rho v^2 / 2``

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    bore : float
        Bore at which the velocity heads are counted [m]
    velocity_heads : float
        Sum of K: about 1 to 2 for each coupler or swivel, 0.9 for a square bend [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float or array
        Loss of pressure [Pa]

    Raises
    ------
    OutOfRange
        If the flow or K is negative or the bore not above zero.

    Notes
    -----
    Range: turbulent flow; the K of couplers is from memory, so measure where it decides.

    References
    ----------
    darcy-weisbach
    fitting-heads

    Examples
    --------
    >>> round(fitting_loss(0.5047, 0.0127, 1.5) / 6894.757, 2)
    1.72
    """
    not_negative("velocity_heads", velocity_heads, "")
    above_zero("density", density, "kg/m3")
    return velocity_heads * density / 2.0 * flow_speed(flow, bore) ** 2


def elevation_loss(rise: float, density: float = WATER_DENSITY) -> float:
    """Pressure that lifting the water takes.

    ``dp = rho g z``, the trade's 0.433 psi for each foot

    Parameters
    ----------
    rise : float
        Height of the tip above the pump; below zero if it is lower [m]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Loss of pressure; a gain if below zero [Pa]

    Raises
    ------
    OutOfRange
        If an input is not finite or the density not above zero.

    Notes
    -----
    Range: exact.

    References
    ----------
    hydrostatics

    Examples
    --------
    >>> round(elevation_loss(15 * 0.3048) / 6894.757, 1)
    6.5
    """
    finite("rise", rise, "m")
    above_zero("density", density, "kg/m3")
    return density * STANDARD_GRAVITY * rise


def hose_volume(length: float, bore: float) -> float:
    """Water that a hose holds.

    ``V = pi d^2 L / 4``

    Parameters
    ----------
    length : float
        Length of the hose [m]
    bore : float
        Inner diameter of the hose [m]

    Returns
    -------
    float
        Volume [L]

    Raises
    ------
    OutOfRange
        If the length is negative or the bore not above zero.

    Notes
    -----
    Range: exact for a hose that does not swell; hoses under pressure hold a little more.

    References
    ----------
    continuity

    Examples
    --------
    >>> round(hose_volume(200 * 0.3048, 0.375 * 0.0254) / 3.785411784, 2)
    1.15
    """
    not_negative("length", length, "m")
    above_zero("bore", bore, "m")
    return 1000.0 * math.pi / 4.0 * bore**2 * length
