"""The balance of the wash water: put on, dried, drunk, to planting, taken up, to each drain; and its chlorine.

Which discharge is allowed is a local matter: the user's own text is shown, questions are asked, nothing is permitted
by default.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.planning.containment import (
    UPPER,
    Measure,
    NeutraliserDose,
    dilution_words,
    low_edge_length,
    plan_doses,
    plan_measures,
    recovered_share,
)
from sightwash.planning.hours import Hours
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.mixes import WASTE
from sightwash.planning.run_off import (
    ELSEWHERE,
    Inflow,
    PartBalance,
    destinations,
    ground_balance,
    surface_shapes,
    surfaces_at,
    wall_balance,
    wall_foot,
)
from sightwash.planning.tables import UNKNOWN_WALL, wall_materials
from sightwash.planning.takeoff import WallTakeoff
from sightwash.planning.water import WaterPlan
from sightwash.science.dilution import chlorine_mass
from sightwash.science.hazards import plant_excess
from sightwash.science.run_off import strength_of_run_off
from sightwash.science.tables import table_rows
from sightwash.site.model import Site
from sightwash.site.rig import Rig
from sightwash.site.shapes import PlacedWall

STRIP_ZERO: Final = 0.1
"""Free chlorine that a test strip which shows nothing may hide [mg/L]; a judgement."""


RULES: Final = (
    Why("every drop is dried, drunk, led to planting, taken up or at a drain", ("water-balance",)),
    Why("run-off goes straight down the fall; unknown ground to the nearest storm drain", ("fall-line",)),
    Why("discharge is a local matter: the owner's and the utility's own words decide", ("discharge-msgp",)),
)


@dataclass(frozen=True, slots=True)
class DrainFlow:
    """What reaches one drain: water [L], chlorine [kg], free chlorine [mg/L], before and after what the crew does."""

    drain: str
    leads_to: str
    before: float
    chlorine_before: float
    strength_before: float
    captured: float
    after: float
    chlorine_after: float
    strength_after: float
    words: str


@dataclass(frozen=True, slots=True)
class PlantFlow:
    """What reaches one planting: water [L], chlorine [kg], free chlorine [mg/L] and that over what harms none [-]."""

    plant: str
    water: float
    chlorine: float
    strength: float
    excess: float
    words: str


@dataclass(frozen=True, slots=True)
class DischargeQuestion:
    """A question that somebody with the right to say so answers before the water is let go."""

    id: str
    question: str
    ask: str
    reason: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WashWater:
    """The whole balance [L]: applied = evaporated + absorbed + to planting + captured + to drains, to the last drop.

    ``chlorine`` is what was put on: some is drunk with the water, some reaches planting, ``chlorine_left`` may still be
    in captured water and at drains [kg]. ``allowed`` is the user's own text; None allows nothing.
    """

    parts: tuple[PartBalance, ...]
    applied: float
    evaporated: float
    absorbed: float
    planting: tuple[PlantFlow, ...]
    to_planting: float
    captured: float
    drains: tuple[DrainFlow, ...]
    to_drains: float
    chlorine: float
    chlorine_absorbed: float
    chlorine_planting: float
    chlorine_left: float
    measures: tuple[Measure, ...]
    doses: tuple[NeutraliserDose, ...]
    dose_words: str
    questions: tuple[DischargeQuestion, ...]
    allowed: str | None
    why: tuple[Why, ...]


class _Sinks:
    """Water [L] and chlorine [kg] that have come to each planting and each drain."""

    def __init__(self) -> None:
        self.held: dict[tuple[str, str], tuple[float, float]] = {}

    def take(self, part: PartBalance) -> None:
        """Take a part's run-off to where it goes; the last place takes the rest."""
        water, chlorine = part.run_off, part.chlorine_off
        for name, kind, share in part.toward:
            self.add(name, kind, share * water, share * chlorine)

    def add(self, name: str, kind: str, water: float, chlorine: float) -> None:
        """Add water and chlorine to one place."""
        old = self.held.get((name, kind), (0.0, 0.0))
        self.held[name, kind] = (old[0] + water, old[1] + chlorine)

    def of(self, kind: str) -> dict[str, tuple[float, float]]:
        """Return what has come to the places of one kind."""
        return {name: amounts for (name, its_kind), amounts in self.held.items() if its_kind == kind}


