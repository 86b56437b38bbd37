"""The kit of the drawings and what they measure: labels, words, scales, sections and directions.

Sources: similar triangles (closed form); rotation and sines of 30 degrees (closed form); W3C, "Extensible Markup
Language (XML) 1.0", 2008, 2.2 characters (published); the foot of 0.3048 m and the inch of 25.4 mm: NIST Special
Publication 811, 2008, B.6 (published). Sizes of the demo site are read from its own file and written out here by hand.
"""

from __future__ import annotations

import math
import re
from datetime import date
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.papers.drawings.canvas import write
from sightwash.papers.drawings.dimensions import spread
from sightwash.papers.drawings.elevation import elevation
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.papers.drawings.labels import GAP, Box, Labels, around, within_box
from sightwash.papers.drawings.lettering import fitted, text_width, wrapped
from sightwash.papers.drawings.plan_places import stall_lines
from sightwash.papers.drawings.section import section
from sightwash.papers.drawings.unrolled import unrolled_wall
from sightwash.planning.visit import plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.ground import StallRow
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import read_document

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
FOOT = 0.3048


@cache
def drawn() -> dict[str, Element]:
    """Return drawings of the demo site."""
    site, rig, rates, conditions = (read_document(DEMO / f"{k}.yaml") for k in ("site", "rig", "rates", "conditions"))
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    plan = plan_visit(site, rig, rates, conditions, date(2026, 7, 11))
    found = {
        "strip": unrolled_wall(site, plan),
        "ground": ground_plan(site, plan),
        "wall": elevation(site, plan, "row-front"),
        "section": section(site, plan, "row-front-missed-1"),
    }
    return {name: ElementTree.fromstring(svg) for name, svg in found.items()}


def texts(root: Element) -> list[str]:
    return ["".join(each.itertext()) for each in root.iter(f"{NAMESPACE}text")]


def corners(path: Element) -> list[tuple[float, float]]:
    """Return the corners of path data with one M and then L only."""
    pairs = path.attrib["d"].removeprefix("M").removesuffix("Z").split("L")
    return [(float(x), float(y)) for x, y in (pair.split() for pair in pairs)]


def test_every_place_of_the_demo_is_named_on_the_plan() -> None:
    words = " | ".join(texts(drawn()["ground"]))
    for name in ("row-front", "row-back (excluded)", "lot-inlet: to storm", "clean-out: to sanitary", "yard-tap",
                 "rig-front", "rig-side", "hatch: keep out", "service-drop: 19 ft to 24 ft up",
                 "row-stalls: 17 stalls, 2 accessible", "Aisle of the car park", "Walk under the canopy"):  # fmt: skip
        assert name in words


def test_fixtures_of_the_demo_are_marked_one_by_one() -> None:
    marks = [each.get("data-id") for each in drawn()["strip"].iter() if each.get("class") == "fixture"]
    assert marks.count("soffit-lights") == 10
    assert {"front-outlet", "fresh-air", "weatherhead", "wall-pack", "sign-light"} <= set(marks)


def test_walls_follow_each_other_round_each_building() -> None:
    """By hand from the demo's corners: round the row from its front, then along the corner unit from its west side."""
    heads = [each for each in drawn()["strip"].iter() if each.get("class") == "name"]
    order = [each.attrib["data-wall"] for each in heads]
    assert order == ["row-front", "row-east", "row-back", "row-west", "pad-west", "pad-front", "pad-east"]


def word_boxes(root: Element) -> list[tuple[float, float, float, float]]:
    """Return the boxes of level and upright words: left, top, right, bottom, by the kit's widths less their slack."""
    found = []
    for each in root.iter(f"{NAMESPACE}text"):
        size, x, y = (float(each.attrib[key]) for key in ("font-size", "x", "y"))
        width, height = text_width(re.sub("[\u2066-\u2069]", "", each.text or ""), size) / 1.08, 0.72 * size
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[each.get("text-anchor", "start")]
        turn = re.match(r"rotate\((-?[\d.]+)", each.get("transform", ""))
        if turn is None:
            found.append((x + left, y - height, x + left + width, y))
        elif float(turn[1]) == -90.0:
            found.append((x - height, y - left - width, x, y - left))
    return found


