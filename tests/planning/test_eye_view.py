"""What one eye sees of everything, held against brute-force rays and closed forms.

Independent ways, written here: a ray meets a facet where it crosses its plane inside its rings (even-odd rule: J. D.
Foley et al., Computer Graphics: Principles and Practice, 1990, 19.1, from memory; the rule is its own proof), and the
nearest facet that faces the eye is what it sees. No shadow is projected and no polygon is cut. Closed forms: similar
triangles; areas of boxes; the solid angle of a rectangle (A. V. Gourjii and others give the same corner formula;
here it follows from the integral of cos/r2 over the rectangle, closed form).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import fields, is_dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from sightwash.planning.eye_view import EyeScene, Place, SeenFace, plan_eye_scene
from sightwash.planning.regions import Region
from sightwash.site.facets import Facet, facets, parapets
from sightwash.site.ground import Fence, Neighbour, OverheadLine, ParkedArea, Planting, Post, Surface
from sightwash.site.ground_facets import ground_facets
from sightwash.site.model import Building, Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import read_site
from sightwash.site.walls import Fixture, ProfilePoint, Projection, Wall

Floats = NDArray[np.float64]
FOOT = 0.3048
DEMO = Path(__file__).parents[2] / "examples" / "demo" / "site.yaml"
EMPTY = Site("site", 1, "a", "A")
EDGE = 0.003
"""Rays that pass nearer than this to an edge of a facet are not asked about [m]."""


def scene_of(site: Site, eye: Place) -> EyeScene:
    walls = placed_walls(site)
    return plan_eye_scene(site, walls, solids(site, walls), eye)


def even_odd(rings: Iterable[Sequence[tuple[float, float]]], points: Floats) -> NDArray[np.bool_]:
    """Whether points lie inside rings: a line to the right of each crosses an odd number of edges."""
    odd = np.zeros(len(points), bool)
    for ring in rings:
        for (x0, y0), (x1, y1) in pairwise([*ring, ring[0]]):
            between = (y0 > points[:, 1]) != (y1 > points[:, 1])
            with np.errstate(divide="ignore", invalid="ignore"):
                at = x0 + (points[:, 1] - y0) * (x1 - x0) / (y1 - y0)
            odd ^= between & (points[:, 0] < at)
    return odd


def crossings(origin: Floats, along: Floats, up: Floats, eye: Floats, rays: Floats) -> tuple[Floats, Floats]:
    """Return how far along each ray it meets a facet's plane from in front (inf: never), and where in (s, z)."""
    normal = np.cross(along, up)
    rate = rays @ normal
    with np.errstate(divide="ignore", invalid="ignore"):
        far = ((origin - eye) @ normal) / rate
    far[(rate > -1e-9) | ~(far > 1e-9)] = np.inf
    hits = eye + np.where(np.isfinite(far), far, 0.0)[:, None] * rays - origin
    return far, np.column_stack((hits @ along, hits @ up))


def rings_of(region: Region) -> list[tuple[tuple[float, float], ...]]:
    return [ring for rings in region for ring in rings]


def outline_rings(facet: Facet) -> list[list[tuple[float, float]]]:
    parts = shapely.get_parts(facet.outline).tolist()
    return [list(ring.coords)[:-1] for part in parts for ring in (part.exterior, *part.interiors)]


def near_edge(rings: Iterable[Sequence[tuple[float, float]]], points: Floats) -> Floats:
    edges = shapely.MultiLineString([[*ring, ring[0]] for ring in rings])
    return np.asarray(shapely.distance(shapely.points(points), edges), float)


