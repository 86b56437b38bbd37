"""Pictures under the ground: decoded and written anew, refused clearly, put to scale.

Scale: two pixels 40 apart that are 40 ft apart make 0.3048 m a pixel (closed form; 1 ft = 0.3048 m).
"""

from __future__ import annotations

import io
import json
import struct
import zlib
from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image
from world import World

from sightwash.office.draw.pictures import LONGEST_SIDE, plan_picture


def picture(form: str = "PNG", size: tuple[int, int] = (60, 40), **options: Any) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, "navy").save(out, form, **options)
    return out.getvalue()


def huge_png() -> bytes:
    """Return a small file that says it holds 30,000 by 30,000 pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.fixture
def upload(world: World, client_of: Callable[..., Client]) -> Callable[..., Any]:
    def sent(data: bytes, name: str = "plan.png", kind: str = "image/png") -> Any:
        address = reverse("plan-picture", args=[world.larkspur.pk])
        return client_of(world.owner).post(address, {"picture": SimpleUploadedFile(name, data, kind)})

    return sent


@pytest.mark.parametrize("form", ["PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF"])
def test_a_picture_is_written_anew(form: str, world: World, upload: Callable[..., Any]) -> None:
    assert upload(picture(form)).status_code == 302
    kept = plan_picture(world.larkspur)
    assert kept is not None
    image = Image.open(io.BytesIO(bytes(kept.bytes)))
    assert (image.format, image.size, kept.media_type) == ("JPEG", (60, 40), "image/jpeg")


def test_what_a_photo_tells_of_its_taker_is_gone(world: World, upload: Callable[..., Any]) -> None:
    exif = Image.Exif()
    exif[0x010F] = "secret maker"
    exif[0x0112] = 6
    assert upload(picture("JPEG", exif=exif)).status_code == 302
    kept = plan_picture(world.larkspur)
    assert kept is not None
    assert b"secret" not in bytes(kept.bytes)
    assert (kept.width, kept.height) == (40, 60)


def test_a_large_picture_is_made_small(world: World, upload: Callable[..., Any]) -> None:
    assert upload(picture("JPEG", (5000, 1000))).status_code == 302
    kept = plan_picture(world.larkspur)
    assert kept is not None
    assert (kept.width, kept.height) == (LONGEST_SIDE, LONGEST_SIDE // 5)


@pytest.mark.parametrize(
    ("data", "name", "kind"),
    [
        (b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "a.svg", "image/svg+xml"),
        (b"<html><script>alert(1)</script></html>", "a.png", "image/png"),
        (b"", "empty.png", "image/png"),
        (b"GIF89a" + b"\x00" * 20, "a.gif", "image/gif"),
        (picture()[:-30], "cut.png", "image/png"),
        (b"%PDF-1.7", "a.pdf", "application/pdf"),
        (huge_png(), "huge.png", "image/png"),
    ],
    ids=["svg", "html", "empty", "gif", "cut", "pdf", "huge"],
)
def test_what_is_no_picture_is_refused(
    data: bytes, name: str, kind: str, world: World, upload: Callable[..., Any]
) -> None:
    answer = upload(data, name, kind)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.content.decode()
    assert plan_picture(world.larkspur) is None


def test_a_name_that_leaves_the_folder_is_nobodys_name(world: World, upload: Callable[..., Any]) -> None:
    assert upload(picture(), "../../../etc/passwd\x00.png").status_code == 302
    kept = plan_picture(world.larkspur)
    assert kept is not None
    assert b"passwd" not in bytes(kept.bytes)


def test_the_picture_is_served_as_itself(world: World, upload: Callable[..., Any], client_of: Any) -> None:
    upload(picture())
    answer = client_of(world.owner).get(reverse("plan-picture", args=[world.larkspur.pk]))
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Disposition"] == 'inline; filename="plan.jpg"'


def test_another_picture_takes_its_place(world: World, upload: Callable[..., Any]) -> None:
    upload(picture())
    upload(picture("JPEG", (80, 20)))
    assert [each.width for each in world.larkspur.pictures.all()] == [80]


def scale(world: World, client_of: Any, **more: Any) -> Any:
    body = {"first": [10, 30], "second": [50, 30], "length": "40 ft", "at": [3.048, 0.0], **more}
    address = reverse("plan-picture-scale", args=[world.larkspur.pk])
    return client_of(world.owner).post(address, json.dumps(body), content_type="application/json")


def test_two_points_and_a_length_put_it_to_scale(world: World, upload: Callable[..., Any], client_of: Any) -> None:
    upload(picture())
    kept = plan_picture(world.larkspur)
    assert kept is not None
    assert kept.place is None
    before = Image.open(io.BytesIO(bytes(kept.bytes))).tobytes()
    place = scale(world, client_of).json()["place"]
    assert place["scale"] == pytest.approx(0.3048)
    assert (place["left"], place["low"]) == pytest.approx((0.0, -10 * 0.3048))
    kept.refresh_from_db()
    assert kept.place == place
    assert Image.open(io.BytesIO(bytes(kept.bytes))).tobytes() == before


def test_a_new_scale_takes_the_place_of_the_old(world: World, upload: Callable[..., Any], client_of: Any) -> None:
    upload(picture())
    scale(world, client_of)
    scale(world, client_of, length="20 ft")
    kept = plan_picture(world.larkspur)
    assert kept is not None
    assert kept.place["scale"] == pytest.approx(0.1524)


@pytest.mark.parametrize(
    "more",
    [{"length": "40 lb"}, {"length": ""}, {"length": None}, {"second": [10, 30]}, {"first": "here"}, {"at": [0]},
     {"at": [1e9, 0]}, {"length": "1000000 ft"}],
)  # fmt: skip
def test_a_scale_that_is_none_is_refused(
    more: dict[str, Any], world: World, upload: Callable[..., Any], client_of: Any
) -> None:
    upload(picture())
    answer = scale(world, client_of, **more)
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["expected"]
