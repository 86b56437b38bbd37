"""The completion record: what the record says, held against the plan's ids; photographs checked and stripped.

Text and pictures are read back by pypdf and Pillow (independent programs). What the camera wrote is Exif 2.32 (CIPA
DC-008, published); GPS position is its tag 34853.
"""

from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pypdf
import pytest
from PIL import Image

from sightwash.basis.errors import InputError
from sightwash.book.done_record import DoneRecord, PlannedIds, done_from, open_misses
from sightwash.papers.completion_record import completion_record, planned_ids
from sightwash.papers.job import Job, new_job
from sightwash.papers.plan_document import plan_document
from sightwash.planning.visit import plan_visit
from sightwash.site.site_file import document_from
from sightwash.site.tree import parse

GPS = 34853
CANOPY = {"id": "canopy", "kind": "canopy", "left": 0, "width": 60, "bottom": 10, "height": "6 in", "depth": 6}
SITE = {
    "id": "place", "name": "Place", "crew_eye": {"standoff": 12},
    "walls": [
        {"id": "front", "name": "The front", "start": [0, 0], "end": [60, 0], "height": 18, "projections": [CANOPY]}
    ],
    "eyes": [{"id": "road", "name": "The road", "kind": "road", "path": [[-100, -250], [160, -250]]}],
}  # fmt: skip
OTHERS: dict[str, dict[str, Any]] = {
    "rig": {"id": "rig", "name": "Rig", "machine": {"flow": "5.5 gal/min", "pressure": "3500 psi"}},
    "rates": {"id": "rates", "name": "Rates", "labour": {"wage": "24.00"}},
    "conditions": {"id": "night"},
}
DONE: dict[str, Any] = {
    "kind": "done", "schema": 1, "site": "place", "on": "2026-07-12", "crew": ["R. Abara"],
    "start": "20:00", "end": "04:45",
    "parts": [{"part": "front", "how": "otherwise", "note": "by brush"}],
    "misses": [{"miss": "front-missed-1", "looked_by": "T. Novak", "stood": "the road", "clean": "true",
                "at": "07:10"}],
    "water": "2210 gal", "mix": "88 gal", "bleach": "7.5 gal", "water_went": "to the clean-out",
    "chlorine": [
        {"where": "inlet", "free_chlorine": 0.05, "method": "test strip", "limit": 0.1, "at": "04:20"},
        {"where": "clean-out", "free_chlorine": 2, "method": "test kit", "limit": 1},
    ],
    "photographs": [
        {"eye": "road", "when": "before", "file": "a.jpg", "on": "2026-07-11"},
        {"eye": "road", "when": "after", "file": "b.jpg", "on": "2026-07-12", "note": "by daylight"},
    ],
}  # fmt: skip


@cache
def job() -> Job:
    trees = {"site": SITE, **OTHERS}
    found = [document_from(parse(json.dumps({"kind": k, "schema": 1, **tree}), k), k) for k, tree in trees.items()]
    plan = plan_visit(*found, date(2026, 7, 11))  # type: ignore[arg-type]
    return new_job(plan_document(plan, *found))


def record(**more: Any) -> DoneRecord:
    return done_from(parse(json.dumps({**DONE, **more}), "done.json"), planned_ids(job()))


def photograph(width: int = 1200, height: int = 900, place: bool = False) -> bytes:
    picture = Image.effect_noise((width, height), 60).convert("RGB")
    exif = Image.Exif()
    if place:
        exif[GPS] = {1: "N", 2: (38.0, 42.0, 36.0), 3: "W", 4: (91.0, 26.0, 24.0)}
        exif[0x010F] = "Camera maker"
    held = io.BytesIO()
    picture.save(held, "JPEG", exif=exif, quality=60)
    return held.getvalue()


PHOTOGRAPHS = {"a.jpg": photograph(place=True), "b.jpg": photograph()}


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


def test_the_record_says_what_was_done_beside_what_was_planned() -> None:
    text = text_of(completion_record(job(), record(), PHOTOGRAPHS))
    for words in (
        "The front otherwise by brush",
        "front-missed-1: The front, over canopy T. Novak, 07:10 the road clean",
        "Water 2,210 gal",
        "Mix 88 gal",
        "inlet 04:20 0.05 mg/L test strip 0.1 mg/L within",
        "clean-out 2 mg/L test kit 1 mg/L above it",
        "before, Saturday, July 11, 2026",
        "after, Sunday, July 12, 2026, by daylight",
    ):
        assert "".join(words.split()) in "".join(text.split()), words
    assert "Still open" not in text


