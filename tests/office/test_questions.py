"""The pages of the questions: what they show, to whom, and what they refuse.

What is asked here are the rules of the office's own issue; escaping follows the HTML standard (section 13.1.2) and
roles are asked as in test_access.py [closed form: a word is on a page or it is not].
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from questions_world import made_offer, warm
from world import World

from sightwash.office.bridge.planning import plan_now
from sightwash.office.models import Property, Visit
from sightwash.office.questions.models import Agreement
from sightwash.office.questions.visit_views import next_due

PAGES = ("who-reaches-it", "with-what", "how-long", "what-does-it-cost", "is-it-done")
FOR_CREW = tuple(name for name in PAGES if name != "what-does-it-cost")


def shown(client: Client, name: str, world: World, **query: str) -> str:
    answer = client.get(reverse(name, args=[world.larkspur.pk]), query)
    assert answer.status_code == 200, answer.content[:500]
    return answer.content.decode()


@pytest.mark.parametrize("name", PAGES)
def test_page_has_the_strip_with_every_patch_as_a_link(
    name: str, world: World, client_of: Callable[..., Client]
) -> None:
    plan = plan_now(warm(world))
    page = shown(client_of(world.owner), name, world)
    strip = page[page.index("<svg") : page.index("</svg>")]
    linked = set(re.findall(r'<a [^>]*data-part="([^"]+)"', strip))
    assert {patch.id for takeoff in plan.walls for patch in takeoff.patches if patch.given} <= linked
    assert {takeoff.wall for takeoff in plan.walls} <= linked
    assert re.findall(r'<a (?![^>]*aria-label="[^"]+")[^>]*data-part', strip) == []


@pytest.mark.parametrize("name", PAGES)
def test_every_figure_can_be_traced(name: str, world: World, client_of: Callable[..., Client]) -> None:
    """Behind a figure stand its rule and a source; counts of ticks are plain and need none."""
    warm(world)
    page = shown(client_of(world.owner), name, world)
    assert "<dt>" in page
    assert name == "is-it-done" or ('class="why"' in page and 'class="sources"' in page)


@pytest.mark.parametrize("name", FOR_CREW)
def test_crew_sees_no_price(name: str, world: World, client_of: Callable[..., Client]) -> None:
    price = plan_now(warm(world)).price
    page = re.sub(r' d="[^"]*"', "", shown(client_of(world.crew), name, world))
    for amount in (price.price, price.total, price.cost, *(each.amount for each in price.scope)):
        assert f"{amount:,.2f}" not in page
    assert re.search(rf"\b{price.currency}\b", page) is None


def test_crew_sees_no_price_of_a_part(world: World, client_of: Callable[..., Client]) -> None:
    price = plan_now(warm(world)).price
    amount = f"{next(each.amount for each in price.scope if each.part == 'row-front'):,.2f}"
    assert amount not in shown(client_of(world.crew), "part", world, part="row-front")
    assert amount in shown(client_of(world.planner), "part", world, part="row-front")


def test_part_answers_all_six_questions(world: World, client_of: Callable[..., Client]) -> None:
    plan = plan_now(warm(world))
    client = client_of(world.owner)
    parts = [takeoff.wall for takeoff in plan.walls] + [surface.surface for surface in plan.ground]
    parts += [patch.id for takeoff in plan.walls for patch in takeoff.patches]
    for part in parts:
        page = shown(client, "part", world, part=part)
        for question in ("Who sees it?", "Who reaches it?", "With what?", "How long?", "cost?", "Is it done?"):
            assert question in page, part
        assert "<p>Nothing.</p>" not in page.split("With what?")[0], part


def test_unknown_part_is_not_there(world: World, client_of: Callable[..., Client]) -> None:
    warm(world)
    answer = client_of(world.owner).get(
        reverse("part", args=[world.larkspur.pk]), {"part": "<script>alert(1)</script>"}
    )
    assert answer.status_code == 404
    assert b"<script>alert(1)" not in answer.content


def test_visit_of_another_property_is_not_there(world: World, client_of: Callable[..., Client]) -> None:
    other = Property.objects.create(firm=world.firm, name="Other", site=world.larkspur.site)
    client = client_of(world.owner)
    for named in (str(world.visit.pk), "9" * 30, "x"):
        assert client.get(reverse("with-what", args=[other.pk]), {"visit": named}).status_code == 404


def test_markup_in_names_stays_words(world: World, client_of: Callable[..., Client]) -> None:
    tree = json.loads(world.larkspur.site)
    tree["name"] = '<script>alert("n")</script>'
    tree["walls"][0]["name"] = "<img src=x onerror=alert(1)>"
    Property.objects.filter(pk=world.larkspur.pk).update(site=json.dumps(tree), name="<b onclick=x>bold</b>")
    client = client_of(world.owner)
    plan_now_of(world)
    for name in (*PAGES, "assumptions", "visits"):
        page = shown(client, name, world)
        for raw in ("<img src=x", '<script>alert("n")', "<b onclick"):
            assert raw not in page, name


def plan_now_of(world: World) -> None:
    """Have the plan of the property as it is now worked out."""
    warm(World(**{**{key: getattr(world, key) for key in World.__dataclass_fields__},
                  "visit": Visit.objects.select_related("property__firm").get(pk=world.visit.pk)}))  # fmt: skip


@pytest.mark.parametrize(
    ("site", "words"),
    [
        ('{"kind": "site", "schema": 1}', "missing"),
        ('{"kind": "site", "schema": 1, "id": "x", "name": "x", "walls": [{"id": "w", "height": "-4 ft"}]}', "walls"),
        ("{", "No plan is possible yet"),
        ('{"kind": "site", "schema": 1, "id": "x", "name": "x", "note": "' + "a" * 5_100_000 + '"}', "No plan"),
        ('{"kind": "site", "schema": 1, "id": "x", "name": "x"}', "nothing to plan"),
    ],
    ids=["empty", "wrong", "broken", "huge", "unmeasured"],
)
def test_broken_site_is_refused_in_words(site: str, words: str, world: World, client_of: Callable[..., Client]) -> None:
    Property.objects.filter(pk=world.larkspur.pk).update(site=site)
    client = client_of(world.owner)
    for _ in range(40):
        page = shown(client, "who-reaches-it", world)
        if "hx-trigger" not in page:
            break
    assert "No plan is possible yet" in page
    assert words in page
    assert "Traceback" not in page
    assert len(page) < 60_000


def test_page_waits_with_progress_and_then_loads_anew(
    world: World, client_of: Callable[..., Client], monkeypatch: pytest.MonkeyPatch
) -> None:
    from sightwash.office.bridge.planning import Planning
    from sightwash.office.questions import asking

    client, real = client_of(world.owner), asking.plan_soon
    monkeypatch.setattr(asking, "plan_soon", lambda *_: Planning("key", 0.4, "take-off"))
    page = shown(client, "with-what", world)
    assert "Working: take-off." in page
    assert 'value="0.40"' in page
    again = re.search(r'hx-get="([^"]+)"', page)
    assert again is not None
    headers = {"HX-Request": "true"}
    assert b"take-off" in client.get(again[1], headers=headers).content
    monkeypatch.setattr(asking, "plan_soon", real)
    warm(world)
    assert client.get(again[1], headers=headers).headers["HX-Refresh"] == "true"


@pytest.mark.parametrize(
    ("on", "visits", "due"),
    [
        (date(2026, 7, 11), 2, date(2027, 1, 11)),
        (date(2026, 8, 31), 2, date(2027, 2, 28)),
        (date(2027, 8, 31), 2, date(2028, 2, 29)),
        (date(2026, 11, 30), 4, date(2027, 2, 28)),
        (date(2026, 12, 31), 1, date(2027, 12, 31)),
        (date(2026, 7, 11), None, date(2027, 1, 11)),
    ],
)
def test_next_visit_is_proposed_by_the_option_agreed(on: date, visits: int | None, due: date, world: World) -> None:
    """Months by the Gregorian calendar; a day that a month has not is its last [closed form]."""
    if visits is not None:
        made_offer(world, agreed=True)
        Agreement.objects.update(visits_a_year=visits)
    Visit.objects.filter(pk=world.visit.pk).update(on=on)
    world.visit.refresh_from_db()
    assert next_due(world.visit) == due


def test_visit_form_refuses_beside_the_field(world: World, client_of: Callable[..., Client]) -> None:
    sent: dict[str, Any] = {"on": "2027-01-11", "nights": "1", "wind_speed": "4 bananas", "start": "25:00"}
    answer = client_of(world.planner).post(reverse("visits", args=[world.larkspur.pk]), sent)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert 'id="id_wind_speed_error"' in page
    assert 'id="id_start_error"' in page
    assert Visit.objects.filter(property=world.larkspur).count() == 1


def test_visit_moves_only_from_where_a_step_begins(world: World, client_of: Callable[..., Client]) -> None:
    crew, planner = client_of(world.crew), client_of(world.planner)
    step = reverse("visit-step", args=[world.visit.pk])
    crew.post(step, {"to": "stopped"})
    world.visit.refresh_from_db()
    assert world.visit.state == Visit.State.STOPPED
    assert crew.post(step, {"to": "planned"}).status_code == 403
    planner.post(step, {"to": "planned"})
    for to in ("paid", "agreed", "offered", "", "<b>"):
        planner.post(step, {"to": to})
    world.visit.refresh_from_db()
    assert world.visit.state == Visit.State.PLANNED
