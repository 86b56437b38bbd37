"""Regions in results: plain rings instead of shapes, so that a plan is plain data."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Ring = tuple[tuple[float, float], ...]
Region = tuple[tuple[Ring, ...], ...]
"""Polygons, each its outer ring and then its holes; closed rings without the repeated last corner [m]."""

Shapes = NDArray[np.object_]

GRID = 1e-8
"""Grid to which corners are snapped, so that a region stays valid when it is written and read [m]."""
SLIVER = 1e-6
"""Pieces smaller than this are rounding, not surface [m2]."""
ROUNDING = 1e-12
"""Share of an area that is rounding [-]."""


def region_of(shape: BaseGeometry) -> Region:
    """Return a shape's polygons as rings, largest first, slivers left out.

    >>> region_of(shapely.box(0, 0, 2, 1))
    ((((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)),),)
    """
    found: list[tuple[Ring, ...]] = []
    if shape.is_empty:
        return ()
    for part in areas_of(shapely.set_precision(shape, GRID)):
        shell = shapely.orient_polygons(shapely.normalize(part))
        rings = (shell.exterior, *shell.interiors)
        found.append(tuple(_ring(shapely.get_coordinates(ring)[:-1].tolist()) for ring in rings))
    return tuple(found)


def _ring(corners: list[list[float]]) -> Ring:
    return tuple((round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in corners)


def areas_of(shape: BaseGeometry) -> list[shapely.Polygon]:
    """Return a shape's polygons, largest first, slivers left out."""
    if isinstance(shape, shapely.Polygon):
        return [shape] if shape.area > SLIVER else []
    parts = [part for part in shapely.get_parts(shape).tolist() if isinstance(part, shapely.Polygon)]
    return sorted((part for part in parts if part.area > SLIVER), key=lambda part: (-part.area, part.bounds))


def shape_of(region: Region) -> BaseGeometry:
    """Return the shape of a region.

    >>> shape_of(((((0.0, 0.0), (2.0, 0.0), (2.0, 1.0)),),)).area
    1.0
    """
    parts = [shapely.Polygon(shell, holes) for shell, *holes in region]
    if len(parts) == 1:
        return parts[0]
    shape = shapely.union_all(parts)
    assert isinstance(shape, BaseGeometry)
    return shape


def region_area(region: Region) -> float:
    """Return a region's area [m2]."""
    return float(sum(shapely.Polygon(shell, holes).area for shell, *holes in region))


def common_areas(shapes: Shapes, others: Shapes, wanted: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Return the area that each shape (row) has in common with each other one [m2], zero where it is not wanted.

    >>> boxes = np.array([shapely.box(0, 0, 2, 1), shapely.box(5, 0, 6, 1)], object)
    >>> common_areas(boxes, np.array([shapely.box(1, 0, 9, 1)], object), np.ones((2, 1), bool)).tolist()
    [[1.0], [1.0]]
    """
    shapely.prepare(others)
    areas = np.zeros(wanted.shape)
    for row, shape in enumerate(shapes):
        columns = np.flatnonzero(wanted[row])
        columns = columns[shapely.intersects(others[columns], shape)]
        within = np.asarray(shapely.covers(others[columns], shape), bool)
        whole, (left, bottom, right, top) = shape.area, shape.bounds
        areas[row, columns[within]] = whole
        rest = columns[~within]
        if (right - left) * (top - bottom) - whole <= ROUNDING * whole:
            areas[row, rest] = shapely.area(shapely.clip_by_rect(others[rest], left, bottom, right, top))
        else:
            areas[row, rest] = shapely.area(shapely.intersection(others[rest], shape))
    return areas
