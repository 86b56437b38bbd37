"""The ground as targets of sight: surfaces, and the level ground all round them."""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from sightwash.science.facets import Frame, make_frame
from sightwash.site.facets import EAST, NORTH, THIN, UP, Facet
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

Array = NDArray[np.float64]
MARGIN: Final = 20.0
"""How far the level ground runs on beyond all that lies on it [m]."""


def ground_facets(site: Site, walls: tuple[PlacedWall, ...]) -> tuple[Facet, ...]:
    """Return the surfaces that have a place in the plan; where two overlap, the earlier one keeps the ground.

    A strip along a wall follows the ground at the wall's foot; any other surface is level.
    """
    placed = {wall.wall.id: wall for wall in walls if wall.measured_place}
    taken: BaseGeometry = shapely.Polygon()
    found: list[Facet] = []
    for surface in site.surfaces:
        frame = make_frame((0.0, 0.0, surface.level), EAST, NORTH)
        wall = placed.get(surface.along or "")
        if surface.outline:
            outline = shapely.Polygon(surface.outline, surface.holes)
        elif wall is not None and surface.width is not None:
            left = float(surface.left or 0.0)
            right = wall.length if surface.length is None else left + surface.length
            ends = ((left, 0.0), (left, surface.width), (right, surface.width), (right, 0.0))
            outline = shapely.Polygon([wall.point(s, out)[:2] for s, out in ends])
            rise = (wall.wall.base[1] - wall.wall.base[0]) / wall.length
            frame = make_frame(wall.origin, wall.along + rise * np.array(UP), -wall.outward)
        else:
            continue
        free = outline.difference(taken)
        taken = taken.union(outline)
        if free.area > THIN:
            found.append(Facet(surface.id, surface.id, "ground", surface.use, None, frame, _on_plane(free, frame)))
    return tuple(found)


def earth_facet(site: Site, walls: tuple[PlacedWall, ...], eye: tuple[float, float, float]) -> Facet | None:
    """Return the level ground at elevation 0 from the eye to beyond all that lies on it; None for an empty site."""
    outlines = [
        *(building.outline for building in site.buildings),
        *(surface.outline for surface in site.surfaces),
        *(plant.outline for plant in site.planting),
        *(area.outline for area in site.parked),
        *(neighbour.outline for neighbour in site.neighbours),
        *(marking.path for marking in site.markings),
        *(fence.path for fence in site.fences),
    ]
    corners = [corner for outline in outlines for corner in outline]
    corners += [*(row.at for row in site.stalls), *(post.at for post in site.posts)]
    corners += [end for wall in walls if wall.measured_place for end in (wall.start, wall.end)]
    if not corners:
        return None
    reach = max((float(row.count * max(row.width, row.length)) for row in site.stalls), default=0.0) + MARGIN
    low, high = np.min([*corners, eye[:2]], axis=0) - reach, np.max([*corners, eye[:2]], axis=0) + reach
    frame = make_frame((0.0, 0.0, 0.0), EAST, NORTH)
    return Facet("earth", "earth", "ground", "earth", None, frame, shapely.box(*low.tolist(), *high.tolist()))


def _on_plane(shape: BaseGeometry, frame: Frame) -> BaseGeometry:
    """Return a plan shape in the coordinates of a plane that lies under it."""
    origin, along, up, normal = frame

    def moved(corners: Array) -> Array:
        offsets = np.column_stack((corners - origin[:2], np.zeros(len(corners))))
        offsets[:, 2] = -(offsets @ normal) / normal[2]
        return np.column_stack((offsets @ along, offsets @ up))

    found = shapely.transform(shape, moved)
    assert isinstance(found, BaseGeometry)
    return found
