"""Hours: every task from quantity and rate, with a spread that allows for a crew that is slow all night."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import convert
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.standing import Standing
from sightwash.planning.tables import starting_rates
from sightwash.planning.takeoff import WallTakeoff
from sightwash.science.lognormal import lognormal_of_moments, lognormal_quantile
from sightwash.science.spread import sum_spread, three_point_spread
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

CORRELATION: Final = 0.5
"""Correlation between any two tasks of one night [-]: a slow crew is slow all night; a judgement."""
_UNIT_QUANTITY: Final = {
    "ft2/h": ("ft2", "m2"),
    "m2/h": ("m2", "m2"),
    "ft/h": ("ft", "m"),
    "m/h": ("m", "m"),
    "1/h": ("1", "1"),
    "min": ("1", "1"),
}


@dataclass(frozen=True, slots=True)
class Task:
    """One task: its quantity in ``unit``, its rate and its working time low, usual, high, mean and deviation [s]."""

    id: str
    work: str
    words: str
    part: str
    quantity: float
    unit: str
    rate: tuple[float, float, float]
    rate_unit: str
    low: float
    usual: float
    high: float
    mean: float
    sd: float
    workers: int
    wet: bool
    starting_rate: bool
    why: Why


@dataclass(frozen=True, slots=True)
class Hours:
    """All tasks; labour and elapsed time at four levels of certainty [s]; machine time [s]."""

    tasks: tuple[Task, ...]
    labour_mean: float
    labour_sd: float
    labour_p10: float
    labour_p50: float
    labour_p80: float
    labour_p95: float
    elapsed_p50: float
    elapsed_p80: float
    machine_mean: float
    people: int
    correlation: float
    why: Why


@dataclass(frozen=True, slots=True)
class _Need:
    """A quantity of one work: area [m2], length [m] or a count."""

    work: str
    part: str
    quantity: float
    rule: str
    wet: bool = True
    workers: int = 1


def plan_hours(
    site: Site,
    takeoffs: tuple[WallTakeoff, ...],
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    rig: Rig,
    rates: Rates,
) -> Hours:
    """Return every task of the visit with its time and the totals with their spread."""
    people = max(rig.crew.people, 1)
    needs = [
        *_around(site, people, standings),
        *_walls(takeoffs, methods),
        *_ground(ground, rig),
    ]
    tasks = tuple(_task(need, rates, number) for number, need in enumerate(needs, 1) if need.quantity > 0)
    labour = sum_spread([t.mean * t.workers for t in tasks], [t.sd * t.workers for t in tasks], CORRELATION)
    curve = lognormal_of_moments(labour.mean, max(labour.sd, 1e-6))
    p10, p50, p80, p95 = (lognormal_quantile(curve.mu, curve.sigma, share) for share in (0.10, 0.50, 0.80, 0.95))
    wet = sum(task.mean for task in tasks if task.wet)
    rule = "labour shared evenly by the crew; tasks share causes (correlation 0.5), the sum taken as lognormal"
    return Hours(
        tasks,
        labour.mean,
        labour.sd,
        p10,
        p50,
        p80,
        p95,
        p50 / people,
        p80 / people,
        wet,
        people,
        CORRELATION,
        Why(rule, ("pert-three-point", "variance-of-sum")),
    )


def _task(need: _Need, rates: Rates, number: int) -> Task:
    own = next((rate for rate in rates.production if rate.work == need.work), None)
    start = starting_rates()[need.work]
    rate = (own.low, own.usual, own.high) if own else (start.low, start.usual, start.high)
    unit = own.unit if own else start.unit
    shown, inner = _UNIT_QUANTITY[unit]
    quantity = convert(need.quantity, inner, shown) if shown != inner else need.quantity
    times = sorted(quantity * r * 60.0 if unit == "min" else quantity / r * 3600.0 for r in rate)
    spread = three_point_spread(*times)
    source = ("user-document",) if own else (start.source,)
    words = f"{need.rule}; {'your own rate' if own else 'a starting rate, yours to replace'}"
    return Task(
        f"task-{number}-{need.work}",
        need.work,
        start.words,
        need.part,
        quantity,
        shown,
        rate,
        unit,
        times[0],
        times[1],
        times[2],
        spread.mean,
        spread.sd,
        need.workers,
        need.wet,
        own is None,
        Why(words, ("pert-three-point", *source)),
    )


def _around(site: Site, people: int, standings: tuple[Standing, ...]) -> Iterator[_Need]:
    yield _Need("set-up", "around", 1.0, "once a visit", False, people)
    yield _Need("walk-round", "around", 1.0, "before and after, with photographs", False)
    if any(plant.kind != "tree" for plant in site.planting):
        yield _Need("plants", "around", 1.0, "planting stands by the work", True)
    buildings = len({wall.building for wall in site.walls if wall.excluded is None})
    yield _Need("rig-move", "around", float(max(buildings - 1, 0)), "from building to building", False)
    yield _Need("hose-move", "around", float(sum(len(s.spots) for s in standings)), "one a standing spot", False)
    yield _Need("break-down", "around", 1.0, "once a visit", False, people)


def _walls(takeoffs: tuple[WallTakeoff, ...], methods: tuple[SurfaceMethod, ...]) -> Iterator[_Need]:
    for takeoff in takeoffs:
        own = [method for method in methods if method.wall == takeoff.wall]
        treated = sum(m.area * m.passes for m in own if m.strength > 0)
        rinsed = sum(m.area * m.passes for m in own if m.rinsed)
        banded = sum(m.length * m.passes for m in own if m.banded)
        brushed = sum(m.length for m in own if m.agent.startswith("brush"))
        yield _Need("wall-treat", takeoff.wall, treated, "area times treatments")
        yield _Need("wall-rinse", takeoff.wall, rinsed, "area times treatments")
        yield _Need("band-power-rinse", takeoff.wall, banded, "length of the bands times treatments")
        yield _Need("brush-webs", takeoff.wall, brushed, "length that is brushed", False)
        if own:
            yield _Need("glass-rinse", takeoff.wall, takeoff.glass_length, "front of glass and doors")


def _ground(ground: tuple[GroundTakeoff, ...], rig: Rig) -> Iterator[_Need]:
    large = bool(rig.surface_cleaners) and rig.surface_cleaners[0].diameter > 0.52
    for surface in ground:
        for part in surface.parts:
            if part.how == "cleaner":
                yield _Need("cleaner-large" if large else "cleaner-small", surface.surface, part.area, "swept area")
            elif part.how == "trim":
                yield _Need("trim", surface.surface, part.length, "length along walls and posts")
            else:
                yield _Need("wand-ground", surface.surface, part.area, "area by wand")
        if surface.washed:
            for gum in surface.gum:
                yield _Need("gum-wand", surface.surface, gum.open_spots, "spots in the open")
                yield _Need("gum-hand", surface.surface, float(gum.door_spots), "spots at doors, by hand", False)
