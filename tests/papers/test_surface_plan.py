"""The plan of one surface: lengths, places and bearings on paper against the site, by similar figures and by compass.

Closed form: a drawing to scale multiplies every length by the same factor; a bearing on paper is the angle from the
sheet's upward direction plus the bearing of that direction, which the north arrow shows. Nothing here is read from the
drawing code but the drawing.
"""

from __future__ import annotations

import json
import math
import re
from datetime import date
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest

from sightwash.basis.errors import InputError
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
YARD: dict[str, Any] = {
    "kind": "site", "schema": 1, "id": "mill", "name": "Mill yard", "units": "metric", "place": {"north": 20},
    "buildings": [{"id": "hall", "outline": [[0, 0], [26, 15], [21, 23.66], [-5, 8.66]], "height": 6}],
    "walls": [
        {
            "id": "hall-front", "building": "hall", "start": [0, 0], "end": [26, 15], "height": 6,
            "doors": [
                {"id": "main", "left": 8, "width": 1.8, "height": 2.1, "threshold": "12 mm", "tenant": "Kitchen"},
                {"id": "side", "left": 20, "width": 0.95, "height": 2.1, "threshold": "12 mm", "swing": "out"},
            ],
        }
    ],
    "surfaces": [
        {
            "id": "yard", "outline": [[0, 0], [26, 15], [30, 8], [34, -4], [24, -9], [16, -6], [8, -10], [1, -7]],
            "material": "pavers", "fall": {"slope": "1.5 %", "toward": 170},
        }
    ],
    "posts": [{"id": "b1", "at": [4, -4], "size": 0.25}, {"id": "seat", "at": [22, 2], "size": 1.6, "round": False}],
    "gum": [{"id": "g", "surface": "yard", "count": 40, "at": [[8.4, 3.6], [24, 4]]}],
    "drains": [{"id": "gully", "at": [20, -5.5], "leads_to": "storm"}],
    "keep_outs": [{"id": "lid", "outline": [[9, -8], [11, -7.5], [10.6, -6], [8.8, -6.4]], "reason": "loose lid"}],
}  # fmt: skip


@cache
def planned(name: str) -> tuple[Any, VisitPlan]:
    rig, rates, conditions = (read_document(DEMO / f"{kind}.yaml") for kind in ("rig", "rates", "conditions"))
    site = (
        read_document(DEMO / "site.yaml")
        if name == "demo"
        else document_from(parse(json.dumps(YARD), "yard.json"), "site")
    )
    return site, plan_visit(site, rig, rates, conditions, date(2026, 7, 11))  # type: ignore[arg-type]


@cache
def drawn(name: str, surface: str) -> Element:
    return ElementTree.fromstring(ground_plan(*planned(name), surface))


def groups(root: Element, kind: str) -> list[Element]:
    return [each for each in root.iter(f"{NAMESPACE}g") if each.get("class") == kind]


def corners(path: Element) -> list[tuple[float, float]]:
    found = re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.attrib["d"])
    return [(float(x), float(y)) for x, y in found]


def texts(root: Element) -> list[str]:
    return ["".join(each.itertext()) for each in root.iter(f"{NAMESPACE}text")]


def scale(root: Element) -> float:
    return float(root.attrib["data-points-per-metre"])


def middle(mark: Element) -> tuple[float, float]:
    shape = next(each for each in mark if each.tag in (f"{NAMESPACE}circle", f"{NAMESPACE}rect"))
    if shape.tag.endswith("circle"):
        return float(shape.attrib["cx"]), float(shape.attrib["cy"])
    x, y, width, height = (float(shape.attrib[key]) for key in ("x", "y", "width", "height"))
    return x + width / 2, y + height / 2


def bearing(root: Element, a: tuple[float, float], b: tuple[float, float]) -> float:
    """Return the compass bearing of a line on paper: y runs down; the north arrow is turned by less the sheet's way."""
    arrow = groups(root, "north-arrow")[0]
    return (math.degrees(math.atan2(b[0] - a[0], a[1] - b[1])) + float(arrow.attrib["data-bearing"])) % 360.0


@pytest.mark.parametrize(("name", "surface"), [("yard", "yard"), ("demo", "pad-walk")])
def test_the_path_is_drawn_to_scale(name: str, surface: str) -> None:
    """Where the surface is one band, all lines together are the path's length times the scale, carries among them."""
    root = drawn(name, surface)
    path = next(each for each in planned(name)[1].ground_paths if each.surface == surface)
    lines = [corners(each) for group in groups(root, "path") for each in group.iter(f"{NAMESPACE}path")]
    long = sum(math.dist(a, b) for line in lines for a, b in pairwise(line))
    whole = sum(math.dist(a, b) for leg in path.legs for a, b in pairwise(leg.line))
    assert long / scale(root) == pytest.approx(whole, rel=2e-3)


