"""The view from an eye, held against a pinhole and rays worked out apart from them.

Independent ways, written here: a pinhole camera as a 3 x 4 matrix in homogeneous coordinates (R. Hartley and A.
Zisserman, Multiple View Geometry, 2003, 6.1, from memory; it is the closed form of straight lines through one point);
rays from the eye through points of the page, cast against every facet, the nearest counting, with the even-odd rule
for what lies inside a ring (W3C, "Scalable Vector Graphics (SVG) 2", 2018, 13.4.2 fill-rule, published). Similar
triangles and tangents are closed forms. Sizes of the demo site are read from its file and written out here by hand.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray

from sightwash.basis.errors import InputError
from sightwash.papers.drawings.eye_view import eye_view, point_view
from sightwash.papers.drawings.scale import PAGE
from sightwash.planning.eye_view import plan_eye_scene
from sightwash.planning.face_sight import plan_face_sight
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.facets import facets
from sightwash.site.model import Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import read_document

Floats = NDArray[np.float64]
DEMO = Path(__file__).parents[2] / "examples" / "demo"
NAMESPACE = "{http://www.w3.org/2000/svg}"
ALLOWED = {"svg", "g", "path", "rect", "circle", "text", "title", "desc", "defs", "pattern"}
FOOT = 0.3048
PIXEL = 1.0
"""Points of the page nearer than this to an edge are not asked about [pt]."""
KINDS = ("site", "rig", "rates", "conditions")
ROAD_EYE = (80 * FOOT, -300 * FOOT, 3.5 * FOOT)
POINTS = {
    "above the lot": (80, -60, 40),
    "between column and wall": (31.5, -3.5, 5.25),
    "over the roof": (90, 30, 34),
    "the west corner": (-30, -40, 5.5),
    "a lift": (30, -14, 16),
}


@cache
def demo() -> tuple[Site, VisitPlan]:
    documents = [read_document(DEMO / f"{kind}.yaml", kind) for kind in KINDS]
    return documents[0], plan_visit(*documents, date(2026, 7, 11))


class Shot(NamedTuple):
    """A drawing with its camera: where the eye is, the axes to the right, down and ahead, and the pinhole matrix."""

    root: Element
    eye: Floats
    axes: Floats
    centre: Floats
    reach: float

    @property
    def matrix(self) -> Floats:
        inner = np.array([[self.reach, 0, self.centre[0]], [0, self.reach, self.centre[1]], [0, 0, 1]])
        return np.asarray(inner @ np.column_stack((self.axes, -self.axes @ self.eye)), float)

    def on_page(self, points: Floats) -> Floats:
        found = np.column_stack((points, np.ones(len(points)))) @ self.matrix.T
        return np.asarray(found[:, :2] / found[:, 2:], float)

    def rays(self, page: Floats) -> Floats:
        flat = (page - self.centre) / self.reach
        return np.asarray(np.column_stack((flat, np.ones(len(flat)))) @ self.axes, float)


def shot(svg: str) -> Shot:
    root = ElementTree.fromstring(svg)
    camera = next(each for each in root.iter() if each.get("class") == "degrees")
    numbers = {
        key: np.array([float(v) for v in camera.get(f"data-{key}", "").split()])
        for key in ("eye", "ahead", "centre", "reach")
    }
    ahead = numbers["ahead"]
    right = np.cross(ahead, (0.0, 0.0, 1.0))
    right /= np.linalg.norm(right)
    axes = np.array([right, np.cross(ahead, right), ahead])
    return Shot(root, numbers["eye"], axes, numbers["centre"], float(numbers["reach"][0]))


def rings(path: Element) -> list[list[tuple[float, float]]]:
    """Return the rings of a path's data."""
    pieces = re.findall(r"M([^Z]*)Z", path.get("d", ""))
    return [[(float(x), float(y)) for x, y in (pair.split() for pair in piece.split("L"))] for piece in pieces]


def even_odd(outline: Iterable[Sequence[tuple[float, float]]], points: Floats) -> NDArray[np.bool_]:
    odd = np.zeros(len(points), bool)
    for ring in outline:
        for (x0, y0), (x1, y1) in pairwise([*ring, ring[0]]):
            between = (y0 > points[:, 1]) != (y1 > points[:, 1])
            with np.errstate(divide="ignore", invalid="ignore"):
                at = x0 + (points[:, 1] - y0) * (x1 - x0) / (y1 - y0)
            odd ^= between & (points[:, 0] < at)
    return odd


