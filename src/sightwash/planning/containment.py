"""What the crew does about wash water: drains covered, berms, vacuum, trips to empty the tank; neutraliser by mass."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sightwash.basis.sources import Why
from sightwash.basis.units import FLOW, LENGTH, VOLUME, show
from sightwash.science.dechlorination import (
    Neutraliser,
    dilution_factor,
    neutraliser_mass,
    neutraliser_to_carry,
    neutralisers,
)
from sightwash.science.tables import figures
from sightwash.site.ground import Drain
from sightwash.site.rig import Containment, Rig

RECOVERED: Final = 0.8
"""Share of the water held back that a vacuum brings into the tank, where the user says nothing [-]; a judgement."""
ACIDIC: Final = ("sodium-bisulfite", "sodium-metabisulfite", "ascorbic-acid")
UPPER: Final = "an upper bound: soil and sun use up chlorine; dose to a test strip's zero, and test again"


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing the crew does: what, where, how much in its unit, and whether the rig carries enough of it."""

    what: str
    where: str
    quantity: float
    unit: str
    on_rig: bool | None
    words: str
    why: Why


@dataclass(frozen=True, slots=True)
class NeutraliserDose:
    """One agent for the chlorine that is left [kg]: to dose, to carry, and the field guide's own figures behind it.

    ``pounds_printed`` is for 100 000 gal at 1 mg/L, ``kilograms_printed`` for 100 m3.
    """

    agent: str
    name: str
    ratio: float
    dose: float
    carry: float
    pounds_printed: float | None
    kilograms_printed: float | None
    oxygen_scavenging: str
    status: str
    words: str
    source: str


def recovered_share(rig: Rig) -> float:
    """Return the share of the water held back that the rig takes up: none without a vacuum."""
    held = rig.containment
    if held is None or held.vacuum is None:
        return 0.0
    return RECOVERED if held.recovered is None else float(held.recovered)


def plan_measures(
    drains: Sequence[Drain],
    reached: frozenset[str],
    low_edge: float,
    captured: float,
    rig: Rig,
    system: str,
) -> tuple[Measure, ...]:
    """Return what the crew does; ``low_edge`` is the length of the low edges of the washed ground [m]."""
    held = rig.containment
    return (
        *_covers(drains, reached, held),
        *_berm(low_edge, held, system),
        *_vacuum(captured, rig, system),
    )


def _covers(drains: Sequence[Drain], reached: frozenset[str], held: Containment | None) -> Iterator[Measure]:
    wanted = [drain for drain in drains if drain.leads_to in ("storm", "unknown", "dry well") or drain.id in reached]
    storm = [drain for drain in wanted if drain.leads_to != "sanitary"]
    enough = None if held is None else held.drain_covers >= len(storm)
    for drain in storm:
        yield Measure(
            "drain cover", drain.id, 1.0, "1", enough,
            f"{drain.id} leads to {drain.leads_to}: cover and weigh it down before the first water, lift it last, when "
            "the ground has been taken up and the residual is nil", Why("drains first", ("practice-containment",)),
        )  # fmt: skip


def _berm(low_edge: float, held: Containment | None, system: str) -> Iterator[Measure]:
    if low_edge <= 0.0:
        return
    enough = None if held is None else (held.berm or 0.0) >= low_edge
    carried = 0.0 if held is None or held.berm is None else float(held.berm)
    short = f"; the rig carries {show(carried, LENGTH, system)}" if enough is False else ""
    yield Measure(
        "berm", "low edges of the washed ground", low_edge, "m", enough,
        f"{show(low_edge, LENGTH, system)} of berm or sand snake along the low edge{short}",
        Why("length of the edges that the fall runs out over", ("practice-containment", "fall-line")),
    )  # fmt: skip


def _vacuum(captured: float, rig: Rig, system: str) -> Iterator[Measure]:
    held = rig.containment
    tank = float(sum(tank.volume for tank in rig.tanks if tank.holds == "recovered"))
    flow = None if held is None else held.vacuum
    if flow is None:
        yield Measure(
            "vacuum", "lowest point", 0.0, "L", False,
            "no vacuum on the rig: what the berm holds back stays there; without one no water is counted as captured",
            Why("nothing is taken up without equipment", ("practice-containment",)),
        )  # fmt: skip
        return
    words = f"{show(captured, VOLUME, system)} taken up at the lowest point, at {show(flow, FLOW, system)}"
    if tank > 0.0:
        trips = max(math.ceil(captured / tank - 1e-9), 0)
        filled = f"{trips} {'tank' if trips == 1 else 'tanks'} of {show(tank, VOLUME, system)}"
        words += f", {filled} to empty where it is agreed"
    else:
        words += "; the rig has no tank for it: hose it straight to the agreed place"
    yield Measure(
        "vacuum", "lowest point", captured, "L", tank > 0.0, words,
        Why(f"{recovered_share(rig):.0%} of what is held back", ("practice-containment",)),
    )  # fmt: skip


def low_edge_length(shape: BaseGeometry, bearing: float | None) -> float:
    """Return the length of an outline's edges that a fall runs out over; the whole outline without a fall [m]."""
    if bearing is None:
        return float(shape.length)
    turn = math.radians(bearing)
    down = np.array([math.sin(turn), math.cos(turn)])
    length = 0.0
    for part in shapely.get_parts(shapely.orient_polygons(shape)):
        ring = shapely.get_coordinates(part.exterior)
        steps = np.diff(ring, axis=0)
        outward = np.column_stack([steps[:, 1], -steps[:, 0]])
        sizes = np.hypot(*steps.T)
        facing = outward @ down > 0.3 * np.maximum(sizes, 1e-12)
        length += float(sizes[facing].sum())
    return length


def plan_doses(chlorine: float) -> tuple[NeutraliserDose, ...]:
    """Return the mass of every agent of the field guide for a mass of chlorine [kg]."""
    found = []
    for row in neutralisers().values():
        ratio = row.field_ratio
        if ratio is None:
            continue
        found.append(
            NeutraliserDose(
                row.id, row.name, ratio, neutraliser_mass(chlorine, ratio), neutraliser_to_carry(chlorine, ratio),
                row.pounds_printed, row.kilograms_printed, row.oxygen_scavenging, row.status,
                _agent_words(row), row.source,
            )
        )  # fmt: skip
    return tuple(found)


def _agent_words(row: Neutraliser) -> str:
    words = "acid in water; " if row.id in ACIDIC else ""
    if "sulf" in row.id:
        words += "not on leaves; "
    if row.oxygen_scavenging in ("strong", "moderate"):
        words += "takes oxygen from water; "
    return f"{words}weaken the bleach first, never into strong bleach"


def dilution_words(strength: float) -> str:
    """Return what it would take to dilute a residual down to a stream's criterion."""
    criterion = figures("discharge_criteria")["fresh-acute"]
    if strength <= criterion.value:
        return "nothing to dilute"
    times = dilution_factor(strength, criterion.value)
    limit = f"{criterion.value * 1000:g} micrograms a litre"
    return f"dilution alone would take {times:,.0f} times as much water to come down to {limit}"
