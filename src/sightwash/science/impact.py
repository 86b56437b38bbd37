"""Force of a jet: on the hands that hold it and on the wall that it meets.

The same momentum pushes back on the gun and forward on the wall. A narrower fan does not make more of it,
it only puts it on a smaller spot. Figures assume no loss on the way; a real jet entrains air and hits less.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from sightwash.basis.units import PSI
from sightwash.science._numbers import WATER_DENSITY, Real, above_zero, not_negative, within
from sightwash.science.orifice import jet_speed


class Limit(NamedTuple):
    """A limit with the id of its source."""

    value: float
    source: str


SUPPORT_FORCE: Final = Limit(150.0, "norway-work-20-1")
"""Reaction above which the tool must be supported against the body [N]."""
MECHANICAL_FORCE: Final = Limit(250.0, "norway-work-20-1")
"""Reaction above which mechanical control is required [N]."""
INJECTION_PRESSURE: Final = Limit(100.0 * PSI, "cdc-water-injection")
"""Pressure above which serious injection injury should be considered with any device [Pa]."""


def reaction_force(flow: Real, pressure: float, density: float = WATER_DENSITY) -> Real:
    """Force with which a jet pushes back on the gun.

    ``R = rho q V = q sqrt(2 rho p)``, the trade's ``lbf = 0.0526 gpm sqrt(psi)``

    Parameters
    ----------
    flow : float or array
        Flow at the tip [L/s]
    pressure : float
        Gauge pressure at the tip [Pa]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float or array
        Reaction along the jet [N]

    Raises
    ------
    OutOfRange
        If the flow or the pressure is negative.

    Notes
    -----
    Range: a steady jet with no loss of speed at the tip; the kick when the trigger opens is larger.

    References
    ----------
    momentum-jet

    Examples
    --------
    8 gal/min at 3500 psi pushes with 25 lbf:

    >>> round(reaction_force(8 * 3.785411784 / 60, 3500 * 6894.757) / 4.4482216, 1)
    24.9
    """
    not_negative("flow", flow, "L/s")
    return density * (flow / 1000.0) * jet_speed(pressure, density)


def bore_reaction(bore: float, pressure: Real) -> Real:
    """Force with which the jet of a smooth bore pushes back.

    ``R = 2 p A = (pi/2) d^2 p``

    Parameters
    ----------
    bore : float
        Diameter of the jet [m]
    pressure : float or array
        Gauge pressure at the nozzle [Pa]

    Returns
    -------
    float or array
        Reaction along the jet [N]

    Raises
    ------
    OutOfRange
        If the bore is not above zero or the pressure negative.

    Notes
    -----
    Range: a discharge coefficient of 1; multiply by the coefficient for a sharper opening.

    References
    ----------
    momentum-jet
    fire-service-hydraulics-1970
    ifsta-fire-streams
    toolbox-jet-propulsion
    nozzle-reaction-thread

    Examples
    --------
    A 1 in smooth bore at 50 psi pushes with 78.5 lbf:

    >>> round(bore_reaction(0.0254, 50 * 6894.757) / 4.4482216, 1)
    78.5
    """
    above_zero("bore", bore, "m")
    not_negative("pressure", pressure, "Pa")
    return math.pi / 2.0 * bore**2 * pressure


def flow_at_reaction(reaction: float, pressure: float, density: float = WATER_DENSITY) -> float:
    """Flow whose jet pushes back with a given force.

    ``q = R / sqrt(2 rho p)``

    Parameters
    ----------
    reaction : float
        Reaction along the jet [N]
    pressure : float
        Gauge pressure at the tip [Pa]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Flow at the tip [L/s]

    Raises
    ------
    OutOfRange
        If the reaction is negative or the pressure not above zero.

    Notes
    -----
    Range: a steady jet with no loss of speed at the tip.

    References
    ----------
    momentum-jet
    norway-work-20-1

    Examples
    --------
    At 3500 psi the limit for a gun held in the hands is reached at 10.8 gal/min:

    >>> round(flow_at_reaction(SUPPORT_FORCE.value, 3500 * 6894.757) / (3.785411784 / 60), 1)
    10.8
    """
    not_negative("reaction", reaction, "N")
    above_zero("pressure", pressure, "Pa")
    return 1000.0 * reaction / (density * jet_speed(pressure, density))


def impact_force(flow: float, pressure: float, incidence: float = 0.0, density: float = WATER_DENSITY) -> float:
    """Force of a jet square to the wall that it meets.

    ``I = rho q V cos(i)``

    Parameters
    ----------
    flow : float
        Flow at the tip [L/s]
    pressure : float
        Gauge pressure at the tip [Pa]
    incidence : float
        Angle of the jet from square on [deg]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Force on the wall, square to it [N]

    Raises
    ------
    OutOfRange
        If the flow or the pressure is negative or the angle not from 0 to 90.

    Notes
    -----
    Range: the most there can be; a measured impact is lower, by entrained air and slowed drops.

    References
    ----------
    momentum-jet

    Examples
    --------
    >>> round(impact_force(8 * 3.785411784 / 60, 3500 * 6894.757, 60.0) / 4.4482216, 1)
    12.5
    """
    within("incidence", incidence, 0.0, 90.0, "deg")
    return reaction_force(flow, pressure, density) * math.cos(math.radians(incidence))


def fan_width(standoff: float, fan_angle: float) -> float:
    """Width of a fan where it meets the wall.

    ``w = 2 s tan(a/2)``

    Parameters
    ----------
    standoff : float
        Distance from tip to wall along the jet [m]
    fan_angle : float
        Angle of the fan; it narrows below the tip's rating pressure [deg]

    Returns
    -------
    float
        Width of the strip that is wetted [m]

    Raises
    ------
    OutOfRange
        If the standoff is negative or the angle not from 0 to 120.

    Notes
    -----
    Range: near the tip; far out the fan falls in and breaks up.

    References
    ----------
    fan-geometry

    Examples
    --------
    >>> round(fan_width(12 * 0.0254, 25) / 0.0254, 2)
    5.32
    """
    not_negative("standoff", standoff, "m")
    within("fan_angle", fan_angle, 0.0, 120.0, "deg")
    return 2.0 * standoff * math.tan(math.radians(fan_angle) / 2.0)


def mean_impact_pressure(
    flow: float,
    pressure: float,
    standoff: float,
    fan_angle: float,
    thickness: float,
    incidence: float = 0.0,
    density: float = WATER_DENSITY,
) -> float:
    """Mean pressure of a fan on the strip of wall that it wets.

    ``p = I cos(i) / (w t)``, with I square on; never more than at the tip

    Parameters
    ----------
    flow : float
        Flow at the tip [L/s]
    pressure : float
        Gauge pressure at the tip [Pa]
    standoff : float
        Distance from tip to wall along the jet [m]
    fan_angle : float
        Angle of the fan [deg]
    thickness : float
        Thickness of the fan at the wall when square on, measured on a wetted board [m]
    incidence : float
        Tilt of the jet about the fan's long axis, from square on [deg]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Mean pressure on the wetted strip [Pa]

    Raises
    ------
    OutOfRange
        If an input is negative, the thickness not above zero, or an angle outside its range.

    Notes
    -----
    Range: a mean and the most there can be; no published thickness was found, so measure it. The tilt
    lessens the force across the wall and lengthens the strip, so it counts twice.

    References
    ----------
    momentum-jet
    fan-geometry

    Examples
    --------
    5.5 gal/min at 3000 psi, 25 degrees, 12 in away, a strip 1/4 in thick:

    >>> psi = 6894.757
    >>> round(mean_impact_pressure(5.5 * 3.785411784 / 60, 3000 * psi, 0.3048, 25, 0.00635) / psi, 1)
    11.9
    """
    above_zero("thickness", thickness, "m")
    force = impact_force(flow, pressure, incidence, density)
    area = fan_width(standoff, fan_angle) * thickness
    if area == 0.0:
        return pressure
    return min(force * math.cos(math.radians(incidence)) / area, pressure)
