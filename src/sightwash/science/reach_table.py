"""Reach bands of one jet at many distances from a wall at once."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from sightwash.basis.errors import OutOfRange
from sightwash.science._flight import flights
from sightwash.science._numbers import AIR_DENSITY, WATER_DENSITY, Array, within
from sightwash.science.jet import (
    CLUMP_DRAG,
    EFFECTIVE_BREAKUP,
    EFFECTIVE_CLUMP,
    OUTER_BREAKUP,
    OUTER_CLUMP,
    jet_lengths,
)
from sightwash.science.jet_reach import LONE_DROP
from sightwash.science.orifice import jet_speed

_ANGLES: Final = np.arctan(np.sinh(np.linspace(0.0, np.arcsinh(np.tan(np.radians(89.5))), 120)))


class ReachTable(NamedTuple):
    """Highest points on a wall for each standoff: what is sure, likely, and the last water [m]."""

    low: Array
    mid: Array
    high: Array


def reach_table(
    bore: float,
    pressure: float,
    standoffs: ArrayLike,
    launch_height: float,
    head_wind: float = 0.0,
    clump_ratio: float = OUTER_CLUMP,
    lone_drop: float = LONE_DROP,
    drag_coefficient: float = CLUMP_DRAG,
    density: float = WATER_DENSITY,
    air_density: float = AIR_DENSITY,
) -> ReachTable:
    """Highest points on a wall that a jet reaches from many standoffs, as bands.

    As ``jet_reach.reach_band`` for each standoff, the best of 120 angles: in calm air within 2 % below it. In a head
    wind, where the best angle stands at an edge beyond which nothing arrives, up to a sixth below it.

    Parameters
    ----------
    bore : float
        Bore of the nozzle [m]
    pressure : float
        Gauge pressure at the nozzle [Pa]
    standoffs : ArrayLike
        Distances from nozzle to wall on the level [m]
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
    low : Array
        Heights that are surely reached; 0 where the jet does not arrive [m]
    mid : Array
        Heights that are likely reached [m]
    high : Array
        Heights that the last water reaches [m]

    Raises
    ------
    OutOfRange
        If an input is outside its range.

    Notes
    -----
    Range: as ``jet_reach.reach_band``, an extrapolation for bores below 4.85 mm and pressures above 6.2 bar.

    References
    ----------
    quadratic-drag-path
    jet-band-judgement

    Examples
    --------
    >>> table = reach_table(0.0028, 250 * 6894.757, [10 * 0.3048, 20 * 0.3048], 4.5 * 0.3048)
    >>> [round(h / 0.3048) for h in (*table.low, *table.mid, *table.high)]
    [24, 17, 33, 28, 47, 43]
    """
    away = np.asarray(standoffs, float)
    if away.ndim != 1 or not (away > 0).all():
        raise OutOfRange("standoffs", away.tolist(), "a list of distances above 0 m")
    within("launch_height", launch_height, 0.0, 100.0, "m")
    within("head_wind", head_wind, -20.0, 20.0, "m/s")
    jets = ((OUTER_BREAKUP, lone_drop / bore), (EFFECTIVE_BREAKUP, EFFECTIVE_CLUMP), (OUTER_BREAKUP, clump_ratio))
    lengths = [jet_lengths(bore, breakup, clump, drag_coefficient, density, air_density) for breakup, clump in jets]
    count = len(_ANGLES)
    breakups, drags = (np.repeat([pair[k] for pair in lengths], count) for k in (0, 1))
    flight = flights(jet_speed(pressure, density), np.tile(_ANGLES, 3), launch_height, -head_wind, breakups, drags)
    marks = np.array([flight.heights_at(float(d)).reshape(3, count) for d in away])
    best = np.nan_to_num(marks, nan=0.0).max(axis=2, initial=0.0)
    mid = np.minimum(best[:, 1], best[:, 2])
    return ReachTable(np.minimum(best[:, 0], mid), mid, best[:, 2])
