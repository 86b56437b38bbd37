"""Operations sent to the office: kept with history, refused with both sides, done once, never lost.

The rules are our own (issue of the office); status codes as in RFC 9110, 15.5.10 (409) and 15.5.21 (422) [published].
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from world import World

from sightwash.office.bridge.documents import site_of
from sightwash.office.draw.saving import own_operations
from sightwash.office.models import SiteOperation
from sightwash.site.site_file import document_text

HEIGHT = {"do": "change", "id": "row-east", "keys": {"height": "19 ft 6 in"}}
LOWER = {"do": "change", "id": "row-east", "keys": {"height": "19 ft 3 in"}}
NAME = {"do": "change", "id": "row-west", "keys": {"name": "Row, west"}}
Send = Callable[..., Any]


@pytest.fixture
def send(world: World, client_of: Callable[..., Client]) -> Send:
    """Return what sends an operation as a person."""
    count = iter(range(1000))

    def sent(operation: Any, base: int = 1, person: Any = None, **more: Any) -> Any:
        body = {"operation": operation, "base": base, "token": f"token-{next(count):04}", **more}
        client = client_of(person or world.owner)
        address = reverse("operations", args=[world.larkspur.pk])
        return client.post(address, json.dumps(body), content_type="application/json")

    return sent


def text_of(world: World) -> str:
    world.larkspur.refresh_from_db()
    return str(world.larkspur.site)


def test_a_change_is_kept_with_what_takes_it_back(world: World, send: Send) -> None:
    before = text_of(world)
    answer = send(HEIGHT).json()
    assert (answer["done"], answer["sheet"]["revision"]) == (2, 2)
    assert answer["back"] == {"do": "change", "id": "row-east", "keys": {"height": "20"}}
    row = SiteOperation.objects.of(world.firm).get()
    assert (row.revision, row.person, row.operation["do"], row.undone) == (2, world.owner, "change", False)
    assert '"height": "19 ft 6 in"' in text_of(world)
    undone = send(answer["back"], base=2, undoes=2).json()
    assert undone["done"] == 3
    assert text_of(world) == before
    assert [row.undone for row in SiteOperation.objects.of(world.firm)] == [True, False]
    assert send(undone["back"], base=3, undoes=3).status_code == 200
    assert [row.undone for row in SiteOperation.objects.of(world.firm)] == [False, True, False]


def test_the_same_token_is_done_once(world: World, client_of: Callable[..., Client]) -> None:
    body = json.dumps({"operation": HEIGHT, "base": 1, "token": "sent twice"})
    client, address = client_of(world.owner), reverse("operations", args=[world.larkspur.pk])
    first, second = (client.post(address, body, content_type="application/json").json() for _ in range(2))
    assert first == second
    assert SiteOperation.objects.of(world.firm).count() == 1


def test_two_people_on_one_key_are_shown_both_sides(world: World, send: Send) -> None:
    send(HEIGHT, person=world.planner)
    answer = send(LOWER)
    assert answer.status_code == 409
    clash = answer.json()["clashes"][0]
    assert (clash["id"], clash["key"], clash["yours"], clash["theirs"]) == (
        "row-east", "height", "19 ft 3 in", "19 ft 6 in",
    )  # fmt: skip
    assert (clash["person"], clash["revision"]) == (world.planner.name, 2)
    assert "19 ft 6 in" in text_of(world)
    assert send(LOWER, base=2).status_code == 200


def test_two_people_on_two_keys_are_both_kept(world: World, send: Send) -> None:
    send(HEIGHT, person=world.planner)
    assert send(NAME).json()["done"] == 3
    site = site_of(type(world.larkspur).objects.get(pk=world.larkspur.pk))
    assert '"19 ft 6 in"' in document_text(site)
    assert '"Row, west"' in document_text(site)


def test_ones_own_later_change_is_no_conflict(send: Send) -> None:
    send(HEIGHT)
    assert send(LOWER).status_code == 409
    assert send(LOWER, seen=[2]).status_code == 200


def test_a_broken_value_is_refused_with_its_key(world: World, send: Send) -> None:
    before = text_of(world)
    answer = send({"do": "change", "id": "row-east", "keys": {"height": "20 lb"}})
    assert answer.status_code == 422
    problem = answer.json()["errors"][0]
    assert (problem["key"], problem["code"]) == ("row-east.height", "wrong-unit")
    assert "3 ft to 120 ft" in problem["expected"]
    assert text_of(world) == before


def test_a_revision_that_came_another_way_is_not_guessed(world: World, send: Send) -> None:
    type(world.larkspur).objects.filter(pk=world.larkspur.pk).update(revision=5)
    assert send(HEIGHT).status_code == 409
    assert send(HEIGHT, base=9).status_code == 409
    assert send(HEIGHT, base=5).status_code == 200


@pytest.mark.parametrize(
    "body",
    [
        b"", b"[]", b"null", b"{", b'{"a": NaN}', b"\xff\xfe", b'{"operation": {"do": "remove", "id": "x"}}',
        b'{"operation": {"do": "remove", "id": "x"}, "base": true, "token": "12345678"}',
        b'{"operation": {"do": "remove", "id": "x"}, "base": 1, "token": "short"}',
        b'{"operation": {"do": "remove", "id": "x"}, "base": 1, "token": "12345678", "seen": "all"}',
        b'{"operation": {"do": "remove", "id": "x"}, "base": 1, "token": "12345678", "undoes": "1"}',
        b'{"operation": ' + b'{"a":' * 60 + b"1" + b"}" * 60 + b', "base": 1, "token": "12345678"}',
        b'{"a": "' + b"x" * 2_100_000 + b'"}',
    ],
)  # fmt: skip
def test_what_is_no_operation_is_refused(body: bytes, world: World, client_of: Callable[..., Client]) -> None:
    before = text_of(world)
    address = reverse("operations", args=[world.larkspur.pk])
    answer = client_of(world.owner).post(address, body, content_type="application/json")
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["message"]
    assert text_of(world) == before


def test_what_a_person_may_take_back_survives_a_reload(world: World, send: Send) -> None:
    answer = send(HEIGHT).json()
    send(NAME, base=2, person=world.planner)
    world.larkspur.refresh_from_db()
    assert [each["revision"] for each in own_operations(world.larkspur, world.owner)] == [2]
    send(answer["back"], base=2, undoes=2)
    world.larkspur.refresh_from_db()
    assert own_operations(world.larkspur, world.owner) == []


def test_markup_in_a_name_stays_text(world: World, send: Send, client_of: Callable[..., Client]) -> None:
    evil = "</script><script>alert(1)</script><img src=x onerror=alert(1)>"
    assert send({"do": "change", "id": "row-west", "keys": {"name": evil}}).status_code == 200
    for name in ("draw", "who-sees-it"):
        page = client_of(world.owner).get(reverse(name, args=[world.larkspur.pk])).content.decode()
        assert "<script>alert" not in page
        assert "<img src=x" not in page
