"""Highest point on a wall that a jet reaches, as one number and as the band that the evidence allows.

The angle is taken as the best one. For small tips at 200 to 300 psi nothing measured was found, so the answer
is a band: sure up to ``low``, likely up to ``mid``, to be tested on site up to ``high``, no above. Wind over
about 5 mph takes a fifth to a half away and should stop any claim.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from sightwash.science._jet_range import unmeasured, warn_if_unmeasured
from sightwash.science._numbers import AIR_DENSITY, WATER_DENSITY, above_zero
from sightwash.science._wall_reach import highest_marks
from sightwash.science.jet import (
    CLUMP_DRAG,
    EFFECTIVE_BREAKUP,
    EFFECTIVE_CLUMP,
    OUTER_BREAKUP,
    OUTER_CLUMP,
    jet_lengths,
)
from sightwash.science.orifice import jet_speed

LONE_DROP: Final = 1e-3
"""Diameter of the lone drop that stands for a jet without shelter [m]."""
CALM: Final = 5 * 0.44704
"""Wind above which a reach should not be claimed; a judgement [m/s]."""


class ReachBand(NamedTuple):
    """Highest point on a wall as a band; heights above the ground [m], 0 where the jet does not arrive."""

    low: float
    """A lone 1 mm drop: a judgement of what is sure, not a proven bound [m]."""
    mid: float
    """The effective stream: likely [m]."""
    high: float
    """The last water: test on site up to here [m]."""
    extrapolated: bool
    """Whether bore or pressure lie outside what was measured [-]."""


def wall_height(
    bore: float,
    pressure: float,
    standoff: float,
    launch_height: float,
    head_wind: float = 0.0,
    breakup_ratio: float = OUTER_BREAKUP,
    clump_ratio: float = OUTER_CLUMP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> float:
    """Highest point on a wall that a jet reaches at its best angle.

    The greatest height over all angles of the two-stage jet where it first meets the wall.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]
    standoff : float
        Distance from nozzle to wall on the level [m]
    launch_height : float
        Height of the nozzle above the ground at the wall [m]
    head_wind : float
        Wind against the jet; below zero it blows along [m/s]
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
        Height above the ground; 0 if the jet does not arrive [m]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: bores of 4.85 to 25.4 mm at 1.03 to 6.2 bar; warns beyond, where ``reach_band`` is the honest answer.

    References
    ----------
    quadratic-drag-path
    theobald-1981
    trettel-2020

    Examples
    --------
    >>> round(wall_height(0.005, 60 * 6894.757, 10 * 0.3048, 4.5 * 0.3048) / 0.3048)
    46
    """
    warn_if_unmeasured(bore, pressure)
    breakup, drag = jet_lengths(bore, breakup_ratio, clump_ratio, drag_coefficient, density, air_density)
    speed = jet_speed(pressure, density)
    marks = highest_marks(speed, standoff, launch_height, head_wind, np.array([breakup]), np.array([drag]))
    return float(marks[0])


def reach_band(
    bore: float,
    pressure: float,
    standoff: float,
    launch_height: float,
    head_wind: float = 0.0,
    clump_ratio: float = OUTER_CLUMP,
    lone_drop: float = LONE_DROP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> ReachBand:
    """Highest point on a wall that a jet reaches, as a band.

    ``wall_height`` for a lone drop after 200 bores, for the effective stream and for the last water

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]
    standoff : float
        Distance from nozzle to wall on the level [m]
    launch_height : float
        Height of the nozzle above the ground at the wall [m]
    head_wind : float
        Wind against the jet; below zero it blows along [m/s]
    clump_ratio : float
        CD of the last water: 0.90, or as ``jet_fit.field_clump_ratio`` finds it from a mark [-]
    lone_drop : float
        Diameter of the lone drop of the low end [m]
    drag_coefficient : float
        Drag coefficient of clumps and drop [-]
    density : float
        Density of the water [kg/m3]
    air_density : float
        Density of the air [kg/m3]

    Returns
    -------
    low : float
        Height above the ground that a lone drop reaches: sure [m]
    mid : float
        Height that the effective stream reaches: likely [m]
    high : float
        Height that the last water reaches: test on site up to here [m]
    extrapolated : bool
        Whether bore or pressure lie outside what was measured [-]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: any; outside bores of 4.85 to 25.4 mm and 1.03 to 6.2 bar the answer says that it is extrapolated.
    Low never passes mid, nor mid high. A worn tip may fall below low.

    References
    ----------
    quadratic-drag-path
    theobald-1981
    freeman-1889
    jet-band-judgement

    Examples
    --------
    2.8 mm at 250 psi, 10 ft out and 4.5 ft up, in feet:

    >>> band = reach_band(0.0028, 250 * 6894.757, 10 * 0.3048, 4.5 * 0.3048)
    >>> [round(height / 0.3048) for height in band[:3]], band.extrapolated
    ([24, 33, 47], True)
    """
    above_zero("lone_drop", lone_drop, "m")
    extrapolated = unmeasured(bore, pressure)
    pairs = (
        (OUTER_BREAKUP, lone_drop / bore),
        (EFFECTIVE_BREAKUP, EFFECTIVE_CLUMP),
        (OUTER_BREAKUP, clump_ratio),
    )
    lengths = np.array([jet_lengths(bore, *pair, drag_coefficient, density, air_density) for pair in pairs])
    speed = jet_speed(pressure, density)
    marks = highest_marks(speed, standoff, launch_height, head_wind, lengths[:, 0], lengths[:, 1])
    low, mid, high = (float(mark) for mark in marks)
    mid = min(mid, high)
    return ReachBand(min(low, mid), mid, high, extrapolated)
