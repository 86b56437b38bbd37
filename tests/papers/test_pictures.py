"""Pictures: what is broken, too large or of another kind is refused; photographs lose what the camera wrote into them.

The pictures are made, and read again, by Pillow (independent program).
"""

from __future__ import annotations

import base64
import io
import re
import zlib

import pytest
from PIL import Image

from sightwash.basis.errors import InputError
from sightwash.papers import pictures
from sightwash.papers.pictures import LONGEST_SIDE, picture_svg


def photograph(kind: str, size: tuple[int, int] = (40, 20), mode: str = "RGB", exif: bytes = b"") -> bytes:
    made = io.BytesIO()
    image = Image.new(mode, size, 128)
    if exif:
        image.save(made, kind, exif=exif)
    else:
        image.save(made, kind)
    return made.getvalue()


def inside(svg: str) -> Image.Image:
    """Return the picture that an SVG text holds."""
    coded = re.search(r"base64,([^\"]+)", svg)
    assert coded is not None
    return Image.open(io.BytesIO(base64.b64decode(coded[1])))


@pytest.mark.parametrize(
    ("kind", "mode"),
    [("PNG", "RGB"), ("PNG", "RGBA"), ("PNG", "P"), ("PNG", "1"), ("JPEG", "RGB"), ("JPEG", "CMYK"), ("JPEG", "L")],
)
def test_kinds_that_are_taken(kind: str, mode: str) -> None:
    svg = picture_svg("logo", photograph(kind, mode=mode))
    assert inside(svg).format == kind
    assert 'viewBox="0 0 40 20"' in svg


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF", "WEBP"])
def test_other_kinds_are_refused(kind: str) -> None:
    with pytest.raises(InputError) as caught:
        picture_svg("logo", photograph(kind))
    assert caught.value.problems[0].code == "broken-picture"


@pytest.mark.parametrize("share", [0.2, 0.5, 0.9])
@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_picture_cut_short_is_refused(kind: str, share: float) -> None:
    whole = io.BytesIO()
    Image.effect_noise((300, 200), 60).convert("RGB").save(whole, kind)
    content = whole.getvalue()
    with pytest.raises(InputError) as caught:
        picture_svg("photo", content[: int(len(content) * share)])
    assert caught.value.problems[0].code == "broken-picture"
    assert caught.value.problems[0].key == "photo"


def test_too_many_bytes_and_too_many_points(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pictures, "LARGEST_PIXELS", 799)
    with pytest.raises(InputError) as caught:
        picture_svg("logo", photograph("PNG"))
    assert caught.value.problems[0].code == "picture-too-large"
    monkeypatch.setattr(pictures, "LARGEST_BYTES", 10)
    with pytest.raises(InputError) as caught:
        picture_svg("logo", photograph("PNG"))
    assert caught.value.problems[0].code == "picture-too-large"


def test_a_picture_that_unpacks_to_a_giant_is_refused_unread() -> None:
    """A PNG of a few hundred bytes can claim 50,000 x 50,000 points; its head alone says so."""
    head = bytearray(photograph("PNG"))
    head[16:24] = (50_000).to_bytes(4, "big") * 2
    with pytest.raises(InputError):
        picture_svg("logo", bytes(head))


def test_a_large_photograph_is_made_smaller_and_stands_upright_without_its_place() -> None:
    """Orientation 6 of the EXIF tag 0x0112 means turned by 90 degrees (CIPA DC-008-2019, 4.6.4 A); published."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[1] = "N"
    svg = picture_svg("photo", photograph("JPEG", (4000, 2000), exif=exif.tobytes()))
    image = inside(svg)
    assert image.size == (LONGEST_SIDE // 2, LONGEST_SIDE)
    assert not image.getexif()


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
@pytest.mark.parametrize("points", [(10_000, 10_000), (16_000, 16_000)])
def test_pictures_at_which_pillow_only_warns_are_refused_in_our_words(kind: str, points: tuple[int, int]) -> None:
    """Pillow warns above 89,478,485 points and stops above twice that (its MAX_IMAGE_PIXELS); warnings are errors here.

    Where the size stands: PNG, ISO/IEC 15948:2004, 11.2.2 (IHDR); JPEG, ITU-T T.81, B.2.2 (SOF0); published.
    """
    head = bytearray(photograph(kind))
    width, height = points
    if kind == "PNG":
        head[16:24] = width.to_bytes(4, "big") + height.to_bytes(4, "big")
        head[29:33] = zlib.crc32(head[12:29]).to_bytes(4, "big")
    else:
        frame = head.index(b"\xff\xc0")
        head[frame + 5 : frame + 9] = height.to_bytes(2, "big") + width.to_bytes(2, "big")
    with pytest.raises(InputError) as caught:
        picture_svg("photo", bytes(head))
    assert caught.value.problems[0].code == "picture-too-large"
    assert f"{width} x {height}" in caught.value.problems[0].message
