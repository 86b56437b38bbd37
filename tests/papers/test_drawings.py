"""The drawings, held against areas, distances and orders worked out apart from them.

Sources: shoelace formula (closed form); similar triangles (closed form); W3C, "Scalable Vector Graphics (SVG) 2", 2018,
8.5 paths and 13.4 pattern references (published); W3C, "Extensible Markup Language (XML) 1.0", 2008, 2.2 characters
(published); Unicode Consortium, "UAX 9: Unicode bidirectional algorithm", 2023, 2.4 isolates (published); the foot of
0.3048 m and the inch of 25.4 mm: NIST Special Publication 811, 2008, B.6 (published). Sizes of the demo site are read
from its own file and written out here by hand.
"""

from __future__ import annotations

import hashlib
import math
import os
import re
import subprocess
import sys
import textwrap
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.papers.drawings.dimensions import spread
from sightwash.papers.drawings.elevation import elevation
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.papers.drawings.labels import GAP, Box, Labels, around, within_box
from sightwash.papers.drawings.lettering import fitted, text_width, wrapped
from sightwash.papers.drawings.plan_places import stall_lines
from sightwash.papers.drawings.scale import PAGE
from sightwash.papers.drawings.section import section
from sightwash.papers.drawings.unrolled import unrolled_sheets, unrolled_wall
from sightwash.planning.regions import Region
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.conditions import Conditions
from sightwash.site.ground import StallRow
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.site_file import document_from, read_document
from sightwash.site.tree import parse

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
ALLOWED = {
    "svg", "g", "path", "rect", "circle", "text", "title", "desc", "defs", "pattern", "clipPath",
}  # fmt: skip
FOOT = 0.3048

MINIMAL = """
kind: site
schema: 1
id: small
name: Small shop
walls: [{id: front, length: 30, height: 12}]
surfaces: [{id: walk, along: front, width: 6, material: concrete}]
"""

MARKUP = "<script>alert('x')</script> & \\\"co\\\""
HEBREW = "\u05d7\u05d6\u05d9\u05ea \u05d4\u05d1\u05e0\u05d9\u05d9\u05df"
ODD = f"""
kind: site
schema: 1
id: odd
name: "{MARKUP}"
buildings:
  - {{id: b, name: "{HEBREW}", outline: [[0,0],[80,0],[80,40],[0,40]], height: 14}}
walls:
  - id: front
    name: "{HEBREW} <b>&amp;</b>"
    building: b
    start: [0, 0]
    end: [80, 0]
    height: 14
    soiling:
      - {{id: webs, kind: webs, degree: heavy, bottom: 8, top: 12}}
    doors:
      - {{id: a-door-with-a-very-long-id-that-nobody-would-write-on-a-drawing, left: 5, width: 3, height: 7}}
      - {{id: d2, left: 9, width: 3, height: 7, tenant: "<i>x</i>"}}
    projections: [{{id: can, kind: canopy, left: 20, width: 30, bottom: 9, height: 1, depth: 5}}]
  - id: east
    name: "{"East elevation with a name that goes on " * 8}"
    building: b
    start: [80, 0]
    end: [80, 40]
    height: 14
    excluded: "{"a long reason " * 30}"
  - {{id: unplaced, name: "{HEBREW}", length: 25, height: 11, doors: [{{id: back-door, left: 3, width: 3, height: 7}}]}}
  - {{id: unknown, name: Height not known, length: 10}}
surfaces:
  - {{id: walk, name: "Walk <wide>", outline: [[-5,-12],[85,-12],[85,0],[-5,0]], material: concrete}}
  - {{id: back-walk, along: unplaced, width: 5}}
keep_outs: [{{id: pit, outline: [[30,-9],[36,-9],[36,-5],[30,-5]], reason: "<open> pit"}}]
eyes: [{{id: road, name: "{HEBREW} <main>", kind: road, path: [[-100,-40],[200,-40]]}}]
"""


