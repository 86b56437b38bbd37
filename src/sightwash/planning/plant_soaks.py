"""Water for the planting: soil and leaves soaked before, during and after each wall that is treated beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import shapely

from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, INCH
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.wall_order import WallTurn
from sightwash.science.hazards import plant_excess
from sightwash.science.tables import figures
from sightwash.science.volumes import rain_volume
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall

NEAR: Final = 15 * FOOT
"""Planting nearer to a treated wall than this is soaked [m]."""
SOAK: Final = 0.5 * INCH
"""Depth of water that soaks the soil, before and after [m]; common practice, no source."""
LEAVES: Final = 0.001
"""Water to rinse leaves during each section [m]."""


@dataclass(frozen=True, slots=True)
class SoakStep:
    """One soak: when, beside which wall, before, during or after, times it is done, water each time [L]."""

    at: datetime
    wall: str
    when: str
    times: int
    volume: float


@dataclass(frozen=True, slots=True)
class PlantSoak:
    """One planting: its area [m2], the walls it stands by, its soaks, all their water [L], how strong the mix is.

    ``excess`` is the mix over the free chlorine that harmed no plant of one study [-].
    """

    plant: str
    kind: str
    area: float
    walls: tuple[str, ...]
    steps: tuple[SoakStep, ...]
    water: float
    excess: float
    delicate: bool
    words: str
    why: Why


def plan_plant_soaks(
    site: Site, walls: Sequence[PlacedWall], turns: Sequence[WallTurn], methods: tuple[SurfaceMethod, ...]
) -> tuple[PlantSoak, ...]:
    """Return the soaks of every planting beside a wall that is treated, in the order of the walls."""
    lines = {placed.wall.id: shapely.LineString([placed.start, placed.end]) for placed in walls}
    found = []
    for plant in site.planting:
        outline = shapely.Polygon(plant.outline)
        near = [turn for turn in turns if outline.distance(lines[turn.wall]) <= NEAR]
        if not near:
            continue
        area = float(outline.area)
        steps = tuple(step for turn in near for step in _steps(turn, area))
        strongest = max((m.strength for m in methods if m.wall in {turn.wall for turn in near}), default=0.0)
        harmless = figures("plant_tolerance")["harmless-woody"]
        excess = plant_excess(strongest, harmless.value)
        found.append(
            PlantSoak(
                plant.id, plant.kind, area, tuple(turn.wall for turn in near), steps,
                sum(step.times * step.volume for step in steps), excess, plant.delicate,
                _words(excess, plant.delicate), Why("half an inch on the soil, a rinse of the leaves each section",
                ("practice-plants", harmless.source)),
            )
        )  # fmt: skip
    return tuple(found)


def _steps(turn: WallTurn, area: float) -> tuple[SoakStep, ...]:
    soak, leaves = rain_volume(SOAK, area), rain_volume(LEAVES, area)
    return (
        SoakStep(turn.starts, turn.wall, "before", 1, soak),
        SoakStep(turn.starts, turn.wall, "during", max(turn.sections, 1), leaves),
        SoakStep(turn.ends, turn.wall, "after", 1, soak),
    )


def _words(excess: float, delicate: bool) -> str:
    words = (
        "soak soil and leaves before the first mix, rinse the leaves during each section and soak again after; the "
        f"mix is {excess:,.0f} times what harmed nothing in weeks of watering. Nothing acidic and no sulfite on "
        "leaves; no plastic left on them in sun"
    )
    return f"{words}; delicate: shield it, and keep one person on the hose" if delicate else words
