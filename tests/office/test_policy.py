"""What every answer says to the browser: Content Security Policy Level 3 (W3C, 2024), caching RFC 9111 [published]."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.http import HttpRequest, HttpResponse
from django.template import Context, Template
from django.test import Client, RequestFactory
from world import World

from sightwash.office.policy import content_policy, size_limit


def directives(answer: Any) -> dict[str, str]:
    """Return the policy of an answer by directive."""
    parts = (part.split(maxsplit=1) for part in answer.headers["Content-Security-Policy"].split(";"))
    return {part[0]: part[1] for part in parts}


def test_pages_load_our_own_files_only(world: World, client_of: Callable[..., Client]) -> None:
    for address in ("/", "/sign-in/", "/nothing/", "/face/regular.woff", "/static/office/office.css"):
        answer = client_of(world.owner).get(address)
        assert answer.getvalue() or answer.status_code == 302
        policy = directives(answer)
        assert policy["default-src"] == "'self'"
        assert policy["script-src"] == "'self'"
        assert policy["style-src"] == "'self'"
        assert policy["frame-ancestors"] == "'none'"


def test_page_of_a_firm_is_kept_by_nobody_between(world: World, client_of: Callable[..., Client]) -> None:
    for client in (client_of(world.owner), client_of()):
        assert client.get("/").headers["Cache-Control"] == "private, no-cache"


def test_inline_script_runs_with_the_pages_own_nonce_only() -> None:
    def shown(request: HttpRequest) -> HttpResponse:
        words = Template('<script nonce="{{ request.nonce }}"></script>{{ request.nonce }}')
        return HttpResponse(words.render(Context({"request": request})))

    answers = [content_policy(shown)(RequestFactory().get("/")) for _ in range(2)]
    nonces = [re.findall(r'nonce="([\w-]+)"></script>([\w-]+)', answer.content.decode())[0] for answer in answers]
    assert all(first == second and len(first) >= 20 for first, second in nonces)
    assert nonces[0] != nonces[1]
    for answer, (nonce, _) in zip(answers, nonces, strict=True):
        assert directives(answer)["script-src"] == f"'self' 'nonce-{nonce}'"


@pytest.mark.parametrize(
    ("size", "status"), [("26000000", 200), ("26000001", 413), ("-1", 413), ("many", 413), ("", 200)]
)
def test_size_is_asked_before_anything_is_read(size: str, status: int) -> None:
    request = RequestFactory().post("/", CONTENT_LENGTH=size)
    assert size_limit(lambda _request: HttpResponse())(request).status_code == status


def test_typeface_is_small_and_carries_another_name(client_of: Callable[..., Client]) -> None:
    """A web font begins with wOFF and says its own length (W3C, WOFF File Format 1.0, 2012, section 3) [published]."""
    for weight in ("regular", "semibold"):
        data = client_of().get(f"/face/{weight}.woff").content
        assert data[:4] == b"wOFF"
        assert int.from_bytes(data[8:12]) == len(data) < 30_000
    assert client_of().get("/face/bold.woff").status_code == 404
