"""Hours: tasks by the three-point rule and their sum, held against closed forms.

- Three-point estimate, mean (a + 4 m + b) / 6, deviation (b - a) / 6: (4, 6, 14) is 7.0 with variance 2.7778, as
  printed beside the rule (worked example; Malcolm, Roseboom, Clark and Fazar, Operations Research 7, 1959).
- Sum of correlated lognormals, covariance m_i m_j (exp(r s_i s_j) - 1) with s^2 = ln(1 + (sd / m)^2) (closed form).
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from sightwash.basis.errors import InputError
from sightwash.planning import hours as hours_module
from sightwash.planning.hours import Hours, Task
from sightwash.planning.visit import VisitPlan

WALK = {"surfaces": [{"id": "walk", "along": "front", "width": 8}]}
CREW = {"rig": {"crew": {"people": 3}}}


def own(work: str, low: float, usual: float, high: float, unit: str) -> dict[str, Any]:
    return {"production": [{"work": work, "low": low, "usual": usual, "high": high, "unit": unit}]}


def task_of(plan: VisitPlan, work: str) -> Task:
    return next(task for task in plan.hours.tasks if task.work == work)


def test_the_three_point_rule(make: Any) -> None:
    """A walk round of 4, 6 or 14 min takes 7 min, with a variance of 2.7778 min2."""
    task = task_of(make.visit(rates=own("walk-round", 4, 6, 14, "min")), "walk-round")
    assert task.mean / 60 == pytest.approx(7.0)
    assert (task.sd / 60) ** 2 == pytest.approx(2.7778, abs=5e-5)
    assert (task.low, task.usual, task.high) == pytest.approx((240.0, 360.0, 840.0))
    assert not task.starting_rate


def test_a_rate_by_area(make: Any) -> None:
    """A wall of 60 x 16 ft rinsed at 480, 960 or 1920 ft2/h takes 2, 1 or 0.5 h; the same in square metres."""
    in_feet = task_of(make.visit(rates=own("wall-rinse", 480, 960, 1920, "ft2/h")), "wall-rinse")
    assert (in_feet.low, in_feet.usual, in_feet.high) == pytest.approx((1800.0, 3600.0, 7200.0))
    metric = [rate * 0.3048**2 for rate in (480, 960, 1920)]
    in_metres = task_of(make.visit(rates=own("wall-rinse", *metric, "m2/h")), "wall-rinse")
    assert in_metres.mean == pytest.approx(in_feet.mean, rel=1e-9)
    assert in_feet.mean == pytest.approx((1800 + 4 * 3600 + 7200) / 6)


def test_starting_rates_are_marked_as_such(make: Any, demo_plan: VisitPlan) -> None:
    assert all(task.starting_rate for task in demo_plan.hours.tasks)
    assert all("yours to replace" in task.why.rule for task in demo_plan.hours.tasks)
    task = task_of(make.visit(rates=own("wall-rinse", 1000, 2000, 3000, "ft2/h")), "wall-rinse")
    assert "your own" in task.why.rule


def test_work_for_everybody_counts_for_everybody(make: Any) -> None:
    """Set-up takes the whole crew: three people, three times its time in labour."""
    one, three = make.visit(rig={"crew": {"people": 1}}).hours, make.visit(**CREW).hours
    common = [task for task in three.tasks if task.workers == 3]
    assert {task.work for task in common} >= {"set-up", "break-down"}
    more = sum(task.mean * 2 for task in common)
    assert three.labour_mean - one.labour_mean == pytest.approx(more, rel=1e-9)
    assert three.elapsed_p50 < one.elapsed_p50


def summed(hours: Hours, correlation: float) -> float:
    """Return the deviation of the sum of the tasks' labour by the closed form."""
    parts = [(task.mean * task.workers, math.sqrt(math.log1p((task.sd / task.mean) ** 2))) for task in hours.tasks]
    return math.sqrt(
        sum(
            a * b * math.expm1((1.0 if i == j else correlation) * s * t)
            for i, (a, s) in enumerate(parts)
            for j, (b, t) in enumerate(parts)
        )
    )


@pytest.mark.parametrize("correlation", [0.0, 0.5, 1.0])
def test_the_spread_of_the_sum(make: Any, monkeypatch: pytest.MonkeyPatch, correlation: float) -> None:
    monkeypatch.setattr(hours_module, "CORRELATION", correlation)
    found = make.visit(site=WALK).hours
    assert found.labour_mean == pytest.approx(sum(task.mean * task.workers for task in found.tasks), rel=1e-9)
    assert found.labour_sd == pytest.approx(summed(found, correlation), rel=1e-6)
    sds = [task.sd * task.workers for task in found.tasks]
    if correlation == 0.0:
        assert found.labour_sd == pytest.approx(math.sqrt(sum(sd**2 for sd in sds)), rel=1e-9)
    else:
        assert math.sqrt(sum(sd**2 for sd in sds)) < found.labour_sd <= sum(sds) * (1 + 1e-9)


def test_the_levels_of_certainty(demo_plan: VisitPlan) -> None:
    """A lognormal of that mean and deviation has its 80 % at exp(mu + 0.8416 s); the sum is not far from one."""
    h = demo_plan.hours
    assert h.labour_p10 < h.labour_p50 < h.labour_p80 < h.labour_p95
    assert h.labour_p50 < h.labour_mean < h.labour_p80
    s = math.sqrt(math.log1p((h.labour_sd / h.labour_mean) ** 2))
    eighty = h.labour_mean * math.exp(0.8416 * s - s * s / 2)
    assert h.labour_p80 == pytest.approx(eighty, rel=0.02)


def test_the_demo_quantities_come_from_its_take_off(demo_plan: VisitPlan) -> None:
    """Every treated square foot is in a task as often as it is treated; every square foot of walk once."""
    for takeoff in demo_plan.walls:
        own_methods = [m for m in demo_plan.methods if m.wall == takeoff.wall]
        treated = sum(m.area * m.passes for m in own_methods if m.strength > 0) / 0.3048**2
        tasks = [t for t in demo_plan.hours.tasks if t.part == takeoff.wall and t.work == "wall-treat"]
        assert sum(t.quantity for t in tasks) == pytest.approx(treated, abs=1e-6)
    for surface in demo_plan.ground:
        swept = sum(part.area for part in surface.parts if part.how == "cleaner") / 0.3048**2
        works = ("cleaner-small", "cleaner-large")
        tasks = [t for t in demo_plan.hours.tasks if t.part == surface.surface and t.work in works]
        assert sum(t.quantity for t in tasks) == pytest.approx(swept, abs=1e-6)


@pytest.mark.parametrize(
    ("rate", "key"),
    [
        (own("wall-rinse", 0, 960, 1920, "ft2/h"), "low"),
        (own("wall-rinse", 1920, 960, 480, "ft2/h"), "low"),
        (own("wall-rinze", 480, 960, 1920, "ft2/h"), "work"),
        (own("wall-rinse", 1, 2, 3, "min"), "unit"),
        (own("trim", 480, 960, 1920, "ft2/h"), "unit"),
        (own("set-up", 20, 30, 45, "ft/h"), "unit"),
    ],
)
def test_an_absurd_rate_is_refused(make: Any, rate: dict[str, Any], key: str) -> None:
    with pytest.raises(InputError) as caught:
        make.visit(rates=rate)
    (problem,) = caught.value.problems
    assert problem.key == f"production[0].{key}"
    assert problem.fix


def test_the_same_visit_gives_the_same_hours(make: Any) -> None:
    assert make.visit(site=WALK).hours == make.visit(site=WALK).hours
