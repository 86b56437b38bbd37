"""The promise: how sure it is that the work is done and looked at again before the owner comes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import InputError, Problem
from sightwash.basis.sources import Why
from sightwash.planning.hours import Hours
from sightwash.planning.night_entries import Placed
from sightwash.planning.night_model import NightModel
from sightwash.planning.night_rules import Night, NightRules, dark_spans, moment_of, night_number, shown
from sightwash.science.lognormal import lognormal_of_moments
from sightwash.science.networks import network_finishes
from sightwash.science.simulation import levels, task_draws

DRAWS: Final = 10_000
MINUTES: Final = timedelta(minutes=1)
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Promise:
    """When the owner comes, on the site's clock, and how long the last look takes [s]; by daylight if promised."""

    visit: datetime
    look: float = 1200.0
    by_daylight: bool = True


@dataclass(frozen=True, slots=True)
class Readiness:
    """Chances from ``draws`` simulated nights in the planned order.

    ``in_window`` is the chance that the last night ends inside its window, ``ready`` that all is done and looked at
    before the owner comes, using ``spare_nights`` if need be, and ``with_one_more`` the same with a further night;
    ``latest_look`` is when the last look must begin.
    """

    finish_p50: datetime
    finish_p80: datetime
    in_window: float
    visit: datetime | None
    ready: float | None
    with_one_more: float | None
    spare_nights: int
    latest_look: datetime | None
    draws: int
    why: Why


def plan_readiness(
    rules: NightRules, model: NightModel, placed: Sequence[Placed], hours: Hours, promise: Promise | None
) -> Readiness:
    """Return how likely the nights end in time, work left over carried from each night to the next."""
    factors = _task_factors(hours)
    carried, ends = np.zeros(DRAWS), np.zeros(DRAWS)
    for number, night in enumerate(model.nights):
        own = [each for each in placed if night_number(model.nights, each.start) == number]
        ends = carried + _night_ends(model, own, factors, night)
        carried = np.maximum(ends - night.length, 0.0)
    last = model.nights[-1]
    at = levels(ends)
    p50, p80 = (shown(rules, last.opens + timedelta(minutes=minutes)) for minutes in (at.p50, at.p80))
    in_window = float(np.mean(carried <= 0.0))
    rule = f"{DRAWS} simulated nights in the planned order; what a night leaves undone is carried into the next"
    why = Why(rule, ("one-common-cause", "pert-network", "practice-daylight"))
    if promise is None:
        return Readiness(p50, p80, in_window, None, None, None, 0, None, DRAWS, why)
    latest = _latest_look(rules, model, promise)
    spare = max((latest - last.closes) // timedelta(days=1), 0)
    ready = (carried <= 0.0) & (_look_starts(rules, promise, last, ends) <= (latest - last.opens) / MINUTES)
    if spare:
        ready |= carried <= spare * last.length
    more = ready | (carried <= (spare + 1) * last.length)
    chances = float(np.mean(ready)), float(np.mean(more))
    visit = shown(rules, moment_of(rules, promise.visit))
    return Readiness(p50, p80, in_window, visit, *chances, spare, shown(rules, latest), DRAWS, why)


def _latest_look(rules: NightRules, model: NightModel, promise: Promise) -> datetime:
    """Return when the last look must begin; a visit before the first night is refused."""
    check = Problem(
        "promise-order",
        f"the owner comes at {promise.visit:%Y-%m-%d %H:%M}, before the work begins",
        key="promise.visit",
        expected="a time after the night",
    )
    visit = moment_of(rules, promise.visit)
    if visit <= model.nights[0].opens:
        raise InputError(check)
    return visit - timedelta(seconds=promise.look)


def _look_starts(rules: NightRules, promise: Promise, night: Night, ends: Array) -> Array:
    """Return when the last look can begin, in minutes from the opening: at once, or at sunrise if it is dark."""
    starts = ends
    for sunset, sunrise in (dark_spans(rules) or ()) if promise.by_daylight else ():
        low, high = (sunset - night.opens) / MINUTES, (sunrise - night.opens) / MINUTES
        starts = np.where((starts >= low) & (starts < high), high, starts)
    return starts


def _task_factors(hours: Hours) -> dict[str, Array]:
    """Return for each task its time in each simulated night over its mean."""
    shapes = [lognormal_of_moments(task.mean, task.sd) for task in hours.tasks]
    rows = task_draws([s.mu for s in shapes], [s.sigma for s in shapes], hours.correlation, DRAWS, hours.seed)
    return {task.id: row / task.mean for task, row in zip(hours.tasks, rows, strict=True)}


def _night_ends(model: NightModel, own: Sequence[Placed], factors: dict[str, Array], night: Night) -> Array:
    """Return the end of one night in each draw, in minutes from its opening."""
    if not own:
        return np.zeros(DRAWS)
    number = {each.piece.id: k for k, each in enumerate(own)}
    before: list[list[tuple[int, float]]] = [[] for _ in own]
    for link in model.problem.links:
        if link.before in number and link.after in number:
            wait = max(link.least - model.minutes[link.before], 0)
            before[number[link.after]].append((number[link.before], float(wait)))
    latest: dict[str, int] = {}
    for k, each in enumerate(own):
        for holder in (*(f"person {person}" for person in each.people), *(("machine",) if each.piece.machine else ())):
            if holder in latest:
                before[k].append((latest[holder], 0.0))
            latest[holder] = k
    ones = np.ones(DRAWS)
    durations = np.array([(each.end - each.start) * factors.get(each.piece.task, ones) for each in own])
    finishes: Array = network_finishes(durations, before, [_release(model, each, night) for each in own]).max(axis=0)
    return finishes


def _release(model: NightModel, each: Placed, night: Night) -> float:
    """Return the opening of the window that a piece was put into, in minutes from that of the night."""
    windows = next(activity.windows for activity in model.problem.activities if activity.id == each.piece.id)
    inside = [low for low, high in windows or () if low <= each.start < high]
    return float(max(inside[0] - night.offset, 0)) if inside else 0.0