def twelve_walls() -> str:
    """Return a metric site: a hall with twelve equal sides on a circle of 40 m, a canopy on each."""
    turn = [2 * math.pi * k / 12 for k in range(12)]
    ring = [[round(40 * math.cos(a), 3), round(40 * math.sin(a), 3)] for a in turn]
    walls = "".join(
        f"  - {{id: side-{k + 1}, building: hall, start: {ring[k]}, end: {ring[(k + 1) % 12]}, height: 6,"
        f" doors: [{{id: gate-{k + 1}, left: 10, width: 1.2, height: 2.1}}],"
        f" projections: [{{id: c{k}, kind: canopy, left: 1, width: 15, bottom: 3, height: 0.3, depth: 1.5}}]}}\n"
        for k in range(12)
    )
    return (
        "kind: site\nschema: 1\nid: twelve\nname: Twelve sides\nunits: metric\nplace: {north: -35 deg}\n"
        f"buildings: [{{id: hall, outline: {ring}, height: 6}}]\nwalls:\n{walls}"
        "surfaces: [{id: plaza, outline: [[-60,-60],[60,-60],[60,60],[-60,60]], material: pavers,"
        " fall: {slope: 2 %, toward: 100 deg}}]\n"
        "eyes:\n  - {id: road, kind: road, path: [[-300,250],[300,200]]}\n"
        "  - {id: lane, kind: walk, path: [[400,-50],[420,50]]}\n  - {id: west, kind: window, path: [[-300,0]]}\n"
    )


SITES = {"minimal": MINIMAL, "odd": ODD, "twelve": twelve_walls()}


@cache
def planned(name: str) -> tuple[Site, VisitPlan]:
    text = (DEMO / "site.yaml").read_text(encoding="utf-8") if name == "demo" else SITES[name]
    site = document_from(parse(text, f"{name}.yaml"), "site")
    rig, rates, conditions = (read_document(DEMO / f"{kind}.yaml", kind) for kind in ("rig", "rates", "conditions"))
    assert isinstance(site, Site)
    assert isinstance(rig, Rig)
    assert isinstance(rates, Rates)
    assert isinstance(conditions, Conditions)
    return site, plan_visit(site, rig, rates, conditions, date(2026, 7, 11))


@cache
def drawn(name: str) -> dict[str, str]:
    """Return every drawing of a site by its name."""
    site, plan = planned(name)
    return {
        "strip": unrolled_wall(site, plan),
        "ground": ground_plan(site, plan),
        **{f"sheet {k}": sheet for k, sheet in enumerate(unrolled_sheets(site, plan))},
        **{f"wall {sight.wall}": elevation(site, plan, sight.wall) for sight in plan.sight},
        **{f"section {strip.id}": section(site, plan, strip.id) for strip in plan.missed},
    }


EVERY_SITE = pytest.mark.parametrize("name", ["demo", *SITES])


def tree(svg: str) -> Element:
    return ElementTree.fromstring(svg)


def texts(svg: str) -> list[str]:
    """Return the visible words, marks of direction left out."""
    return [re.sub("[\u2066-\u2069]", "", "".join(each.itertext())) for each in tree(svg).iter(f"{NAMESPACE}text")]


def points_a_metre(svg: str) -> float:
    return float(tree(svg).attrib["data-points-per-metre"])


def rings(data: str) -> list[list[tuple[float, float]]]:
    """Return the corners of path data that has only M, L and Z."""
    assert not re.search("[^MLZ0-9. -]", data), data[:80]
    parts = [part for part in re.split("[MZ]", data) if part]
    return [[(float(x), float(y)) for x, y in (pair.split() for pair in part.split("L"))] for part in parts]


def shoelace(data: str) -> float:
    """Return the area of path data, holes of the other turn taken off."""
    total = 0.0
    for ring in rings(data):
        total += sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2
    return abs(total)


def drawn_area(svg: str, **keys: str) -> float:
    """Return the area on site of all paths with these ``data-`` keys [m2]."""
    found = [
        shoelace(path.attrib["d"])
        for path in tree(svg).iter(f"{NAMESPACE}path")
        if all(path.get(f"data-{key}") == value for key, value in keys.items())
    ]
    return sum(found) / points_a_metre(svg) ** 2


def edge_length(region: Region) -> float:
    loops = [ring for polygon in region for ring in polygon]
    return sum(math.dist(a, b) for ring in loops for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))