@pytest.mark.parametrize("drawing", ["strip", "ground", "wall", "section"])
def test_no_words_lie_on_others(drawing: str) -> None:
    boxes = word_boxes(drawn()[drawing])
    assert len(boxes) > 15
    for a, b in combinations(boxes, 2):
        assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3], (a, b)


def test_section_says_what_similar_triangles_give() -> None:
    """Edge 10 ft 6 in up and 6 ft out; crew's eye 5 ft 3 in up, 12 ft out; road's eye 3 ft 6 in up, 300 ft out.

    H = (10.5 - 5.25) 6 / (12 - 6) = 5.25 ft; H = (10.5 - 3.5) 6 / (300 - 6) = 0.1429 ft; between them 61.3 in.
    """
    words = texts(drawn()["section"])
    for expected in ("hidden from the crew: 5 ft 3 in", "hidden from the public: 2 in", "missed: 61 in (5 ft 1 in)",
                     "12 ft to the crew", "300 ft to the public", "5 ft 3 in", "3 ft 6 in"):  # fmt: skip
        assert expected in words


def test_section_lines_touch_the_edge() -> None:
    """A straight line from the eye to the wall passes the canopy's outer top corner, 6 ft out and 10 ft 6 in up."""
    root = drawn()["section"]
    points = float(root.attrib["data-points-per-metre"])
    canopy = next(e for e in root.iter() if e.get("class") == "projection" and e.get("data-id") == "canopy")
    outline = corners(next(iter(canopy.iter(f"{NAMESPACE}path"))))
    edge = max(x for x, _ in outline), min(y for _, y in outline)
    crew = next(e for e in root.iter() if e.get("class") == "sightline-crew")
    hit, eye = corners(next(iter(crew.iter(f"{NAMESPACE}path"))))
    assert eye[0] - hit[0] == pytest.approx(12 * FOOT * points, abs=0.01)
    assert hit[1] + (eye[1] - hit[1]) * (edge[0] - hit[0]) / (eye[0] - hit[0]) == pytest.approx(edge[1], abs=0.01)
    assert (edge[1] - hit[1]) / points == pytest.approx(5.25 * FOOT, abs=0.001)


def test_far_road_is_named_with_its_distance() -> None:
    """The road runs 300 ft south of the row's front, which is the wall nearest to it."""
    assert "Larkspur Road, both lanes: 300 ft from the nearest wall" in texts(drawn()["ground"])


def test_north_and_fall_agree() -> None:
    """The sheet's upward direction bears 8 degrees and water runs toward 188: straight down the sheet."""
    root = drawn()["ground"]
    arrow = next(each for each in root.iter() if each.get("class") == "north-arrow")
    assert arrow.attrib["transform"].startswith("rotate(-8 ")
    falls = [each for each in root.iter() if each.get("class") == "fall"]
    assert {each.attrib["data-surface"] for each in falls} >= {"front-walk", "fire-lane"}
    for each in falls:
        start, end = corners(next(iter(each.iter(f"{NAMESPACE}path"))))
        assert end[0] == pytest.approx(start[0], abs=0.002)
        assert end[1] > start[1]


@pytest.mark.parametrize("drawing", ["strip", "wall"])
def test_the_scale_in_words_is_the_scale_of_the_wall(drawing: str) -> None:
    """160 ft at 1 in = N ft are 160 / N inches of 72 points."""
    root = drawn()[drawing]
    stated = next(match for words in texts(root) if (match := re.search(r"1 in = ([\d.]+) ft", words)))
    missed = next(p for p in root.iter(f"{NAMESPACE}path") if p.get("data-sight") == "missed")
    xs = [float(pair.split()[0]) for pair in re.split("[MLZ]", missed.attrib["d"]) if pair]
    assert max(xs) - min(xs) == pytest.approx(160 / float(stated[1]) * 72, abs=0.01)
    assert float(root.attrib["data-points-per-metre"]) == pytest.approx(72 / (float(stated[1]) * FOOT), rel=1e-8)