def nearest(targets: Sequence[Facet], eye: Floats, rays: Floats) -> tuple[NDArray[np.intp], Floats, NDArray[np.bool_]]:
    """Return for each ray the number of the first facet that it meets (-1: none), how far off, and if clearly so."""
    best, far, sure = np.full(len(rays), -1), np.full(len(rays), np.inf), np.ones(len(rays), bool)
    for number, facet in enumerate(targets):
        away, flat = crossings(*(np.asarray(axis) for axis in facet.frame[:3]), eye, rays)
        meets = np.isfinite(away)
        rings = outline_rings(facet)
        hit = np.zeros(len(rays), bool)
        hit[meets] = even_odd(rings, flat[meets])
        sure[meets] &= near_edge(rings, flat[meets]) > EDGE
        sure[hit] &= ~np.isclose(away[hit], far[hit], rtol=0.0, atol=1e-6)
        closer = hit & (away < far)
        best[closer], far[closer] = number, away[closer]
    return best, far, sure


def drawn(face: SeenFace, eye: Floats, rays: Floats) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Return which rays meet the seen part of a face, and which do so clearly away from its edge."""
    axes = (np.array(face.origin), np.array(face.along), np.array(face.up))
    away, flat = crossings(*axes, eye, rays)
    meets, clear = np.isfinite(away), np.ones(len(rays), bool)
    found = np.zeros(len(rays), bool)
    found[meets] = even_odd(rings_of(face.region), flat[meets])
    clear[meets] = near_edge(rings_of(face.region), flat[meets]) > EDGE
    return found, clear


def check_against_rays(site: Site, eye: Place, rays: Floats) -> int:
    """Hold every face of a scene against the nearest facet of each ray; return how many rays were asked."""
    walls = placed_walls(site)
    bodies = solids(site, walls)
    targets = facets(site, walls, bodies)
    scene = plan_eye_scene(site, walls, bodies, eye)
    place = np.array(eye, float)
    first, far, sure = nearest(targets, place, rays)
    known = {face.facet: drawn(face, place, rays) for face in scene.faces}
    assert len(known) == len(scene.faces)
    asked = sure.copy()
    for found, clear in known.values():
        asked &= clear | ~found
    for number, facet in enumerate(targets):
        expected = first == number
        found = known[facet.id][0] if facet.id in known else np.zeros(len(rays), bool)
        clear = known[facet.id][1] if facet.id in known else np.ones(len(rays), bool)
        wrong = (expected != found) & sure & clear
        assert not wrong.any(), (facet.id, int(wrong.sum()), rays[wrong][0])
    for face in scene.ground:
        away, flat = crossings(*(np.array(axis) for axis in (face.origin, face.along, face.up)), place, rays)
        whole = next(facet for facet in ground_facets(site, walls) if facet.id == face.facet)
        inside = np.isfinite(away)
        inside[inside] = even_odd(outline_rings(whole), flat[inside])
        found, clear = drawn(face, place, rays)
        edge = near_edge(outline_rings(whole), flat) > EDGE
        wrong = (found != (inside & (away < far))) & sure & clear & edge
        assert not wrong.any(), face.facet
    return int(asked.sum())


def grid_rays(eye: Place, target: Place, columns: int, rows: int, spread: float) -> Floats:
    """Rays through the middles of a grid of pixels on a plane one metre ahead."""
    ahead = np.array(target) - np.array(eye)
    ahead /= np.linalg.norm(ahead)
    right = np.cross(ahead, (0.0, 0.0, 1.0))
    right /= np.linalg.norm(right)
    up = np.cross(right, ahead)
    x, y = np.meshgrid(np.linspace(-spread, spread, columns), np.linspace(-spread, spread, rows) * rows / columns)
    return np.asarray(ahead + x.reshape(-1, 1) * right + y.reshape(-1, 1) * up, float)


@pytest.mark.parametrize(
    ("eye", "target"),
    [
        ((80, -300, 3.5), (80, 0, 8)),
        ((81, -50, 5.25), (70, 0, 10)),
        ((90, -26, 5.25), (90, 0, 8)),
        ((80, -60, 40), (80, 0, 8)),
        ((31.5, -3.5, 5.25), (34, 0, 6)),
        ((95.4, -3.0, 4.0), (95.4, -6, 5)),
        ((90, 30, 34), (215, 20, 5)),
        ((230, 130, 6), (160, 40, 10)),
        ((-30, -40, 5.5), (40, 0, 8)),
        ((46.1, -5.0, 13.5), (46, 0, 13)),
    ],
)
def test_every_pixel_of_the_demo_shows_the_nearest_facet(eye: tuple[float, ...], target: tuple[float, ...]) -> None:
    """From the road, the aisle, the entrance, above, between column and wall, over the roof, behind, beside a sign."""
    place, aim = (tuple(FOOT * value for value in point) for point in (eye, target))
    rays = grid_rays(place, aim, 60, 40, 0.8)
    assert check_against_rays(read_site(DEMO), place, rays) > 1500


def metres(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 97), round(high * 97)).map(lambda n: n / 97)


def boxed(x: float, y: float, width: float, depth: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


projections = st.builds(
    lambda kind, left, width, bottom, height, depth, gap, drop: (kind, left, width, bottom, height, depth, gap, drop),
    st.sampled_from(("canopy", "awning", "blade sign", "column", "ledge")), metres(0, 8), metres(0.2, 8), metres(0, 4),
    metres(0.1, 1.5), metres(0.2, 2.5), st.sampled_from((0.0, 0.0, 0.4)), st.sampled_from((0.0, 0.0, 0.5, 1.0)),
)  # fmt: skip
blocks = st.tuples(metres(-8, 14), metres(-14, -3.5), metres(0.5, 4), metres(0.5, 4), metres(0.3, 5))


@st.composite
def sites(draw: st.DrawFn) -> Site:
    """A building with a stepped front and what stands out of it; boxes, posts, a hedge and a fence before it."""
    step = draw(metres(5.0, 7.0))
    high = tuple(
        ProfilePoint(*corner) for corner in ((0.0, 5.0), (4.0, 5.0), (4.0, step), (8.0, step), (8.0, 5.0), (12.0, 5.0))
    )
    things = tuple(
        Projection(f"p{k}", kind, left, width, bottom, height, depth, gap, drop * height)
        for k, (kind, left, width, bottom, height, depth, gap, drop) in enumerate(
            draw(st.lists(projections, max_size=4))
        )
    )
    front = Wall("front", building="b", start=(0.0, 0.0), end=(12.0, 0.0), profile=high, projections=things)
    east = Wall("east", building="b", start=(12.0, 0.0), end=(12.0, 7.0), height=draw(metres(3.0, 5.0)))
    cars = tuple(
        ParkedArea(f"c{k}", boxed(*box[:4]), box[4]) for k, box in enumerate(draw(st.lists(blocks, max_size=2)))
    )
    bend = ((-9.0, -16.0), (-2.0, -16.0), (-2.0, -15.0), (-8.0, -15.0), (-8.0, -11.0), (-9.0, -11.0))
    posts = tuple(
        Post(f"o{k}", (x, -2.6), 0.3, 2.0, k % 2 == 0) for k, x in enumerate(draw(st.lists(metres(0, 12), max_size=2)))
    )
    return replace(
        EMPTY,
        buildings=(Building("b", boxed(0.0, 0.0, 12.0, 7.0), 5.0), Building("d", boxed(15.0, 2.0, 4.0, 4.0), 3.0)),
        walls=(front, east),
        parked=cars,
        posts=posts,
        planting=(Planting("h", bend, "hedge", draw(metres(0.5, 2.0))),),
        fences=(Fence("f", ((14.0, -3.0), (14.0, -9.0), (18.0, -9.0)), 1.5),),
        surfaces=(Surface("walk", along="front", width=2.5), Surface("lot", outline=boxed(-1.0, -9.0, 14.0, 6.5))),
    )


places = st.tuples(metres(-12, 24), metres(-25, 16), metres(0.4, 9))


@settings(max_examples=40, deadline=None)
@given(sites(), places, st.integers(0, 2**32 - 1))
def test_every_ray_of_a_random_site_meets_what_is_drawn_there(site: Site, eye: Place, seed: int) -> None:
    walls = placed_walls(site)
    for solid in (*solids(site, walls), *parapets(site, walls)):
        if np.linalg.matrix_rank(solid.points - solid.points[0], tol=1e-6) == 3:
            room = ConvexHull(solid.points).equations @ np.array([*eye, 1.0])
            assume(bool(room.max() > 1e-3))
    random = np.random.default_rng(seed)
    goals = random.uniform((-10, -16, 0), (20, 8, 7), (600, 3))
    check_against_rays(site, eye, goals - np.array(eye))


@given(sites(), places)
@settings(max_examples=20, deadline=None)
def test_seen_parts_lie_on_their_facets_and_a_box_shows_three_faces_at_most(site: Site, eye: Place) -> None:
    walls = placed_walls(site)
    whole = {facet.id: facet for facet in facets(site, walls, solids(site, walls))}
    scene = scene_of(site, eye)
    for face in scene.faces:
        facet = whole[face.facet]
        assert (np.array(eye) - facet.frame.origin) @ facet.frame.normal > 0.0
        seen = shapely.union_all([shapely.Polygon(shell, holes) for shell, *holes in face.region])
        assert seen.difference(facet.outline.buffer(1e-6)).area < 1e-6
        assert face.area == pytest.approx(seen.area, abs=1e-5)
    for owner in {face.owner for face in scene.faces if face.kind == "parked"}:
        assert sum(face.owner == owner for face in scene.faces) <= 3


@given(sites(), places, blocks)
@settings(max_examples=15, deadline=None)
def test_one_more_thing_never_shows_more(site: Site, eye: Place, more: tuple[float, ...]) -> None:
    before = {face.facet: face.area for face in scene_of(site, eye).faces}
    added = ParkedArea("more", boxed(*more[:4]), more[4])
    for face in scene_of(replace(site, parked=(*site.parked, added)), eye).faces:
        if face.owner != "more":
            assert face.area <= before.get(face.facet, 0.0) + 1e-6


def test_a_parapet_has_a_back_and_hides_what_is_behind_it() -> None:
    """A parapet to 5.2 m, an eye at 8.2 m, 3 m behind: past it a ledge's top at 2.2 m is hidden for 3 x 3/3 m of 6."""
    ledge = Projection("l", "ledge", 0.0, 10.0, 2.0, 0.2, 6.0)
    wall = Wall("w", building="b", start=(0.0, 0.0), end=(10.0, 0.0), height=5.2, projections=(ledge,))
    site = replace(EMPTY, buildings=(Building("b", boxed(0.0, 0.0, 10.0, 8.0), 4.0),), walls=(wall,))
    by_face = {face.facet: face for face in scene_of(site, (5.0, 3.0, 8.2)).faces}
    assert by_face["w-back"].area == pytest.approx(12.0)
    assert by_face["l-top"].area == pytest.approx(10.0 * 3.0)
    assert "w" not in by_face


