"""Path of a water jet in air, in two stages.

A jet keeps together for a length of ``CL`` bores, without drag; beyond, it flies as clumps of drops riding in
their own wake, as if each were a sphere of ``CD`` bores with a drag coefficient of 0.45. Two pairs of
constants are in use: CL 200 and CD 0.90 for the outer edge, the last water (fitted to 86 ranges of nozzles of
13 to 25 mm at 2.1 to 6.2 bar, 6.5 % rms; peak heights come out 14 % low), and CL 100 and CD 0.56 for the
effective stream in Freeman's sense. Nozzles of 2 to 4 mm at 15 to 20 bar are an extrapolation: nothing
measured was found for them, so show ``jet_reach.reach_band`` and ask for a field test.
"""

from __future__ import annotations

import math
from typing import Final

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import STANDARD_GRAVITY
from sightwash.science._jet_range import unmeasured, warn_if_unmeasured
from sightwash.science._numbers import AIR_DENSITY, WATER_DENSITY, above_zero, within
from sightwash.science.orifice import jet_speed

OUTER_BREAKUP: Final = 200.0
"""Length over bore for which the outer edge of a jet keeps together [-]."""
OUTER_CLUMP: Final = 0.90
"""Diameter over bore of the clumps at the outer edge of a jet [-]."""
EFFECTIVE_BREAKUP: Final = 100.0
"""The same length for the effective stream [-]."""
EFFECTIVE_CLUMP: Final = 0.56
"""The same diameter for the effective stream [-]."""
CLUMP_DRAG: Final = 0.45
"""Drag coefficient of a clump, taken as a sphere [-]."""


def beyond_measured(bore: float, pressure: float) -> bool:
    """Whether a jet lies outside the nozzles and pressures that were measured.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]

    Returns
    -------
    bool
        True outside 4.85 to 25.4 mm and 1.03 to 6.2 bar [-]

    Raises
    ------
    OutOfRange
        If an input is not above zero.

    Notes
    -----
    Range: any.

    References
    ----------
    theobald-1981
    trettel-2020

    Examples
    --------
    >>> beyond_measured(2.8e-3, 250 * 6894.757)
    True
    """
    return unmeasured(bore, pressure)


def drag_length(
    clump_diameter: float,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> float:
    """Length over which drag takes a jet's clumps to 1/e of their speed.

    ``l = (4/3) (rho_w / rho_a) De / Cd``

    Parameters
    ----------
    clump_diameter : float
        Diameter of the clumps as equal spheres [m]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    float
        Drag length [m]

    Raises
    ------
    OutOfRange
        If an input is not above zero.

    Notes
    -----
    Range: drag by the square of the speed.

    References
    ----------
    quadratic-drag-path

    Examples
    --------
    >>> round(drag_length(0.001), 3)
    2.456
    """
    above_zero("clump_diameter", clump_diameter, "m")
    above_zero("drag_coefficient", drag_coefficient, "")
    above_zero("density", density, "kg/m3")
    above_zero("air_density", air_density, "kg/m3")
    return 4.0 / 3.0 * (density / air_density) * clump_diameter / drag_coefficient


def jet_lengths(
    bore: float,
    breakup_ratio: float,
    clump_ratio: float,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> tuple[float, float]:
    """Break-up length and drag length of a jet.

    ``Lb = CL d`` and ``l = (4/3) (rho_w / rho_a) CD d / Cd``

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    clump_ratio : float
        Diameter over bore of the clumps that it becomes, CD [-]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    tuple of float
        Break-up length and drag length [m]

    Raises
    ------
    OutOfRange
        If the break-up ratio is negative or another input not above zero.

    Notes
    -----
    Range: break-up lengths of 163 to 251 bores were measured; nozzles that are worn or rough break up sooner.

    References
    ----------
    theobald-1981

    Examples
    --------
    >>> [round(length, 2) for length in jet_lengths(0.0028, 200.0, 0.90)]
    [0.56, 6.19]
    """
    above_zero("bore", bore, "m")
    within("breakup_ratio", breakup_ratio, 0.0, 1e4, "bores")
    above_zero("clump_ratio", clump_ratio, "bores")
    return breakup_ratio * bore, drag_length(clump_ratio * bore, drag_coefficient, density, air_density)


def straight_up_height(
    bore: float,
    pressure: float,
    breakup_ratio: float = OUTER_BREAKUP,
    clump_ratio: float = OUTER_CLUMP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> float:
    """Height above the nozzle of a jet straight up in still air.

    ``z = V^2 / 2g`` while whole, else ``z = Lb + (l/2) ln[1 + (V^2 - 2 g Lb) / (g l)]``

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    clump_ratio : float
        Diameter over bore of the clumps that it becomes, CD [-]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    float
        Height above the nozzle [m]

    Raises
    ------
    OutOfRange
        If an input is not above zero.

    Notes
    -----
    Range: bores of 4.85 to 25.4 mm at 1.03 to 6.2 bar; warns beyond, where it is an extrapolation.

    References
    ----------
    quadratic-drag-path
    theobald-1981
    trettel-2020

    Examples
    --------
    A 13 mm nozzle at 60 psi:

    >>> round(straight_up_height(0.013, 60 * 6894.757) / 0.3048, 1)
    71.0
    """
    warn_if_unmeasured(bore, pressure)
    whole, drag = jet_lengths(bore, breakup_ratio, clump_ratio, drag_coefficient, density, air_density)
    square = jet_speed(pressure, density) ** 2
    left = square - 2.0 * STANDARD_GRAVITY * whole
    if left <= 0.0:
        return square / (2.0 * STANDARD_GRAVITY)
    return whole + drag / 2.0 * math.log1p(left / (STANDARD_GRAVITY * drag))


def straight_up_pressure(
    bore: float,
    height: float,
    breakup_ratio: float = OUTER_BREAKUP,
    clump_ratio: float = OUTER_CLUMP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> float:
    """Pressure that throws a jet straight up to a height in still air.

    ``V^2 = 2 g Lb + g l (exp(2 (z - Lb) / l) - 1)``, or ``2 g z`` while whole; ``p = rho V^2 / 2``

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    height : float
        Height above the nozzle [m]
    breakup_ratio : float
        Length over bore for which the jet keeps together, CL [-]
    clump_ratio : float
        Diameter over bore of the clumps that it becomes, CD [-]
    drag_coefficient : float
        Drag coefficient of a clump [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    float
        Gauge pressure at the nozzle [Pa]

    Raises
    ------
    OutOfRange
        If an input is not above zero, or no pressure below 1000 bar throws so high.

    Notes
    -----
    Range: bores of 4.85 to 25.4 mm at 1.03 to 6.2 bar; warns beyond, where it is an extrapolation.

    References
    ----------
    quadratic-drag-path

    Examples
    --------
    >>> round(straight_up_pressure(0.013, 71.0 * 0.3048) / 6894.757)
    60
    """
    above_zero("height", height, "m")
    whole, drag = jet_lengths(bore, breakup_ratio, clump_ratio, drag_coefficient, density, air_density)
    exponent = 2.0 * max(height - whole, 0.0) / drag
    square = STANDARD_GRAVITY * (2.0 * min(height, whole) + drag * math.expm1(min(exponent, 700.0)))
    pressure = density * square / 2.0
    if pressure > 1e8:
        raise OutOfRange("height", height, "a height that a jet of this bore can reach below 1000 bar")
    warn_if_unmeasured(bore, pressure)
    return pressure