def slack(svg: str, region: Region) -> float:
    """Return what rounding to a thousandth of a point, and arcs with fewer corners, may cost of an area [m2]."""
    return 1e-6 + edge_length(region) * 0.003 / points_a_metre(svg)


@EVERY_SITE
def test_drawings_are_well_formed_and_speak_to_those_who_cannot_see(name: str) -> None:
    for svg in drawn(name).values():
        root = tree(svg)
        assert root.tag == f"{NAMESPACE}svg"
        assert root.get("role") == "img"
        assert [child.tag for child in root[:2]] == [f"{NAMESPACE}title", f"{NAMESPACE}desc"]
        assert root[0].text
        assert root[1].text
        assert {each.tag.removeprefix(NAMESPACE) for each in root.iter()} <= ALLOWED


@EVERY_SITE
def test_nothing_points_outside_and_every_pattern_is_there(name: str) -> None:
    for svg in drawn(name).values():
        root = tree(svg)
        ids = [each.attrib["id"] for each in root.iter() if "id" in each.attrib]
        assert len(ids) == len(set(ids))
        values = [value for each in root.iter() for key, value in each.attrib.items() if not key.startswith("data-")]
        used = {match for value in values for match in re.findall(r"url\((.*?)\)", value)}
        assert used <= {f"#{each}" for each in ids}
        assert not any("href" in key or key.startswith("on") for each in root.iter() for key in each.attrib)
        assert svg.count("http") == 1  # the namespace itself


@EVERY_SITE
def test_text_is_no_smaller_than_seven_points_and_starts_on_the_sheet(name: str) -> None:
    for svg in drawn(name).values():
        root = tree(svg)
        width, height = (float(root.attrib[key].removesuffix("pt")) for key in ("width", "height"))
        for each in root.iter(f"{NAMESPACE}text"):
            assert float(each.attrib["font-size"]) >= 7.0
            assert 0.0 <= float(each.attrib["x"]) <= width
            assert 0.0 <= float(each.attrib["y"]) <= height


@EVERY_SITE
def test_sight_on_the_strip_has_the_areas_of_the_plan(name: str) -> None:
    _, plan = planned(name)
    strip = drawn(name)["strip"]
    for sight in plan.sight:
        for kind, region, area in (
            ("seen", sight.public_seen, sight.public_area),
            ("missed", sight.missed, sight.missed_area),
            ("hidden", sight.hidden, sight.hidden_area),
            ("covered", sight.covered, sight.covered_area),
        ):
            found = drawn_area(strip, sight=kind, wall=sight.wall)
            assert found == pytest.approx(area, abs=slack(strip, region)), (sight.wall, kind)
            one = drawn_area(drawn(name)[f"wall {sight.wall}"], sight=kind)
            assert one == pytest.approx(area, abs=slack(strip, region)), (sight.wall, kind)


@EVERY_SITE
def test_ground_has_the_areas_of_the_plan(name: str) -> None:
    _, plan = planned(name)
    ground = drawn(name)["ground"]
    parts = [part for surface in plan.ground for part in surface.parts if part.area > 0.001]
    assert parts
    for part in parts:
        assert drawn_area(ground, part=part.id) == pytest.approx(part.area, abs=slack(ground, part.region)), part.id


def test_a_wall_too_long_for_a_row_is_cut_and_keeps_its_areas() -> None:
    site, plan = planned("demo")
    strip = unrolled_wall(site, plan, row_length=20.0)
    assert any("(1 of 3)" in words for words in texts(strip))  # 160 ft are 48.8 m: three parts of at most 20 m
    for sight in plan.sight:
        found = drawn_area(strip, sight="missed", wall=sight.wall)
        assert found == pytest.approx(sight.missed_area, abs=slack(strip, sight.missed))
    for ring in (ring for path in tree(strip).iter(f"{NAMESPACE}path") for ring in rings(path.attrib["d"])):
        assert all(-12.0 <= x <= PAGE[0] + 12.0 for x, _ in ring)


def keys(svg: str, key: str) -> set[str]:
    return {each.attrib[f"data-{key}"] for each in tree(svg).iter() if f"data-{key}" in each.attrib}


