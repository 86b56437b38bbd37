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

from sightwash.basis.errors import InputError
from sightwash.papers.drawings.elevation import elevation
from sightwash.papers.drawings.ground_plan import ground_plan
from sightwash.papers.drawings.scale import PAGE
from sightwash.papers.drawings.section import section
from sightwash.papers.drawings.unrolled import unrolled_sheets, unrolled_wall
from sightwash.planning.regions import Region
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.conditions import Conditions
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
    sights = [path for path in tree(strip).iter(f"{NAMESPACE}path") if path.get("data-sight")]
    assert all(0.0 <= x <= PAGE[0] for path in sights for ring in rings(path.attrib["d"]) for x, _ in ring)


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


def test_a_metric_scale_is_a_ratio() -> None:
    svg = drawn("twelve")["strip"]
    stated = next(match for words in texts(svg) if (match := re.search(r"1:(\d+)", words)))
    assert points_a_metre(svg) == pytest.approx(72 / 0.0254 / float(stated[1]), rel=1e-8)


def test_metric_drawings_say_nothing_of_their_own_in_feet() -> None:
    _, plan = planned("twelve")
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
        assert float(root.attrib["height"].removesuffix("pt")) <= PAGE[1]
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


def test_a_wall_without_place_shows_no_sight_that_nobody_knows() -> None:
    paths = [p for p in tree(drawn("odd")["strip"]).iter(f"{NAMESPACE}path") if p.get("data-wall") == "unplaced"]
    hidden = [path for path in paths if path.get("data-sight") == "hidden"]
    assert all(path.get("fill") == "none" for path in hidden)
    words = " ".join(texts(drawn("odd")["strip"]))
    assert "who sees it is not known" in words
    assert "Not drawn, length or height not measured: Height not known" in words


def test_hand_work_is_cross_hatched() -> None:
    fills = {p.get("fill") for p in tree(drawn("odd")["strip"]).iter() if p.get("data-patch") == "webs" and p.get("d")}
    assert "url(#strip-hand)" in fills


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


@pytest.mark.parametrize("draw", [elevation, section])
def test_an_unknown_id_is_refused_with_those_that_are_known(draw: Callable[[Site, VisitPlan, str], str]) -> None:
    site, plan = planned("demo")
    with pytest.raises(InputError, match="row-front"):
        draw(site, plan, "nowhere")
