"""The scheduling model against every possible schedule of small cases (independent program: brute force).

A published case stands in tests/published/test_fisher_thompson_1963.py.
"""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.planning.scheduling import (
    Activity,
    Link,
    NoSchedule,
    Schedule,
    ScheduleProblem,
    Store,
    solve_schedule,
)

HORIZON = 9


def allowed(problem: ScheduleProblem, starts: dict[str, int]) -> bool:
    """Tell whether a schedule keeps every rule, looking at each minute by itself."""
    minutes = {a.id: a.minutes for a in problem.activities}
    for a in problem.activities:
        windows = a.windows if a.windows is not None else ((0, problem.horizon),)
        if not any(low <= starts[a.id] and starts[a.id] + a.minutes <= high for low, high in windows):
            return False
    for link in problem.links:
        wait = starts[link.after] - starts[link.before]
        if wait < link.least or (link.most is not None and wait > link.most):
            return False
    for mean, amount in problem.capacity:
        for minute in range(problem.horizon):
            busy = [a for a in problem.activities if starts[a.id] <= minute < starts[a.id] + minutes[a.id]]
            if sum(used for a in busy for name, used in a.uses if name == mean) > amount:
                return False
    return problem.store is None or store_lasts(problem.store, starts, minutes)


def store_lasts(store: Store, starts: dict[str, int], minutes: dict[str, int]) -> bool:
    """Tell whether the store never runs dry, played through in order of time; nothing overlaps a refill."""
    for refill in store.refills:
        for name, _ in store.uses:
            if starts[name] < starts[refill] + minutes[refill] and starts[refill] < starts[name] + minutes[name]:
                return False
    left = store.amount
    events = [(starts[refill], 0) for refill in store.refills] + [(starts[name], used) for name, used in store.uses]
    for _, used in sorted(events):
        left = store.amount if used == 0 else left - used
        if left < 0:
            return False
    order = [starts[refill] for refill in store.refills]
    return all(b >= a + minutes[name] for a, b, name in zip(order, order[1:], store.refills, strict=False))


def best_finish(problem: ScheduleProblem) -> int | None:
    """Return the soonest finish of all schedules there are; None where none keeps the rules."""
    names = [a.id for a in problem.activities]
    minutes = {a.id: a.minutes for a in problem.activities}
    finishes = [
        max(starts[name] + minutes[name] for name in names)
        for choice in product(range(problem.horizon + 1), repeat=len(names))
        if all(s + minutes[n] <= problem.horizon for s, n in zip(choice, names, strict=True))
        for starts in [dict(zip(names, choice, strict=True))]
        if allowed(problem, starts)
    ]
    return min(finishes, default=None)


@st.composite
def problems(draw: st.DrawFn) -> ScheduleProblem:
    activities = tuple(
        Activity(
            f"a{k}",
            draw(st.integers(1, 3)),
            (("people", draw(st.integers(1, 2))), *((("machine", 1),) if draw(st.booleans()) else ())),
            draw(st.sampled_from([None, ((0, 4), (5, HORIZON)), ((3, HORIZON),)])),
        )
        for k in range(4)
    )
    pairs = st.sampled_from([("a0", "a1"), ("a1", "a2"), ("a0", "a3"), ("a2", "a3")])
    links = tuple(
        Link(a, b, least := draw(st.integers(0, 3)), draw(st.one_of(st.none(), st.integers(least, least + 2))))
        for a, b in draw(st.lists(pairs, max_size=3, unique=True))
    )
    capacity = (("people", draw(st.integers(2, 3))), ("machine", 1))
    return ScheduleProblem(activities, links, capacity, HORIZON)


@settings(max_examples=25)
@given(problems())
def test_solver_finds_the_best_of_all_schedules(problem: ScheduleProblem) -> None:
    exact = best_finish(problem)
    found = solve_schedule(problem)
    if exact is None:
        assert found == NoSchedule(True)
        return
    assert isinstance(found, Schedule)
    assert (found.value, found.bound, found.proven) == (exact, exact, True)
    assert allowed(problem, dict(found.starts))


def test_a_store_is_filled_before_it_runs_dry() -> None:
    uses = tuple((f"a{k}", 3) for k in range(3))
    activities = (*(Activity(f"a{k}", 1, (("machine", 1),)) for k in range(3)), Activity("fill", 2, (("machine", 1),)))
    problem = ScheduleProblem(activities, (), (("machine", 1),), 8, Store(("fill",), uses, 6))
    found = solve_schedule(problem)
    assert isinstance(found, Schedule)
    assert found.value == best_finish(problem) == 5
    assert allowed(problem, dict(found.starts))
    dry = ScheduleProblem(activities, (), (("machine", 1),), 8, Store(("fill",), uses, 4))
    assert best_finish(dry) is None
    assert solve_schedule(dry) == NoSchedule(True)


def test_same_problem_same_schedule() -> None:
    activities = tuple(Activity(f"a{k}", 2 + k % 3, (("people", 1 + k % 2),)) for k in range(12))
    problem = ScheduleProblem(activities, (), (("people", 3),), 60)
    assert solve_schedule(problem) == solve_schedule(problem)


def test_a_finish_known_to_be_too_late_needs_no_solver() -> None:
    problem = ScheduleProblem((Activity("a", 1),), (), (), 5, least_finish=6)
    assert solve_schedule(problem) == NoSchedule(True)


def test_any_schedule_will_do_when_only_room_is_asked_for() -> None:
    activities = tuple(Activity(f"a{k}", 2, (("people", 1),)) for k in range(6))
    found = solve_schedule(ScheduleProblem(activities, (), (("people", 2),), 40), any_will_do=True)
    assert isinstance(found, Schedule)
    assert 6 <= found.value <= 40


@pytest.mark.parametrize(
    ("problem", "code"),
    [
        (ScheduleProblem((Activity("a", 1, (), ((5, 3),)),), (), (), 9), "window-order"),
        (ScheduleProblem((Activity("a", -1),), (), (), 9), "negative-time"),
        (ScheduleProblem((Activity("a", 1), Activity("a", 2)), (), (), 9), "doubled-id"),
        (ScheduleProblem((Activity("a", 1),), (Link("a", "b", 0),), (), 9), "dangling-reference"),
        (ScheduleProblem((Activity("a", 1, (("people", 3),)),), (), (("people", 2),), 9), "too-few"),
    ],
)
def test_contradictions_are_refused(problem: ScheduleProblem, code: str) -> None:
    with pytest.raises(InputError) as refusal:
        solve_schedule(problem)
    assert [each.code for each in refusal.value.problems] == [code]
