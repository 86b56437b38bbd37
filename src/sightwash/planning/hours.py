"""Hours: every task from quantity and rate, with a spread that allows for a crew that is slow all night."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from sightwash.basis.sources import Why
from sightwash.basis.units import convert
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.hour_needs import Need, needs
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.production import RateInUse, check_production, difficulties, rate_in_use
from sightwash.planning.standing import Standing
from sightwash.planning.takeoff import WallTakeoff
from sightwash.science.lognormal import lognormal_of_moments
from sightwash.science.simulation import Levels, correlated_sum_spread, levels, simulated_sums
from sightwash.science.spread import three_point_spread
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

CORRELATION: Final = 0.5
"""Correlation between the logarithms of any two tasks of one night [-]: a slow crew is slow all night; a judgement."""
DRAWS: Final = 20_000
SEED: Final = 1
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
    """One task: its quantity in ``unit``, its rate and its working time low, usual, high, mean and deviation [s].

    ``wet`` marks work that needs the machine; ``difficulty`` is the factor on the time, already in it.
    """

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
    difficulty: float
    why: Why


@dataclass(frozen=True, slots=True)
class Hours:
    """All tasks; labour, machine and elapsed time at four levels of certainty [s], from ``draws`` simulated nights."""

    tasks: tuple[Task, ...]
    labour_mean: float
    labour_sd: float
    labour_p10: float
    labour_p50: float
    labour_p80: float
    labour_p95: float
    elapsed_p10: float
    elapsed_p50: float
    elapsed_p80: float
    elapsed_p95: float
    machine_mean: float
    machine_p10: float
    machine_p50: float
    machine_p80: float
    machine_p95: float
    people: int
    correlation: float
    draws: int
    seed: int
    why: Why


def plan_hours(
    site: Site,
    takeoffs: tuple[WallTakeoff, ...],
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    rig: Rig,
    rates: Rates,
    dark: bool = False,
    seed: int = SEED,
    fills: int = 0,
) -> Hours:
    """Return every task of the visit with its time and the totals with their spread."""
    check_production(rates)
    people = max(rig.crew.people, 1)
    wanted = needs(site, takeoffs, methods, ground, standings, rig, fills)
    tasks = tuple(_task(need, rates, number, dark) for number, need in enumerate(wanted, 1) if need.quantity > 0)
    shapes = [lognormal_of_moments(task.mean, task.sd) for task in tasks]
    mus, sigmas = [shape.mu for shape in shapes], [shape.sigma for shape in shapes]
    labour = correlated_sum_spread(mus, sigmas, [float(task.workers) for task in tasks], CORRELATION)
    work, machine, elapsed = _totals(tasks, mus, sigmas, people, seed)
    rule = (
        f"{DRAWS} simulated nights, seed {seed}; each task lognormal, one cause shared by all (correlation of the "
        f"logarithms {CORRELATION}); on site: what takes the whole crew, then the machine's hours or the rest shared "
        "evenly, whichever is longer"
    )
    sources = ("pert-three-point", "lognormal-moments", "one-common-cause", "numpy-pcg64")
    return Hours(
        tasks, labour.mean, labour.sd, *work, *elapsed, sum(task.mean for task in tasks if task.wet), *machine,
        people, CORRELATION, DRAWS, seed, Why(rule, sources),
    )  # fmt: skip


def _totals(
    tasks: tuple[Task, ...], mus: list[float], sigmas: list[float], people: int, seed: int
) -> tuple[Levels, Levels, Levels]:
    """Return labour, machine and elapsed time at their levels [s]."""
    weights = [
        [float(task.workers) for task in tasks],
        [float(task.wet) for task in tasks],
        [float(task.workers == people and people > 1) for task in tasks],
    ]
    labour, machine, together = simulated_sums(mus, sigmas, weights, CORRELATION, DRAWS, seed)
    rest = (labour - people * together) / people
    return levels(labour), levels(machine), levels(together + np.maximum(machine, rest))


def _task(need: Need, rates: Rates, number: int, dark: bool) -> Task:
    use = rate_of(rates, need)
    shown, inner = _UNIT_QUANTITY[use.unit]
    quantity = convert(need.quantity, inner, shown) if shown != inner else need.quantity
    factor, slowed = _difficulty(need, use.own, dark)
    rate = (use.low, use.usual, use.high)
    times = sorted(factor * (quantity * r * 60.0 if use.unit == "min" else quantity / r * 3600.0) for r in rate)
    spread = three_point_spread(*times)
    words = f"{need.rule}; {'your own rate' if use.own else 'a starting rate, yours to replace'}{slowed}"
    return Task(
        f"task-{number}-{need.work}", need.work, use.words, need.part, quantity, shown, rate, use.unit,
        times[0], times[1], times[2], spread.mean, spread.sd, need.workers, need.wet, not use.own, factor,
        Why(words, ("pert-three-point", use.source, *(("practice-difficulty",) if slowed else ()))),
    )  # fmt: skip


def rate_of(rates: Rates, need: Need) -> RateInUse:
    """Return the rate of a need; over several kinds of surface, the one that gives the sum of their times."""
    plain = rate_in_use(rates, need.work)
    uses = [(rate_in_use(rates, need.work, kind.surface, kind.soiling), kind.share) for kind in need.kinds]
    if all(use == plain for use, _ in uses):
        return plain
    low, usual, high = (
        1.0
        / sum(share / _in_unit(value, use.unit, plain.unit) for (use, share), value in zip(uses, values, strict=True))
        for values in ([use.low for use, _ in uses], [use.usual for use, _ in uses], [use.high for use, _ in uses])
    )
    return replace(plain, low=low, usual=usual, high=high, own=all(use.own for use, _ in uses), source="user-document")


def _in_unit(value: float, unit: str, wanted: str) -> float:
    """Return a rate by area or length in another unit of the same kind."""
    if unit == wanted:
        return value
    return convert(value, _UNIT_QUANTITY[unit][0], _UNIT_QUANTITY[wanted][0])


def _difficulty(need: Need, own: bool, dark: bool) -> tuple[float, str]:
    """Return the factor on a task's time and why."""
    factor, words = 1.0, ""
    for name, share in (("tall", need.tall_share), ("dark", 1.0 if dark else 0.0)):
        row = difficulties()[name]
        if share > 0 and need.work in row.works and (row.own_rates or not own):
            factor *= 1.0 + share * (row.factor - 1.0)
            words += f"; {row.words}"
    return factor, words
