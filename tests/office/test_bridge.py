"""Planning beside the request: kept by its inputs, its progress, what stops it."""

from __future__ import annotations

import threading
from datetime import date
from typing import Any

import pytest
from world import World, demo_text

from sightwash.basis.errors import NoFeasiblePlan
from sightwash.office.bridge import planning
from sightwash.office.bridge.documents import field_problems
from sightwash.office.bridge.planning import PlanInputs, plan_now, plan_soon, visit_inputs
from sightwash.office.bridge.starting import site_of_nothing
from sightwash.planning.visit import plan_visit

ON = date(2026, 7, 11)


def demo_inputs(**changed: Any) -> PlanInputs:
    """Return the inputs of the example, with changes."""
    texts = {kind: demo_text(kind) for kind in ("site", "rig", "rates", "conditions")}
    return PlanInputs(**{**texts, "on": ON, **changed})


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Planning that reports half and then waits for the event; nothing is kept from other tests."""
    goes_on = threading.Event()

    def waiting(*given: Any) -> Any:
        given[6 if len(given) > 6 else -1]("half of it", 0.5)
        assert goes_on.wait(10)
        return "a plan"

    monkeypatch.setattr(planning, "plan_visit", waiting)
    monkeypatch.setattr(planning, "_kept", type(planning._kept)())
    return goes_on


def test_key_is_of_every_input_and_of_nothing_else() -> None:
    keys = {
        inputs.key
        for inputs in (
            demo_inputs(),
            demo_inputs(),
            demo_inputs(on=date(2026, 7, 12)),
            demo_inputs(site=demo_text("site").replace("Larkspur", "Lobelia")),
            demo_inputs(rates=demo_text("rates").replace("24.00", "25.00")),
        )
    }
    assert len(keys) == 4


def test_plan_is_that_of_the_core(world: World) -> None:
    inputs = visit_inputs(world.visit)
    assert plan_now(inputs) == plan_visit(*inputs.documents(), ON)


def test_page_is_answered_while_the_plan_is_made(slow: threading.Event) -> None:
    first = plan_soon(demo_inputs(), wait=0.2)
    assert (first.plan, first.step, first.share) == (None, "half of it", 0.5)
    assert plan_soon(demo_inputs(), wait=0.0) is first
    slow.set()
    assert plan_soon(demo_inputs(), wait=5.0).plan == "a plan"


def test_no_more_plans_are_kept_than_the_limit(slow: threading.Event, monkeypatch: pytest.MonkeyPatch) -> None:
    slow.set()
    monkeypatch.setattr(planning, "KEPT", 3)
    for day in range(1, 8):
        plan_soon(demo_inputs(on=date(2026, 7, day)), wait=5.0)
    assert len(planning._kept) == 3


def test_what_stops_a_plan_is_kept_for_the_page(world: World) -> None:
    inputs = demo_inputs(site=site_of_nothing("Bare", "us"))
    assert isinstance(plan_soon(inputs, wait=5.0).error, NoFeasiblePlan)
    with pytest.raises(NoFeasiblePlan, match="nothing to plan"):
        plan_now(inputs)
    del world


def test_fault_of_ours_is_raised_logged_and_not_kept(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_given: Any) -> None:
        raise ZeroDivisionError("ours")

    monkeypatch.setattr(planning, "plan_visit", broken)
    inputs = demo_inputs(on=date(2026, 8, 1))
    with pytest.raises(ZeroDivisionError):
        plan_now(inputs)
    assert inputs.key not in planning._kept
    assert "a plan failed" in caplog.text


def test_problems_stand_by_their_keys() -> None:
    from sightwash.basis.errors import InputError, Problem

    error = InputError(
        [Problem("x", "too high", key="walls[0].height", expected="at most 120 ft"), Problem("y", "odd")]
    )
    assert field_problems(error) == {"walls[0].height": ["Too high; expected at most 120 ft."], "": ["Odd."]}