def plan_wash_water(
    site: Site,
    walls: Sequence[PlacedWall],
    rig: Rig,
    takeoffs: Sequence[WallTakeoff],
    methods: tuple[SurfaceMethod, ...],
    hours: Hours,
    water: WaterPlan,
) -> WashWater:
    """Return the balance of the wash water of a visit."""
    inflows = part_inflows(methods, hours, water)
    shapes = surface_shapes(site, walls)
    sinks = _Sinks()
    on_walls, at_foot = _wall_parts(walls, takeoffs, shapes, inflows)
    on_ground, low_edge = _ground_parts(site, walls, shapes, inflows, at_foot)
    for part in on_ground:
        sinks.take(part)
    soaked = inflows.get("planting")
    if soaked is not None and soaked.water > 0.0:
        sinks.add("planting", "planting", soaked.water, soaked.chlorine)
    return _summed(site, rig, (*on_walls, *on_ground), sinks, inflows, low_edge)


def part_inflows(methods: tuple[SurfaceMethod, ...], hours: Hours, water: WaterPlan) -> dict[str, Inflow]:
    """Return the water and the chlorine that are put on each wall and surface; soaks go to ``planting``."""
    litres: dict[str, float] = defaultdict(float)
    chlorine: dict[str, float] = defaultdict(float)
    for use in water.uses:
        tasks = [task for task in hours.tasks if task.work == use.work and task.usual > 0.0]
        whole = sum(task.usual for task in tasks)
        for task in tasks:
            litres["planting" if use.work == "plants" else task.part] += use.volume * task.usual / whole
    for method in methods:
        if method.strength > 0.0:
            mix = method.mix_volume * (1.0 + WASTE)
            litres[method.wall] += mix
            chlorine[method.wall] += chlorine_mass(method.strength, mix)
    return {part: Inflow(part, volume, chlorine[part]) for part, volume in litres.items() if volume > 0.0}


Arrivals = dict[str, tuple[float, float]]


def _wall_parts(
    walls: Sequence[PlacedWall],
    takeoffs: Sequence[WallTakeoff],
    shapes: dict[str, BaseGeometry],
    inflows: dict[str, Inflow],
) -> tuple[list[PartBalance], Arrivals]:
    """Return the balance of each wall, and what arrives at each surface or at a wall's bare foot."""
    parts: list[PartBalance] = []
    arrivals: dict[str, tuple[float, float]] = {}
    for placed, takeoff in zip(walls, takeoffs, strict=True):
        inflow = inflows.get(placed.wall.id)
        if inflow is None:
            continue
        row = wall_materials()[placed.wall.material or UNKNOWN_WALL]
        part = wall_balance(inflow, takeoff.net, row.porous)
        parts.append(part)
        at_foot = surfaces_at(placed, shapes)
        bare = max(1.0 - sum(share for _, share in at_foot), 0.0)
        for name, share in (*at_foot, (placed.wall.id, bare)):
            old = arrivals.get(name, (0.0, 0.0))
            arrivals[name] = (old[0] + share * part.run_off, old[1] + share * part.chlorine_off)
    return parts, arrivals


