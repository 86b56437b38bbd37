"""Search for the angle at which a jet wets a wall highest; several kinds of jet at once."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from sightwash.science._flight import flights
from sightwash.science._numbers import Array, above_zero, within

_STEEPEST: Final = math.asinh(math.tan(math.radians(89.9)))
_ROUNDS: Final = (40, 16, 16)


def highest_marks(
    speed: float, standoff: float, launch_height: float, head_wind: float, breakup: Array, drag: Array
) -> Array:
    """Return the highest mark above the ground for each pair of break-up and drag length; 0 if none arrives.

    Angles are spread evenly in asinh of their slope, so close together where steep, and three times narrowed
    down to the neighbours of the best.
    """
    above_zero("standoff", standoff, "m")
    within("launch_height", launch_height, 0.0, 100.0, "m")
    within("head_wind", head_wind, -20.0, 20.0, "m/s")
    jets = np.arange(len(breakup))
    low, high = np.zeros(len(jets)), np.full(len(jets), _STEEPEST)
    best = np.full(len(jets), -np.inf)
    for count in _ROUNDS:
        slopes = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, count)
        angles = np.arctan(np.sinh(slopes)).ravel()
        flight = flights(speed, angles, launch_height, -head_wind, np.repeat(breakup, count), np.repeat(drag, count))
        marks = flight.heights_at(standoff)
        short = flight.farthest() - standoff
        scores = np.where(np.isnan(marks), np.minimum(short, 0.0), marks).reshape(len(jets), count)
        top = scores.argmax(axis=1)
        best = np.maximum(best, scores[jets, top])
        step = (high - low) / (count - 1)
        centre = slopes[jets, top]
        low, high = np.maximum(centre - step, 0.0), np.minimum(centre + step, _STEEPEST)
    highest: Array = np.maximum(best, 0.0)
    return highest
