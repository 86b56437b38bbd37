"""What stands as a warning on a ticket itself: by strength, what must never meet bleach, where bleach is wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from sightwash.basis.units import PSI
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.tables import PERCENT
from sightwash.science.tables import table_rows
from sightwash.site.model import Site
from sightwash.site.rig import Rig


@dataclass(frozen=True, slots=True)
class MixCaution:
    """One caution of a ticket and where it comes from."""

    id: str
    words: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Incompatibility:
    """What must not meet bleach, and what comes of it."""

    id: str
    what: str
    words: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WrongSurface:
    """A finish on this site on which bleach is wrong or held back; pressures that guidance allows [Pa]."""

    material: str
    where: tuple[str, ...]
    why_not: str
    instead: str
    lowest_pressure: float
    highest_pressure: float
    status: str
    sources: tuple[str, ...]


@cache
def _strength_rows() -> tuple[dict[str, str], ...]:
    return table_rows("strength_cautions")


def strength_cautions(strength: float, about: str) -> tuple[MixCaution, ...]:
    """Return the cautions of a solution of one strength [mg/L]; ``about`` is ``stock`` or ``mix``."""
    rows = [
        row
        for row in _strength_rows()
        if row["about"] in (about, "any") and strength >= float(row["at_least_percent"]) * PERCENT
    ]
    names = {row["id"] for row in rows}
    return tuple(
        MixCaution(row["id"], row["words"], tuple(row["sources"].split()))
        for row in rows
        if not (row["id"] == "irritant" and "corrosive" in names)
    )


def incompatibilities(site: Site, methods: tuple[SurfaceMethod, ...], rig: Rig) -> tuple[Incompatibility, ...]:
    """Return what must not meet bleach on this visit; what this site itself holds comes first."""
    kinds = {item.kind for wall in site.walls for item in wall.soiling}
    kinds |= {item.kind for surface in site.surfaces for item in surface.soiling}
    materials = {material for material, _ in _finishes(site)}
    facts = {
        "special": any(method.agent == "special" for method in methods) or "oil" in kinds,
        "found_droppings": "droppings" in kinds,
        "metal": bool(materials & {"painted metal", "bare metal"}),
        "hot": rig.machine.hot,
        "always": True,
    }
    order = {"special": 0, "found_droppings": 0, "metal": 2, "hot": 1, "always": 1}
    rows = sorted(
        (row for row in table_rows("incompatibilities") if facts[row["when"]]), key=lambda r: order[r["when"]]
    )
    return tuple(Incompatibility(row["id"], row["with"], row["words"], tuple(row["sources"].split())) for row in rows)


def wrong_surfaces(site: Site) -> tuple[WrongSurface, ...]:
    """Return the finishes of this site on which bleach is wrong or held back, and what guidance says instead."""
    found: dict[str, list[str]] = {}
    for material, where in _finishes(site):
        found.setdefault(material, []).append(where)
    return tuple(
        WrongSurface(
            row["material"],
            tuple(found[row["material"]]),
            row["why"],
            row["instead"],
            float(row["lowest_psi"]) * PSI,
            float(row["highest_psi"]) * PSI,
            row["status"],
            tuple(row["sources"].split()),
        )
        for row in table_rows("bleach_wrong")
        if row["material"] in found
    )


def _finishes(site: Site) -> Iterator[tuple[str, str]]:
    """Yield every finish of the walls that are washed and where it is."""
    for wall in site.walls:
        if wall.excluded is not None:
            continue
        if wall.material is not None:
            yield wall.material, wall.id
        yield from ((item.material, item.id) for item in wall.projections if item.material is not None)
        if any(opening.kind == "glass" for opening in wall.openings) or wall.doors:
            yield "glass", f"{wall.id} glass"