def area(outline: Iterable[Sequence[tuple[float, float]]]) -> float:
    """Shoelace area of rings, holes turned the other way."""
    return abs(sum(0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise([*r, r[0]])) for r in outline))


def faces(root: Element) -> dict[str, Element]:
    """Return the path of every drawn face, by the facet's id."""
    found = {}
    for group in root.iter(f"{NAMESPACE}g"):
        name = group.get("data-facet")
        if name is not None and group.get("class") in ("face", "wall"):
            found[name] = next(path for path in group.findall(f"{NAMESPACE}path") if path.get("data-owner"))
    return found


def window(root: Element) -> tuple[float, float, float, float]:
    frame = next(each for each in root.iter() if each.get("class") == "degrees").find(f"{NAMESPACE}rect")
    assert frame is not None
    x, y, width, height = (float(frame.get(key, "nan")) for key in ("x", "y", "width", "height"))
    return x, y, x + width, y + height


def drawings() -> dict[str, str]:
    site, plan = demo()
    found = {eye.id: eye_view(site, plan, eye.id) for eye in site.eyes}
    for name, place in POINTS.items():
        found[name] = point_view(site, plan, (place[0] * FOOT, place[1] * FOOT, place[2] * FOOT), name)
    return found


NAMES = ("larkspur-road", "lot-aisle", "pharmacy-door", *POINTS)


@cache
def drawn(name: str) -> Shot:
    return shot(drawings_once()[name])


@cache
def drawings_once() -> dict[str, str]:
    return drawings()


@pytest.mark.parametrize("name", NAMES)
def test_areas_on_paper_are_those_of_a_pinhole(name: str) -> None:
    site, _ = demo()
    seen = drawn(name)
    walls = placed_walls(site)
    scene = plan_eye_scene(site, walls, solids(site, walls), tuple(float(v) for v in seen.eye))
    paths, frame, checked = faces(seen.root), shapely.box(*window(seen.root)), 0
    for face in scene.faces:
        places = [[np.array(ring) for ring in part] for part in face.places(face.region)]
        if any(((ring - seen.eye) @ seen.axes[2] < 0.2).any() for part in places for ring in part):
            continue
        flat = [[seen.on_page(ring) for ring in part] for part in places]
        whole = shapely.union_all([shapely.Polygon(shell, holes) for shell, *holes in flat]).intersection(frame)
        if whole.area < 0.1:
            continue
        checked += 1
        slack = 0.002 * whole.length + 1e-3
        assert area(rings(paths[face.facet])) == pytest.approx(whole.area, abs=slack), face.facet
    assert checked >= (1 if name == "between column and wall" else 3)


@pytest.mark.parametrize("name", NAMES)
def test_every_pixel_shows_the_nearest_facet(name: str) -> None:
    """Pixels 7 pt apart; each must lie in the polygon of the facet that its ray meets first, and in no other."""
    site, _ = demo()
    seen = drawn(name)
    left, top, right, bottom = window(seen.root)
    across, down = np.meshgrid(np.arange(left + 1.3, right, 7.0), np.arange(top + 1.7, bottom, 7.0))
    page = np.column_stack((across.ravel(), down.ravel()))
    rays = seen.rays(page)
    walls = placed_walls(site)
    first, far = np.full(len(page), "", object), np.full(len(page), np.inf)
    for facet in facets(site, walls, solids(site, walls)):
        origin, along, up = facet.frame[:3]
        normal = np.cross(along, up)
        rate = rays @ normal
        with np.errstate(divide="ignore", invalid="ignore"):
            away = ((origin - seen.eye) @ normal) / rate
        ahead = (rate < -1e-9) & (away > 0.1) & (away < far)
        hits = seen.eye + np.where(ahead, away, 0.0)[:, None] * rays - origin
        parts = [
            ring for part in shapely.get_parts(facet.outline).tolist() for ring in (part.exterior, *part.interiors)
        ]
        meets = ahead & even_odd([list(ring.coords)[:-1] for ring in parts], np.column_stack((hits @ along, hits @ up)))
        first[meets], far[meets] = facet.id, away[meets]
    paths = {facet: rings(path) for facet, path in faces(seen.root).items()}
    edges = shapely.MultiLineString([[*ring, ring[0]] for outline in paths.values() for ring in outline])
    clear = shapely.distance(shapely.points(page), edges) > PIXEL
    covered = np.zeros(len(page), int)
    for facet, outline in paths.items():
        inside = even_odd(outline, page)
        covered += inside
        wrong = (inside != (first == facet)) & clear
        assert not wrong.any(), (facet, page[wrong][0])
    assert (covered[clear] <= 1).all()
    assert ((covered > 0) == (first != ""))[clear].all()
    assert clear.mean() > 0.5