def test_a_miss_that_nobody_saw_clean_stays_open() -> None:
    planned = planned_ids(job())
    assert planned.misses == ("front-missed-1",)
    dirty = [{**DONE["misses"][0], "clean": "false"}]
    for misses in ([], dirty):
        done = record(misses=misses)
        assert open_misses(done, planned) == ("front-missed-1",)
        assert "Still open" in text_of(completion_record(job(), done, PHOTOGRAPHS))
    assert open_misses(record(), planned) == ()


@pytest.mark.parametrize(
    ("more", "code", "key"),
    [
        ({"site": "other"}, "wrong-site", "site"),
        ({"misses": [{**DONE["misses"][0], "miss": "front-missed-9"}]}, "unknown-id", "misses[0].miss"),
        ({"misses": [DONE["misses"][0]] * 2}, "doubled-id", "misses[1]"),
        ({"parts": [{"part": "back", "how": "as planned"}]}, "unknown-id", "parts[0].part"),
        ({"photographs": [{**DONE["photographs"][0], "eye": "roof"}]}, "unknown-id", "photographs[0].eye"),
        ({"parts": [{"part": "front", "how": "well"}]}, "unknown-word", "parts[0].how"),
        ({"colour": "red"}, "unknown-key", "colour"),
        ({"kind": "site"}, "wrong-kind", None),
    ],
)
def test_what_the_plan_does_not_know_is_refused_with_its_place(
    more: dict[str, Any], code: str, key: str | None
) -> None:
    with pytest.raises(InputError) as caught:
        record(**more)
    problem = caught.value.problems[0]
    assert (problem.code, problem.key, problem.file) == (code, key, "done.json")
    assert problem.line == 1


def test_photographs_lose_the_place_where_they_were_taken_and_are_made_smaller() -> None:
    """Exif of the picture that went in holds the position; in those of the paper there is no Exif at all."""
    large = {"a.jpg": photograph(3600, 1800, place=True), "b.jpg": photograph()}
    with Image.open(io.BytesIO(large["a.jpg"])) as before:
        assert before.getexif().get_ifd(GPS)
    pdf = completion_record(job(), record(), large)
    found = [image.image for page in pypdf.PdfReader(io.BytesIO(pdf)).pages for image in page.images]
    pictures = [picture for picture in found if picture is not None]
    assert len(pictures) == 2
    assert all(not picture.getexif() and max(picture.size) <= 1800 for picture in pictures)
    assert b"Camera maker" not in pdf


@pytest.mark.parametrize("broken", [b"", b"not a picture", photograph()[:400], b"GIF89a" + b"\0" * 40])
def test_a_broken_photograph_is_refused(broken: bytes) -> None:
    with pytest.raises(InputError) as caught:
        completion_record(job(), record(), {**PHOTOGRAPHS, "a.jpg": broken})
    assert caught.value.problems[0].code == "broken-picture"


def test_a_photograph_of_too_many_bytes_or_points_is_refused() -> None:
    held = io.BytesIO()
    Image.new("1", (8_000, 8_000)).save(held, "PNG")
    for content in (b"\xff\xd8" + bytes(26_000_000), held.getvalue()):
        with pytest.raises(InputError) as caught:
            completion_record(job(), record(), {**PHOTOGRAPHS, "a.jpg": content})
        assert caught.value.problems[0].code == "picture-too-large"


def test_an_empty_record_and_a_hard_one_can_be_set() -> None:
    bare = {key: DONE[key] for key in ("kind", "schema", "site", "on")} | {"crew": []}
    done = done_from(parse(json.dumps(bare), "done.json"), planned_ids(job()))
    assert "Still open" in text_of(completion_record(job(), done, {}))
    hard = record(crew=["#strong[x] <b>", "שלום"], damage=["*pane* $cracked$"], note="line one\nline two")
    text = text_of(completion_record(replace(job(), language="es", paper="a4"), hard, PHOTOGRAPHS))
    assert "#strong[x] <b>" in text
    assert "*pane* $cracked$" in text
    assert "Registro de terminación" in text


def test_a_plan_without_misses_says_so() -> None:
    planned = PlannedIds("place", ("front",), (), ("road",))
    done = done_from(parse(json.dumps({**DONE, "misses": []}), "done.json"), planned)
    assert open_misses(done, planned) == ()
