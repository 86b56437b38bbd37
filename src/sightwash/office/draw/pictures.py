"""Pictures to draw over: read, made small, written again, and put to scale by two points and a length.

Nothing of an uploaded file is kept but its pixels: it is decoded, turned upright, and encoded anew as JPEG.
"""

from __future__ import annotations

import io
import math
import warnings
from dataclasses import dataclass
from typing import Any, Final

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from PIL import Image, ImageOps, UnidentifiedImageError

from sightwash.basis.errors import InputError
from sightwash.basis.units import LENGTH, parse_quantity
from sightwash.office.models import Picture, Property
from sightwash.site.operations import refused

FORMATS: Final = ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
LARGEST_FILE: Final = 12_000_000
MOST_PIXELS: Final = 60_000_000
LONGEST_SIDE: Final = 2400
QUALITY: Final = 80


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture as we wrote it: JPEG bytes and size in pixels."""

    data: bytes
    width: int
    height: int


def drawn_again(file: UploadedFile[bytes]) -> Drawn:
    """Return an uploaded picture decoded and encoded anew; InputError if it is none, or too large."""
    if (file.size or 0) > LARGEST_FILE:
        most = f"at most {LARGEST_FILE // 1_000_000} MB"
        raise refused("too-large", "the file is too large", most, "send a smaller picture", "picture")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(file, formats=FORMATS)
            if image.width * image.height > MOST_PIXELS:
                raise refused("too-large", "the picture has too many pixels", "at most 60 million", None, "picture")
            upright = ImageOps.exif_transpose(image).convert("RGBA")
    except (UnidentifiedImageError, Image.DecompressionBombError, Image.DecompressionBombWarning, OSError, ValueError,
            SyntaxError, EOFError):  # fmt: skip
        expected = "a photo or picture: JPEG, PNG, WebP, GIF, BMP or TIFF"
        raise refused(
            "not-a-picture", "this is no picture we can read", expected, "save it as JPEG", "picture"
        ) from None
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    paper = Image.new("RGB", upright.size, "white")
    paper.paste(upright, mask=upright.getchannel("A"))
    out = io.BytesIO()
    paper.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return Drawn(out.getvalue(), *paper.size)


def keep_plan_picture(record: Property, drawn: Drawn) -> Picture:
    """Keep a picture as the one that a property is drawn over, in place of the one before it."""
    kind = Picture.Kind.PLAN
    with transaction.atomic():
        record.pictures.filter(kind=kind).delete()
        made: Picture = Picture.objects.create(
            firm=record.firm, property=record, bytes=drawn.data, width=drawn.width, height=drawn.height, kind=kind
        )
        return made


def plan_picture(record: Property) -> Picture | None:
    """Return the picture that a property is drawn over."""
    found: Picture | None = record.pictures.filter(kind=Picture.Kind.PLAN).order_by("-pk").first()
    return found


def place_from(picture: Picture, tree: Any, system: str) -> dict[str, Any]:
    """Return the place of a picture from two of its pixels, the typed length between them, and where the first lies."""
    first, second, at = (_pair(tree, key) for key in ("first", "second", "at"))
    if not isinstance(tree.get("length"), (str, int, float)) or isinstance(tree.get("length"), bool):
        raise refused("not-a-quantity", "the length between the two points is missing", "a length", None, "length")
    try:
        length = float(parse_quantity(tree["length"], LENGTH, system))
    except InputError as error:
        problem = error.problems[0]
        raise refused(problem.code, problem.message, problem.expected or "", problem.fix, "length") from None
    pixels = math.dist(first, second)
    if pixels < 2.0 or not 0.1 <= length <= 20_000.0:
        raise refused("out-of-range", "the two points and the length give no scale", "two points well apart",
                      "choose points farther apart", "length")  # fmt: skip
    scale = length / pixels
    left, low = at[0] - scale * first[0], at[1] - scale * (picture.height - first[1])
    return {"left": left, "low": low, "scale": scale, "width": picture.width, "height": picture.height}


def _pair(tree: Any, key: str) -> tuple[float, float]:
    value = tree.get(key) if isinstance(tree, dict) else None
    if not isinstance(value, list) or len(value) != 2 or not all(_is_number(part) for part in value):
        raise refused("not-a-point", f"{key} is no point", "two numbers", None, key)
    return float(value[0]), float(value[1])


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value) and abs(value) < 1e6
