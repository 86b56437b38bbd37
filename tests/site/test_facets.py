"""The faces of a site as targets of sight: they close their solids and lie where their owners stand.

Closed forms: areas of boxes; a closed surface has no area vector (the divergence theorem). The surface of a convex
hull is Q-hull's (C. B. Barber, D. P. Dobkin, H. Huhdanpaa, ACM Trans. Math. Software 22, 1996; independent program).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from sightwash.site.facets import facets, solid_facets
from sightwash.site.ground import ParkedArea, Planting, Post, Surface
from sightwash.site.ground_facets import earth_facet, ground_facets
from sightwash.site.model import Building, Site
from sightwash.site.shapes import Solid, placed_walls, solids
from sightwash.site.walls import Projection, Wall

EMPTY = Site("site", 1, "a", "A")
BEND = ((-9.0, -16.0), (-2.0, -16.0), (-2.0, -15.0), (-8.0, -15.0), (-8.0, -11.0), (-9.0, -11.0))


def boxed(x: float, y: float, width: float, depth: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


@st.composite
def sites(draw: st.DrawFn) -> Site:
    """A turned wall with projections of every shape, and boxes, posts and a bent hedge beside it."""
    turn = draw(st.floats(0.0, 2 * math.pi))
    sizes = st.tuples(
        st.floats(0, 8), st.floats(0.2, 8), st.floats(0, 4), st.floats(0.1, 1.5), st.floats(0.2, 2.5),
        st.sampled_from((0.0, 0.4)), st.sampled_from((0.0, 0.5, 1.0)),
    )  # fmt: skip
    things = tuple(
        Projection(f"p{k}", "awning", left, width, bottom, height, depth, gap, drop * height)
        for k, (left, width, bottom, height, depth, gap, drop) in enumerate(draw(st.lists(sizes, max_size=4)))
    )
    end = (12.0 * math.cos(turn), 12.0 * math.sin(turn))
    return replace(
        EMPTY,
        walls=(Wall("front", start=(0.0, 0.0), end=end, height=6.0, projections=things),),
        parked=(ParkedArea("car", boxed(30.0, 2.0, draw(st.floats(0.5, 9.0)), 2.0), draw(st.floats(0.5, 3.0))),),
        posts=(Post("round", (30.0, -2.6), 0.3, 2.0), Post("square", (34.0, -2.6), 0.3, 2.0, round=False)),
        planting=(Planting("h", BEND, "hedge", draw(st.floats(0.5, 2.0))),),
    )


@given(sites())
@settings(max_examples=25, deadline=None)
def test_facets_close_each_solid(site: Site) -> None:
    """Areas of faces add up to the surface of the convex hull (Q-hull's), and their area vectors to nothing."""
    walls = placed_walls(site)
    bodies = solids(site, walls)
    found = facets(site, walls, bodies)
    for solid in bodies:
        if solid.kind == "wall":
            continue
        own = (
            list(solid_facets(solid))
            if solid.wall is None
            else [facet for facet in found if facet.owner == solid.owner]
        )
        areas = np.array([facet.outline.area for facet in own])
        normals = np.array([facet.frame.normal for facet in own])
        touching = 0.0
        if solid.wall is not None and not any(facet.face == "back" for facet in own):
            item = next(p for wall in site.walls for p in wall.projections if p.id == solid.owner)
            touching = item.width * item.height
            normals, areas = np.vstack((normals, -walls[0].outward)), np.append(areas, touching)
        assert areas.sum() == pytest.approx(ConvexHull(solid.points).area, rel=1e-6)
        assert np.abs(areas @ normals).max() < 1e-5 * areas.sum()


def test_a_flat_solid_has_two_faces_and_a_building_gives_its_sides_to_its_walls() -> None:
    """A fence of 4 x 1.5 m has 6 m2 on each side; 12 x 5 m less a wall of 12 x 5 m leaves nothing, 12 x 3 leaves 24."""
    fence = list(
        solid_facets(Solid("f", "fence", None, np.array([(0, 0, 0), (4, 0, 0), (4, 0, 1.5), (0, 0, 1.5)], float)))
    )
    assert [facet.outline.area for facet in fence] == pytest.approx([6.0, 6.0])
    assert fence[0].frame.normal == pytest.approx(-fence[1].frame.normal)
    block = Building("b", boxed(0.0, 0.0, 12.0, 7.0), 5.0)
    for height, left in ((5.0, 0.0), (3.0, 24.0)):
        wall = Wall("w", building="b", start=(0.0, 0.0), end=(12.0, 0.0), height=height)
        site = replace(EMPTY, buildings=(block,), walls=(wall,))
        found = facets(site, placed_walls(site), ())
        south = [facet for facet in found if facet.kind == "building" and facet.frame.normal[1] < -0.9]
        assert sum(facet.outline.area for facet in south) == pytest.approx(left)


def test_a_strip_of_ground_follows_the_walls_foot_and_an_earlier_surface_keeps_the_ground() -> None:
    wall = Wall("w", start=(0.0, 0.0), end=(10.0, 0.0), height=4.0, base=(0.0, -1.0))
    surfaces = (Surface("walk", along="w", width=2.0), Surface("lot", outline=boxed(0.0, -6.0, 10.0, 6.0)))
    site = replace(EMPTY, walls=(wall,), surfaces=surfaces)
    walk, lot = ground_facets(site, placed_walls(site))
    assert walk.outline.area == pytest.approx(2.0 * math.hypot(10.0, 1.0))
    ends = walk.places(np.array(shapely.get_coordinates(walk.outline)))
    assert {tuple(np.round(end, 9) + 0.0) for end in ends} == {(0, 0, 0), (10, 0, -1), (10, -2, -1), (0, -2, 0)}
    assert lot.outline.area == pytest.approx(40.0)
    assert walk.frame.normal[2] > 0.9


def test_the_level_ground_runs_from_the_eye_to_beyond_all_that_lies_on_it() -> None:
    site = replace(EMPTY, parked=(ParkedArea("car", boxed(30.0, 2.0, 4.0, 2.0), 1.5),))
    earth = earth_facet(site, (), (-50.0, 60.0, 1.5))
    assert earth is not None
    assert earth.outline.covers(shapely.box(-50.0, 2.0, 34.0, 60.0))
    assert earth.frame.normal == pytest.approx([0.0, 0.0, 1.0])
    assert earth_facet(EMPTY, (), (0.0, 0.0, 1.5)) is None
