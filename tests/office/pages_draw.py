"""The pages of the draw part; see pages.py for how to add one."""

from __future__ import annotations

import io
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from row import EVERYONE, PLANNERS, Row
from world import World

from sightwash.office.draw.pictures import Drawn, keep_plan_picture, plan_picture


def small_jpeg() -> bytes:
    """Return a picture of one colour."""
    out = io.BytesIO()
    Image.new("RGB", (60, 40), "white").save(out, "JPEG")
    return out.getvalue()


def of_larkspur(world: World) -> dict[str, Any]:
    """Return the arguments of an address of the example property."""
    return {"pk": world.larkspur.pk}


def with_picture(world: World) -> dict[str, Any]:
    """Return the same, once a picture lies under its ground."""
    if plan_picture(world.larkspur) is None:
        keep_plan_picture(world.larkspur, Drawn(small_jpeg(), 60, 40))
    return of_larkspur(world)


def operation(_world: World) -> dict[str, Any]:
    """Return a change to send."""
    change = {"do": "change", "id": "row-east", "keys": {"height": "19 ft 6 in"}}
    return {"operation": change, "base": 1, "token": "a token of this test", "undoes": None}


def upload(_world: World) -> dict[str, Any]:
    """Return a picture to send."""
    return {"picture": SimpleUploadedFile("plan.jpg", small_jpeg(), "image/jpeg")}


def scale(_world: World) -> dict[str, Any]:
    """Return two points of the picture and the length between them."""
    return {"first": [10, 20], "second": [50, 20], "length": "40 ft", "at": [0, 0]}


DRAW: list[Row] = [
    Row("draw", roles=PLANNERS, where=of_larkspur),
    Row("sheet-data", roles=EVERYONE, where=of_larkspur, json=True),
    Row("operations", "post", roles=PLANNERS, where=of_larkspur, send=operation, json=True),
    Row("plan-picture", roles=PLANNERS, where=with_picture),
    Row("plan-picture", "post", roles=PLANNERS, where=of_larkspur, send=upload, good=302),
    Row("plan-picture-scale", "post", roles=PLANNERS, where=with_picture, send=scale, json=True),
    Row("who-sees-it", roles=EVERYONE, where=of_larkspur),
    Row(
        "look-frame", roles=EVERYONE, where=of_larkspur, send=lambda _w: {"x": "10", "y": "-60", "z": "1.6"}, json=True
    ),
    Row("look-missed", roles=EVERYONE, where=of_larkspur, json=True),
]
