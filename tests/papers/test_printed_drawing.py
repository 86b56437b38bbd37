"""Drawings for the typesetter: words stay words, on plates; the papers are the same however many are made at once."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from sightwash.papers.drawings.canvas import Canvas, write
from sightwash.papers.job import new_job
from sightwash.papers.paper_list import papers
from sightwash.papers.plan_document import PlanDocument
from sightwash.papers.printed_drawing import FACE, printed

SVG = "{http://www.w3.org/2000/svg}"


def drawn(halo: bool = False, anchor: str = "start", turn: float = 0.0) -> str:
    canvas = Canvas(200.0, 100.0, "a wall", "what it shows")
    write(canvas.root, (100.0, 50.0), "lamps & signs <2>", 7.0, anchor, halo=halo, turn=turn)
    return canvas.text()


def test_a_halo_becomes_a_plate_behind_the_same_words() -> None:
    root = ET.fromstring(printed(drawn(halo=True, anchor="middle", turn=30.0)))
    plate, words = list(root)[-2:]
    assert (plate.tag, words.tag) == (f"{SVG}rect", f"{SVG}text")
    assert words.text == "lamps & signs <2>"
    assert words.get("stroke") is None
    assert plate.get("fill") == "#ffffff"
    assert plate.get("transform") == words.get("transform") == "rotate(30 100 50)"
    left, width = float(plate.attrib["x"]), float(plate.attrib["width"])
    assert abs(left + width / 2 - 100.0) < 1e-3
    assert 35.0 < width < 80.0  # 17 letters of 7 pt: between 0.3 and 0.65 of the size each


def test_plain_words_and_pictures_stay_and_the_face_is_that_of_the_papers() -> None:
    before, after = drawn(), printed(drawn())
    assert f'font-family="{FACE}"' in after
    assert after.count("<rect") == before.count("<rect")
    assert after.count("<text") == 1


def test_the_same_bytes_for_any_number_of_workers(night_document: PlanDocument) -> None:
    one, three = (papers(new_job(night_document), workers=count) for count in (1, 3))
    assert list(one) == list(three)
    assert one == three
