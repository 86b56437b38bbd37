"""The plan with its sightlines, held against distances worked out by hand from the demo site's own file.

Closed forms: straight lines at one scale. W3C, "Extensible Markup Language (XML) 1.0", 2008, 2.4 (published): names
are written as words, never as markup.
"""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest

from sightwash.papers.drawings.scale import PAGE
from sightwash.papers.drawings.sight_plan import sight_plan
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.model import Site
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
ALLOWED = {"svg", "g", "path", "rect", "circle", "text", "title", "desc", "defs", "pattern"}
FOOT = 0.3048
KINDS = ("site", "rig", "rates", "conditions")


@cache
def demo() -> tuple[Site, VisitPlan]:
    documents = [read_document(DEMO / f"{kind}.yaml", kind) for kind in KINDS]
    return documents[0], plan_visit(*documents, date(2026, 7, 11))


def planned(text: str) -> tuple[Site, VisitPlan]:
    site = document_from(parse(text, "site.yaml"), "site")
    rest = [read_document(DEMO / f"{kind}.yaml", kind) for kind in KINDS[1:]]
    return site, plan_visit(site, *rest, date(2026, 7, 11))


def rings(path: Element) -> list[list[tuple[float, float]]]:
    pieces = re.findall(r"M([^Z]*)Z", path.get("d", ""))
    return [[(float(x), float(y)) for x, y in (pair.split() for pair in piece.split("L"))] for piece in pieces]


def texts(root: Element) -> list[str]:
    return [each.text or "" for each in root.iter(f"{NAMESPACE}text")]


def plan_lines(root: Element, kind: str) -> list[tuple[Element, list[list[float]]]]:
    found = []
    for group in root.iter(f"{NAMESPACE}g"):
        if group.get("class") == kind:
            found += [(group, [[float(v) for v in pair.split()] for pair in path.get("d", "")[1:].split("L")])
                      for path in group.findall(f"{NAMESPACE}path")]  # fmt: skip
    return found


def test_sightlines_run_to_scale_from_the_eye_to_what_it_sees() -> None:
    """From the road square to the row both lines reach its ends: 80 ft to either side over 300 ft (closed form)."""
    root = ElementTree.fromstring(sight_plan(*demo()))
    points = float(root.get("data-points-per-metre", ""))
    lines = [
        line
        for group, line in plan_lines(root, "sightlines")
        if group.get("data-eye") == "larkspur-road" and group.get("data-wall") == "row-front"
    ]
    steps = sorted((b[0] - a[0], a[1] - b[1]) for a, b in lines)
    assert [value / points / FOOT for step in steps for value in step] == pytest.approx([-80, 300, 80, 300], abs=0.05)
    for group, line in plan_lines(root, "sightlines"):
        assert len(line) == 2
        assert group.get("data-wall") != "row-back", "an excluded wall"


def test_missed_strips_lie_along_their_walls_and_looks_say_how_far() -> None:
    site, plan = demo()
    root = ElementTree.fromstring(sight_plan(site, plan))
    points = float(root.get("data-points-per-metre", ""))
    for strip in plan.missed:
        path = next(each for each in root.iter(f"{NAMESPACE}path") if each.get("data-strip") == strip.id)
        corners = rings(path)[0]
        assert path.get("fill") == "url(#sight-missed)"
        assert max(x for x, _ in corners) - min(x for x, _ in corners) == pytest.approx(
            (strip.right - strip.left) * points, abs=0.01
        )
    words = texts(root)
    for standing in plan.standing:
        for look in standing.looks:
            assert any(line.endswith(f": {look.out / FOOT:.0f} ft") for line in words if line)


MARKUP = "<script>alert('x')</script> & \\\"co\\\""
ODD = f"""
kind: site
schema: 1
id: odd
name: "{MARKUP}"
walls:
  - {{id: front, name: "{MARKUP}", start: [0, 0], end: [80, 0], height: 14}}
  - {{id: unplaced, name: Nowhere, length: 25, height: 11}}
eyes:
  - {{id: road, name: "{MARKUP}", kind: road, path: [[-50, -80], [120, -80]], speed: 30 mph}}
"""
NOWHERE = """
kind: site
schema: 1
id: n
name: N
walls: [{id: w, length: 20, height: 10}]
eyes: [{id: e, kind: walk, path: [[5, 5]]}]
"""


def test_names_are_written_as_words_and_never_as_markup() -> None:
    svg = sight_plan(*planned(ODD))
    root = ElementTree.fromstring(svg)
    assert {each.tag.removeprefix(NAMESPACE) for each in root.iter()} <= ALLOWED
    assert any("<script>alert('x')</script>" in words for words in texts(root))
    assert "<script" not in svg


def test_the_sheet_fits_a_letter_page_and_is_the_same_every_time() -> None:
    svg = sight_plan(*demo())
    root = ElementTree.fromstring(svg)
    assert float(root.get("width", "").removesuffix("pt")) == PAGE[0]
    assert float(root.get("height", "").removesuffix("pt")) <= PAGE[1]
    assert "Larkspur Road, both lanes sees " in (root.findtext(f"{NAMESPACE}desc") or "")
    assert sight_plan(*demo()) == svg


def test_walls_without_a_place_are_not_drawn_and_the_sheet_says_what_to_do() -> None:
    assert "No wall has a place in the plan yet" in " ".join(
        texts(ElementTree.fromstring(sight_plan(*planned(NOWHERE))))
    )
