"""Small helps with shapely's areas: single shapes, polygons only, bounds."""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.basis.errors import NumericalFailure, OutOfRange

Shapes = NDArray[np.object_]
Window = tuple[float, float, float, float]

NOTHING: Final = shapely.Polygon()
POLYGONAL: Final = (int(shapely.GeometryType.POLYGON), int(shapely.GeometryType.MULTIPOLYGON))
SPECK: Final = 1e-12
"""Share of a facet's area at which a left-over of an overlay is rounding and no area."""


def as_shape(found: object) -> BaseGeometry:
    """Return a single geometry that shapely hands back where an array could have been."""
    if not isinstance(found, BaseGeometry):
        raise NumericalFailure(f"expected one shape, found {type(found).__name__}")
    return found


def areal(shape: BaseGeometry) -> BaseGeometry:
    """Return the polygons of a shape, without the lines and points that an overlay may leave."""
    if shape.geom_type in ("Polygon", "MultiPolygon"):
        return shape
    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]
    return as_shape(shapely.union_all(parts)) if parts else NOTHING


def without_specks(shape: BaseGeometry, whole: float) -> BaseGeometry:
    """Return the polygons of a shape, or nothing where they are no more than the rounding of ``whole``."""
    return areal(shape) if shape.area > SPECK * whole else NOTHING


def without_swallowed(shapes: Shapes) -> Shapes:
    """Return rows of polygons without those wholly in the largest one of their row; the union of a row is the same."""
    if not shapes.size:
        return shapes
    rows = np.arange(len(shapes))
    largest = np.nan_to_num(shapely.area(shapes), nan=-1.0).argmax(axis=1)
    cover = shapes[rows, largest]
    shapely.prepare(cover)
    swallowed = np.asarray(shapely.covers(cover[:, None], shapes), np.bool_)
    swallowed[rows, largest] = False
    left = shapes.copy()
    left[swallowed] = None
    return left


def boxes_meet(one: Shapes, other: Shapes) -> NDArray[np.bool_]:
    """Whether the upright boxes round two shapes have more than an edge in common; never where one is missing."""
    first, second = shapely.bounds(one), shapely.bounds(other)
    low, high = np.maximum(first[..., :2], second[..., :2]), np.minimum(first[..., 2:], second[..., 2:])
    return np.asarray((low < high).all(axis=-1), np.bool_)


def window_of(outline: BaseGeometry) -> Window:
    """Return an outline's bounds after checking that it is a valid area."""
    if outline.is_empty or outline.area <= 0 or not outline.is_valid:
        raise OutOfRange("outline", outline.geom_type, "a valid polygon with an area")
    left, bottom, right, top = outline.bounds
    return left, bottom, right, top
