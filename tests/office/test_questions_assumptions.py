"""Assumptions: what moves is shown, nothing is kept unless a person says so, somebody else's change is not lost."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse
from questions_world import warm
from world import World

from sightwash.office.bridge.assumptions import Assumed, assumed_now, changed_inputs, moved_figures
from sightwash.office.bridge.planning import plan_now, visit_inputs
from sightwash.office.models import FirmDocument, Property, Visit
from sightwash.office.questions.models import DocumentRevision


def address(world: World) -> str:
    return reverse("assumptions", args=[world.larkspur.pk])


def rows(page: str) -> dict[str, tuple[str, str]]:
    found = re.findall(
        r'<th scope="row">(.*?)</th><td class="number">(.*?)</td><td class="number strong">(.*?)</td>', page
    )
    return {words: (before, after) for words, before, after in found}


def compared(client: Client, world: World, **sent: str) -> str:
    """Return the page once both plans are there."""
    plan_now(changed_inputs(warm(world), Assumed(**sent)))
    return client.get(address(world), sent).content.decode()


def test_margin_moves_the_price_and_nothing_else(world: World, client_of: Callable[..., Client]) -> None:
    """Price = cost / (1 - margin), rounded up to 5: the definition of a margin [closed form]."""
    before = plan_now(warm(world)).price
    moved = rows(compared(client_of(world.planner), world, margin="40 %"))
    assert set(moved) <= {
        "Price before tax", "Price with tax", "Chance that the cost exceeds the price",
    }  # fmt: skip
    after = float(moved["Price before tax"][1].split()[0].replace(",", ""))
    assert float(before.cost) / 0.6 <= after < float(before.cost) / 0.6 + 5.0


def test_only_figures_that_differ_are_shown(world: World, client_of: Callable[..., Client]) -> None:
    moved = rows(compared(client_of(world.owner), world, people="3"))
    assert moved
    assert all(before != after for before, after in moved.values())
    assert "Labour, half of such nights" in moved or "On site, half of such nights" in moved


def test_looking_keeps_nothing(world: World, client_of: Callable[..., Client]) -> None:
    texts = list(FirmDocument.objects.values_list("kind", "text", "revision"))
    compared(client_of(world.owner), world, people="3", wind="9 mph", margin="38 %")
    assert list(FirmDocument.objects.values_list("kind", "text", "revision")) == texts
    assert Visit.objects.get(pk=world.visit.pk).conditions == world.visit.conditions


def test_keeping_makes_new_revisions_and_keeps_the_old(world: World, client_of: Callable[..., Client]) -> None:
    sent = {"people": "3", "wind": "9 mph", "rig_revision": "1", "rates_revision": "1"}
    assert client_of(world.owner).post(address(world), sent).status_code == 302
    rig = FirmDocument.objects.get(firm=world.firm, kind="rig")
    assert rig.revision == 2
    assert '"people": 3' in rig.text
    kept = DocumentRevision.objects.filter(firm=world.firm, kind="rig").order_by("revision")
    assert [each.revision for each in kept] == [1, 2]
    assert kept[0].text != kept[1].text == rig.text
    assert FirmDocument.objects.get(firm=world.firm, kind="rates").revision == 1
    assert '"9 mph"' in Visit.objects.get(pk=world.visit.pk).conditions


def test_planner_keeps_the_wind_and_not_the_rates(world: World, client_of: Callable[..., Client]) -> None:
    """As on the pages of the rig and the rates: only an owner changes those."""
    client = client_of(world.planner)
    client.post(address(world), {"margin": "40 %", "wind": "9 mph", "rates_revision": "1"})
    assert FirmDocument.objects.get(firm=world.firm, kind="rates").revision == 1
    assert '"9 mph"' not in Visit.objects.get(pk=world.visit.pk).conditions
    client.post(address(world), {"wind": "9 mph"})
    assert '"9 mph"' in Visit.objects.get(pk=world.visit.pk).conditions


def test_keeping_over_somebody_elses_change_is_refused(world: World, client_of: Callable[..., Client]) -> None:
    FirmDocument.objects.filter(firm=world.firm, kind="rig").update(revision=2)
    client_of(world.owner).post(
        address(world), {"people": "3", "margin": "40 %", "rig_revision": "1", "rates_revision": "1"}
    )
    assert FirmDocument.objects.get(firm=world.firm, kind="rig").revision == 2
    assert FirmDocument.objects.get(firm=world.firm, kind="rates").revision == 1


@pytest.mark.parametrize(
    ("name", "typed"),
    [("wind", "fast"), ("start", "24:30"), ("hose", "0 ft"), ("tip", "big"), ("people", "two"), ("margin", "95 %")],
)
def test_wrong_assumption_is_refused_beside_its_field(
    name: str, typed: str, world: World, client_of: Callable[..., Client]
) -> None:
    answer = client_of(world.owner).get(address(world), {name: typed})
    assert answer.status_code == 422
    assert f'id="id_{name}_error"' in answer.content.decode()


def test_wind_without_a_visit_is_not_kept(world: World, client_of: Callable[..., Client]) -> None:
    other = Property.objects.create(firm=world.firm, name="Other", site=world.larkspur.site)
    page = client_of(world.owner).post(reverse("assumptions", args=[other.pk]), {"wind": "9 mph"}, follow=True)
    assert "Plan a visit first" in page.content.decode()


def test_what_is_typed_comes_back_as_typed(world: World) -> None:
    inputs = visit_inputs(world.visit)
    now = assumed_now(inputs)
    assert (now.wind, now.start, now.hose, now.people) == ("4 mph", "20:00", "150 ft", "2")
    assert changed_inputs(inputs, now).key == inputs.key
    assert moved_figures(plan_now(inputs), plan_now(inputs)) == ()
