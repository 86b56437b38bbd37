"""The list, what needs attention, and the ways to add a property. Areas are closed forms: length times height."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone
from world import DEMO, World

from sightwash.basis.errors import InputError
from sightwash.office.bridge.documents import site_of
from sightwash.office.bridge.planning import inputs_of, plan_now
from sightwash.office.bridge.starting import LARGEST_FILE, MOST_WALLS, typed_walls
from sightwash.office.models import AuditLine, Property, Visit
from sightwash.office.properties.attention import matters

FOOTPRINT = DEMO.parent / "smallest" / "footprint.geojson"
FOOT = 0.3048
"""Metres in a foot, exactly (NIST SP 811, 2008, appendix B.8) [published]."""


def added(client: Client, way: str, **sent: object) -> Property:
    """Return the property that a form makes."""
    answer = client.post(f"/properties/add/{way}/", {"name": "Damson Court", "units": "us", **sent})
    assert answer.status_code == 302, answer.content.decode()
    return Property.objects.latest("pk")


def refused(client: Client, way: str, **sent: object) -> str:
    """Return the page of a form that was refused."""
    before = Property.objects.count()
    answer = client.post(f"/properties/add/{way}/", {"name": "Damson Court", "units": "us", **sent})
    assert answer.status_code == 422
    assert Property.objects.count() == before
    return answer.content.decode()


def test_typed_walls_become_the_strip_and_a_price_at_once(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.planner)
    record = added(client, "walls", walls="Front 120 ft x 14 ft\n60 x 14 ft 6 in\nDock: 18 m by 4 m", walk="8 ft")
    walls = site_of(record).walls
    assert [wall.name for wall in walls] == ["Front", "Wall 2", "Dock"]
    assert [float(wall.length or 0) for wall in walls] == pytest.approx([120 * FOOT, 60 * FOOT, 18.0])
    assert [float(wall.height or 0) for wall in walls] == pytest.approx([14 * FOOT, 14.5 * FOOT, 4.0])
    plan = plan_now(inputs_of(record, timezone.localdate()))
    assert plan.walls[0].gross == pytest.approx(120 * 14 * FOOT**2)
    page = client.get(f"/properties/{record.pk}/").content.decode()
    assert "<svg" in page
    assert f"{plan.price.price:,.0f} USD" in page
    assert AuditLine.objects.of(world.firm).filter(what="added a property", on="Damson Court").exists()


def test_crew_sees_the_strip_and_no_price(world: World, client_of: Callable[..., Client]) -> None:
    plan = plan_now(inputs_of(world.larkspur, world.visit.on, world.visit.conditions))
    shown = {
        role: client_of(world.person(role)).get(f"/properties/{world.larkspur.pk}/").content.decode()
        for role in ("owner", "crew")
    }
    assert all("<svg" in page for page in shown.values())
    price = f"{plan.price.price:,.0f} USD"
    assert (price in shown["owner"], price in shown["crew"]) == (True, False)


@pytest.mark.parametrize(
    ("walls", "words"),
    [
        ("Front", "is no wall"),
        ("Front 120 ft x", "is no wall"),
        ("Front 120 quarts x 14 ft", "Front, length"),
        ("Front 120 ft x 900 ft", "Front, height"),
        ("Front 0 x 14", "Front, length"),
        ("\n".join(["10 x 10"] * (MOST_WALLS + 1)), "at most 60"),
    ],
)
def test_wrong_wall_is_named_beside_the_field(
    world: World, client_of: Callable[..., Client], walls: str, words: str
) -> None:
    page = refused(client_of(world.owner), "walls", walls=walls)
    assert "id_walls_error" in page
    assert words in page
    assert walls.split("\n")[0] in page


def test_wrong_walk_stands_beside_the_walk(world: World, client_of: Callable[..., Client]) -> None:
    page = refused(client_of(world.owner), "walls", walls="120 x 14", walk="wide")
    assert "id_walk_error" in page
    assert "id_walls_error" not in page


def test_names_with_markup_are_shown_as_text(world: World, client_of: Callable[..., Client]) -> None:
    name = '<script>alert(1)</script> & "Sons"'
    client = client_of(world.owner)
    record = added(client, "walls", name=name, walls="<b>Front</b>: 40 ft x 12 ft")
    plan_now(inputs_of(record, timezone.localdate()))
    for address in ("/", f"/properties/{record.pk}/", f"/properties/{record.pk}/folder/", "/trail/"):
        page = client.get(address).content.decode()
        assert "<script>alert" not in page
        assert "<b>Front" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in client.get("/").content.decode()


@pytest.mark.parametrize("walls", [typed_walls("Front 120 ft x 14 ft, Side"), typed_walls("a" * 3 + " 1 x 2")])
def test_odd_texts_are_read_or_refused_and_never_crash(walls: object) -> None:
    assert walls


def test_empty_text_is_no_wall() -> None:
    assert typed_walls(" \n ; ") == ()
    with pytest.raises(InputError, match="is no wall"):
        typed_walls("x" * 5000)


def test_drawing_begins_with_a_name_alone(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.owner)
    record = added(client, "draw", address="4 Damson Lane")
    assert site_of(record).walls == ()
    page = client.get(f"/properties/{record.pk}/").content.decode()
    assert "Nothing to plan yet" in page


def file(data: bytes, name: str = "damson.geojson") -> SimpleUploadedFile:
    """Return an uploaded file."""
    return SimpleUploadedFile(name, data, content_type="text/html")


def test_footprint_file_gives_the_walls(world: World, client_of: Callable[..., Client]) -> None:
    data = FOOTPRINT.read_bytes()
    rings = json.loads(data)["geometry"]["coordinates"]
    record = added(client_of(world.owner), "footprint", file=file(data))
    assert len(site_of(record).walls) == len(rings[0]) - 1


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"\xff\xfe\x00", "UTF-8"),
        (b"<svg onload='x'/>", "GeoJSON"),
        (b'{"type": "FeatureCollection", "features": []}', "building"),
        (b'{"a":' * 60 + b"1" + b"}" * 60, "levels"),
        (b"{" + b" " * LARGEST_FILE, "too large"),
    ],
    ids=["empty", "not text", "not json", "no building", "too deep", "too large"],
)
def test_wrong_file_is_refused_beside_the_field(
    world: World, client_of: Callable[..., Client], data: bytes, words: str
) -> None:
    page = refused(client_of(world.owner), "footprint", file=file(data))
    assert "id_file_error" in page
    assert words in page


def test_huge_upload_is_refused_before_it_is_read(world: World, client_of: Callable[..., Client]) -> None:
    """413 is RFC 9110, section 15.5.14 [published]."""
    answer = client_of(world.owner).post("/properties/add/footprint/", {"name": "x"}, CONTENT_LENGTH="99000000")
    assert answer.status_code == 413
    assert answer.headers["Content-Security-Policy"]


@pytest.mark.parametrize("name", ["../../etc/passwd", "..\\..\\boot.ini", "<img src=x>.geojson", "a\r\nb.json"])
def test_file_name_leads_nowhere(world: World, client_of: Callable[..., Client], name: str, tmp_path: Path) -> None:
    record = added(client_of(world.owner), "footprint", file=file(FOOTPRINT.read_bytes(), name))
    for part in ("..", "<img", "/etc", "\r"):
        assert part not in record.site
    assert list(tmp_path.iterdir()) == []


def test_search_finds_every_word_in_name_or_address(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.crew)
    for asked, found in (
        ("larkspur", True),
        ("CORNER 1200", True),
        ("larkspur damson", False),
        ("%", False),
        ("\0x", False),
    ):
        page = client.get("/", {"q": asked}).content.decode()
        assert (f"/properties/{world.larkspur.pk}/" in page) is found, asked
    part = client.get("/", {"q": "larkspur"}, headers={"hx-request": "true"}).content.decode()
    assert "<html" not in part
    assert "Larkspur" in part


def test_list_turns_pages(world: World, client_of: Callable[..., Client]) -> None:
    Property.objects.bulk_create(
        Property(firm=world.firm, name=f"Unit {n:03d}", site=world.larkspur.site) for n in range(120)
    )
    client = client_of(world.owner)
    assert "1 of 3" in client.get("/").content.decode()
    assert "Unit 119" in client.get("/", {"page": "3"}).content.decode()
    assert client.get("/", {"page": "nonsense"}).status_code == 200


def test_empty_list_teaches_what_to_do_first(world: World, client_of: Callable[..., Client]) -> None:
    page = client_of(world.stranger_owner).get("/").content.decode()
    assert "No property yet" in page
    assert "/properties/add/walls/" in page
    assert "/properties/add/walls/" not in client_of(world.stranger_crew).get("/").content.decode()


TODAY = date(2026, 7, 20)


@pytest.mark.parametrize(
    ("state", "days", "words"),
    [
        (Visit.State.OFFERED, -10, "Offer for 10 July 2026 is not answered"),
        (Visit.State.STOPPED, -2, "Stopped by weather on 18 July 2026: set a new day"),
        (Visit.State.DONE, -30, "Done on 20 June 2026, not paid for 30 days"),
        (Visit.State.DONE, 0, "Done on 20 July 2026, not paid"),
        (Visit.State.PAID, -30, None),
        (Visit.State.PLANNED, 3, None),
    ],
)
def test_what_needs_attention_is_said_in_words(world: World, state: str, days: int, words: str | None) -> None:
    Visit.objects.of(world.firm).update(state=state, on=TODAY + timedelta(days))
    assert [matter.words for matter in matters(world.firm, TODAY)] == ([words] if words else [])
    assert matters(world.other_firm, TODAY) == []


@pytest.mark.parametrize(
    ("days", "words"),
    [(-1, "Due since 19 July 2026"), (0, "Due today"), (14, "Due on 3 August 2026"), (15, None), (None, None)],
)
def test_due_is_said_from_two_weeks_before(world: World, days: int | None, words: str | None) -> None:
    due = None if days is None else TODAY + timedelta(days)
    Property.objects.of(world.firm).update(next_due=due)
    assert [matter.words for matter in matters(world.firm, TODAY)] == ([words] if words else [])
    Property.objects.of(world.firm).update(archived=True)
    assert matters(world.firm, TODAY) == []


def test_folder_is_changed_and_put_away(world: World, client_of: Callable[..., Client]) -> None:
    client = client_of(world.planner)
    address = f"/properties/{world.larkspur.pk}/folder/"
    assert client.post(address, {"name": ""}).status_code == 422
    client.post(address, {"name": "Larkspur", "next_due": "2026-08-01", "archived": "on"})
    record = Property.objects.of(world.firm).get(pk=world.larkspur.pk)
    assert (record.name, record.next_due, record.archived) == ("Larkspur", date(2026, 8, 1), True)
    assert record.site == world.larkspur.site
    assert f"/properties/{record.pk}/" not in client.get("/").content.decode()
    assert f"/properties/{record.pk}/" in client.get("/", {"away": "1"}).content.decode()