@EVERY_SITE
def test_every_wall_door_spot_and_look_is_on_strip_and_plan(name: str) -> None:
    site, plan = planned(name)
    walls = {sight.wall for sight in plan.sight}
    doors = {door.id for wall in site.walls if wall.id in walls for door in wall.doors}
    spots = {spot.id for standing in plan.standing for spot in standing.spots}
    looks = {look.id for standing in plan.standing for look in standing.looks}
    for svg in (drawn(name)["strip"], drawn(name)["ground"]):
        assert keys(svg, "wall") >= walls
        assert keys(svg, "door") == doors
        assert keys(svg, "spot") == spots
    assert keys(drawn(name)["strip"], "look") == looks
    assert keys(drawn(name)["strip"], "strip") == {strip.id for strip in plan.missed}
    assert keys(drawn(name)["ground"], "eye") == {eye.id for eye in site.eyes}
    assert keys(drawn(name)["ground"], "part") >= {keep.id for keep in site.keep_outs}


def test_every_place_of_the_demo_is_named_on_the_plan() -> None:
    words = " | ".join(texts(drawn("demo")["ground"]))
    for name in ("row-front", "row-back (excluded)", "lot-inlet: to storm", "clean-out: to sanitary", "yard-tap",
                 "rig-front", "rig-side", "hatch: keep out", "service-drop: 19 ft to 24 ft up",
                 "row-stalls: 17 stalls, 2 accessible", "Aisle of the car park", "Walk under the canopy"):  # fmt: skip
        assert name in words


def test_fixtures_of_the_demo_are_marked_one_by_one() -> None:
    marks = [each.get("data-id") for each in tree(drawn("demo")["strip"]).iter() if each.get("class") == "fixture"]
    assert marks.count("soffit-lights") == 10
    assert {"front-outlet", "fresh-air", "weatherhead", "wall-pack", "sign-light"} <= set(marks)


def test_walls_follow_each_other_round_each_building() -> None:
    """By hand from the demo's corners: round the row from its front, then along the corner unit from its west side."""
    heads = [each for each in tree(drawn("demo")["strip"]).iter() if each.get("class") == "name"]
    order = [each.attrib["data-wall"] for each in heads]
    assert order == ["row-front", "row-east", "row-back", "row-west", "pad-west", "pad-front", "pad-east"]


@pytest.mark.parametrize(("drawing", "wall"), [("strip", "row-front"), ("wall row-front", "row-front")])
def test_the_scale_in_words_is_the_scale_of_the_wall(drawing: str, wall: str) -> None:
    """160 ft at 1 in = N ft are 160 / N inches of 72 points."""
    svg = drawn("demo")[drawing]
    stated = next(match for words in texts(svg) if (match := re.search(r"1 in = ([\d.]+) ft", words)))
    missed = next(p for p in tree(svg).iter(f"{NAMESPACE}path") if p.get("data-sight") == "missed")
    xs = [x for ring in rings(missed.attrib["d"]) for x, _ in ring]
    assert max(xs) - min(xs) == pytest.approx(160 / float(stated[1]) * 72, abs=0.01)
    assert points_a_metre(svg) == pytest.approx(72 / (float(stated[1]) * FOOT), rel=1e-8)


def test_a_metric_scale_is_a_ratio() -> None:
    svg = drawn("twelve")["strip"]
    stated = next(match for words in texts(svg) if (match := re.search(r"1:(\d+)", words)))
    assert points_a_metre(svg) == pytest.approx(72 / 0.0254 / float(stated[1]), rel=1e-8)


def test_metric_drawings_say_nothing_of_their_own_in_feet() -> None:
    site, plan = planned("twelve")
    from_the_plan = [words for standing in plan.standing for words in (*standing.unreached, *standing.unseen)]
    for svg in drawn("twelve").values():
        own = [words for words in texts(svg) if not any(words.strip(" …") in said for said in from_the_plan)]
        feet = [words for words in own if re.search(r"\d (ft|in)\b", words) and "stay unseen" not in words]
        assert not feet


