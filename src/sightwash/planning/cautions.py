"""Cautions: what can hurt someone on this visit, worst first, each with its source.

The rules are rows of ``data/cautions.csv``; ``when`` names a fact of the plan that is worked out here.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final

from sightwash.basis.units import GALLON
from sightwash.planning.mixes import Mixes
from sightwash.planning.standing import Standing
from sightwash.planning.tips import TipPoint
from sightwash.planning.weather import Air
from sightwash.site.conditions import Conditions
from sightwash.site.gaps import Gap
from sightwash.site.model import Site

RECOIL_LIMIT: Final = 150.0
FREEZING: Final = 0.5
WINDY: Final = 5 * 0.44704


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution; ``stop`` marks one that ends the night; ``about`` names what it is about."""

    id: str
    stop: bool
    words: str
    about: tuple[str, ...]
    sources: tuple[str, ...]


@cache
def _rules() -> tuple[tuple[str, str, bool, str, tuple[str, ...]], ...]:
    text = resources.files("sightwash").joinpath("data", "cautions.csv").read_text(encoding="utf-8")
    return tuple(
        (row["id"], row["when"], row["stop"] == "yes", row["words"], tuple(row["sources"].split()))
        for row in csv.DictReader(text.splitlines())
    )


def plan_cautions(
    site: Site,
    conditions: Conditions,
    air: Air,
    mixes: Mixes,
    tips: tuple[TipPoint, ...],
    standings: tuple[Standing, ...],
    gaps: tuple[Gap, ...],
) -> tuple[Caution, ...]:
    """Return every caution that this visit gives cause for, those that stop the work first."""
    facts = {
        **_site_facts(site),
        **_work_facts(mixes, tips, standings),
        **_weather_facts(conditions, air),
        "always": (site.id,),
    }
    found = [
        Caution(name, stop, words, facts[when], sources)
        for name, when, stop, words, sources in _rules()
        if facts.get(when)
    ]
    found += [
        Caution(
            f"gap-{gap.key}", False, f"Not known: {gap.missing}. Taken: {gap.taken}.", (gap.key,), ("user-document",)
        )
        for gap in gaps
        if gap.safety
    ]
    return tuple(sorted(found, key=lambda caution: not caution.stop))


def _site_facts(site: Site) -> dict[str, tuple[str, ...]]:
    walls = [wall for wall in site.walls if wall.excluded is None]
    fixtures = [fixture for wall in walls for fixture in wall.fixtures]
    electric = ("luminaire", "outlet", "lit sign", "sign transformer")
    return {
        "paint_before_1978": tuple(
            wall.id
            for wall in walls
            if wall.paint is not None
            and (wall.paint.before_1978 or (wall.paint.before_1978 is None and wall.paint.state != "sound"))
        ),
        "asbestos": tuple(wall.id for wall in walls if wall.material == "suspect asbestos cement"),
        "overhead": (*(line.id for line in site.overhead_lines), *(f.id for f in fixtures if f.kind == "weatherhead")),
        "live_fixture": tuple(f.id for f in fixtures if f.kind in electric),
        "fixtures": tuple(f.id for f in fixtures if f.kind in electric),
        "intake": tuple(f.id for f in fixtures if f.kind in ("intake", "vent")),
        "storm_drain": tuple(d.id for d in site.drains if d.leads_to in ("storm", "unknown")),
        "no_discharge": () if site.local.discharge else tuple(s.id for s in site.surfaces if s.wash),
        "plants": tuple(plant.id for plant in site.planting),
        "doors": tuple(door.id for wall in walls for door in wall.doors),
        "ground": tuple(surface.id for surface in site.surfaces if surface.wash),
        "traffic": tuple(s.id for s in site.surfaces if s.use in ("drive", "stalls", "fire lane")),
    }


def _work_facts(
    mixes: Mixes, tips: tuple[TipPoint, ...], standings: tuple[Standing, ...]
) -> dict[str, tuple[str, ...]]:
    spots = [spot for standing in standings for spot in standing.spots]
    return {
        "bleach": tuple(mix.id for mix in mixes.mixes),
        "carriage": ("bleach",) if mixes.stock > 8 * GALLON else (),
        "recoil": tuple(tip.tip for tip in tips if tip.reaction >= RECOIL_LIMIT),
        "ladder": tuple(look.id for standing in standings for look in standing.looks if look.kind == "ladder"),
        "upward": tuple(spot.id for spot in spots if spot.needed > 3.0),
    }


def _weather_facts(conditions: Conditions, air: Air) -> dict[str, tuple[str, ...]]:
    weather = conditions.weather
    coldest = min(t for t in (weather.coldest_before_dry, weather.air_temperature, 100.0) if t is not None)
    return {
        "freeze": ("weather",) if coldest <= FREEZING else (),
        "night": ("start",) if air.dark else (),
        "wind": ("weather",) if air.wind >= WINDY else (),
    }
