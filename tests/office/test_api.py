"""The API from outside: Schemathesis over its own schema (WSGI, bounded), and what each answer means.

Status codes are those of RFC 9110 (sections 15.3, 15.5) [published]; responses are held against the OpenAPI schema by
Schemathesis [independent program].
"""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from django.test import Client
from hypothesis import HealthCheck, settings
from questions_world import key_of, warm
from world import World

from sightwash.office.models import Property, SiteOperation
from sightwash.office.wsgi import application
from sightwash.papers.plan_document import planned_from, read_plan

TOKEN = "a-token-for-a-test"


def program(world: World, role: str = "planner", **options: Any) -> Client:
    """Return a client that sends a key and no session."""
    key_of(world.person(role), TOKEN)
    return Client(headers={"host": "localhost", "authorization": f"Bearer {TOKEN}"}, **options)


def send(client: Client, path: str, tree: Any) -> Any:
    return client.post(f"/api/{path}", json.dumps(tree), content_type="application/json")


def change(base: int, keys: dict[str, Any], element: str | None = "row-east") -> dict[str, Any]:
    operation = {"do": "change", "keys": keys, **({"id": element} if element else {})}
    return {"base": base, "token": uuid.uuid4().hex, "operation": operation}


@pytest.mark.django_db
def test_answers_conform_to_the_schema(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    """Random asks of every kind: no fault of the server, and every answer as the schema says."""
    from sightwash.office.api import routes

    monkeypatch.setattr(routes, "LONGEST_WAIT", 0.01)
    key_of(world.planner, TOKEN)
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", application)
    asked: list[int] = []
    checks = [
        schemathesis.checks.not_a_server_error,
        schemathesis.checks.status_code_conformance,
        schemathesis.checks.content_type_conformance,
        schemathesis.checks.response_schema_conformance,
    ]
    quiet = (HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.function_scoped_fixture)
    for result in schema.get_all_operations():
        operation = result.ok()

        @settings(max_examples=12, deadline=None, database=None, derandomize=True, suppress_health_check=quiet)
        @schemathesis_given(operation)
        def ask(case: Any) -> None:
            if "number" in case.path_parameters and len(asked) % 2:
                case.path_parameters["number"] = world.larkspur.pk
            headers = {"Authorization": f"Bearer {TOKEN}", "Accept-Encoding": "identity"}
            asked.append(case.call_and_validate(headers=headers, checks=checks).status_code)

        ask()
    assert len(asked) > 50
    assert {200, 404, 422} <= set(asked)


def schemathesis_given(operation: Any) -> Callable[[Any], Any]:
    """Return what runs a test with made-up asks of an operation."""
    from hypothesis import given

    return given(case=operation.as_strategy())


def test_anonymous_write_is_401_and_never_sent_elsewhere(world: World) -> None:
    for client in (
        Client(headers={"host": "localhost"}),
        Client(enforce_csrf_checks=True, headers={"host": "localhost"}),
    ):
        for path in (f"properties/{world.larkspur.pk}/operations", f"properties/{world.larkspur.pk}/plan"):
            answer = send(client, path, change(1, {"height": "18 ft"}))
            assert answer.status_code == 401
            assert "Location" not in answer.headers
            assert answer.json()["errors"][0]["code"] == "not-signed-in"
    wrong = Client(headers={"host": "localhost", "authorization": "Bearer nonsense"})
    assert wrong.get("/api/properties").status_code == 401


def test_key_acts_for_its_person_until_it_is_ended(world: World) -> None:
    client = program(world)
    assert [each["name"] for each in client.get("/api/properties").json()["properties"]] == [world.larkspur.name]
    key = key_of(world.planner, TOKEN)
    assert key.used is not None
    assert TOKEN not in key.token_hash
    key.delete()
    assert client.get("/api/properties").status_code == 401


def test_key_of_another_firm_sees_nothing(world: World) -> None:
    key_of(world.stranger_owner, TOKEN)
    client = Client(headers={"host": "localhost", "authorization": f"Bearer {TOKEN}"})
    assert client.get("/api/properties").json()["properties"] == []
    assert client.get(f"/api/properties/{world.larkspur.pk}/site").status_code == 404
    assert send(client, f"properties/{world.larkspur.pk}/plan", {"on": "2026-07-11"}).status_code == 404


def test_crew_reads_and_does_not_change_or_price(world: World) -> None:
    client = program(world, "crew")
    path = f"properties/{world.larkspur.pk}"
    assert client.get(f"/api/{path}/site").status_code == 200
    assert send(client, f"{path}/operations", change(1, {"height": "18 ft"})).status_code == 403
    assert send(client, f"{path}/plan", {"on": "2026-07-11"}).status_code == 403


def test_operation_is_done_once_for_its_token(world: World) -> None:
    client, path = program(world), f"properties/{world.larkspur.pk}/operations"
    sent = change(1, {"height": "19 ft"})
    first, again = send(client, path, sent), send(client, path, sent)
    assert first.status_code == again.status_code == 200
    assert first.json() == again.json()
    assert SiteOperation.objects.count() == 1
    site = client.get(f"/api/properties/{world.larkspur.pk}/site").json()
    assert site["revision"] == 2
    assert next(wall for wall in site["site"]["walls"] if wall["id"] == "row-east")["height"] == "19 ft"
    assert first.json()["back"]["do"] == "change"


def test_conflict_shows_both_sides_and_changes_nothing(world: World) -> None:
    path = f"properties/{world.larkspur.pk}/operations"
    assert send(program(world), path, change(1, {"height": "19 ft"})).status_code == 200
    before = Property.objects.get(pk=world.larkspur.pk).site
    answer = send(program(world), path, change(1, {"height": "17 ft"}))
    assert answer.status_code == 409
    clash = answer.json()["clashes"][0]
    assert (clash["id"], clash["key"]) == ("row-east", "height")
    assert (clash["yours"]["value"], clash["theirs"]["value"]) == ("17 ft", "19 ft")
    assert Property.objects.get(pk=world.larkspur.pk).site == before
    assert send(program(world), path, change(1, {"name": "East"}, "row-west")).status_code == 200


@pytest.mark.parametrize(
    ("tree", "code"),
    [
        (change(1, {"height": "-3 ft"}), "out-of-range"),
        (change(1, {"hieght": "3 ft"}), "unknown-key"),
        ({"base": 1, "token": "12345678", "operation": {"do": "fly"}}, "unknown-operation"),
        ({"base": 99, "token": "12345678", "operation": {"do": "change", "keys": {"name": "x"}}}, "unknown-revision"),
    ],
    ids=["range", "key", "operation", "revision"],
)
def test_wrong_operation_is_refused_with_key_expected_and_fix(tree: Any, code: str, world: World) -> None:
    answer = send(program(world), f"properties/{world.larkspur.pk}/operations", tree)
    assert answer.status_code == 422
    problem = answer.json()["errors"][0]
    assert problem["code"] == code
    assert problem["expected"]
    assert Property.objects.get(pk=world.larkspur.pk).revision == 1


def test_plan_reads_back_as_a_plan(world: World, tmp_path: Path) -> None:
    """What the API gives is the plan document of the command line: the core's own reader takes it."""
    inputs = warm(world)
    sent = {"on": world.visit.on.isoformat(), "conditions": json.loads(inputs.conditions)}
    answer = send(program(world), f"properties/{world.larkspur.pk}/plan", sent)
    assert answer.status_code == 200
    file = tmp_path / "plan.json"
    file.write_bytes(answer.content)
    document = read_plan(file)
    assert document.plan.on == world.visit.on
    assert planned_from(document).site.id == json.loads(world.larkspur.site)["id"]


@pytest.mark.parametrize(
    "sent",
    [{"on": "2026-13-01"}, {"on": "2026-07-11", "conditions": {"kind": "rig"}}, {"on": "2026-07-11", "wind": 3}, []],
    ids=["day", "kind", "key", "list"],
)
def test_wrong_plan_is_refused(sent: Any, world: World) -> None:
    answer = send(program(world), f"properties/{world.larkspur.pk}/plan", sent)
    assert answer.status_code == 422
    assert answer.json()["errors"]


def test_body_that_is_too_large_is_refused(world: World) -> None:
    answer = send(program(world), f"properties/{world.larkspur.pk}/operations", change(1, {"note": "a" * 6_100_000}))
    assert answer.status_code in (400, 413, 422)
    assert b"Traceback" not in answer.content


def test_schema_stands_open_and_asks_nothing_of_the_net(client_of: Callable[..., Client], world: World) -> None:
    tree = client_of().get("/api/openapi.json").json()
    posts = [node["post"] for node in tree["paths"].values() if "post" in node]
    assert all({"401", "403", "404", "422"} <= set(post["responses"]) for post in posts)
    assert client_of(world.owner).get("/api/docs").status_code == 404
    for name in ("site", "rig", "plan", "error"):
        assert "properties" in json.dumps(client_of(world.owner).get(f"/api/schema/{name}").json())