@EVERY_SITE
def test_sheets_fit_a_letter_page_and_hold_the_whole_strip(name: str) -> None:
    sheets = [svg for key, svg in drawn(name).items() if key.startswith("sheet")]
    _, plan = planned(name)
    walls: set[str] = set()
    for svg in sheets:
        root = tree(svg)
        assert float(root.attrib["width"].removesuffix("pt")) == PAGE[0]
        assert float(root.attrib["height"].removesuffix("pt")) <= PAGE[1] + 20.0
        walls |= {each.attrib["data-wall"] for each in root.iter() if each.get("class") == "name"}
    assert walls == {sight.wall for sight in plan.sight}
    assert len({points_a_metre(svg) for svg in sheets}) == 1


def test_an_excluded_wall_says_so_and_is_grey() -> None:
    strip = drawn("demo")["strip"]
    assert "excluded" in texts(strip)
    back = next(e for e in tree(strip).iter() if e.get("class") == "wall" and e.get("data-wall") == "row-back")
    outline = next(iter(back.iter(f"{NAMESPACE}path")))
    assert outline.get("fill") == "#ececec"


def test_users_words_stay_words() -> None:
    for svg in drawn("odd").values():
        assert "<script" not in svg
        assert "<b>" not in svg
        assert "<i>" not in svg
    title = "<script>alert('x')</script> & \"co\""
    assert any(words.startswith(f"{title}: the unrolled wall") for words in texts(drawn("odd")["strip"]))
    assert "Walk <wide>" in " ".join(texts(drawn("odd")["ground"]))


def test_words_that_run_the_other_way_are_set_apart() -> None:
    """A right-to-left name beside words of ours stands between FSI and PDI (UAX 9, 2.4)."""
    svg = drawn("odd")["ground"]
    raw = ["".join(each.itertext()) for each in tree(svg).iter(f"{NAMESPACE}text")]
    road = next(words for words in raw if "from the nearest wall" in words)
    assert road == f"\u2068{HEBREW} <main>\u2069: 40 ft from the nearest wall"


def test_a_name_with_characters_that_xml_refuses_is_still_drawn() -> None:
    """XML 1.0, 2.2: U+0001 and U+FFFE are no characters; an override must not turn our own words."""
    assert fitted("a\x01b\ufffe\u202ec", 100.0, 8.0) == "abc"
    assert tree(f"<t>{fitted(chr(0xD800) + 'x', 50.0, 8.0)}</t>").text == "x"


def test_a_wall_without_place_shows_no_sight_that_nobody_knows() -> None:
    paths = [p for p in tree(drawn("odd")["strip"]).iter(f"{NAMESPACE}path") if p.get("data-wall") == "unplaced"]
    hidden = [path for path in paths if path.get("data-sight") == "hidden"]
    assert all(path.get("fill") == "none" for path in hidden)
    words = " ".join(texts(drawn("odd")["strip"]))
    assert "who sees it is not known" in words
    assert "Not drawn, length or height not measured: Height not known" in words


def test_hand_work_is_cross_hatched() -> None:
    path = next(p for p in tree(drawn("odd")["strip"]).iter(f"{NAMESPACE}path") if p.get("data-patch") == "webs")
    fills = {p.get("fill") for p in tree(drawn("odd")["strip"]).iter(f"{NAMESPACE}path") if p.get("data-work")}
    assert fills == {"url(#strip-hand)"}
    assert path is not None


def test_the_smallest_site_is_drawn() -> None:
    strip, ground = drawn("minimal")["strip"], drawn("minimal")["ground"]
    assert "30 ft long, 12 ft high" in texts(strip)
    assert "walls with no place in the plan yet, in a row" in texts(ground)
    assert not any(each.get("class") == "north-arrow" for each in tree(ground).iter())


def test_drawings_are_the_same_bytes_every_time() -> None:
    site, plan = planned("demo")
    assert unrolled_wall(site, plan) == drawn("demo")["strip"]
    assert ground_plan(site, plan) == drawn("demo")["ground"]