@pytest.mark.parametrize(
    ("angle", "ends"),
    [
        (90.0, [((0, 0), (0, -5)), ((2.5, 0), (2.5, -5))]),
        (30.0, [((0, 0), (5 * math.sqrt(0.75), -2.5)), ((5, 0), (5 + 5 * math.sqrt(0.75), -2.5))]),
        (0.0, [((0, 0), (0, -2.5)), ((5, 0), (5, -2.5))]),
    ],
)
def test_stalls_lie_to_the_right_of_the_way_their_row_runs(
    angle: float, ends: list[tuple[tuple[float, float], tuple[float, float]]]
) -> None:
    """Closed form: stalls 2.5 m by 5 m, a row that runs east; at 30 degrees each takes 2.5 / sin 30 = 5 m of aisle."""
    row = StallRow("r", (0.0, 0.0), 90.0, 1, 2.5, 5.0, angle)
    for found, expected in zip(stall_lines(row, 0.0), ends, strict=True):
        assert found[0] == pytest.approx(expected[0], abs=1e-9)
        assert found[1] == pytest.approx(expected[1], abs=1e-9)


def test_a_name_with_characters_that_xml_refuses_is_still_drawn() -> None:
    """XML 1.0, 2.2: U+0001 and U+FFFE are no characters; an override must not turn our own words."""
    assert fitted("a\x01b\ufffe\u202ec", 100.0, 8.0) == "abc"
    parent = Element("g")
    write(parent, (0.0, 0.0), "a\x01b\ufffe\ud800c")
    assert ElementTree.fromstring(ElementTree.tostring(parent, encoding="unicode"))[0].text == "abc"


@given(
    st.lists(
        st.tuples(st.floats(0, 200), st.floats(0, 200), st.floats(2, 60), st.floats(2, 20)), min_size=1, max_size=25
    )
)
def test_labels_never_touch(wanted: list[tuple[float, float, float, float]]) -> None:
    page = Box(0.0, 0.0, 200.0, 200.0)
    labels = Labels(page)
    placed = [
        box for x, y, width, height in wanted if (box := labels.first_free(around((x, y), width, height))) is not None
    ]
    for index, box in enumerate(placed):
        assert 0.0 <= box.left <= box.right <= 200.0
        assert 0.0 <= box.top <= box.bottom <= 200.0
        for other in placed[:index]:
            apart_x = max(box.left - other.right, other.left - box.right)
            apart_y = max(box.top - other.bottom, other.top - box.bottom)
            assert max(apart_x, apart_y) >= GAP - 1e-9


@given(st.floats(1, 100), st.floats(1, 40), st.floats(0, 120), st.floats(0, 60))
def test_places_in_an_area_stay_in_it(width: float, height: float, left: float, top: float) -> None:
    area = Box(left, top, left + 100.0, top + 40.0)
    for box in within_box(area, width, height):
        assert area.left - 1e-9 <= box.left
        assert box.right <= area.right + 1e-9
        assert area.top - 1e-9 <= box.top
        assert box.bottom <= area.bottom + 1e-9


@given(st.text(max_size=80), st.floats(0, 200))
def test_fitted_words_fit(words: str, width: float) -> None:
    shown = fitted(words, width, 8.0)
    assert not shown or text_width(shown, 8.0) <= width + 1e-9
    element = Element("e")
    element.text = shown
    assert (ElementTree.fromstring(ElementTree.tostring(element, encoding="unicode")).text or "") == shown


@given(st.text(alphabet="ab c", max_size=60), st.integers(1, 4))
def test_wrapped_words_keep_to_their_lines(words: str, most: int) -> None:
    lines = wrapped(words, 30.0, 8.0, most)
    assert len(lines) <= most
    assert all(text_width(line, 8.0) <= 30.0 for line in lines)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=12).map(sorted), st.floats(1, 15))
def test_heights_spread_in_order_and_apart(places: list[float], apart: float) -> None:
    found = spread(places, apart)
    assert all(b - a >= apart - 1e-6 for a, b in pairwise(found))
    assert sum(found) == pytest.approx(sum(places), abs=1e-6)