def test_a_plain_wall_is_seen_whole_and_its_back_is_not() -> None:
    site = replace(EMPTY, walls=(Wall("w", start=(0.0, 0.0), end=(10.0, 0.0), height=4.0),))
    front = scene_of(site, (3.0, -5.0, 1.6))
    assert [(face.facet, face.area) for face in front.faces] == [("w", pytest.approx(40.0))]
    back = scene_of(site, (3.0, 5.0, 1.6))
    assert [(face.facet, face.area) for face in back.faces] == [("w-back", pytest.approx(40.0))]
    assert scene_of(site, (3.0, 0.0, 9.0)).faces == ()


def test_a_full_canopy_hides_by_similar_triangles() -> None:
    """H = (h_t - h_e) d / (D - d) over the top edge: eye 1 m up and 9 m out, canopy 2 m deep, its top at 3.5 m."""
    canopy = Projection("c", "canopy", -1000.0, 2010.0, 3.0, 0.5, 2.0)
    site = replace(EMPTY, walls=(Wall("w", start=(0.0, 0.0), end=(10.0, 0.0), height=6.0, projections=(canopy,)),))
    by_face = {face.facet: face for face in scene_of(site, (4.0, -9.0, 1.0)).faces}
    above = (3.5 - 1.0) * 2.0 / (9.0 - 2.0)
    assert by_face["w"].area == pytest.approx(10.0 * (3.0 + 6.0 - 3.5 - above))
    assert "c-top" not in by_face
    assert "c-underside" in by_face
    over = {face.facet: face for face in scene_of(site, (4.0, -9.0, 5.0)).faces}
    under = (5.0 - 3.0) / (9.0 - 2.0) * 2.0  # over the lower outer edge
    assert over["w"].area == pytest.approx(10.0 * (3.0 - under + 2.5))
    assert "c-underside" not in over


