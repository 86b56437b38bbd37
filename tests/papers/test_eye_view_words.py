"""The words of the view from an eye: names as they are, units of the site, and what is said where nothing is seen.

W3C, "Extensible Markup Language (XML) 1.0", 2008, 2.4 (published): a name is character data, never markup.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.eye_view import eye_view
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.model import Site
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
ALLOWED = {"svg", "g", "path", "rect", "circle", "text", "title", "desc", "defs", "pattern"}
KINDS = ("rig", "rates", "conditions")


def planned(text: str) -> tuple[Site, VisitPlan]:
    site = document_from(parse(text, "site.yaml"), "site")
    rest = [read_document(DEMO / f"{kind}.yaml", kind) for kind in KINDS]
    return site, plan_visit(site, *rest, date(2026, 7, 11))


def texts(root: Element) -> list[str]:
    return [each.text or "" for each in root.iter(f"{NAMESPACE}text")]


def head(root: Element) -> list[str]:
    return texts(next(each for each in root.iter() if each.get("class") == "head"))


MARKUP = "<script>alert('x')</script> & \\\"co\\\""
HEBREW = "\u05d7\u05d6\u05d9\u05ea"
ODD = f"""
kind: site
schema: 1
id: odd
name: "{MARKUP}"
buildings:
  - {{id: b, name: "{HEBREW}", outline: [[0,0],[80,0],[80,40],[0,40]], height: 14}}
walls:
  - id: front
    name: "{MARKUP} {HEBREW}"
    building: b
    start: [0, 0]
    end: [80, 0]
    height: 14
    doors: [{{id: d, left: 9, width: 3, height: 7, tenant: "<i>x</i>"}}]
    projections: [{{id: can, kind: canopy, left: 20, width: 30, bottom: 9, height: 1, depth: 5}}]
  - {{id: unplaced, name: Nowhere, length: 25, height: 11}}
eyes:
  - {{id: road, name: "{MARKUP}", kind: road, path: [[-50, -80], [120, -80]], speed: 30 mph}}
  - {{id: behind, name: Behind, kind: walk, path: [[40, 90]]}}
"""


def test_names_are_written_as_words_and_never_as_markup() -> None:
    site, plan = planned(ODD)
    svg = eye_view(site, plan, "road")
    root = ElementTree.fromstring(svg)
    assert {each.tag.removeprefix(NAMESPACE) for each in root.iter()} <= ALLOWED
    assert any("<script>alert('x')</script>" in words for words in texts(root))
    assert "<script" not in svg
    title = head(root)[0]
    assert title.startswith("What is seen from <script>")


def test_an_eye_that_sees_no_wall_gets_a_picture_that_says_so() -> None:
    site, plan = planned(ODD.replace("[[40, 90]]", "[[40, 40.5]]"))
    root = ElementTree.fromstring(eye_view(site, plan, "behind"))
    assert any("No wall with a place in the plan is seen" in words for words in texts(root))
    nowhere = "kind: site\nschema: 1\nid: n\nname: N\nwalls: [{id: w, length: 20, height: 10}]\n"
    nowhere += "eyes: [{id: e, kind: walk, path: [[5, 5]]}]\n"
    assert any(
        "No wall with a place" in words for words in texts(ElementTree.fromstring(eye_view(*planned(nowhere), "e")))
    )


def test_a_metric_site_is_drawn_in_metres() -> None:
    site, plan = planned(ODD.replace('name: "<', 'units: metric\nname: "<', 1))
    words = head(ElementTree.fromstring(eye_view(site, plan, "road")))
    assert words[0].endswith("80 m away")
    assert any(" cm from one eye" in line for line in words)
