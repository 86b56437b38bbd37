"""Flow through a round opening, the speed of its jet and the power that it carries.

The law is exact but for the discharge coefficient, which is 0.6 for a sharp edge and 0.98 for a well-made
nozzle; where it matters, fit it from a bucket test.
"""

from __future__ import annotations

import math

from sightwash.basis.errors import OutOfRange
from sightwash.science._numbers import WATER_DENSITY, Real, above_zero, not_negative, root, within
from sightwash.science.tables import figures


def _coefficient_within(coefficient: float) -> None:
    within("coefficient", coefficient, 0.3, 1.05, "")


def jet_speed(pressure: Real, density: float = WATER_DENSITY) -> Real:
    """Speed of the jet that leaves a nozzle without loss.

    ``V = sqrt(2 p / rho)``

    Parameters
    ----------
    pressure : float or array
        Gauge pressure at the nozzle [Pa]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float or array
        Jet speed [m/s]

    Raises
    ------
    OutOfRange
        If the pressure is negative or the density not above zero.

    Notes
    -----
    Range: any pressure at which water counts as incompressible, say below 70 MPa.

    References
    ----------
    bernoulli-orifice

    Examples
    --------
    250 psi gives 193 ft/s:

    >>> round(jet_speed(250 * 6894.757), 2)
    58.77
    >>> round(jet_speed(250 * 6894.757) / 0.3048, 1)
    192.8
    """
    not_negative("pressure", pressure, "Pa")
    above_zero("density", density, "kg/m3")
    return root(2.0 * pressure / density)


def orifice_flow(bore: float, pressure: Real, coefficient: float = 0.95, density: float = WATER_DENSITY) -> Real:
    """Flow through a round opening.

    ``q = c (pi/4) d^2 sqrt(2 p / rho)``, the trade's ``q = 29.84 c d^2 sqrt(p)``

    Parameters
    ----------
    bore : float
        Diameter of the opening [m]
    pressure : float or array
        Gauge pressure at the opening [Pa]
    coefficient : float
        Discharge coefficient [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float or array
        Flow [L/s]

    Raises
    ------
    OutOfRange
        If an input is not finite, the bore not above zero, or the coefficient outside 0.3 to 1.05.

    Notes
    -----
    Range: full turbulent flow, as in every tip of this trade; the approach speed is neglected.

    References
    ----------
    bernoulli-orifice
    nfpa-291

    Examples
    --------
    A 2.5 in hydrant outlet, c = 0.90, at 10 psi gives 531 gal/min:

    >>> round(orifice_flow(2.5 * 0.0254, 10 * 6894.757, 0.90) / (3.785411784 / 60))
    531
    """
    above_zero("bore", bore, "m")
    _coefficient_within(coefficient)
    area = math.pi / 4.0 * bore**2
    return 1000.0 * coefficient * area * jet_speed(pressure, density)


def orifice_pressure(flow: Real, bore: float, coefficient: float = 0.95, density: float = WATER_DENSITY) -> Real:
    """Pressure that drives a flow through a round opening.

    ``p = (rho/2) (q / (c A))^2``

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    bore : float
        Diameter of the opening [m]
    coefficient : float
        Discharge coefficient [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float or array
        Gauge pressure at the opening [Pa]

    Raises
    ------
    OutOfRange
        If an input is not finite, the flow negative, the bore not above zero, or the coefficient outside 0.3 to 1.05.

    Notes
    -----
    Range: full turbulent flow; the approach speed is neglected.

    References
    ----------
    bernoulli-orifice

    Examples
    --------
    >>> round(orifice_pressure(8 * 3.785411784 / 60, 0.1494 * 0.0254, 0.95) / 6894.757)
    160
    """
    not_negative("flow", flow, "L/s")
    above_zero("bore", bore, "m")
    above_zero("density", density, "kg/m3")
    _coefficient_within(coefficient)
    area = math.pi / 4.0 * bore**2
    return density / 2.0 * (flow / (1000.0 * coefficient * area)) ** 2


