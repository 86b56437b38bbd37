"""Scheduling: activities with windows, waits and shared means, put in the order that ends soonest.

The model is general (a job shop is one of its cases) and solved by CP-SAT with one worker under a deterministic
limit, so that the same problem gives the same answer. The solver is imported only when it is asked.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from sightwash.basis.errors import InputError, Problem

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SEED: Final = 1
LINEARIZATION: Final = 0
"""Schedules are proven sooner without linear inequalities beside the model; covers want 2."""


@dataclass(frozen=True, slots=True)
class Activity:
    """Something that takes whole minutes without a pause, uses means, and lies wholly inside one of its windows."""

    id: str
    minutes: int
    uses: tuple[tuple[str, int], ...] = ()
    windows: tuple[tuple[int, int], ...] | None = None


@dataclass(frozen=True, slots=True)
class Link:
    """``after`` starts at least ``least`` and at most ``most`` minutes after the start of ``before``."""

    before: str
    after: str
    least: int
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Store:
    """Something that activities use up and that each refill fills to the brim; refills come in their order."""

    refills: tuple[str, ...]
    uses: tuple[tuple[str, int], ...]
    amount: int


@dataclass(frozen=True, slots=True)
class ScheduleProblem:
    """Activities and links, the amount of each mean, the last minute, a store, and a finish known to be too early."""

    activities: tuple[Activity, ...]
    links: tuple[Link, ...]
    capacity: tuple[tuple[str, int], ...]
    horizon: int
    store: Store | None = None
    least_finish: int = 0


@dataclass(frozen=True, slots=True)
class Schedule:
    """Start of each activity [min], the finish, the bound that no schedule can beat, and whether they meet."""

    starts: Mapping[str, int]
    value: int
    bound: int
    proven: bool


@dataclass(frozen=True, slots=True)
class NoSchedule:
    """There is none (``proven``), or none was found within the limit."""

    proven: bool


def solve_schedule(problem: ScheduleProblem, limit: float = 10.0, any_will_do: bool = False) -> Schedule | NoSchedule:
    """Return the schedule that ends soonest, with the bound that none can beat.

    ``limit`` is deterministic work, about a second or two each on a usual machine; the clock plays no part. With
    ``any_will_do`` the first schedule that keeps the rules is returned.
    """
    _check(problem)
    if problem.least_finish > problem.horizon:
        return NoSchedule(True)
    from ortools.sat.python import cp_model

    built = _build(problem, cp_model)
    if built is None:
        return NoSchedule(True)
    model, starts, finish = built
    model.minimize(finish)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.linearization_level = LINEARIZATION
    solver.parameters.max_deterministic_time = limit
    solver.parameters.stop_after_first_solution = any_will_do
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return NoSchedule(status == cp_model.INFEASIBLE)
    value = round(solver.objective_value)
    bound = min(max(problem.least_finish, math.ceil(solver.best_objective_bound - 1e-6)), value)
    return Schedule({name: solver.value(start) for name, start in starts.items()}, value, bound, value == bound)


def _build(problem: ScheduleProblem, cp_model: Any) -> tuple[cp_model.CpModel, dict[str, Any], Any] | None:
    """Return model, start variables and finish; None where an activity fits in none of its windows."""
    model: cp_model.CpModel = cp_model.CpModel()
    starts: dict[str, Any] = {}
    users: dict[str, list[tuple[Any, int]]] = {name: [] for name, _ in problem.capacity}
    for activity in problem.activities:
        windows = activity.windows if activity.windows is not None else ((0, problem.horizon),)
        allowed = [[low, high - activity.minutes] for low, high in windows if high - activity.minutes >= low]
        if not allowed:
            return None
        domain = cp_model.Domain.from_intervals(allowed)
        start = model.new_int_var_from_domain(domain, activity.id)
        starts[activity.id] = start
        interval = model.new_fixed_size_interval_var(start, activity.minutes, activity.id)
        for mean, amount in activity.uses:
            users[mean].append((interval, amount))
    minutes = {activity.id: activity.minutes for activity in problem.activities}
    for link in problem.links:
        model.add(starts[link.after] >= starts[link.before] + link.least)
        if link.most is not None:
            model.add(starts[link.after] <= starts[link.before] + link.most)
    if problem.store is not None:
        _add_store(model, problem.store, starts, minutes)
    for mean, amount in problem.capacity:
        _share_mean(model, users[mean], amount)
    finish = model.new_int_var(problem.least_finish, problem.horizon, "finish")
    for name, start in starts.items():
        model.add(finish >= start + minutes[name])
    return model, starts, finish


def _add_store(model: cp_model.CpModel, store: Store, starts: Mapping[str, Any], minutes: Mapping[str, int]) -> None:
    """Let what is used between two refills fit into the store."""
    after: list[dict[str, Any]] = []
    for number, refill in enumerate(store.refills):
        flags = {}
        for name, _ in store.uses:
            flag = model.new_bool_var(f"{name}-after-{refill}")
            model.add(starts[name] >= starts[refill] + minutes[refill]).only_enforce_if(flag)
            model.add(starts[name] + minutes[name] <= starts[refill]).only_enforce_if(flag.negated())
            flags[name] = flag
        if number > 0:
            earlier = store.refills[number - 1]
            model.add(starts[refill] >= starts[earlier] + minutes[earlier])
        after.append(flags)
    for number in range(len(after) + 1):
        used = [
            amount
            * ((after[number - 1][name] if number > 0 else 1) - (after[number][name] if number < len(after) else 0))
            for name, amount in store.uses
        ]
        model.add(sum(used) <= store.amount)


def _share_mean(model: cp_model.CpModel, users: list[tuple[Any, int]], amount: int) -> None:
    if not users:
        return
    if amount == 1 and all(used == 1 for _, used in users):
        model.add_no_overlap([interval for interval, _ in users])
    else:
        model.add_cumulative([interval for interval, _ in users], [used for _, used in users], amount)


def _check(problem: ScheduleProblem) -> None:
    """Raise InputError where a problem contradicts itself."""
    known = {activity.id for activity in problem.activities}
    capacity = dict(problem.capacity)
    wrong: list[Problem] = []
    if len(known) != len(problem.activities):
        wrong.append(Problem("doubled-id", "two activities have one id", key="activities"))
    for activity in problem.activities:
        if activity.minutes < 0:
            wrong.append(Problem("negative-time", f"{activity.minutes} min", key=activity.id, expected="0 or more"))
        for low, high in activity.windows or ():
            if high < low:
                words = f"the window closes at {high} min, before it opens at {low} min"
                wrong.append(Problem("window-order", words, key=activity.id, expected="opening before closing"))
        for mean, amount in activity.uses:
            if amount > capacity.get(mean, 0):
                words = f"needs {amount} of {mean}, there are {capacity.get(mean, 0)}"
                wrong.append(Problem("too-few", words, key=activity.id))
    named = [name for link in problem.links for name in (link.before, link.after)]
    if problem.store is not None:
        named += [*problem.store.refills, *(name for name, _ in problem.store.uses)]
    wrong += [Problem("dangling-reference", f"no activity {name!r}", key="links") for name in sorted({*named} - known)]
    if wrong:
        raise InputError(wrong)
