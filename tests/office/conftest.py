"""Fixtures for tests of the office: a world of two firms, signed-in clients, and a browser.

``client_of(person)`` is a client that is signed in; ``page_at(width)`` a page of Chromium at that width, signed in as
the owner unless told otherwise, whose console errors fail the test; ``axe_clean(page)`` finds no barrier on it.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

import pytest
from django.conf import settings as office_settings
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from django.test import Client
from world import World, make_world

os.environ.setdefault("SIGHTWASH_SECRET", "a secret for tests only")

SWITCHES = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what drives the browser: it shows the same pages whatever the database, and is asked on one of them."""
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(autouse=True)
def quick_passwords(settings: Any) -> None:
    """Hash passwords in a moment: the real hasher is slow on purpose."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(autouse=True)
def no_search_for_files(request: pytest.FixtureRequest, settings: Any) -> None:
    """Let a client of Django's, which reads pages and no style sheets, begin without listing every static file."""
    settings.WHITENOISE_USE_FINDERS = "live_server" in request.fixturenames


@pytest.fixture(autouse=True)
def one_connection(request: pytest.FixtureRequest) -> Iterator[None]:
    """Leave a test's transaction open while a server in the same thread begins and ends its requests.

    Django's own test client does the same; a WSGI client of another maker does not.
    """
    if "live_server" in request.fixturenames:
        yield
        return
    ends = (request_started, request_finished)
    for end in ends:
        end.disconnect(close_old_connections)
    yield
    for end in ends:
        end.connect(close_old_connections)


@pytest.fixture
def world(db: None) -> World:
    """Two firms, their people, one firm's property."""
    del db
    return make_world()


@pytest.fixture
def client_of() -> Callable[..., Client]:
    """Return what makes a client signed in as a person, or one of nobody."""

    def made(person: Any = None, **options: Any) -> Client:
        client = Client(headers={"host": "localhost"}, **options)
        if person is not None:
            client.force_login(person, "django.contrib.auth.backends.ModelBackend")
        return client

    return made


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """Chromium as Debian has it. Playwright keeps a loop running in this thread: Django must not mind meanwhile."""
    from playwright.sync_api import sync_playwright

    program = shutil.which("chromium")
    if program is None:
        pytest.skip("chromium is not installed (apt install chromium)")
    before = os.environ.get("DJANGO_ALLOW_ASYNC_UNSAFE")
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=program, args=list(SWITCHES))
            yield browser
            browser.close()
    finally:
        if before is None:
            del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]
        else:
            os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = before


@pytest.fixture
def live_world(chromium: Any, transactional_db: None) -> World:
    """The world as a live server sees it."""
    del chromium, transactional_db
    return make_world()


def is_wrong(line: Any) -> bool:
    """Return whether a line of the console is an error; that a form or a change was refused (409, 422) is none."""
    refused = ("status of 409", "status of 422")
    return line.type in ("error", "warning") and not any(words in line.text for words in refused)


@pytest.fixture
def opened_at(
    chromium: Any, transactional_db: None, live_server: Any, client_of: Callable[..., Client]
) -> Iterator[Callable[..., Any]]:
    """Return what opens a page of a width, signed in as ``person``; ``night`` is the dark sheet."""
    del transactional_db
    contexts: list[Any] = []
    said: list[str] = []

    def opened(width: int, person: Any = None, night: bool = False, height: int = 900) -> Any:
        context = chromium.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": height},
            color_scheme="dark" if night else "light",
            has_touch=width < 800,
            reduced_motion="reduce",
        )
        contexts.append(context)
        if person is not None:
            name = office_settings.SESSION_COOKIE_NAME
            session = client_of(person).cookies[name].value
            context.add_cookies([{"name": name, "value": session, "url": live_server.url}])
        page = context.new_page()
        page.on("console", lambda line: said.append(f"{page.url}: {line.text}") if is_wrong(line) else None)
        page.on("pageerror", lambda error: said.append(f"{page.url}: {error}"))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert said == [], "the browser's console holds errors"


@pytest.fixture
def page_at(live_world: World, opened_at: Callable[..., Any]) -> Callable[..., Any]:
    """Return what opens a page of a width, signed in as the owner unless told otherwise; ``person=None`` is nobody."""
    return partial(opened_at, person=live_world.owner)


@pytest.fixture(scope="session")
def barriers() -> Callable[..., list[str]]:
    """Return what lists the barriers that axe finds on a page: WCAG 2.2 AA and best practice, or the named rules."""
    from axe_playwright_python.sync_playwright import Axe

    axe = Axe()
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]

    def found(page: Any, *rules: str) -> list[str]:
        only = {"type": "rule", "values": list(rules)} if rules else {"type": "tag", "values": tags}
        answer = axe.run(page, options={"runOnly": only, "resultTypes": ["violations"]})
        return [
            f"{each['id']}: {each['help']}: {each['nodes'][0]['target']} {each['nodes'][0]['html'][:200]}"
            for each in answer.response["violations"]
        ]

    return found


@pytest.fixture
def axe_clean(barriers: Callable[..., list[str]]) -> Callable[..., None]:
    """Return what fails a test when axe finds a barrier on a page."""

    def clean(page: Any, *rules: str) -> None:
        assert barriers(page, *rules) == [], page.url

    return clean
