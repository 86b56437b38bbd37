"""The same questions to every page: it works, nobody in particular is refused, the wrong role is refused, another
firm's records do not exist, a write without the page's token is refused. The table is ``pages.py``.

The rules are our own (issue of the office); the status codes are those of RFC 9110 (sections 15.4.3, 15.5.2, 15.5.4,
15.5.5) [published].
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, resolve, reverse
from pages import ROWS
from row import EVERYONE, Row
from world import SECRETS, World

WRITES = ("post", "put", "patch", "delete")

every_row = pytest.mark.parametrize("row", ROWS, ids=str)
guarded_row = pytest.mark.parametrize("row", [row for row in ROWS if row.roles], ids=str)


def ask(client: Client, row: Row, world: World, **extra: Any) -> Any:
    """Ask for a row's page."""
    address = reverse(row.name, kwargs=row.where(world))
    sent = row.send(world)
    if row.json:
        extra.setdefault("headers", {"accept": "application/json"})
        if row.method in WRITES:
            return client.generic(row.method.upper(), address, _json(sent), content_type="application/json", **extra)
    return getattr(client, row.method)(address, sent, **extra)


def _json(sent: Any) -> str:
    return sent if isinstance(sent, str) else json.dumps(sent)


@pytest.mark.parametrize("row", [row for row in ROWS if row.method in WRITES or not row.roles], ids=str)
def test_page_works_for_those_it_is_for(row: Row, world: World, client_of: Callable[..., Client]) -> None:
    """Writes with the first of their roles, pages for anybody with nobody; what is only read is asked below."""
    for role in row.roles[:1] or (None,):
        person = world.person(role) if role else None
        answer = ask(client_of(person), row, world)
        assert answer.status_code == row.good, answer.content[:2000]


@guarded_row
def test_page_works_for_every_role_it_names(row: Row, world: World, client_of: Callable[..., Client]) -> None:
    """A write may use up what it writes on: each role's answer is only asked not to be a refusal."""
    for role in row.roles:
        status = ask(client_of(world.person(role)), row, world).status_code
        assert status == row.good if row.method == "get" else status not in (401, 403, 405), role


@guarded_row
def test_nobody_is_refused(row: Row, world: World, client_of: Callable[..., Client]) -> None:
    answer = ask(client_of(), row, world)
    if row.json:
        assert answer.status_code == 401
        assert "Location" not in answer.headers
        assert answer.json()
    else:
        assert answer.status_code == 302
        assert urlsplit(answer.headers["Location"]).path == reverse("sign-in")
        as_program = ask(client_of(), row, world, headers={"accept": "application/json"})
        assert as_program.status_code == 401
        assert "Location" not in as_program.headers


@guarded_row
def test_wrong_role_is_refused(row: Row, world: World, client_of: Callable[..., Client]) -> None:
    for role in set(EVERYONE) - set(row.roles):
        answer = ask(client_of(world.person(role)), row, world)
        assert answer.status_code == 403, role


@guarded_row
def test_records_of_another_firm_are_hidden(row: Row, world: World, client_of: Callable[..., Client]) -> None:
    for role in row.roles:
        answer = ask(client_of(world.person(role, stranger=True)), row, world)
        if row.where(world) and row.own_records:
            assert answer.status_code == 404, role
        shown = answer.content.decode("utf-8", "replace") if not answer.streaming else ""
        assert not [word for word in SECRETS if word in shown], role


@pytest.mark.parametrize("row", [row for row in ROWS if row.method in WRITES], ids=str)
def test_write_without_the_token_is_refused(row: Row, world: World, client_of: Callable[..., Client]) -> None:
    person = world.person(row.roles[0]) if row.roles else None
    assert ask(client_of(person, enforce_csrf_checks=True), row, world).status_code == 403
    if row.json:
        nobody = ask(client_of(enforce_csrf_checks=True), row, world)
        assert nobody.status_code == 401
        assert "Location" not in nobody.headers


def named_patterns(patterns: Any, space: str = "") -> Iterator[tuple[str, URLPattern]]:
    """Yield every address of the office with its whole name."""
    for each in patterns:
        if isinstance(each, URLResolver):
            inner = f"{space}{each.namespace}:" if each.namespace else space
            yield from named_patterns(each.url_patterns, inner)
        else:
            yield f"{space}{each.name}", each


def test_every_address_is_in_the_table() -> None:
    names = [name for name, _ in named_patterns(get_resolver().url_patterns)]
    assert sorted(set(names) - {row.name for row in ROWS}) == []
    assert sorted({row.name for row in ROWS} - set(names)) == []


def test_an_address_without_a_row_is_found() -> None:
    """The walk over the addresses sees what is added: it finds each of the house by name."""
    names = {name for name, _ in named_patterns(get_resolver().url_patterns)}
    assert {"sign-in", "properties", "property"} <= names
    assert "None" not in names


@every_row
def test_write_that_the_table_does_not_name_is_not_taken(
    row: Row, world: World, client_of: Callable[..., Client]
) -> None:
    taken = {each.method for each in ROWS if each.name == row.name}
    client = client_of(world.owner)
    for method in set(WRITES) - taken:
        if method == "post" or "post" not in taken:
            answer = getattr(client, method)(reverse(row.name, kwargs=row.where(world)))
            assert answer.status_code == 405, method


@every_row
def test_roles_in_the_table_are_those_of_the_view(row: Row, world: World) -> None:
    """A view of the API has no ``roles_of``: what it answers is asked above."""
    view = resolve(reverse(row.name, kwargs=row.where(world))).func
    roles_of = getattr(view, "roles_of", None)
    assert roles_of is None or sorted(roles_of.get(row.method, ())) == sorted(row.roles)
    assert roles_of is not None or reverse(row.name, kwargs=row.where(world)).startswith("/api/")
