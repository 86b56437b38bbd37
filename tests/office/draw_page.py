"""The draw page as a test uses it: open it, fill in the sentence, write it down, see what the office then holds."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.urls import reverse
from world import World

from sightwash.office.models import Property
from sightwash.site.site_file import document_from, document_text
from sightwash.site.tree import parse

PHONE, DESK = 360, 1280
FOOT = 0.3048
EMPTY = '{"kind": "site", "schema": 1, "id": "new", "name": "New place"}'

both_sizes = pytest.mark.parametrize("width", [PHONE, DESK])


def new_property(world: World, text: str = EMPTY) -> Property:
    site = document_text(document_from(parse(text, "new"), "site"))
    made: Property = Property.objects.create(firm=world.firm, name="New place", site=site)
    return made


def opened(page: Any, record: Property) -> Any:
    page.goto(reverse("draw", args=[record.pk]))
    page.wait_for_function("() => document.querySelector('[data-board=strip]').childElementCount > 0")
    return page


def tree_of(record: Property) -> Any:
    record.refresh_from_db()
    return json.loads(record.site)


def write(page: Any, **blanks: str) -> None:
    """Fill in blanks, write the sentence down, and wait until the office has it."""
    form = page.locator("[data-sentence]")
    before = page.locator("[data-status]").inner_text()
    for name, text in blanks.items():
        blank = form.locator(f"[name='{name}']")
        if blank.evaluate("node => node.tagName") == "SELECT":
            blank.select_option(text)
        else:
            blank.fill(text)
    form.locator("[data-write]:visible").last.click()
    page.wait_for_function("before => document.querySelector('[data-status]').textContent !== before", arg=before)


def ground(page: Any) -> Any:
    if page.locator(".which").is_visible():
        page.locator(".which [data-show=plan]").click()
    return page.locator("[data-board=plan]")


def walls(page: Any) -> Any:
    if page.locator(".which").is_visible():
        page.locator(".which [data-show=strip]").click()
    return page.locator("[data-board=strip]")