@pytest.mark.parametrize(("name", "surface"), [("yard", "yard"), ("demo", "pad-walk"), ("demo", "front-walk")])
def test_start_and_finish_lie_where_the_plan_has_them(name: str, surface: str) -> None:
    root = drawn(name, surface)
    path = next(each for each in planned(name)[1].ground_paths if each.surface == surface)
    start, finish = middle(groups(root, "start")[0]), middle(groups(root, "finish")[0])
    assert math.dist(start, finish) / scale(root) == pytest.approx(math.dist(path.start, path.finish), abs=0.002)
    north = math.radians(float(planned(name)[0].place.north))
    across, up = path.finish[0] - path.start[0], path.finish[1] - path.start[1]
    true = math.degrees(math.atan2(across, up) + north) % 360.0
    apart = (bearing(root, start, finish) - true + 180.0) % 360.0 - 180.0
    assert apart == pytest.approx(0.0, abs=0.2)
    assert {"START", "FINISH"} <= set(texts(root))


@pytest.mark.parametrize(("name", "surface"), [("yard", "yard"), ("demo", "front-walk")])
def test_a_sector_opens_between_the_bearings_of_the_plan(name: str, surface: str) -> None:
    root = drawn(name, surface)
    sectors = [spot.sector for spot in planned(name)[1].gum_spots if spot.sector is not None]
    assert len(groups(root, "sector")) == len(sectors) >= 1
    for group, sector in zip(groups(root, "sector"), sectors, strict=True):
        wedge, jet = (corners(each) for each in list(group.iter(f"{NAMESPACE}path"))[:2])
        for rim, expected in ((wedge[1], sector.first), (wedge[-1], sector.last)):
            apart = (bearing(root, wedge[0], rim) - expected + 180.0) % 360.0 - 180.0
            assert apart == pytest.approx(0.0, abs=0.3)
        assert (bearing(root, jet[0], jet[1]) - sector.best + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=0.3)
        assert math.dist(jet[0], wedge[0]) / scale(root) == pytest.approx(1.0, abs=0.01)  # a person stands 1 m off


def test_kinds_of_work_differ_without_colour() -> None:
    """Cleaner, trim, corners and hand: no two have the same fill and line, and only the accent is a colour."""
    root = drawn("yard", "yard")
    looks: dict[str, tuple[str | None, str | None]] = {}
    for kind in ("cleaner", "trim", "corners", "wand"):
        shapes = [each for group in groups(root, f"ground-{kind}") for each in group.iter(f"{NAMESPACE}path")]
        looks |= {kind: (shapes[0].get("fill"), shapes[0].get("stroke"))} if shapes else {}
    assert {"cleaner", "trim", "wand"} <= looks.keys()
    assert len(set(looks.values())) == len(looks)
    inks = {found for each in root.iter() for key in ("fill", "stroke") if (found := each.get(key, "")).startswith("#")}
    coloured = {ink for ink in inks if len({ink[1:3], ink[3:5], ink[5:7]}) > 1}
    assert len(coloured) <= 1


def test_a_long_walk_is_cut_into_bands_and_nothing_is_lost() -> None:
    """160 ft at 1 in to 10 ft are 16 in: more than a sheet is wide, so two bands; each door and pass is named once."""
    root = drawn("demo", "front-walk")
    site, plan = planned("demo")
    assert len(groups(root, "window")) >= 2
    words = " ".join(texts(root))
    for door in next(wall for wall in site.walls if wall.id == "row-front").doors:
        assert words.count(f"{door.id}, ") >= 1
    path = next(each for each in plan.ground_paths if each.surface == "front-walk")
    assert {str(number) for number in range(1, path.passes + 1)} <= set(texts(root))
    assert float(root.attrib["width"].removesuffix("pt")) <= 720.0
    assert float(root.attrib["height"].removesuffix("pt")) <= 540.0


def test_water_that_may_run_nowhere_is_said() -> None:
    words = " ".join(texts(drawn("yard", "yard")))
    assert "no place for wash water is agreed: not allowed until one is, in writing" in words
    assert "gully: to storm" in words
    assert groups(drawn("yard", "yard"), "push")
    assert "falls 1.5 %" in words


def test_every_way_with_gum_has_its_letter_in_the_legend() -> None:
    words = texts(drawn("yard", "yard"))
    assert {"J1", "C2"} <= set(words)
    assert "gum: jet from the bearings shown" in words


def test_ground_that_is_not_washed_is_drawn_without_a_path() -> None:
    root = drawn("demo", "dumpster-pad")
    assert not groups(root, "path")
    assert any("is not washed" in words for words in texts(root))


def test_an_unknown_surface_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(InputError, match="no surface 'roof'") as refusal:
        ground_plan(*planned("yard"), "roof")
    assert "yard" in (refusal.value.problems[0].expected or "")