def orifice_bore(flow: float, pressure: float, coefficient: float = 0.95, density: float = WATER_DENSITY) -> float:
    """Bore that passes a flow at a pressure.

    ``d = sqrt(4 q / (pi c V))``

    Parameters
    ----------
    flow : float
        Flow [L/s]
    pressure : float
        Gauge pressure at the opening [Pa]
    coefficient : float
        Discharge coefficient [-]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Diameter of the opening [m]

    Raises
    ------
    OutOfRange
        If the flow or the pressure is not above zero or the coefficient outside 0.3 to 1.05.

    Notes
    -----
    Range: as good as the coefficient; 0.90 to 0.98 moves the bore by 4 %.

    References
    ----------
    bernoulli-orifice

    Examples
    --------
    >>> round(orifice_bore(20 * 3.785411784 / 60, 4000 * 6894.757) / 0.0254, 4)
    0.1056
    """
    above_zero("flow", flow, "L/s")
    above_zero("pressure", pressure, "Pa")
    _coefficient_within(coefficient)
    return math.sqrt(4.0 * flow / 1000.0 / (math.pi * coefficient * jet_speed(pressure, density)))


def fitted_coefficient(flow: float, bore: float, pressure: float, density: float = WATER_DENSITY) -> float:
    """Discharge coefficient from a measured or rated flow.

    ``c = q / (A sqrt(2 p / rho))``

    Parameters
    ----------
    flow : float
        Flow caught in a bucket or printed on the tip's sheet [L/s]
    bore : float
        Measured diameter of the opening [m]
    pressure : float
        Gauge pressure at the opening [Pa]
    density : float
        Density of the water [kg/m3]

    Returns
    -------
    float
        Discharge coefficient [-]

    Raises
    ------
    OutOfRange
        If an input is not above zero, or the answer falls outside 0.3 to 1.05 and so one input must be wrong.

    Notes
    -----
    Range: round openings; for a fan tip the bore is the equivalent one.

    References
    ----------
    bernoulli-orifice

    Examples
    --------
    >>> round(fitted_coefficient(0.25, 3.0e-3, 250 * 6894.757), 2)
    0.6
    """
    above_zero("flow", flow, "L/s")
    above_zero("pressure", pressure, "Pa")
    coefficient = flow / orifice_flow(bore, pressure, 1.0, density)
    if not 0.3 <= coefficient <= 1.05:
        raise OutOfRange("flow", flow, f"a flow that gives a coefficient of 0.3 to 1.05, not {coefficient:.3g}")
    return coefficient


def discharge_coefficient(opening: str) -> float:
    """Published discharge coefficient of a form of opening.

    Parameters
    ----------
    opening : str
        ``hydrant-rounded``, ``hydrant-square``, ``hydrant-projecting``, ``flow-tube``, ``sharp-edged``,
        ``short-tube``, ``well-rounded`` or ``fan-tip`` [-]

    Returns
    -------
    float
        Discharge coefficient [-]

    Raises
    ------
    OutOfRange
        If the form is none of these.

    Notes
    -----
    Range: as the table says for each row; fan tips scatter from 0.90 to 0.98.

    References
    ----------
    nfpa-291
    orifice-coefficients
    spray-tip-practice

    Examples
    --------
    >>> discharge_coefficient("hydrant-rounded")
    0.9
    """
    rows = figures("discharge_coefficients")
    if opening not in rows:
        raise OutOfRange("opening", opening, "one of " + ", ".join(rows))
    return rows[opening].value


def hydraulic_power(flow: Real, pressure: float) -> Real:
    """Power carried by a flow at a pressure.

    ``P = q p``, the trade's ``hp = gpm psi / 1714``

    Parameters
    ----------
    flow : float or array
        Flow [L/s]
    pressure : float
        Gauge pressure [Pa]

    Returns
    -------
    float or array
        Power [W]

    Raises
    ------
    OutOfRange
        If the flow or the pressure is negative.

    Notes
    -----
    Range: exact; the engine must give this over the efficiency of pump and drive.

    References
    ----------
    bernoulli-orifice

    Examples
    --------
    >>> round(hydraulic_power(8 * 3.785411784 / 60, 3500 * 6894.757) / 745.7, 2)
    16.33
    """
    not_negative("flow", flow, "L/s")
    not_negative("pressure", pressure, "Pa")
    return flow / 1000.0 * pressure
