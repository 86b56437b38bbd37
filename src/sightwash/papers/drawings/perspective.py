"""How places on site become places in a picture: a pinhole, its picture plane square to the view direction."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings.canvas import Point
from sightwash.papers.drawings.labels import Box
from sightwash.planning.eye_view import Place, SeenFace
from sightwash.planning.regions import Region, shape_of

Array = NDArray[np.float64]
NEAR: Final = 0.1
"""What lies nearer to the eye than this, measured along the view direction, is not drawn [m]."""
FAR_OUT: Final = 1e6


@dataclass(frozen=True, slots=True, eq=False)
class Sighting:
    """An eye and the way that it looks: three unit vectors, ``forward`` square to the picture plane."""

    eye: Array
    right: Array
    up: Array
    forward: Array

    def slopes(self, places: Iterable[Place]) -> Array:
        """Return (right, up, depth) of places, the first two per depth: tangents from straight ahead; near ones go."""
        offsets = np.array([*places], float).reshape(-1, 3) - self.eye
        seen = offsets @ np.column_stack((self.right, self.up, self.forward))
        seen = seen[seen[:, 2] > NEAR]
        return np.column_stack((seen[:, :2] / seen[:, 2:], seen[:, 2]))

    @property
    def tilt(self) -> float:
        """How far above the level the eye looks [deg]."""
        return math.degrees(math.asin(float(self.forward[2])))


def sighting(eye: Place, bearing: float, tilt: float = 0.0) -> Sighting:
    """Return the sighting along a direction in the plan, as an angle from +x, and above the level [rad]."""
    level = np.array([math.cos(bearing), math.sin(bearing), 0.0])
    forward = math.cos(tilt) * level + math.sin(tilt) * np.array([0.0, 0.0, 1.0])
    right = np.array([level[1], -level[0], 0.0])
    return Sighting(np.array(eye, float), right, np.cross(right, forward), forward)


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """A sighting on paper: where straight ahead lies, points for a tangent of one, the window that is drawn."""

    sighting: Sighting
    x: float
    y: float
    reach: float
    window: Box

    def at(self, right: float, up: float) -> Point:
        """Return the paper place of tangents from straight ahead."""
        return self.x + self.reach * right, self.y - self.reach * up

    def place(self, place: Place) -> Point | None:
        """Return the paper place of a site point; None where it lies behind the eye or beyond the window."""
        found = self.sighting.slopes([place])
        if not len(found):
            return None
        x, y = self.at(float(found[0, 0]), float(found[0, 1]))
        box = self.window
        return (x, y) if box.left <= x <= box.right and box.top <= y <= box.bottom else None

    @property
    def frame(self) -> shapely.Polygon:
        """The window as a shape."""
        return shapely.box(self.window.left, self.window.top, self.window.right, self.window.bottom)

    @property
    def horizon(self) -> float:
        """Where the eye's own height lies on paper [pt]."""
        return self.y + self.reach * math.tan(math.radians(self.sighting.tilt))

    def shape(self, face: SeenFace, shape: BaseGeometry) -> BaseGeometry:
        """Return a shape in a facet's coordinates as it appears on paper, cut off at the near plane and the window."""
        origin, along, up = (np.array(vector) for vector in (face.origin, face.along, face.up))
        axes = np.column_stack((self.sighting.right, self.sighting.up, self.sighting.forward))
        start, step_s, step_z = (origin - self.sighting.eye) @ axes, along @ axes, up @ axes
        ahead = _ahead(shape, float(start[2]), (float(step_s[2]), float(step_z[2])))

        def projected(corners: Array) -> Array:
            seen = start + corners[:, :1] * step_s + corners[:, 1:] * step_z
            flat = seen[:, :2] / np.maximum(seen[:, 2:], 0.5 * NEAR)
            return np.column_stack((self.x + self.reach * flat[:, 0], self.y - self.reach * flat[:, 1]))

        found = shapely.transform(ahead, projected)
        assert isinstance(found, BaseGeometry)
        return found.intersection(self.frame)

    def region(self, face: SeenFace, region: Region) -> BaseGeometry:
        """Return a region of a facet as it appears on paper."""
        return self.shape(face, shape_of(region))

    def line(self, start: Place, end: Place) -> BaseGeometry:
        """Return a straight line between two site points as it appears on paper."""
        ends = np.array([start, end], float) - self.sighting.eye
        depths = ends @ self.sighting.forward
        if depths.max() <= NEAR:
            return shapely.LineString()
        if depths.min() < NEAR:
            share = (NEAR - depths[0]) / (depths[1] - depths[0])
            ends[int(depths.argmin())] = ends[0] + share * (ends[1] - ends[0])
        axes = np.column_stack((self.sighting.right, self.sighting.up, self.sighting.forward))
        seen = ends @ axes
        flat = seen[:, :2] / seen[:, 2:]
        return shapely.LineString([self.at(float(a), float(b)) for a, b in flat]).intersection(self.frame)


def _ahead(shape: BaseGeometry, start: float, step: tuple[float, float]) -> BaseGeometry:
    """Return the part of a facet's shape whose depth, ``start + step . (s, z)``, is not below NEAR."""
    corners = shapely.get_coordinates(shape)
    depths = start + corners @ np.array(step)
    if not len(depths) or depths.min() >= NEAR:
        return shape
    length = math.hypot(*step)
    if depths.max() <= NEAR or length < 1e-12:
        return shapely.Polygon()
    across, onward = np.array([-step[1], step[0]]) / length, np.array(step) / length
    nearest = (NEAR - start) / length * onward
    sides = (nearest - FAR_OUT * across, nearest + FAR_OUT * across)
    return shape.intersection(shapely.Polygon([*sides, sides[1] + FAR_OUT * onward, sides[0] + FAR_OUT * onward]))
