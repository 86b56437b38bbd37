"""Is it done? Ticks, misses, readings and photographs, each checked against the plan."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image
from questions_world import warm
from world import World

from sightwash.office.bridge.planning import plan_now
from sightwash.office.models import Picture
from sightwash.office.questions.models import EyePicture, WorkRecord


def send(client: Client, world: World, what: str, **sent: Any) -> Any:
    warm(world)
    return client.post(reverse("record", args=[world.visit.pk, what]), sent)


def page(client: Client, world: World) -> str:
    return client.get(reverse("is-it-done", args=[world.larkspur.pk])).content.decode()


def written(world: World) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(WorkRecord.objects.get(visit=world.visit).text)
    return found


def test_crew_ticks_parts(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.crew)
    sent = {"revision": "0", "how:row-front": "as planned", "how:row-east": "not done", "note:row-east": "<i>wire</i>"}
    assert send(client, world, "parts", **sent).status_code == 302
    assert written(world)["parts"] == [
        {"part": "row-front", "how": "as planned"},
        {"part": "row-east", "how": "not done", "note": "<i>wire</i>"},
    ]
    assert written(world)["crew"] == [world.crew.name]
    shown = page(client, world)
    assert "✓" in shown[shown.index("<svg") : shown.index("</svg>")]
    assert "<i>wire</i>" not in shown
    assert "was not done" in shown


def test_two_people_ticking_see_a_refusal_and_no_loss(world: World, client_of: Callable[..., Client]) -> None:
    send(client_of(world.crew), world, "parts", revision="0", **{"how:row-front": "as planned"})
    answer = send(client_of(world.planner), world, "parts", revision="0", **{"how:row-east": "as planned"})
    assert answer.status_code == 409
    assert "somebody else changed" in answer.content.decode().lower()
    assert [each["part"] for each in written(world)["parts"]] == ["row-front"]


def test_miss_is_closed_by_its_id(world: World, client_of: Callable[..., Client]) -> None:
    strip = plan_now(warm(world)).missed[0].id
    client = client_of(world.crew)
    sent = {"miss": strip, "looked_by": "Mx C", "stood": "the road"}
    send(client, world, "miss", **sent)
    assert "0 of" in page(client, world).split("looked at again")[1][:120]
    send(client, world, "miss", **sent, clean_now="on")
    assert "1 of" in page(client, world).split("looked at again")[1][:120]
    assert [each["clean"] for each in written(world)["misses"]] == [True]
    answer = send(client, world, "miss", miss="no-such-strip", looked_by="Mx C", stood="x", clean_now="on")
    assert answer.status_code == 422
    assert len(written(world)["misses"]) == 1


def test_reading_above_its_limit_asks_for_a_decision(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.crew)
    send(client, world, "reading", where="east drain", free_chlorine="0.4", method="strip", limit="0.1")
    assert "Above the limit" in page(client, world)
    assert send(client, world, "reading", where="x", free_chlorine="-1", method="strip").status_code == 422


def test_words_are_refused_with_what_is_expected(world: World, client_of: Callable[..., Client]) -> None:
    answer = send(client_of(world.crew), world, "words", water="much")
    assert answer.status_code == 422
    assert "expected" in answer.content.decode().lower()
    assert not WorkRecord.objects.exists()


def photo(name: str = "a.jpg", tail: bytes = b"", **options: Any) -> SimpleUploadedFile:
    out = io.BytesIO()
    image = Image.new("RGB", (80, 60), "white")
    exif = image.getexif()
    exif[0x010E] = "a place that nobody else should know"
    image.save(out, "JPEG", exif=exif, **options)
    return SimpleUploadedFile(name, out.getvalue() + tail, "image/jpeg")


def test_photograph_is_drawn_anew(world: World, client_of: Callable[..., Client]) -> None:
    tail = b"<script>alert(1)</script>"
    client = client_of(world.crew)
    sent = {"eye": "larkspur-road", "when": "before", "photograph": photo("../../x.html", tail)}
    assert send(client, world, "photograph", **sent).status_code == 302
    kept = EyePicture.objects.get()
    data = bytes(kept.picture.bytes)
    assert tail not in data
    assert b"nobody else should know" not in data
    with Image.open(io.BytesIO(data)) as image:
        assert image.format == "JPEG"
        assert image.size == (80, 60)
        assert dict(image.getexif()) == {}
    answer = client.get(reverse("photograph", args=[kept.pk]))
    assert answer.content == data
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert ".." not in answer.headers["Content-Disposition"]


@pytest.mark.parametrize(
    "content",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"GIF89a",
        b"\xff\xd8\xff",
        b"MZ" * 99,
    ],
    ids=["svg", "cut gif", "cut jpeg", "program"],
)
def test_what_is_no_photograph_is_refused(content: bytes, world: World, client_of: Callable[..., Client]) -> None:
    file = SimpleUploadedFile("a.jpg", content, "image/jpeg")
    answer = send(client_of(world.crew), world, "photograph", eye="larkspur-road", when="after", photograph=file)
    assert answer.status_code == 422
    assert not Picture.objects.exists()


def test_photograph_from_an_eye_that_is_not_there_is_refused(world: World, client_of: Callable[..., Client]) -> None:
    answer = send(client_of(world.crew), world, "photograph", eye="nowhere", when="after", photograph=photo())
    assert answer.status_code == 422
    assert not Picture.objects.exists()
