"""Wind as a jet meets it: against it, from any place toward any part of a wall."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sightwash.planning.weather import Air
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

Array = NDArray[np.float64]
WIND_STEP: Final = 0.5
"""Head winds are rounded up to whole steps, so that few reaches are worked out [m/s]."""


@dataclass(frozen=True, slots=True)
class Breeze:
    """The wind at a wall: its speed, and what of it blows along the wall and away from it [m/s].

    ``along`` and ``outward`` are None where its bearing is not known: then all of it is against every jet.
    """

    speed: float
    along: float | None = None
    outward: float | None = None


def wall_breeze(site: Site, placed: PlacedWall, air: Air) -> Breeze:
    """Return the wind at a wall; its bearing counts only where the wall's own place is measured."""
    if air.wind_from is None or not placed.measured_place:
        return Breeze(air.wind)
    toward = math.radians(air.wind_from + 180.0 - site.place.north)
    wind = air.wind * np.array([math.sin(toward), math.cos(toward), 0.0])
    return Breeze(air.wind, float(wind @ placed.along), float(wind @ placed.outward))


def head_winds(breeze: Breeze, sideways: Array, out: Array) -> Array:
    """Return the wind against jets that go ``sideways`` along a wall and ``out`` to it [m/s], in whole steps.

    Wind from behind is not counted on: it comes in gusts.
    """
    if breeze.along is None or breeze.outward is None:
        against = np.full(np.broadcast(sideways, out).shape, breeze.speed)
    else:
        against = (breeze.outward * out - breeze.along * sideways) / np.hypot(sideways, out)
    return np.asarray(np.ceil(np.maximum(against, 0.0) / WIND_STEP - 1e-9) * WIND_STEP, float)
