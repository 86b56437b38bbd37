"""Keys for programs, the firm's texts, old revisions."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable

from django.test import Client
from django.urls import reverse
from world import World

from sightwash.office.models import FirmDocument
from sightwash.office.questions.models import DocumentRevision, Key


def test_key_is_shown_once_and_kept_as_a_hash(world: World, client_of: Callable[..., Client]) -> None:
    """SHA-256 of the key, worked out here with hashlib (FIPS 180-4) [independent program]."""
    client = client_of(world.planner)
    page = client.post(reverse("keys"), {"name": "<b>books</b>"}).content.decode()
    token = re.search(r"<code>([\w-]{43})</code>", page)
    assert token is not None
    assert Key.objects.get().token_hash == hashlib.sha256(token[1].encode()).hexdigest()
    again = client.get(reverse("keys")).content.decode()
    assert token[1] not in again
    assert "<b>books" not in again
    used = Client(headers={"host": "localhost", "authorization": f"Bearer {token[1]}"})
    assert used.get("/api/properties").status_code == 200


def test_key_of_a_colleague_is_not_ended_by_a_planner(world: World, client_of: Callable[..., Client]) -> None:
    key = Key.objects.create(person=world.owner, name="x", token_hash="0" * 64)
    assert client_of(world.planner).post(reverse("key-end", args=[key.pk])).status_code == 404
    assert client_of(world.owner).post(reverse("key-end", args=[key.pk])).status_code == 302


def test_wrong_texts_are_refused_with_their_line(world: World, client_of: Callable[..., Client]) -> None:
    sent = {"text": "a note\n\n## scopes\nOurs.\n", "revision": "0"}
    answer = client_of(world.owner).post(reverse("texts"), sent)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Line 3" in page
    assert "## scope" in page
    assert not FirmDocument.objects.filter(firm=world.firm, kind="texts").exists()


def test_texts_of_two_owners_do_not_run_over_each_other(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.owner)
    assert client.post(reverse("texts"), {"text": "## scope\nFirst.\n", "revision": "0"}).status_code == 302
    second = client.post(reverse("texts"), {"text": "## scope\nSecond.\n", "revision": "0"})
    assert second.status_code == 409
    assert "Second." in second.content.decode()
    assert "First." in FirmDocument.objects.get(firm=world.firm, kind="texts").text
    assert client.post(reverse("texts"), {"text": "## scope\nThird.\n", "revision": "1"}).status_code == 302
    kept = DocumentRevision.objects.filter(firm=world.firm, kind="texts")
    assert sorted(each.revision for each in kept) == [1, 2]
    old = client.get(reverse("revisions", args=["texts"]), {"revision": "1"}).content.decode()
    assert "First." in old
