"""How places on site become places on paper: a wall face with its ground folded down, and the plan."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.papers.drawings.canvas import Point
from sightwash.papers.drawings.labels import Box
from sightwash.planning.regions import Region, region_of, shape_of
from sightwash.site.shapes import PlacedWall, wall_top

EDGE = 1e-6


@dataclass(frozen=True, slots=True)
class WallFrame:
    """A stretch of wall on paper: where (first, 0) lies, where the ground is hinged, points a metre."""

    placed: PlacedWall
    x: float
    level: float
    hinge: float
    points: float
    first: float
    last: float

    @property
    def width(self) -> float:
        """How wide the stretch is on paper [pt]."""
        return (self.last - self.first) * self.points

    @property
    def cut_left(self) -> bool:
        """Whether the wall goes on beyond the left end of the stretch."""
        return self.first > EDGE

    @property
    def cut_right(self) -> bool:
        """Whether the wall goes on beyond the right end of the stretch."""
        return self.last < self.placed.length - EDGE

    def up(self, s: float, z: float) -> Point:
        """Return the paper place of a point on the wall."""
        return self.x + (s - self.first) * self.points, self.level - z * self.points

    def out(self, s: float, away: float) -> Point:
        """Return the paper place of a point on the ground before the wall."""
        return self.x + (s - self.first) * self.points, self.hinge + away * self.points

    def holds(self, s: float) -> bool:
        """Whether a place along the wall lies on this stretch; its right end counts only at the wall's end."""
        return self.first - EDGE <= s < self.last - EDGE or (not self.cut_right and s >= self.last - EDGE)

    def cut(self, region: Region) -> Region:
        """Return the part of a wall's region that lies on this stretch."""
        if not self.cut_left and not self.cut_right:
            return region
        return region_of(shape_of(region).intersection(shapely.box(self.first, -1e4, self.last, 1e4)))

    def bounds(self, left: float, right: float, bottom: float, top: float) -> Box:
        """Return the paper box of a part of the wall, cut to the stretch."""
        a = self.up(max(left, self.first), top)
        b = self.up(min(right, self.last), bottom)
        return Box(a[0], a[1], b[0], b[1])

    def top_line(self) -> list[Point]:
        """Return the top edge of the stretch on paper, from left to right."""
        edge = shapely.LineString(wall_top(self.placed.wall, self.placed.length))
        part = shapely.clip_by_rect(edge, self.first, -1e4, self.last, 1e4)
        corners = shapely.get_coordinates(part).tolist()
        return [self.up(s, z) for s, z in corners]


@dataclass(frozen=True, slots=True)
class PlanFrame:
    """The plan on paper: the site place that lies at the lower left corner, and points a metre."""

    left: float
    bottom: float
    x: float
    y: float
    points: float

    def at(self, x: float, y: float) -> Point:
        """Return the paper place of a point in the plan."""
        return self.x + (x - self.left) * self.points, self.y - (y - self.bottom) * self.points

    def box(self, bounds: tuple[float, float, float, float]) -> Box:
        """Return the paper box of a box in the plan."""
        left, top = self.at(bounds[0], bounds[3])
        right, bottom = self.at(bounds[2], bounds[1])
        return Box(left, top, right, bottom)


def local_places(placed: PlacedWall, points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return plan points as (along, out) of a wall."""
    offset = points - np.array(placed.start)
    along, outward = placed.along[:2], placed.outward[:2]
    return np.column_stack([offset @ along, offset @ outward])


def local_shape(placed: PlacedWall, shape: BaseGeometry) -> BaseGeometry:
    """Return a plan shape in (along, out) of a wall."""
    moved = shapely.transform(shape, lambda points: local_places(placed, points))
    assert isinstance(moved, BaseGeometry)
    return moved
