"""One surface on paper: turned so that water is pushed down the sheet, cut into bands one below the other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings.canvas import Point
from sightwash.papers.drawings.labels import Box
from sightwash.papers.drawings.scale import Scale, scales

Window = tuple[float, float, float, float]
BEFORE: Final = (1.6, 30.0)
"""How much is shown on the side of the doors: at least so many metres and so many points."""
BEYOND: Final = (1.1, 18.0)
"""How much is shown on the side to which water is pushed."""
BESIDE: Final = (1.6, 36.0)
"""How much is shown at both ends."""
SHARED: Final = 0.4
"""How much two neighbouring bands show of each other [m]."""
APART: Final = 13.0
"""Clear distance between two bands [pt]."""
MOST_BANDS: Final = 6
LARGEST: Final = 71.0
"""Points a metre beyond which nothing more is to be seen: 1 in to 3 ft and a little."""


@dataclass(frozen=True, slots=True)
class Turned:
    """The plan turned: u runs to the right on the sheet, v down it, the way that water is pushed."""

    heading: float

    def places(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return plan points as (u, v)."""
        down = np.array([math.cos(math.radians(self.heading)), math.sin(math.radians(self.heading))])
        right = np.array([-down[1], down[0]])
        return np.column_stack([points @ right, points @ down])

    def place(self, point: Point) -> Point:
        """Return one plan point as (u, v)."""
        (u, v) = self.places(np.array([point]))[0].tolist()
        return float(u), float(v)

    def shape(self, found: BaseGeometry) -> BaseGeometry:
        """Return a plan shape in (u, v)."""
        moved = shapely.transform(found, self.places)
        assert isinstance(moved, BaseGeometry)
        return moved


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of the surface on paper: what it shows in (u, v), where its upper left corner lies, points a metre."""

    window: Window
    left: float
    top: float
    points: float

    def at(self, u: float, v: float) -> Point:
        """Return the paper place of a turned point."""
        return self.left + (u - self.window[0]) * self.points, self.top + (v - self.window[1]) * self.points

    @property
    def box(self) -> Box:
        """The band's box on paper."""
        right, bottom = self.at(self.window[2], self.window[3])
        return Box(self.left, self.top, right, bottom)

    def holds(self, u: float, v: float) -> bool:
        """Whether a turned point lies in the band."""
        return self.window[0] <= u <= self.window[2] and self.window[1] <= v <= self.window[3]


def shown_window(bounds: Window, points: float) -> Window:
    """Return what a sheet shows around the bounds of a turned surface at so many points a metre."""
    before, beyond, beside = (max(metres, least / points) for metres, least in (BEFORE, BEYOND, BESIDE))
    return bounds[0] - beside, bounds[1] - before, bounds[2] + beside, bounds[3] + beyond


def largest_bands(bounds: Window, units: str, width: float, height: float) -> tuple[Scale, int]:
    """Return the largest round scale at which a surface fits a page in bands, and how many bands that takes.

    >>> scale, count = largest_bands((0.0, 0.0, 46.0, 1.5), "us", 704.0, 380.0)
    >>> scale.words, count
    ('1 in = 10 ft', 2)
    """
    steps = [scale for scale in scales(units) if scale.points <= LARGEST]
    for scale in steps:
        left, top, right, bottom = shown_window(bounds, scale.points)
        for count in range(1, MOST_BANDS + 1):
            wide = ((right - left) / count + (SHARED if count > 1 else 0.0)) * scale.points
            if wide <= width and count * ((bottom - top) * scale.points + APART) <= height:
                return scale, count
    return steps[-1], 1


def bands(window: Window, scale: Scale, count: int, width: float, top: float) -> tuple[Band, ...]:
    """Return the bands of a window, from its left to its right, one below the other."""
    each = (window[2] - window[0]) / count
    shared = SHARED / 2 if count > 1 else 0.0
    found = []
    for number in range(count):
        left = max(window[0] + number * each - shared, window[0])
        right = min(window[0] + (number + 1) * each + shared, window[2])
        deep = (window[3] - window[1]) * scale.points
        spare = width - (right - left) * scale.points
        at = top + number * (deep + APART)
        found.append(Band((left, window[1], right, window[3]), 8.0 + max(spare, 0.0) / 2, at, scale.points))
    return tuple(found)