def test_the_missed_hatch_is_what_the_plan_says_as_far_as_this_eye_sees_it() -> None:
    site, plan = demo()
    seen = drawn("larkspur-road")
    wall = next(placed for placed in placed_walls(site) if placed.wall.id == "row-front")
    sight = next(sight for sight in plan.sight if sight.wall == "row-front")
    hatch = [
        path
        for path in seen.root.iter()
        if path.get("data-sight") == "missed" and path.get("data-facet") == "row-front"
    ]
    assert len(hatch) == 1
    assert hatch[0].get("fill") == "url(#eye-missed)"
    shape = rings(hatch[0])
    left, top, right, bottom = shapely.MultiPoint([corner for ring in shape for corner in ring]).bounds
    across, down = np.meshgrid(np.arange(left - 9, right + 9, 2.3), np.arange(top - 9, bottom + 9, 1.1))
    page = np.column_stack((across.ravel(), down.ravel()))
    rays = seen.rays(page)
    hits = seen.eye + (((wall.origin - seen.eye) @ wall.outward) / (rays @ wall.outward))[:, None] * rays - wall.origin
    flat = np.column_stack((hits @ wall.along, hits[:, 2]))
    missed = even_odd([ring for part in sight.missed for ring in part], flat)
    on_wall = even_odd(rings(faces(seen.root)["row-front"]), page)
    edges = [*shape, *rings(faces(seen.root)["row-front"])]
    clear = shapely.distance(shapely.points(page), shapely.MultiLineString([[*r, r[0]] for r in edges])) > PIXEL
    assert (even_odd(shape, page) == (missed & on_wall))[clear].all()
    assert (missed & on_wall & clear).sum() > 500


def test_a_missed_canopy_end_is_hatched_too() -> None:
    """The car park's west corner sees the canopy's left end, 6 ft by 6 in, which nobody sees from 12 ft out."""
    site, plan = demo()
    walls = placed_walls(site)
    found = plan_face_sight(site, walls, solids(site, walls), site.eyes, site.crew_eye)
    place = (-30 * FOOT, -40 * FOOT, 5.5 * FOOT)
    plain = shot(point_view(site, plan, place, "here"))
    hatched = shot(point_view(site, plan, place, "here", faces=found))
    marks = [
        [path for path in each.root.iter() if path.get("data-facet") == "canopy-left-end" and path.get("data-sight")]
        for each in (plain, hatched)
    ]
    assert [len(each) for each in marks] == [0, 1]
    assert area(rings(marks[1][0])) == pytest.approx(area(rings(faces(hatched.root)["canopy-left-end"])), rel=0.01)


def test_a_wall_square_to_the_view_is_drawn_to_one_scale() -> None:
    """160 ft of wall at 300 ft: reach x 160 / 300 points (similar triangles); its upright ends stay upright."""
    seen = drawn("larkspur-road")
    assert seen.eye == pytest.approx(ROAD_EYE, abs=1e-6)
    assert seen.axes[2] == pytest.approx([0.0, 1.0, 0.0], abs=1e-9)
    outline = [corner for ring in rings(faces(seen.root)["row-front"]) for corner in ring]
    left, right = min(x for x, _ in outline), max(x for x, _ in outline)
    assert right - left == pytest.approx(seen.reach * 160 / 300, abs=0.01)
    top = min(y for _, y in outline)
    assert seen.centre[1] - top == pytest.approx(seen.reach * (23 - 3.5) / 300, abs=0.01)
    glass = next(each for each in seen.root.iter() if each.get("data-id") == "glass-1").find(f"{NAMESPACE}path")
    assert glass is not None
    width = max(x for ring in rings(glass) for x, _ in ring) - min(x for ring in rings(glass) for x, _ in ring)
    assert width == pytest.approx(seen.reach * 18 / 300, abs=0.01)


