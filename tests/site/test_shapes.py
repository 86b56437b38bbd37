"""The shapes that the sight engine sees.

Checked against: shapely's areas, unions and intersections and scipy's convex hull (independent programs); and
closed forms: the shoelace area of a profile, a prism's volume, a viewer's right hand as look x up.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from shapely import affinity

from sightwash.site.ground import Fence, Neighbour, ParkedArea, Planting, Post
from sightwash.site.model import Building, Site
from sightwash.site.shapes import (
    building_heights,
    convex_parts,
    lowest_top,
    placed_walls,
    prism,
    projection_section,
    projection_solid,
    solids,
    wall_top,
)
from sightwash.site.site_file import read_site
from sightwash.site.walls import ProfilePoint, Projection, Wall

DEMO = Path(__file__).parent.parent.parent / "examples" / "demo" / "site.yaml"
FOOT = 0.3048
UP = np.array([0.0, 0.0, 1.0])

cells = st.tuples(st.integers(0, 12), st.integers(0, 12), st.integers(1, 7), st.integers(1, 7))


@st.composite
def rectilinear(draw: st.DrawFn) -> shapely.Geometry:
    """Rectangles put together and cut out of each other, turned and stretched: notches, courtyards, islands."""
    added = shapely.union_all(
        [shapely.box(x, y, x + w, y + h) for x, y, w, h in draw(st.lists(cells, min_size=1, max_size=6))]
    )
    cut = shapely.union_all([shapely.box(x, y, x + w, y + h) for x, y, w, h in draw(st.lists(cells, max_size=4))])
    parts = [part for part in shapely.get_parts(added.difference(cut)) if part.area > 0.0]
    assume(parts)
    outline = affinity.rotate(max(parts, key=lambda part: part.area), draw(st.floats(0, 360)))
    return affinity.scale(outline, draw(st.floats(0.3, 9.0)), draw(st.floats(0.3, 9.0)))


@st.composite
def star(draw: st.DrawFn) -> shapely.Polygon:
    """Corners around a middle at any distance, with a hole around the middle in some."""
    count = draw(st.integers(3, 14))
    radii = draw(st.lists(st.floats(4.0, 40.0), min_size=count, max_size=count))
    turns = [2 * math.pi * n / count for n in range(count)]
    ring = [(radius * math.cos(turn), radius * math.sin(turn)) for radius, turn in zip(radii, turns, strict=True)]
    outer = shapely.Polygon(ring)
    middle = shapely.Point(0.0, 0.0)
    inside = middle.distance(outer.boundary)
    hole = [(0.6 * inside * math.cos(turn), 0.6 * inside * math.sin(turn)) for turn in turns]
    polygon = shapely.Polygon(ring, [hole] if draw(st.booleans()) and outer.contains(middle) and inside > 0.2 else [])
    assume(polygon.is_valid)
    return polygon


@settings(deadline=None)
@given(st.one_of(rectilinear(), star()))
def test_convex_parts_partition_an_outline(outline: shapely.Geometry) -> None:
    assert isinstance(outline, shapely.Polygon)
    parts = convex_parts(outline)
    area = outline.area
    assert sum(part.area for part in parts) == pytest.approx(area, rel=1e-9)
    assert shapely.union_all(parts).symmetric_difference(outline).area < 1e-7 * area
    for part in parts:
        assert part.is_valid
        assert not part.interiors
        assert part.area > 0.0
        assert part.convex_hull.area - part.area < 1e-8 * area
    overlap = sum(a.intersection(b).area for n, a in enumerate(parts) for b in parts[:n])
    assert overlap < 1e-7 * area


def test_an_l_and_a_courtyard_need_few_parts() -> None:
    """An L splits into 2 convex parts and no fewer; a ring of a square around a square into 4 (closed form)."""
    bend = shapely.Polygon([(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)])
    ring = shapely.Polygon(shapely.box(0, 0, 10, 10).exterior, [shapely.box(3, 3, 7, 7).exterior])
    assert len(convex_parts(bend)) == 2
    assert 4 <= len(convex_parts(ring)) <= 6
    assert convex_parts(shapely.box(0, 0, 3, 2)) == [shapely.box(0, 0, 3, 2)]


@given(st.floats(0, 359), st.floats(0.5, 30), st.floats(-5, 20), st.floats(0.1, 30))
def test_a_prism_has_the_volume_of_its_area_times_its_height(
    turn: float, size: float, bottom: float, height: float
) -> None:
    outline = affinity.rotate(shapely.Polygon([(0, 0), (size, 0), (1.4 * size, size), (0.2 * size, size)]), turn)
    corners = prism(outline, bottom, bottom + height)
    assert corners.shape == (8, 3)
    assert ConvexHull(corners).volume == pytest.approx(outline.area * height, rel=1e-9)
    assert (corners[:, 2].min(), corners[:, 2].max()) == (bottom, bottom + height)


def projections() -> st.SearchStrategy[Projection]:
    return st.builds(
        lambda left, width, bottom, height, depth, gap, drop: Projection(
            "p", "awning", left, width, bottom, height, depth, gap, drop * height
        ),
        st.floats(0, 9), st.floats(0.1, 20), st.floats(0, 5), st.floats(0.05, 3), st.floats(0.05, 6), st.floats(0, 3),
        st.floats(0, 1),
    )  # fmt: skip


@given(projections())
def test_a_projections_section_is_a_box_less_the_wedge_that_it_drops(item: Projection) -> None:
    section = shapely.Polygon(projection_section(item))
    assert section.area == pytest.approx(item.depth * (item.height - item.outer_drop / 2), rel=1e-9)
    assert section.bounds == pytest.approx((item.gap, item.bottom, item.gap + item.depth, item.bottom + item.height))
    assert section.convex_hull.area == pytest.approx(section.area, rel=1e-9)
    (inner_bottom, outer_bottom, outer_top, inner_top) = projection_section(item)
    assert inner_bottom[1] == outer_bottom[1] == item.bottom
    assert inner_top[1] - outer_top[1] == pytest.approx(item.outer_drop, abs=1e-12)


@given(projections(), st.floats(0, 2 * math.pi), st.floats(4, 60))
def test_a_projections_solid_stands_before_the_wall(item: Projection, turn: float, length: float) -> None:
    wall = Wall("w", start=(3.0, -2.0), end=(3.0 + length * math.cos(turn), -2.0 + length * math.sin(turn)), height=9.0)
    (placed,) = placed_walls(replace(EMPTY, walls=(replace(wall, base=(1.5, 1.5)),)))
    solid = projection_solid(placed, item)
    assert ConvexHull(solid.points).volume == pytest.approx(
        shapely.Polygon(projection_section(item)).area * item.width, rel=1e-6
    )
    local = np.array([(*placed.local((x, y)), z) for x, y, z in solid.points])
    assert local[:, 0].min() == pytest.approx(item.left, abs=1e-9)
    assert local[:, 0].max() == pytest.approx(item.left + item.width, abs=1e-9)
    assert local[:, 1].min() == pytest.approx(item.gap, abs=1e-9)
    assert local[:, 1].max() == pytest.approx(item.gap + item.depth, abs=1e-9)
    assert solid.points[:, 2].min() == pytest.approx(1.5 + item.bottom, abs=1e-9)


EMPTY = Site("site", 1, "a", "A")


@given(st.floats(0, 2 * math.pi), st.floats(1, 60), st.floats(-20, 20), st.floats(0.1, 30))
def test_along_runs_to_the_right_of_whoever_faces_the_wall(turn: float, length: float, s: float, out: float) -> None:
    end = (7.0 + length * math.cos(turn), 5.0 + length * math.sin(turn))
    (placed,) = placed_walls(replace(EMPTY, walls=(Wall("w", start=(7.0, 5.0), end=end, height=4.0, base=(2.0, 3.0)),)))
    looking = -placed.outward
    assert np.cross(looking, UP) == pytest.approx(placed.along, abs=1e-12)
    assert np.linalg.norm(placed.along) == pytest.approx(1.0)
    assert placed.outward @ placed.along == pytest.approx(0.0, abs=1e-12)
    assert placed.length == pytest.approx(length)
    x, y, z = placed.point(s, out, 1.25)
    assert placed.local((x, y)) == pytest.approx((s, out), abs=1e-9)
    assert z == pytest.approx(3.25)
    assert placed.point(0, 0) == pytest.approx([7.0, 5.0, 2.0])
    assert placed.point(placed.length, 0)[:2] == pytest.approx(end)
    assert placed.ground_at(placed.length / 2) == pytest.approx(0.5)


def test_every_wall_of_the_demo_faces_away_from_its_building() -> None:
    site = read_site(DEMO)
    ground = {building.id: shapely.Polygon(building.outline) for building in site.buildings}
    walls = placed_walls(site)
    assert [placed.wall.id for placed in walls] == [wall.id for wall in site.walls]
    for placed in walls:
        outside, inside = (placed.point(placed.length / 2, out)[:2] for out in (0.3, -0.3))
        solid = ground[placed.wall.building or ""]
        assert not solid.contains(shapely.Point(outside))
        assert solid.contains(shapely.Point(inside))
        assert placed.measured_place


def test_the_demo_front_has_the_area_of_its_steps_and_its_falling_ground() -> None:
    """160 x 20 ft, 36 x 3 ft more over the middle shop, and a wedge of 0.8 ft at the right end (shoelace)."""
    front = placed_walls(read_site(DEMO))[0]
    assert front.outline.area / FOOT**2 == pytest.approx(160 * 20 + 36 * 3 + 0.5 * 160 * 0.8, rel=1e-12)
    assert front.outline.exterior.is_ccw
    assert front.outline.is_valid
    assert lowest_top(front, 62 * FOOT, 98 * FOOT) == pytest.approx(23 * FOOT)
    assert lowest_top(front, 60 * FOOT, 98 * FOOT) == pytest.approx(20 * FOOT)


heights = st.floats(1.0, 20.0)


@given(st.lists(heights, min_size=2, max_size=9), st.floats(5, 80), st.floats(-0.9, 0.9))
def test_a_profiles_outline_has_its_shoelace_area(tops: list[float], length: float, rise: float) -> None:
    count = len(tops) - 1
    profile = tuple(ProfilePoint(length * n / count, top) for n, top in enumerate(tops))
    (placed,) = placed_walls(replace(EMPTY, walls=(Wall("w", length=length, profile=profile, base=(0.0, rise)),)))
    trapezia = sum((a + b) / 2 for a, b in pairwise(tops)) * length / count
    assert placed.outline.area == pytest.approx(trapezia - rise * length / 2, rel=1e-9)
    assert placed.outline.is_valid


def test_a_profile_that_stops_short_runs_on_flat_and_one_that_runs_past_is_cut() -> None:
    short = Wall("w", length=10.0, profile=(ProfilePoint(2.0, 4.0), ProfilePoint(8.0, 6.0)))
    assert wall_top(short, 10.0) == ((0.0, 4.0), (2.0, 4.0), (8.0, 6.0), (10.0, 6.0))
    past = Wall("w", length=10.0, profile=(ProfilePoint(0.0, 4.0), ProfilePoint(10.04, 4.0)))
    assert wall_top(past, 10.0) == ((0.0, 4.0), (10.0, 4.0))
    assert wall_top(Wall("w"), 10.0) == ()


def test_walls_without_a_place_stand_in_a_row_and_face_south() -> None:
    walls = (
        Wall("a", length=10.0, height=4.0),
        Wall("b", length=20.0),
        Wall("c", height=3.0),
        Wall("d", length=5.0, height=3.0),
    )
    building = Building("x", ((0.0, 7.0), (9.0, 7.0), (9.0, 15.0)), height=5.0)
    placed = placed_walls(replace(EMPTY, walls=walls, buildings=(building,)))
    assert [one.wall.id for one in placed] == ["a", "d"]
    assert not any(one.measured_place for one in placed)
    for one in placed:
        assert one.outward == pytest.approx([0.0, -1.0, 0.0])
        assert one.start[1] < 7.0 - 100.0
    assert placed[1].start[0] > placed[0].end[0]


def test_a_building_is_as_high_as_written_or_as_its_highest_wall() -> None:
    ring = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))
    walls = (
        Wall("a", building="b", length=9.0, height=4.0, base=(1.0, 1.0)),
        Wall("c", building="b", length=9.0, profile=(ProfilePoint(0.0, 3.0), ProfilePoint(9.0, 6.0))),
    )
    buildings = (Building("b", ring, level=0.5), Building("d", ring, height=8.0), Building("e", ring))
    assert building_heights(replace(EMPTY, walls=walls, buildings=buildings)) == {"b": 5.5, "d": 8.0, "e": 0.0}


def test_the_demo_has_one_solid_for_each_convex_thing() -> None:
    """Counted in the file: 9 projections of the front, 1 of the corner unit; buildings, hedge, bed, cars, 3 posts."""
    site = read_site(DEMO)
    found = solids(site, placed_walls(site))
    projections_drawn = [item.id for wall in site.walls for item in wall.projections]
    assert len(projections_drawn) == 9
    owners = Counter(solid.owner for solid in found)
    assert owners == Counter(
        [*projections_drawn, "row", "pad", "front-bed", "road-hedge", "lot-row", "bollard-1", "bollard-2", "bench"]
    )
    for solid in found:
        assert np.isfinite(solid.points).all()
        assert ConvexHull(solid.points).volume > 0.0


def test_what_hides_nothing_makes_no_solid() -> None:
    ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0))
    site = replace(
        EMPTY,
        buildings=(Building("b", ring),),
        planting=(Planting("thin", ring, height=2.0, opaque=False), Planting("lawn", ring)),
        parked=(ParkedArea("empty", ring, present=False), ParkedArea("flat", ring, height=0.0)),
        fences=(
            Fence("wire", ((0.0, 0.0), (5.0, 0.0)), 2.0, opaque=False),
            Fence("kerb", ((0.0, 0.0), (5.0, 0.0)), 0.0),
        ),
        neighbours=(Neighbour("n", ring, "a yard"),),
        posts=(Post("plate", (0.0, 0.0), 1.0, height=0.0),),
    )
    assert solids(site, ()) == ()


def test_fences_and_notched_outlines_become_several_solids() -> None:
    bend = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 10.0), (0.0, 10.0))
    site = replace(
        EMPTY,
        buildings=(Building("b", bend, height=5.0, level=1.0),),
        fences=(Fence("f", ((0.0, 0.0), (5.0, 0.0), (5.0, 0.0), (5.0, 5.0)), 2.0, level=0.3),),
        neighbours=(Neighbour("n", bend, "a shop", height=3.0),),
        posts=(Post("round", (20.0, 20.0), 1.0, 2.0), Post("square", (30.0, 20.0), 1.0, 2.0, round=False)),
    )
    found = solids(site, ())
    assert Counter(solid.owner for solid in found) == {"b": 2, "f": 2, "n": 2, "round": 1, "square": 1}
    volumes = {
        name: sum(ConvexHull(s.points).volume for s in found if s.owner == name) for name in ("b", "n", "square")
    }
    assert volumes == pytest.approx({"b": 64.0 * 5.0, "n": 64.0 * 3.0, "square": 2.0})
    (pole,) = (solid for solid in found if solid.owner == "round")
    assert math.dist(pole.points[0][:2], (20.0, 20.0)) == pytest.approx(0.5)
    fence = np.vstack([solid.points for solid in found if solid.owner == "f"])
    assert (fence[:, 2].min(), fence[:, 2].max()) == pytest.approx((0.3, 2.3))


def test_a_wall_without_a_building_hides_what_is_behind_it() -> None:
    wall = Wall("w", start=(0.0, 0.0), end=(10.0, 0.0), height=3.0, base=(0.5, 0.5))
    (plate,) = solids(replace(EMPTY, walls=(wall,)), placed_walls(replace(EMPTY, walls=(wall,))))
    assert (plate.owner, plate.kind) == ("w", "wall")
    assert shapely.MultiPoint(plate.points[:, [0, 2]]).convex_hull.equals(shapely.box(0.0, 0.5, 10.0, 3.5))