def test_wires_rails_and_fixtures_are_seen_up_to_what_hides_them() -> None:
    """A pillar 1 m wide at half the distance hides 2 m of a wire; the lamp behind it is hidden, the others are not."""
    lamps = Fixture("l", "luminaire", 3.0, 2.0, count=3, spacing=2.0)
    wall = Wall("w", start=(0.0, 0.0), end=(10.0, 0.0), height=4.0, fixtures=(lamps,))
    pillar = Post("p", (5.0, -5.0), 1.0, 50.0, round=False)
    wire = OverheadLine("o", (0.0, 0.0, 5.0), (10.0, 0.0, 5.0))
    rail = Fence("r", ((0.0, 1.0), (10.0, 1.0)), 6.0, opaque=False)
    site = replace(EMPTY, walls=(wall,), posts=(pillar,), overhead_lines=(wire,), fences=(rail,))
    scene = scene_of(site, (5.0, -9.5, 1.0))
    assert sorted(fixture.place[0] for fixture in scene.fixtures) == [3.0, 7.0]
    half = 0.5 * 9.5 / 4.0  # the pillar's near face stands 4 m before the eye
    ends = sorted(point[0] for line in scene.lines if line.kind == "overhead" for point in line.points)
    assert ends == pytest.approx([0.0, 5.0 - half, 5.0 + half, 10.0], abs=1e-6)
    assert {line.owner for line in scene.lines} == {"o", "r"}