def test_drawings_are_the_same_bytes_in_another_process() -> None:
    script = textwrap.dedent(
        """
        import hashlib, sys
        sys.path.insert(0, sys.argv[1])
        import test_drawings
        text = "".join(test_drawings.drawn("demo").values())
        print(hashlib.sha256(text.encode()).hexdigest())
        """
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONHASHSEED": "12345"}
    command = [sys.executable, "-c", script, str(Path(__file__).parent)]
    run = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    ours = hashlib.sha256("".join(drawn("demo").values()).encode()).hexdigest()
    assert run.stdout.split()[-1] == ours


def test_section_says_what_similar_triangles_give() -> None:
    """Edge 10 ft 6 in up and 6 ft out; crew's eye 5 ft 3 in up, 12 ft out; road's eye 3 ft 6 in up, 300 ft out.

    H = (10.5 - 5.25) 6 / (12 - 6) = 5.25 ft; H = (10.5 - 3.5) 6 / (300 - 6) = 0.1429 ft; between them 61.3 in.
    """
    words = texts(drawn("demo")["section row-front-missed-1"])
    for expected in ("hidden from the crew: 5 ft 3 in", "hidden from the public: 2 in", "missed: 61 in (5 ft 1 in)",
                     "12 ft to the crew", "300 ft to the public", "5 ft 3 in", "3 ft 6 in"):  # fmt: skip
        assert expected in words


def test_section_lines_touch_the_edge() -> None:
    """A straight line from the eye to the wall passes the canopy's outer top corner, 6 ft out and 10 ft 6 in up."""
    svg = drawn("demo")["section row-front-missed-1"]
    root, points = tree(svg), points_a_metre(svg)
    canopy = next(e for e in root.iter() if e.get("class") == "projection" and e.get("data-id") == "canopy")
    corners = rings(next(iter(canopy.iter(f"{NAMESPACE}path"))).attrib["d"])[0]
    edge = max(x for x, _ in corners), min(y for _, y in corners)
    crew = next(e for e in root.iter() if e.get("class") == "sightline-crew")
    hit, eye = rings(next(iter(crew.iter(f"{NAMESPACE}path"))).attrib["d"])[0]
    assert eye[0] - hit[0] == pytest.approx(12 * FOOT * points, abs=0.01)
    assert hit[1] + (eye[1] - hit[1]) * (edge[0] - hit[0]) / (eye[0] - hit[0]) == pytest.approx(edge[1], abs=0.01)
    assert (edge[1] - hit[1]) / points == pytest.approx(5.25 * FOOT, abs=0.001)


def test_far_road_is_named_with_its_distance() -> None:
    """The road runs 300 ft south of the row's front, which is the wall nearest to it."""
    assert "Larkspur Road, both lanes: 300 ft from the nearest wall" in texts(drawn("demo")["ground"])


def test_north_and_fall_agree() -> None:
    """The sheet's upward direction bears 8 degrees and water runs toward 188: straight down the sheet."""
    root = tree(drawn("demo")["ground"])
    arrow = next(each for each in root.iter() if each.get("class") == "north-arrow")
    assert arrow.attrib["transform"].startswith("rotate(-8 ")
    falls = [each for each in root.iter() if each.get("class") == "fall"]
    assert {each.attrib["data-surface"] for each in falls} >= {"front-walk", "fire-lane"}
    for each in falls:
        start, end = rings(next(iter(each.iter(f"{NAMESPACE}path"))).attrib["d"])[0]
        assert end[0] == pytest.approx(start[0], abs=0.002)
        assert end[1] > start[1]


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


@pytest.mark.parametrize("draw", [elevation, section])
def test_an_unknown_id_is_refused_with_those_that_are_known(draw: Callable[[Site, VisitPlan, str], str]) -> None:
    site, plan = planned("demo")
    with pytest.raises(InputError, match="row-front"):
        draw(site, plan, "nowhere")


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
    tree(f"<t>{'' if not shown else ElementTree.tostring(_element(shown), encoding='unicode')}</t>")


def _element(words: str) -> Element:
    element = Element("e")
    element.text = words
    return element


@given(st.text(alphabet="ab c", max_size=60), st.integers(1, 4))
def test_wrapped_words_keep_to_their_lines(words: str, most: int) -> None:
    lines = wrapped(words, 30.0, 8.0, most)
    assert len(lines) <= most
    assert all(text_width(line, 8.0) <= 30.0 for line in lines)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=12).map(sorted), st.floats(1, 15))
def test_heights_spread_in_order_and_apart(places: list[float], apart: float) -> None:
    found = spread(places, apart)
    assert all(b - a >= apart - 1e-6 for a, b in zip(found, found[1:], strict=False))
    assert sum(found) == pytest.approx(sum(places), abs=1e-6)