@pytest.mark.parametrize("name", ["larkspur-road", "lot-aisle", "a lift"])
def test_the_scale_of_degrees_runs_by_tangents(name: str) -> None:
    seen = drawn(name)
    made = next(each for each in seen.root.iter() if each.get("class") == "degrees")
    below, beside = [], []
    for words in made.findall(f"{NAMESPACE}text"):
        if not (words.text or "").endswith("°"):
            continue
        angle, x, y = float((words.text or "")[:-1]), float(words.get("x", "")), float(words.get("y", ""))
        if words.get("text-anchor") == "middle":
            below.append(abs(abs(x - seen.centre[0]) - seen.reach * math.tan(math.radians(angle))))
        else:
            beside.append(abs(abs(y - 2.5 - seen.centre[1]) - seen.reach * math.tan(math.radians(angle))))
    assert len(below) >= 5
    assert len(beside) >= 2
    assert max(below + beside) < 0.002


def test_the_horizon_lies_at_the_eyes_height() -> None:
    """A point 5 km ahead at the eye's own height comes within 0.01 pt of the mark, tilted view or not."""
    for name in ("larkspur-road", "a lift"):
        seen = drawn(name)
        level = np.array([seen.axes[2][0], seen.axes[2][1], 0.0])
        far = seen.eye + 5000.0 * level / np.linalg.norm(level)
        marks = [each for each in seen.root.iter() if each.get("class") == "horizon"]
        mark = next(each for each in marks if each.findtext(f"{NAMESPACE}title") == "eye level")
        path = mark.find(f"{NAMESPACE}path")
        assert path is not None
        y = float(re.findall(r"-?[\d.]+", path.get("d", ""))[1])
        assert y == pytest.approx(seen.on_page(far[None])[0][1], abs=0.01)


def texts(root: Element) -> list[str]:
    return [each.text or "" for each in root.iter(f"{NAMESPACE}text")]


def head(root: Element) -> list[str]:
    return texts(next(each for each in root.iter() if each.get("class") == "head"))


def test_the_title_says_from_where_and_how_high_the_eye_is() -> None:
    words = head(drawn("larkspur-road").root)
    assert words[0] == "What is seen from Larkspur Road, both lanes, 300 ft away"
    assert "eye 3 ft 6 in above the ground where Row, front (south) looks largest, looking north" in words[1]
    assert head(drawn("pharmacy-door").root)[0].endswith("26 ft away")
    held = next(line for line in words if line.startswith("held "))
    assert float(held.split()[1]) * 72 == pytest.approx(drawn("larkspur-road").reach)


@pytest.mark.parametrize("name", NAMES)
def test_drawings_are_well_formed_and_the_same_every_time(name: str) -> None:
    site, plan = demo()
    svg = drawings_once()[name]
    root = ElementTree.fromstring(svg)
    assert {each.tag.removeprefix(NAMESPACE) for each in root.iter()} <= ALLOWED
    assert "nan" not in svg.replace("tenant", "")
    assert "inf" not in re.sub("[a-z]*inf[a-z]+|[a-z]+inf[a-z]*", "", svg)
    assert float(root.get("width", "").removesuffix("pt")) == PAGE[0]
    assert float(root.get("height", "").removesuffix("pt")) <= PAGE[1]
    assert root.find(f"{NAMESPACE}desc") is not None
    again = replace(site)
    if name in POINTS:
        place = POINTS[name]
        assert point_view(again, plan, (place[0] * FOOT, place[1] * FOOT, place[2] * FOOT), name) == svg
    else:
        assert eye_view(again, plan, name) == svg


def test_unknown_ids_are_refused_with_those_known() -> None:
    site, plan = demo()
    with pytest.raises(InputError, match="larkspur-road"):
        eye_view(site, plan, "no-such-eye")
    with pytest.raises(InputError, match="row-front"):
        eye_view(site, plan, "larkspur-road", "no-such-wall")
    named = eye_view(site, plan, "larkspur-road", "pad-front")
    assert "where Corner unit, front (south) looks largest" in named


def test_a_bearing_turns_the_head() -> None:
    """The site's +y bears 8 degrees: to look along it is to look 8 degrees east of north, along -x 278."""
    site, plan = demo()
    place = (31.5 * FOOT, -4.5 * FOOT, 5.25 * FOOT)
    for bearing, ahead in ((8.0, (0.0, 1.0, 0.0)), (278.0, (-1.0, 0.0, 0.0)), (98.0, (1.0, 0.0, 0.0))):
        found = shot(point_view(site, plan, place, "under the canopy", bearing=bearing))
        assert found.axes[2] == pytest.approx(ahead, abs=1e-9)
        assert "canopy-underside" in faces(found.root)
