"""Every page of the table (pages.py) in Chromium, on a phone with the dark sheet and on a desk with the light one: no
barrier that axe finds (WCAG 2.2 AA, W3C 2023) [independent program], nothing wider than the screen, targets as large as
a thumb needs (48 px, our own rule), no error on the console.

A page is what answers with a whole document; fragments and files are part of some page. All faults are told at once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import urlencode

import pytest
from browsing import faults_of_size, settled
from django.test import Client
from django.urls import reverse
from pages import ROWS
from questions_world import made_invoice, made_photograph, warm
from world import World

from sightwash.office.bridge.assumptions import Assumed, changed_inputs
from sightwash.office.bridge.planning import plan_now
from sightwash.office.models import Offer

PHONE_BY_NIGHT, DESK_BY_DAY = (360, True), (1280, False)


def pages_of_the_table(world: World, client: Client) -> Iterator[str]:
    """Yield the address of every page that the owner opens."""
    for row in ROWS:
        if row.method != "get" or row.json or row.good != 200 or (row.roles and "owner" not in row.roles):
            continue
        address = reverse(row.name, kwargs=row.where(world))
        address += f"?{urlencode(row.send(world))}" if row.send(world) else ""
        answer = client.get(address)
        assert answer.status_code in (200, 302), address  # who is signed in is sent on from the sign-in page
        is_text = not answer.streaming and answer.headers.get("Content-Type", "").startswith("text/html")
        if answer.status_code == 200 and is_text and b"<html" in answer.content[:200]:
            yield address


def other_forms(world: World) -> Iterator[str]:
    """Yield further addresses of pages that look different by what they are asked."""
    yield from (reverse("add-property", args=[way]) for way in ("footprint", "draw"))
    yield from (reverse("figures-of", args=[kind]) for kind in ("rig", "firm"))
    place = world.larkspur.pk
    yield f"{reverse('assumptions', args=[place])}?people=3"
    yield f"{reverse('who-reaches-it', args=[place])}?part=west-growth"
    yield f"{reverse('revisions', args=['rig'])}?revision=1"
    yield reverse("offer", args=[Offer.objects.get().pk])


@pytest.mark.parametrize(("width", "night"), [PHONE_BY_NIGHT, DESK_BY_DAY], ids=["phone", "desk"])
def test_every_page_of_the_table(
    width: int,
    night: bool,
    live_world: World,
    page_at: Callable[..., Any],
    client_of: Callable[..., Client],
    barriers: Callable[..., list[str]],
) -> None:
    warm(live_world)
    made_photograph(live_world)
    made_invoice(live_world)
    plan_now(changed_inputs(warm(live_world), Assumed(people="3")))
    of_table = pages_of_the_table(live_world, client_of(live_world.owner))
    found = list(dict.fromkeys((*of_table, *other_forms(live_world))))
    assert len(found) >= 30
    page, wrong = page_at(width, night=night), []
    for address in found:
        settled(page, address)
        wrong += [f"{address}: {words}" for words in (*faults_of_size(page), *barriers(page))]
    assert wrong == []


def test_what_is_folded_is_clean_too(
    live_world: World, page_at: Callable[..., Any], axe_clean: Callable[..., None]
) -> None:
    """The page with the most folded parts once more with all of them open."""
    warm(live_world)
    page = page_at(360)
    settled(page, reverse("what-does-it-cost", args=[live_world.larkspur.pk]))
    page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
    assert faults_of_size(page) == []
    axe_clean(page)
