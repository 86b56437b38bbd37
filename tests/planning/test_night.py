"""The night and the offer behind a plan, and how they come out of the four documents."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path

import pytest

from sightwash.papers.night_summary import night_summary
from sightwash.planning.night import NightPlan, plan_night
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.ground import Tap
from sightwash.site.model import QuietHours, Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig, Tank
from sightwash.site.site_file import document_from, document_text, read_document
from sightwash.site.tree import parse

SMALLEST = Path(__file__).parents[2] / "examples" / "smallest"
ON = date(2026, 7, 11)
Documents = tuple[Site, Rig, Rates, Conditions]


@pytest.fixture(scope="module")
def documents() -> Documents:
    site, rig, rates, conditions = (
        read_document(SMALLEST / f"{kind}.yaml", kind) for kind in ("site", "rig", "rates", "conditions")
    )
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    return site, rig, rates, conditions


def planned(documents: Documents) -> tuple[VisitPlan, NightPlan]:
    plan = plan_visit(*documents, ON)
    return plan, plan_night(*documents, plan)


@pytest.fixture(scope="module")
def night(documents: Documents) -> tuple[VisitPlan, NightPlan]:
    return planned(documents)


def test_every_number_of_the_offer_hangs_together(night: tuple[VisitPlan, NightPlan]) -> None:
    plan, found = night
    assert sum((share.amount for share in found.shares), Decimal(0)) == plan.price.price
    assert any(each.price == plan.price.price for each in found.chances)
    chances = [each.chance_of_loss for each in found.chances]
    assert chances == sorted(chances, reverse=True)
    once = next(option for option in found.options if option.id == "1-a-year")
    assert once.first == plan.price.price
    assert all(sum(option.visits, Decimal(0)) == option.year for option in found.options)


def test_the_summary_says_the_prices_of_the_options(night: tuple[VisitPlan, NightPlan]) -> None:
    plan, found = night
    words = night_summary(plan, found)
    for option in found.options:
        assert f"{option.year:,.2f}" in words
    assert "WHO DOES WHAT, WHEN" in words


def test_nights_machines_and_the_owners_visit_come_from_the_documents(documents: Documents) -> None:
    site, rig, rates, conditions = documents
    conditions = replace(
        conditions, start=time(20, 0), end=time(5, 0), nights=2, owner_visit=datetime(2026, 7, 13, 9, 0)
    )
    rig = replace(rig, machine=replace(rig.machine, count=2))
    _, found = planned((site, rig, rates, conditions))
    assert found.timeline.machines == 2
    assert found.timeline.readiness is not None
    assert found.timeline.readiness.visit is not None
    assert found.timeline.readiness.visit.strftime("%Y-%m-%d %H:%M") == "2026-07-13 09:00"


def test_leave_in_writing_lets_the_machine_run_in_the_quiet_hours(documents: Documents) -> None:
    site, rig, rates, conditions = documents
    conditions = replace(conditions, start=time(22, 30), end=time(5, 30))
    quiet = replace(site, quiet_hours=QuietHours(time(22, 0), time(6, 0)))
    asked = replace(site, quiet_hours=QuietHours(time(22, 0), time(6, 0), "letter of 3 June"))
    assert not planned((quiet, rig, rates, conditions))[1].timeline.holds
    timeline = planned((asked, rig, rates, conditions))[1].timeline
    assert timeline.holds
    assert any(entry.quiet and entry.machine for entry in timeline.entries)


def test_access_and_disposal_are_cost_lines(documents: Documents) -> None:
    site, rig, rates, conditions = documents
    dearer = replace(rates, access=Decimal(120), disposal=Decimal(80))
    before = plan_visit(site, rig, rates, conditions, ON).price
    after = plan_visit(site, rig, dearer, conditions, ON).price
    lines = {line.id: line.amount for line in after.costs}
    assert (lines["access"], lines["disposal"]) == (Decimal("120.00"), Decimal("80.00"))
    assert after.expected_cost - before.expected_cost >= 200


def test_a_moment_is_read_and_written_back(documents: Documents) -> None:
    conditions = replace(documents[3], nights=2, owner_visit=datetime(2026, 7, 13, 9, 0))
    text = document_text(conditions)
    assert '"owner_visit": "2026-07-13 09:00"' in text
    assert document_from(parse(text, "conditions.json")) == conditions


def tapped(site: Site) -> Site:
    """The site with a tap that gives more than the machine takes."""
    return replace(site, taps=(Tap("tap", (1.0, 1.0), flow=1.0),))


def test_without_a_tap_the_stops_to_fill_the_tank_are_hours_and_money(documents: Documents) -> None:
    """A tank of 400 L is filled as often as what the machine uses beyond the first filling asks for."""
    site, rig, rates, conditions = documents
    rig = replace(rig, tanks=(Tank("water", 400.0, "water"),))
    dry = replace(site, taps=())
    before, after = (plan_visit(each, rig, rates, conditions, ON) for each in (tapped(site), dry))
    (fill,) = [task for task in after.hours.tasks if task.work == "tank-refill"]
    carried, wet = 400.0, sum(use.volume for use in after.water.uses)
    assert after.water.refills == fill.quantity
    assert (fill.quantity - 1) * carried < wet - carried <= fill.quantity * carried
    assert before.water.refills == 0
    assert not any(task.work == "tank-refill" for task in before.hours.tasks)
    assert after.price.expected_cost > before.price.expected_cost
    assert any(
        "fill" in entry.words and entry.action
        for entry in plan_night(dry, rig, rates, conditions, after).timeline.entries
    )
