"""The typesetter: data as plain text, tagged PDF, same bytes again, letters that no face has, pictures.

The PDF is read by ``pypdf`` (independent program). What a PDF/UA-1 file must carry: ISO 14289-1:2014, 7.1 (tagged,
title shown) and 5 (its identifier), 7.2 (language), 7.3 (alternative text of figures); published.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Callable
from typing import Any

import pypdf
import pytest

from sightwash.basis.errors import InputError
from sightwash.papers import typesetter
from sightwash.papers.typesetter import NotDrawn, typeset

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90pt" height="30pt" viewBox="0 0 90 30" font-family="Arial">'
    "<title>A wall</title><desc>Seen from the road.</desc><rect width='9' height='9'/>"
    "<text x='12' y='20' font-size='9'>{}</text></svg>"
)
BODY = b"""
#show: footed.with(data.title)
= #data.title
#pairs((("Name", data.name),))
#for name in pictures.keys() { picture(name) }
"""


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> Callable[..., bytes]:
    """Return a typesetter of a small template of the test's own."""
    base = typesetter._source("base")
    monkeypatch.setattr(typesetter, "_source", lambda name: base if name == "base" else BODY)

    def make(name: str = "Row", pictures: dict[str, bytes] | None = None, paper: Any = "letter", **more: Any) -> bytes:
        return typeset(
            "own", {"title": "A paper", "language": "en", "words": {}, "name": name, **more}, pictures or {}, paper
        )

    return make


def structure(pdf: bytes) -> list[dict[str, Any]]:
    """Return every element of the structure tree."""
    found: list[dict[str, Any]] = []

    def walk(node: Any) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for child in node:
                walk(child)
        elif isinstance(node, dict):
            if "/S" in node:
                found.append(node)
            walk(node.get("/K"))

    walk(pypdf.PdfReader(io.BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"])
    return found


def test_the_file_is_tagged_and_says_what_it_is(compiled: Callable[..., bytes]) -> None:
    pdf = compiled(pictures={"wall": SVG.format("x").encode()})
    root: Any = pypdf.PdfReader(io.BytesIO(pdf)).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/Lang"] == "en"
    assert b"pdfuaid" in root["/Metadata"].get_object().get_data()
    kinds = [node["/S"] for node in structure(pdf)]
    assert "/H1" in kinds
    figures = [node for node in structure(pdf) if node["/S"] == "/Figure"]
    assert [str(node["/Alt"]) for node in figures] == ["A wall. Seen from the road."]


def test_same_data_same_bytes_and_no_time(compiled: Callable[..., bytes]) -> None:
    first, second = compiled("Row"), compiled("Row")
    assert first == second
    assert first != compiled("Wall")
    information = pypdf.PdfReader(io.BytesIO(first)).metadata
    assert information is not None
    assert information.title == "A paper"
    assert information.creation_date is None or information.creation_date.year == 1970


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_paper_sizes(compiled: Callable[..., bytes], paper: str, size: tuple[int, int]) -> None:
    """Letter is 8.5 x 11 in (ANSI/ASME Y14.1), A4 210 x 297 mm (ISO 216); published."""
    box = pypdf.PdfReader(io.BytesIO(compiled(paper=paper))).pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == size


MARKUP = "*bold* _x_ #panic(1) <b>&amp;</b> $x$ = [a] @ref `raw` // no /* no */ \\ \\u{41} ~ -- ... https://a.example"


def test_markup_of_a_user_is_plain_text(compiled: Callable[..., bytes], holds: Callable[[bytes, str], bool]) -> None:
    assert holds(compiled(MARKUP), MARKUP)


@pytest.mark.parametrize("name", ["בית הקפה", "مطعم النخيل", "Кафе Ландыш", "Ψωμί", "Łódź Ñandú Ærø"])
def test_names_in_other_scripts_are_drawn(compiled: Callable[..., bytes], name: str) -> None:
    """No warning, and every letter is in the page's text, in whatever order a reader takes them."""
    with warnings.catch_warnings():
        warnings.simplefilter("error", NotDrawn)
        pdf = compiled(name)
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    assert set(name) <= set(text)


def test_letters_that_no_face_has_are_said_never_boxes(
    compiled: Callable[..., bytes], holds: Callable[[bytes, str], bool]
) -> None:
    with pytest.warns(NotDrawn, match=r"\[U\+1F600\] \[U\+5E97\]"):
        pdf = compiled("店 Shop 😀", {"wall": SVG.format("店").encode()})
    assert holds(pdf, "[U+5E97] Shop [U+1F600]")
    with pytest.warns(NotDrawn):
        assert compiled("店 Shop 😀", {"wall": SVG.format("店").encode()}) == pdf


def test_what_is_no_letter_is_left_out(compiled: Callable[..., bytes], holds: Callable[[bytes, str], bool]) -> None:
    assert holds(compiled("a\x00b\ufeffc\ud800d\x9f"), "abcd")


@pytest.mark.parametrize(
    ("svg", "code"),
    [
        ("<svg", "broken-picture"),
        ("<svg xmlns='http://www.w3.org/2000/svg'><rect></svg>", "broken-picture"),
        ("<?xml version='1.0'?><!DOCTYPE svg [<!ENTITY a 'b'>]><svg/>", "unsafe-picture"),
        ("<svg xmlns='http://www.w3.org/2000/svg'><image href='file:///etc/hostname'/></svg>", "unsafe-picture"),
        ("<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>", "unsafe-picture"),
    ],
)
def test_broken_drawings_are_refused(compiled: Callable[..., bytes], svg: str, code: str) -> None:
    with pytest.raises(InputError) as caught:
        compiled(pictures={"wall": svg.encode()})
    assert caught.value.problems[0].code == code


def test_a_defect_of_a_template_is_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(typesetter, "_source", lambda _name: b"#nothing-like-it")
    with pytest.raises(RuntimeError, match="does not compile"):
        typeset("own", {}, {})