def _ground_parts(
    site: Site,
    walls: Sequence[PlacedWall],
    shapes: dict[str, BaseGeometry],
    inflows: dict[str, Inflow],
    arrivals: Arrivals,
) -> tuple[list[PartBalance], float]:
    """Return the balance of each surface and bare foot of a wall, and the low edges of the washed ground [m]."""
    parts: list[PartBalance] = []
    low_edge = 0.0
    for surface in site.surfaces:
        own = inflows.get(surface.id, Inflow(surface.id, 0.0, 0.0))
        more = arrivals.get(surface.id, (0.0, 0.0))
        total = Inflow(surface.id, own.water + more[0], own.chlorine + more[1])
        shape = shapes.get(surface.id)
        if shape is None or total.water <= 0.0:
            continue
        bearing = None if surface.fall is None else float(surface.fall.toward - site.place.north)
        toward, words = destinations(site, shape, bearing)
        parts.append(ground_balance(total, surface, float(shape.area), toward, words))
        low_edge += low_edge_length(shape, bearing)
    for placed in walls:
        litres, chlorine = arrivals.get(placed.wall.id, (0.0, 0.0))
        if litres > 0.0:
            toward, words = destinations(site, wall_foot(placed), None)
            name = f"foot of {placed.wall.id}"
            parts.append(PartBalance(name, litres, 0.0, 0.0, litres, chlorine, chlorine, toward, words))
    return parts, low_edge


def _summed(
    site: Site,
    rig: Rig,
    parts: tuple[PartBalance, ...],
    sinks: _Sinks,
    inflows: dict[str, Inflow],
    low_edge: float,
) -> WashWater:
    planting = tuple(_plant_flow(name, *amounts) for name, amounts in sinks.of("planting").items() if amounts[0] > 0.0)
    taken = recovered_share(rig)
    drains = tuple(_drain_flow(site, name, *amounts, taken) for name, amounts in sinks.of("drain").items())
    captured = sum(drain.captured for drain in drains)
    left = sum(drain.chlorine_before for drain in drains)
    reached = frozenset(drain.drain for drain in drains if drain.before > 0.0)
    strongest = max((drain.strength_before for drain in drains), default=0.0)
    return WashWater(
        parts,
        sum(inflow.water for inflow in inflows.values()),
        sum(part.evaporated for part in parts),
        sum(part.absorbed for part in parts),
        planting,
        sum(plant.water for plant in planting),
        captured,
        drains,
        sum(drain.after for drain in drains),
        sum(inflow.chlorine for inflow in inflows.values()),
        sum(part.chlorine_in - part.chlorine_off for part in parts),
        sum(plant.chlorine for plant in planting),
        left,
        plan_measures(site.drains, reached, low_edge, captured, rig, site.units),
        plan_doses(left) if left > 0.0 else (),
        f"{UPPER}; {dilution_words(strongest)}",
        discharge_questions(),
        site.local.discharge,
        RULES,
    )


def discharge_questions() -> tuple[DischargeQuestion, ...]:
    """Return the questions to ask before any water is let go."""
    return tuple(
        DischargeQuestion(row["id"], row["question"], row["ask"], row["why"], tuple(row["sources"].split()))
        for row in table_rows("discharge_questions")
    )


def _plant_flow(name: str, litres: float, chlorine: float) -> PlantFlow:
    strength = strength_of_run_off(chlorine, 0.0, litres)
    excess = plant_excess(strength)
    words = "soaks and rinses" if chlorine <= 0.0 else f"run-off {excess:,.0f} times what harmed nothing: keep it off"
    return PlantFlow(name, litres, chlorine, strength, excess, words)


def _drain_flow(site: Site, name: str, litres: float, chlorine: float, recovered: float) -> DrainFlow:
    """Return one drain's flow: held back and taken up unless it is sanitary, and dosed to a test strip's zero."""
    leads_to = next((drain.leads_to for drain in site.drains if drain.id == name), "unknown")
    captured = 0.0 if leads_to == "sanitary" else recovered * litres
    after = litres - captured
    before_strength = strength_of_run_off(chlorine, 0.0, litres)
    after_strength = min(before_strength, STRIP_ZERO)
    words = (
        f"with nothing done {before_strength:,.0f} mg/L of free chlorine at most; covered, held back and dosed until a "
        f"strip shows nothing, up to {after_strength:g} mg/L may still be there"
    )
    if name == ELSEWHERE:
        words += "; no drain is drawn: find where the water goes before the first of it runs"
    return DrainFlow(
        name, leads_to, litres, chlorine, before_strength, captured, after, chlorine_mass(after_strength, after),
        after_strength, words,
    )  # fmt: skip
