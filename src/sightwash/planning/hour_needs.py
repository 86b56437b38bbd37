"""What a visit needs doing, as quantities: areas, lengths and counts of each work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.gum import WORKS, GumClass, gum_classes
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.standing import Standing
from sightwash.planning.takeoff import WallTakeoff
from sightwash.site.model import Site
from sightwash.site.rig import Rig
from sightwash.site.shapes import placed_walls

ONE_STOREY: Final = 7.6
"""Work above this is more than one storey up [m]."""
HAND_HOSE: Final = ("plants", "glass-rinse")
"""Works done from a tap by a second person where the site has one: the machine is not needed."""
LARGE_CLEANER: Final = 0.52


class Kind(NamedTuple):
    """A material and a soiling, as the rates name them, and the share of a quantity that is done on them."""

    surface: str
    soiling: str
    share: float


@dataclass(frozen=True, slots=True)
class Need:
    """A quantity of one work: area [m2], length [m] or a count; ``tall_share`` of it is above one storey.

    ``kinds`` says on which material and soiling what share of it is done; nothing where that does not matter.
    """

    work: str
    part: str
    quantity: float
    rule: str
    wet: bool = True
    workers: int = 1
    tall_share: float = 0.0
    kinds: tuple[Kind, ...] = ()


def needs(
    site: Site,
    takeoffs: tuple[WallTakeoff, ...],
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    rig: Rig,
    fills: int = 0,
) -> list[Need]:
    """Return everything that the visit needs doing, around it, on the walls and on the ground.

    ``fills`` is how often the machine stops for the tank to be filled.
    """
    people = max(rig.crew.people, 1)
    return [
        *_around(site, people, standings, methods),
        Need("tank-refill", "around", float(fills), "one each time the tank is empty and no tap keeps up", False),
        *_walls(site, takeoffs, methods),
        *_ground(ground, rig),
        *_gum(gum_classes(site, placed_walls(site), ground, rig)),
    ]


def hose_at_hand(site: Site) -> bool:
    """Tell whether a second person can rinse from a tap of the site."""
    return bool(site.taps)


def _around(
    site: Site, people: int, standings: tuple[Standing, ...], methods: tuple[SurfaceMethod, ...]
) -> Iterator[Need]:
    looks = [look for standing in standings for look in standing.looks]
    yield Need("set-up", "around", 1.0, "once a visit", False, people)
    yield Need("walk-round", "around", 1.0, "before and after, with photographs", False)
    if any(plant.kind != "tree" for plant in site.planting):
        yield Need("plants", "around", 1.0, "planting stands by the work", not hose_at_hand(site))
    yield Need("rig-move", "around", float(max(len(_buildings(site, methods)) - 1, 0)), "building to building", False)
    yield Need("hose-move", "around", float(sum(len(s.spots) for s in standings)), "one a standing spot", False)
    yield Need("ladder-set", "around", float(sum(look.kind == "ladder" for look in looks)), "one a ladder look", False)
    eyes = sum(eye.kind != "crew" for eye in site.eyes)
    spots = sum(look.kind != "eye point" for look in looks)
    yield Need("look", "around", float(spots + eyes), "one a look spot and one a public eye point", False)
    yield Need("break-down", "around", 1.0, "once a visit", False, people)


def _buildings(site: Site, methods: tuple[SurfaceMethod, ...]) -> set[str | None]:
    worked = {method.wall for method in methods}
    return {wall.building for wall in site.walls if wall.excluded is None and wall.id in worked}


def _walls(site: Site, takeoffs: tuple[WallTakeoff, ...], methods: tuple[SurfaceMethod, ...]) -> Iterator[Need]:
    for takeoff in takeoffs:
        own = [method for method in methods if method.wall == takeoff.wall]
        treated = [(m.area * m.passes, m) for m in own if m.strength > 0]
        rinsed = [(m.area * m.passes, m) for m in own if m.rinsed]
        banded = [(m.length * m.passes, m) for m in own if m.banded]
        brushed = sum(m.length for m in own if m.agent.startswith("brush"))
        yield _summed("wall-treat", takeoff.wall, treated, "area times treatments")
        yield _summed("wall-rinse", takeoff.wall, rinsed, "area times treatments")
        yield _summed("band-power-rinse", takeoff.wall, banded, "length of the bands times treatments")
        yield Need("brush-webs", takeoff.wall, brushed, "length that is brushed", False)
        if own:
            wet = not hose_at_hand(site)
            yield Need("glass-rinse", takeoff.wall, takeoff.glass_length, "front of glass and doors", wet)


def _summed(work: str, part: str, quantities: list[tuple[float, SurfaceMethod]], rule: str) -> Need:
    total = sum(quantity for quantity, _ in quantities)
    tall = sum(quantity for quantity, method in quantities if method.top > ONE_STOREY)
    if not total > 0:
        return Need(work, part, total, rule)
    shares: dict[tuple[str, str], float] = {}
    for quantity, method in quantities:
        key = (method.material or "", method.soiling)
        shares[key] = shares.get(key, 0.0) + quantity / total
    kinds = tuple(Kind(*key, share) for key, share in shares.items())
    return Need(work, part, total, rule, tall_share=tall / total, kinds=kinds)


def _ground(ground: tuple[GroundTakeoff, ...], rig: Rig) -> Iterator[Need]:
    large = bool(rig.surface_cleaners) and rig.surface_cleaners[0].diameter > LARGE_CLEANER
    for surface in ground:
        kinds = (Kind(surface.material or "", "", 1.0),)
        for part in surface.parts:
            if part.how == "cleaner":
                work = "cleaner-large" if large else "cleaner-small"
                yield Need(work, surface.surface, part.area, "swept area", kinds=kinds)
            elif part.how == "trim":
                yield Need("trim", surface.surface, part.length, "length along walls and posts", kinds=kinds)
            else:
                yield Need("wand-ground", surface.surface, part.area, "area by wand", kinds=kinds)


def _gum(found: tuple[GumClass, ...]) -> Iterator[Need]:
    """Yield gum by surface and by the way that each spot is taken; what is left takes no time."""
    rules = {"gum-wand": "spots by hot wand or cleaner", "gum-hand": "spots by hand", "gum-machine": "spots by machine"}
    for surface in dict.fromkeys(gum.surface for gum in found):
        for work, rule in rules.items():
            spots = sum(gum.spots for gum in found if gum.surface == surface and WORKS[gum.how] == work)
            yield Need(work, surface, spots, rule, work == "gum-wand")
