"""Pictures for a paper, checked: drawings as SVG text, logos and photographs as PNG or JPEG."""

from __future__ import annotations

import base64
import io
import re
from typing import Final

from PIL import ImageFile, ImageOps
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile

from sightwash.basis.errors import InputError, Problem

LARGEST_BYTES: Final = 25_000_000
LARGEST_PIXELS: Final = 50_000_000
LONGEST_SIDE: Final = 1800
"""A larger picture is made smaller before it is set [px]."""
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_JPEG: Final = b"\xff\xd8\xff"
_BROKEN: Final = (OSError, SyntaxError, ValueError, EOFError)


def picture_svg(name: str, content: bytes) -> str:
    """Return a picture as SVG text that holds all of itself, or raise InputError.

    A photograph is turned upright, brought to a sensible size and loses what the camera wrote into it,
    the place where it was taken among it.
    """
    if len(content) > LARGEST_BYTES:
        size = f"{len(content) / 1e6:.0f} MB"
        raise refused(name, "picture-too-large", f"the picture holds {size}", f"at most {LARGEST_BYTES / 1e6:.0f} MB")
    if content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith((b"<svg", b"<?xml")):
        return _drawing(name, content)
    return _photograph(name, content)


def refused(name: str, code: str, message: str, expected: str) -> InputError:
    """Return the error for a picture that cannot be used."""
    return InputError(Problem(code, message, key=name, expected=expected, fix="choose another picture"))


def _drawing(name: str, content: bytes) -> str:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused(name, "broken-picture", "the drawing is not UTF-8 text", "an SVG drawing") from None
    if re.search(r"<!(DOCTYPE|ENTITY)|<script|href\s*=\s*[\"'](?!#|data:)", text, re.IGNORECASE):
        raise refused(name, "unsafe-picture", "the drawing reaches outside itself", "an SVG drawing that stands alone")
    return text


def _opened(content: bytes) -> ImageFile.ImageFile:
    """Return a PNG or JPEG with nothing read but its head; how many points it may have is asked afterwards."""
    if content.startswith(_PNG):
        return PngImageFile(io.BytesIO(content))
    if content.startswith(_JPEG):
        return JpegImageFile(io.BytesIO(content))
    raise ValueError("neither PNG nor JPEG")


def _photograph(name: str, content: bytes) -> str:
    try:
        with _opened(content) as opened:
            if opened.width * opened.height > LARGEST_PIXELS:
                message = f"the picture has {opened.width} x {opened.height} points"
                raise refused(name, "picture-too-large", message, f"at most {LARGEST_PIXELS / 1e6:.0f} million points")
            kind = str(opened.format)
            opened.load()
            upright = ImageOps.exif_transpose(opened)
    except _BROKEN:
        raise refused(name, "broken-picture", "the picture cannot be read", "a whole PNG or JPEG file") from None
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    packed = io.BytesIO()
    if kind == "JPEG":
        upright.convert("RGB").save(packed, "JPEG", quality=85)
    else:
        upright.convert("RGBA").save(packed, "PNG")
    width, height = upright.size
    coded = base64.b64encode(packed.getvalue()).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}">'
        f'<image width="{width}" height="{height}" href="data:image/{kind.lower()};base64,{coded}"/></svg>'
    )