def test_what_hides_nothing_is_no_target() -> None:
    ring = boxed(0.0, 0.0, 2.0, 2.0)
    site = replace(
        EMPTY,
        parked=(ParkedArea("gone", ring, 1.5, present=False),),
        neighbours=(Neighbour("n", ring, "a lawn"),),
        planting=(Planting("thin", ring, "tree", 4.0, opaque=False),),
    )
    assert scene_of(site, (5.0, 5.0, 1.5)).faces == ()
    assert scene_of(EMPTY, (5.0, 5.0, 1.5)).earth is None


def test_walls_without_a_place_are_not_in_the_picture() -> None:
    site = replace(EMPTY, walls=(Wall("w", length=10.0, height=4.0),))
    assert scene_of(site, (5.0, -5.0, 1.5)).faces == ()


def plain(value: Any) -> bool:
    if is_dataclass(value):
        return all(plain(getattr(value, field.name)) for field in fields(value))
    if isinstance(value, tuple):
        return all(plain(part) for part in value)
    return value is None or type(value) in (str, float, int)


def test_a_scene_is_plain_data_and_the_same_every_time() -> None:
    site = read_site(DEMO)
    scene = scene_of(site, (24.4, -15.2, 1.6))
    assert plain(scene)
    assert scene == scene_of(read_site(DEMO), (24.4, -15.2, 1.6))
    assert scene.ground
