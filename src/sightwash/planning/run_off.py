"""Where wash water goes: from each wall and each surface, by fall and area, to planting and to each drain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.planning.ground import surface_shape
from sightwash.science.run_off import downhill_area, settled_water, share_across, strength_of_run_off
from sightwash.site.ground import Surface
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

REACH: Final = 90.0
"""How far downhill planting and drains are looked for [m]."""
WALL_FILM: Final = 0.0002
"""Water left on a rinsed wall, to dry there [m]."""
WALL_DRINKS: Final = 0.0003
"""Water that a porous wall takes in [m]; an assumption without a source."""
GROUND_FILM: Final = 0.0003
"""Water left on rinsed ground, to dry there [m]."""
GROUND_DRINKS: Final = {"pavers": 0.002, "gravel": 0.01, "soil": 0.01, "grass": 0.01, "concrete": 0.0002}
"""Water that ground takes in by material [m], others none; assumptions without a source."""
BESIDE: Final = 1.5
"""Ground nearer to a wall's foot than this takes the wall's water [m]."""
ELSEWHERE: Final = "off the drawing"


Toward = tuple[tuple[str, str, float], ...]
"""Where run-off goes: an id, ``drain``, ``planting`` or ``ground``, and the share that goes there."""


@dataclass(frozen=True, slots=True)
class Inflow:
    """Water that is put on one wall or surface [L] and the chlorine in it [kg]."""

    part: str
    water: float
    chlorine: float


@dataclass(frozen=True, slots=True)
class PartBalance:
    """One wall or surface: water that comes, by others' run-off too, and where it goes [L]; chlorine [kg]."""

    part: str
    came: float
    evaporated: float
    absorbed: float
    run_off: float
    chlorine_in: float
    chlorine_off: float
    toward: Toward
    words: str


def wall_balance(inflow: Inflow, area: float, porous: bool) -> PartBalance:
    """Return the balance of one wall; its run-off goes to the ground at its foot."""
    drinks = WALL_DRINKS if porous else 0.0
    return _balance(inflow, area, WALL_FILM, drinks, ((f"foot of {inflow.part}", "ground", 1.0),), "runs down the wall")


def ground_balance(inflow: Inflow, surface: Surface, area: float, toward: Toward, words: str) -> PartBalance:
    """Return the balance of one surface."""
    drinks = GROUND_DRINKS.get(surface.material or "", 0.0)
    return _balance(inflow, area, GROUND_FILM, drinks, toward, words)


def _balance(inflow: Inflow, area: float, film: float, drinks: float, toward: Toward, words: str) -> PartBalance:
    split = settled_water(inflow.water, area, film, drinks)
    strength = strength_of_run_off(inflow.chlorine, split.absorbed, split.run_off)
    return PartBalance(
        inflow.part, inflow.water, split.evaporated, split.absorbed, split.run_off, inflow.chlorine,
        strength * split.run_off * 1e-6, toward, words,
    )  # fmt: skip


def surfaces_at(placed: PlacedWall, shapes: dict[str, BaseGeometry]) -> tuple[tuple[str, float], ...]:
    """Return the surfaces at a wall's foot and the share of the wall's length along each."""
    foot = wall_foot(placed)
    touched = {name: float(shape.intersection(foot).area) for name, shape in shapes.items()}
    found = {name: area for name, area in touched.items() if area > 1e-6}
    whole = max(sum(found.values()), float(foot.area) / 2)
    return tuple((name, area / whole) for name, area in found.items())


def wall_foot(placed: PlacedWall) -> BaseGeometry:
    """Return the ground at a wall's foot."""
    return shapely.LineString([placed.start, placed.end]).buffer(BESIDE, cap_style="flat")


def surface_shapes(site: Site, walls: Sequence[PlacedWall]) -> dict[str, BaseGeometry]:
    """Return the outline of every surface whose place is known."""
    placed = {wall.wall.id: wall for wall in walls}
    found = {surface.id: surface_shape(surface, placed) for surface in site.surfaces}
    return {name: shape for name, shape in found.items() if shape is not None}


def destinations(site: Site, shape: BaseGeometry, bearing: float | None) -> tuple[Toward, str]:
    """Return where run-off from a place goes, as (id, kind, share), and why, in words.

    ``bearing`` is the fall in the plan's own axes; without one the worst is taken: the nearest storm drain.
    """
    if bearing is None:
        drain = _nearest(site, shape)
        return ((drain, "drain", 1.0),), f"the fall is not known: all of it is taken to reach {drain}"
    downhill = downhill_area(shape, bearing, REACH)
    to_planting = tuple(_planting(site, shape, downhill, bearing))
    left = max(1.0 - sum(share for _, _, share in to_planting), 0.0)
    reach = shapely.union(downhill, shape)
    drains = [drain for drain in site.drains if reach.intersects(shapely.Point(drain.at))]
    if drains:
        drain = min(drains, key=lambda d: (shape.distance(shapely.Point(d.at)), d.id)).id
        words = f"falls toward {drain}"
    else:
        drain = _nearest(site, downhill)
        words = f"no drain lies straight downhill: gutters are taken to lead to {drain}"
    kinds = (*to_planting, *(((drain, "drain", left),) if left > 1e-9 else ()))
    return kinds, words


def _planting(
    site: Site, shape: BaseGeometry, downhill: BaseGeometry, bearing: float
) -> Iterator[tuple[str, str, float]]:
    """Yield the planting that a flow meets before it gets far, with its share of the flow's width."""
    left = 1.0
    for plant in site.planting:
        outline = shapely.Polygon(plant.outline).intersection(downhill)
        if outline.area > 1e-6 and left > 0.0 and shape.distance(outline) <= REACH / 3:
            share = min(share_across(shape, outline, bearing), left)
            left -= share
            if share > 1e-9:
                yield plant.id, "planting", share


def _nearest(site: Site, shape: BaseGeometry) -> str:
    """Return the nearest drain that leads to a storm sewer or nobody knows where; without one, off the drawing."""
    drains = [drain for drain in site.drains if drain.leads_to in ("storm", "unknown")]
    return min(drains, key=lambda d: (shape.distance(shapely.Point(d.at)), d.id)).id if drains else ELSEWHERE
