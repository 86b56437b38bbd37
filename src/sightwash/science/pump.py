"""Where pump, unloader, hoses, height and tip settle.

A pump of positive displacement delivers its flow whatever the pressure, until the unloader opens and sends
the surplus round. So one of two things happens: the tip takes the whole flow, at whatever pressure that
makes, or the unloader holds the pump at its setting and the tip gets what the hose lets through::

    pump pressure = pressure at the tip + hoses + fittings + height
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sightwash.basis.errors import OutOfRange
from sightwash.science._numbers import WATER_DENSITY, WATER_VISCOSITY, above_zero, within
from sightwash.science._roots import bracketed_root
from sightwash.science.hose import SMOOTH_HOSE, elevation_loss, fitting_loss, series_loss
from sightwash.science.tips import nozzle_flow, nozzle_pressure


@dataclass(frozen=True, slots=True)
class WorkingPoint:
    """Where the rig settles; flows in L/s, pressures in Pa."""

    tip_flow: float
    tip_pressure: float
    pump_pressure: float
    hose_loss: float
    fitting_loss: float
    elevation_loss: float
    bypass_flow: float

    @property
    def unloader_open(self) -> bool:
        """Whether some of the pump's flow goes round instead of out."""
        return self.bypass_flow > 0.0


def working_point(
    pump_flow: float,
    unloader_pressure: float,
    tip_number: float,
    hose_lengths: Sequence[float],
    hose_bores: Sequence[float],
    rise: float = 0.0,
    speed_fraction: float = 1.0,
    velocity_heads: float = 0.0,
    fitting_bore: float = 0.009525,
    roughness: float = SMOOTH_HOSE,
    density: float = WATER_DENSITY,
    viscosity: float = WATER_VISCOSITY,
) -> WorkingPoint:
    """Working point of pump, unloader, hoses and tip.

    ``p_tip(q) + loss(q) + rho g z = p_pump``, with ``q = n Q`` if that needs no more than the unloader's
    setting, else ``p_pump`` at the setting and ``q`` from the root

    Parameters
    ----------
    pump_flow : float
        Flow of the pump at full engine speed [L/s]
    unloader_pressure : float
        Pressure at which the unloader opens [Pa]
    tip_number : float
        Size number of the tip; for several on one bar, their sum [-]
    hose_lengths : sequence of float
        Length of each hose run in series [m]
    hose_bores : sequence of float
        Inner diameter of each run, in the same order [m]
    rise : float
        Height of the tip above the pump [m]
    speed_fraction : float
        Engine speed over full speed [-]
    velocity_heads : float
        Sum of the fittings' loss coefficients [-]
    fitting_bore : float
        Bore at which the velocity heads are counted [m]
    roughness : float
        Roughness of the hoses' wall [m]
    density : float
        Density of the water [kg/m3]
    viscosity : float
        Kinematic viscosity of the water [m2/s]

    Returns
    -------
    tip_flow : float
        Flow at the tip [L/s]
    tip_pressure : float
        Gauge pressure at the tip [Pa]
    pump_pressure : float
        Gauge pressure at the pump [Pa]
    hose_loss : float
        Friction loss in the hoses [Pa]
    fitting_loss : float
        Loss in the fittings [Pa]
    elevation_loss : float
        Pressure that lifting the water takes [Pa]
    bypass_flow : float
        Flow that the unloader sends round [L/s]

    Raises
    ------
    OutOfRange
        If an input is outside its range, or the unloader's setting cannot lift water to the tip at all.

    Notes
    -----
    Range: flow in step with engine speed from 0.2 to 1.2 of full; an unloader that holds its setting while it
    by-passes. Real ones rise 10 % or so before they open, and a worn pump slips.

    References
    ----------
    darcy-weisbach
    spray-tip-practice
    positive-displacement-balance

    Examples
    --------
    8 gal/min, unloader at 3000 psi, 200 ft of 3/8 in hose and a size 40 tip 15 ft up: all of it comes out,
    at 160 psi, though the pump works at 636 psi:

    >>> gpm, psi = 3.785411784 / 60, 6894.757
    >>> point = working_point(8 * gpm, 3000 * psi, 40, [60.96], [0.009525], 4.572)
    >>> round(point.tip_pressure / psi), round(point.pump_pressure / psi), point.unloader_open
    (160, 636, False)
    """
    above_zero("pump_flow", pump_flow, "L/s")
    above_zero("unloader_pressure", unloader_pressure, "Pa")
    within("speed_fraction", speed_fraction, 0.2, 1.2, "of full speed")
    height = elevation_loss(rise, density)
    if height >= unloader_pressure:
        raise OutOfRange("rise", rise, f"a height that {unloader_pressure:.4g} Pa at the pump can lift water to")

    def losses(flow: float) -> tuple[float, float, float]:
        return (
            nozzle_pressure(tip_number, flow),
            series_loss(flow, hose_lengths, hose_bores, roughness, density, viscosity),
            fitting_loss(flow, fitting_bore, velocity_heads, density),
        )

    delivered = pump_flow * speed_fraction
    flow = delivered
    if sum(losses(delivered)) + height > unloader_pressure:
        flow = bracketed_root(lambda q: sum(losses(q)) + height - unloader_pressure, 0.0, delivered)
    tip, hoses, fittings = losses(flow)
    return WorkingPoint(flow, tip, tip + hoses + fittings + height, hoses, fittings, height, delivered - flow)


def needed_pump_pressure(
    tip_number: float,
    tip_pressure: float,
    hose_lengths: Sequence[float],
    hose_bores: Sequence[float],
    rise: float = 0.0,
    velocity_heads: float = 0.0,
    fitting_bore: float = 0.009525,
    roughness: float = SMOOTH_HOSE,
    density: float = WATER_DENSITY,
    viscosity: float = WATER_VISCOSITY,
) -> float:
    """Pressure at the pump that gives a wanted pressure at the tip.

    ``p_pump = p_tip + loss(q_tip) + rho g z``

    Parameters
    ----------
    tip_number : float
        Size number of the tip; for several on one bar, their sum [-]
    tip_pressure : float
        Wanted pressure at the tip [Pa]
    hose_lengths : sequence of float
        Length of each hose run in series [m]
    hose_bores : sequence of float
        Inner diameter of each run, in the same order [m]
    rise : float
        Height of the tip above the pump [m]
    velocity_heads : float
        Sum of the fittings' loss coefficients [-]
    fitting_bore : float
        Bore at which the velocity heads are counted [m]
    roughness : float
        Roughness of the hoses' wall [m]
    density : float
        Density of the water [kg/m3]
    viscosity : float
        Kinematic viscosity of the water [m2/s]

    Returns
    -------
    float
        Pressure at the pump [Pa]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: as ``working_point``; the pump must also deliver the tip's flow at that pressure.

    References
    ----------
    darcy-weisbach
    spray-tip-practice

    Examples
    --------
    >>> gpm, psi = 3.785411784 / 60, 6894.757
    >>> round(needed_pump_pressure(40, 160 * psi, [60.96], [0.009525], 4.572) / psi)
    636
    """
    above_zero("tip_pressure", tip_pressure, "Pa")
    flow = nozzle_flow(tip_number, tip_pressure)
    hoses = series_loss(flow, hose_lengths, hose_bores, roughness, density, viscosity)
    fittings = fitting_loss(flow, fitting_bore, velocity_heads, density)
    return tip_pressure + hoses + fittings + elevation_loss(rise, density)
