"""How noticeable a missed strip is from each public eye: a ranking with its pieces, not a claim."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.planning.regions import areas_of, shape_of
from sightwash.planning.sight import EyeView, eye_points
from sightwash.science.noticeability import acuity_gate, noticeability
from sightwash.science.solid_angle import polygon_solid_angle
from sightwash.science.time_in_view import time_in_cone
from sightwash.site.eyes import Eye
from sightwash.site.shapes import PlacedWall

STANDING_LOOK: Final = 5.0
"""Time that a standing viewer is reckoned to look [s]; a judgement, the same for every strip."""


@dataclass(frozen=True, slots=True)
class Notice:
    """What one public eye notices of a strip: visible solid angle [sr], time in view [s], acuity gate [-], score."""

    eye: str
    distance: float
    solid_angle: float
    seconds: float
    gate: float
    score: float


def notices(
    placed: PlacedWall, part: BaseGeometry, views: Sequence[EyeView], eyes: Sequence[Eye]
) -> tuple[Notice, ...]:
    """Return what each public eye notices of a part of a wall, the most noticed first."""
    found = _each(placed, part, views, {eye.id: eye for eye in eyes})
    return tuple(sorted(found, key=lambda notice: (-notice.score, notice.eye)))


def _each(placed: PlacedWall, part: BaseGeometry, views: Sequence[EyeView], eyes: dict[str, Eye]) -> Iterator[Notice]:
    for view in views:
        if not view.public or view.eye not in eyes:
            continue
        shown = part.intersection(shape_of(view.seen_region))
        if not areas_of(shown):
            continue
        eye = eyes[view.eye]
        s, z = shown.centroid.x, shown.centroid.y
        point = _nearest(placed, eye, placed.point(s, 0.0, z), np.array(view.best_place))
        distance = float(np.linalg.norm(placed.point(s, 0.0, z) - point))
        angle = sum(_solid_angle(placed, polygon, point) for polygon in areas_of(shown))
        left, bottom, right, top = shown.bounds
        gate = acuity_gate(math.degrees(math.atan2(min(right - left, top - bottom), distance)))
        seconds = _seconds(view, eye, float(np.hypot(*(placed.point(s, 0.0) - point)[:2])))
        people = 1.0 if eye.per_day is None else float(eye.per_day)
        score = noticeability([people], [seconds], [gate], [1.0], [angle]).total
        yield Notice(view.eye, distance, angle, seconds, gate, score)


def _nearest(placed: PlacedWall, eye: Eye, middle: np.ndarray, best: np.ndarray) -> np.ndarray:
    """Return the place on an eye's path nearest to a strip, where it looks largest; ``best`` if that is behind it.

    Along a full canopy every place shows as much of the wall, so the one that shows most says nothing.
    """
    points = eye_points(eye)
    if len(points) < 2:
        return best
    path = shapely.LineString(points[:, :2])
    stations = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points[:, :2], axis=0).T))])
    along = float(path.project(shapely.Point(middle[:2])))
    nearest = np.array([np.interp(along, stations, points[:, axis]) for axis in range(3)])
    return nearest if placed.local((float(nearest[0]), float(nearest[1])))[1] > 0.0 else best


def _solid_angle(placed: PlacedWall, polygon: shapely.Polygon, eye: np.ndarray) -> float:
    """Return the solid angle of a polygon on a wall, its holes taken out [sr]."""
    rings = [polygon.exterior, *polygon.interiors]
    corners = [[placed.point(s, 0.0, z) for s, z in shapely.get_coordinates(ring)[:-1]] for ring in rings]
    whole, *holes = (abs(polygon_solid_angle(np.array(ring), eye)) for ring in corners)
    return max(whole - sum(holes), 0.0)


def _seconds(view: EyeView, eye: Eye, offset: float) -> float:
    """Return the time in view: along the path at its speed, within the forward cone where the eye states one.

    ``offset`` is how far the path passes from the strip in the plan.
    """
    if view.time_in_view is None or not eye.speed:
        return STANDING_LOOK
    if eye.cone is None:
        return view.time_in_view
    seen_from = view.time_in_view * float(eye.speed) / 2
    return time_in_cone(offset, float(eye.cone) / 2, seen_from, float(eye.speed))
