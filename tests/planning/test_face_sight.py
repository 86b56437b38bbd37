"""Sight of canopy tops, ledges and awnings, and of walls while an eye is dragged.

Independent ways: the plane equation (an eye sees a face only from its front), similar triangles (closed forms), and
rays that are clipped by half-spaces (M. Cyrus and J. Beck, Generalized two- and three-dimensional clipping, Computers
and Graphics 3, 1978; from memory, the method is its own proof), which share no code with the planner.
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from sightwash.planning.face_sight import FaceSight, plan_face_sight
from sightwash.planning.live import crew_regions, look_from
from sightwash.planning.regions import Region, region_area
from sightwash.planning.takeoff import plan_wall_takeoff
from sightwash.site.eyes import CrewEye, Eye
from sightwash.site.ground import ParkedArea
from sightwash.site.model import Building, Site
from sightwash.site.shapes import placed_walls, solids
from sightwash.site.site_file import read_site
from sightwash.site.walls import Projection, Wall

Floats = NDArray[np.float64]
DEMO = Path(__file__).parents[2] / "examples" / "demo" / "site.yaml"
EMPTY = Site("site", 1, "a", "A")
CREW = CrewEye(1.6, 3.6)
EDGE = 0.004
"""Points of a face nearer to the edge of a region than this are not asked about [m]."""


def site_with(*things: Projection, eyes: tuple[Eye, ...] = (), parked: tuple[ParkedArea, ...] = ()) -> Site:
    wall = Wall("w", building="b", start=(0.0, 0.0), end=(10.0, 0.0), height=6.0, projections=things)
    block = Building("b", ((0.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0)), 6.0)
    return replace(EMPTY, buildings=(block,), walls=(wall,), eyes=eyes, parked=parked)


def sights(site: Site) -> dict[str, FaceSight]:
    walls = placed_walls(site)
    found = plan_face_sight(site, walls, solids(site, walls), site.eyes, CREW)
    assert len({face.id for face in found}) == len(found)
    return {face.id: face for face in found}


def standing(x: float, y: float, z: float, kind: str = "entrance") -> Eye:
    return Eye("eye", kind, ((x, y),), height=z)


CANOPY = Projection("c", "canopy", 1.0, 8.0, 3.0, 0.4, 2.0)
AWNING = Projection("a", "awning", 1.0, 8.0, 2.6, 1.2, 1.5, 0.0, 1.0)


def test_an_eye_above_a_canopy_sees_its_top_and_one_below_does_not() -> None:
    above = sights(site_with(CANOPY, eyes=(standing(5.0, -9.0, 3.5),)))
    assert above["c-top"].public_area == pytest.approx(16.0)
    assert above["c-top"].slope == pytest.approx(0.0)
    assert above["c-underside"].public_area == 0.0
    assert above["c-front"].public_area == pytest.approx(8.0 * 0.4)
    assert above["c-top"].missed_area == pytest.approx(16.0), "the crew's eye at 1.6 m is below it"
    assert above["c-top"].seen_by == ("eye",)
    below = sights(site_with(CANOPY, eyes=(standing(5.0, -9.0, 3.3),)))
    assert below["c-top"].public_area == below["c-top"].missed_area == 0.0
    assert below["c-top"].hidden_area == pytest.approx(16.0)
    level = sights(site_with(CANOPY, eyes=(standing(5.0, -9.0, 3.0),)))
    assert level["c-underside"].public_area == 0.0


@given(st.floats(1.0, 6.0), st.floats(2.0, 60.0), st.floats(1.0, 9.0))
@example(1.0, 4.216796875, 1.0)
@settings(max_examples=40, deadline=None)
def test_a_pitched_awning_is_seen_as_its_plane_says(height: float, out: float, x: float) -> None:
    """The top runs from 3.8 m at the wall to 2.8 m at 1.5 m out: seen where z > 3.8 - out / 1.5.

    An eye less than 10 mm before the plane counts as not seeing it (``least_distance`` of ``path_sight``).
    """
    before = (height - 3.8 + out / 1.5) / math.hypot(1.0, 1.0 / 1.5)
    assume(abs(before - 0.01) > 1e-6)
    top = sights(site_with(AWNING, eyes=(standing(x, -out, height),)))["a-top"]
    assert top.area == pytest.approx(8.0 * math.hypot(1.5, 1.0))
    assert top.slope == pytest.approx(math.degrees(math.atan2(1.0, 1.5)))
    assert top.public_area == pytest.approx(top.area if before > 0.01 else 0.0)


def test_a_sign_over_a_canopy_shades_part_of_its_top() -> None:
    """A board 2 m wide and 0.5 m high stands on the front edge; the eye 1.5 m above its foot, 3 m before it.

    Its shadow on the top runs back 3 x 0.5/1.0 = 1.5 m and widens from 2 to 3 m: 3.75 m2 (trapezium).
    """
    board = Projection("s", "flat sign", 4.0, 2.0, 3.4, 0.5, 1e-3, 2.0 - 1e-3)
    top = sights(site_with(CANOPY, board, eyes=(standing(5.0, -5.0, 4.9),)))["c-top"]
    assert top.public_area + top.covered_area == pytest.approx(16.0 - 3.75, abs=0.01)
    assert top.covered_area == pytest.approx(2.0 * 1e-3)
    assert top.hidden_area == pytest.approx(3.75, abs=0.01)


def test_a_column_covers_its_own_head_under_a_canopy() -> None:
    column = Projection("p", "column", 4.0, 0.5, 0.0, 3.0, 0.5, 1.0)
    under = sights(site_with(CANOPY, column, eyes=(standing(5.0, -9.0, 1.6),)))["c-underside"]
    assert under.covered_area == pytest.approx(0.25)
    assert under.public_area + under.hidden_area + under.covered_area == pytest.approx(16.0)


def test_ids_and_areas_are_those_of_the_take_off() -> None:
    site = read_site(DEMO)
    walls = placed_walls(site)
    found = {face.id: face for face in plan_face_sight(site, walls, solids(site, walls), site.eyes, site.crew_eye)}
    counted = {face.id: face for placed in walls for face in plan_wall_takeoff(placed).faces}
    assert set(counted) <= set(found)
    for name, face in counted.items():
        assert found[name].area == pytest.approx(face.area)
        assert found[name].projection == face.projection
    assert all(face.proven for face in found.values())
    assert {name.removesuffix(" end") for name in {face.face for face in found.values()}} == {
        "top", "front", "underside", "left", "right",
    }  # fmt: skip


def test_without_a_public_eye_every_face_counts_as_seen_and_crew_eyes_are_the_crews() -> None:
    alone = sights(site_with(CANOPY))["c-top"]
    assert alone.public_area == pytest.approx(16.0)
    assert alone.missed_area == pytest.approx(16.0)
    lift = sights(site_with(CANOPY, eyes=(standing(5.0, -4.0, 5.0, "crew"),)))["c-top"]
    assert lift.crew_area == pytest.approx(16.0)
    assert lift.missed_area == 0.0


def test_along_a_path_a_face_is_seen_from_some_of_it() -> None:
    """A walk past both ends shows both; one that ends before the left end shows the right end's face only beyond it."""
    past = Eye("walk", "walk", ((-5.0, -6.0), (15.0, -6.0)), height=1.6)
    short = Eye("walk", "walk", ((2.0, -6.0), (15.0, -6.0)), height=1.6)
    both, one = sights(site_with(CANOPY, eyes=(past,))), sights(site_with(CANOPY, eyes=(short,)))
    assert both["c-left-end"].public_area == pytest.approx(0.8)
    assert one["c-left-end"].public_area == 0.0
    assert one["c-right-end"].public_area == pytest.approx(0.8)


def metres(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 97), round(high * 97)).map(lambda n: n / 97)


things = st.builds(
    lambda number, *sizes: Projection(f"t{number}", "blade sign", *sizes),
    st.integers(0, 9), metres(0, 9), metres(0.1, 3), metres(0, 4.5), metres(0.1, 1.5), metres(0.1, 2.5),
    st.sampled_from((0.0, 0.3)),
)  # fmt: skip


@given(
    st.lists(things, max_size=3, unique_by=lambda item: item.id),
    st.tuples(metres(-6, 16), metres(2.7, 25), metres(0.5, 9)),
    st.tuples(metres(-4, 12), metres(3, 12), metres(0.5, 4)),
    st.sampled_from((0.0, 0.0, 0.2)),
)
@settings(max_examples=40, deadline=None)
def test_random_faces_agree_with_rays(
    others: list[Projection], eye: tuple[float, float, float], car: tuple[float, float, float], drop: float
) -> None:
    x, out, z = eye
    parked = ParkedArea(
        "car", tuple((car[0] + dx, -car[1] - dy) for dx, dy in ((0, 0), (0, 2), (3, 2), (3, 0))), car[2]
    )
    canopy = replace(CANOPY, outer_drop=drop)
    site = site_with(canopy, *others, eyes=(standing(x, -out, z),), parked=(parked,))
    walls = placed_walls(site)
    bodies = [ConvexHull(solid.points).equations for solid in solids(site, walls)]
    place = np.array((x, -out, z))
    assume(all(float((body @ np.append(place, 1.0)).max()) > 1e-3 for body in bodies))
    for face in sights(site).values():
        flat, points, normal = face_points(face, canopy)
        asked = edge_distance(face.public_seen, flat) > EDGE
        asked &= np.abs((place - points) @ normal) > EDGE
        front = (place - points) @ normal > 0.0
        clear = front & ~blocked(bodies, place, points + 1e-6 * normal)
        found = covers(face.public_seen, flat)
        assert (found == clear)[asked].all(), face.id
        assert face.public_area + face.hidden_area + face.covered_area == pytest.approx(face.area, abs=1e-5)


def face_points(face: FaceSight, item: Projection) -> tuple[Floats, Floats, Floats]:
    """Return points of a face of a projection on a wall along +x: as (s, t) of its region, in the site, its normal."""
    inner, outer = 0.0, item.depth
    low, high, front = item.bottom, item.bottom + item.height, item.bottom + item.height - item.outer_drop
    ends = {"top": ((outer, front), (inner, high)), "front": ((outer, low), (outer, front)),
            "underside": ((inner, low), (outer, low))}  # fmt: skip
    if face.face in ends:
        (out0, z0), (out1, z1) = ends[face.face]
        width = math.hypot(out1 - out0, z1 - z0)
        s, t = np.meshgrid(np.linspace(item.left, item.left + item.width, 23), np.linspace(0.0, width, 11)[1:-1])
        s, t = s.ravel(), t.ravel()
        share = t / width
        points = np.column_stack((s, -(out0 + share * (out1 - out0)), z0 + share * (z1 - z0)))
        normal = np.array((0.0, -(z1 - z0) / width, -(out1 - out0) / width))
        return np.column_stack((s, t)), points, normal
    sign = 1.0 if face.face == "left end" else -1.0
    out, z = (
        axis.ravel() for axis in np.meshgrid(np.linspace(0.05, outer - 0.05, 9), np.linspace(low, front, 7)[1:-1])
    )
    x = item.left if sign > 0 else item.left + item.width
    return (
        np.column_stack((sign * out, z)),
        np.column_stack((np.full(len(out), x), -out, z)),
        np.array((-sign, 0.0, 0.0)),
    )


def blocked(bodies: list[Floats], eye: Floats, points: Floats) -> NDArray[np.bool_]:
    """Whether the straight way from each point to the eye runs through the inside of a body."""
    found = np.zeros(len(points), bool)
    for body in bodies:
        start = points @ body[:, :3].T + body[:, 3]
        rate = (eye - points) @ body[:, :3].T
        with np.errstate(divide="ignore", invalid="ignore"):
            at = -start / rate
        enter = np.where(rate < 0, at, 0.0).max(axis=1).clip(0)
        leave = np.where(rate > 0, at, 1.0).min(axis=1).clip(None, 1)
        found |= (enter < leave) & ~((rate == 0) & (start > 0)).any(axis=1)
    return found


def shapes(region: Region) -> shapely.MultiPolygon:
    return shapely.MultiPolygon([shapely.Polygon(shell, holes) for shell, *holes in region])


def covers(region: Region, flat: Floats) -> NDArray[np.bool_]:
    return np.asarray(shapely.intersects(shapes(region), shapely.points(flat)), np.bool_)


def edge_distance(region: Region, flat: Floats) -> Floats:
    if not region:
        return np.full(len(flat), np.inf)
    return np.asarray(shapely.distance(shapes(region).boundary, shapely.points(flat)), float)


def test_a_dragged_eye_shows_each_wall_in_four_parts() -> None:
    """Eye 1 m up and 9 m out; a full canopy 2 m deep, its top at 3.5 m: 0.714 m hidden above it (similar triangles).

    The crew walks at 3.6 m, eye 1.6 m: 2.375 m hidden above it, so that 1.661 m high is seen and missed.
    """
    canopy = Projection("c", "canopy", -1000.0, 2010.0, 3.0, 0.5, 2.0)
    site = replace(site_with(canopy), crew_eye=CREW)
    walls = placed_walls(site)
    bodies = solids(site, walls)
    (look,) = look_from(site, walls, bodies, (4.0, -9.0, 1.0))
    hidden, crew = (3.5 - 1.0) * 2.0 / 7.0, (3.5 - 1.6) * 2.0 / 1.6
    assert look.hidden_area == pytest.approx(10.0 * hidden)
    assert look.covered_area == pytest.approx(10.0 * 0.5)
    assert look.seen_area == pytest.approx(10.0 * (5.5 - hidden))
    assert look.missed_area == pytest.approx(10.0 * (crew - hidden), rel=1e-3)
    assert look.seen_area + look.hidden_area + look.covered_area == pytest.approx(look.area)
    for region, area in ((look.seen, look.seen_area), (look.missed, look.missed_area)):
        assert region_area(region) == pytest.approx(area, abs=1e-5)
    known = crew_regions(site, walls, bodies)
    assert look_from(site, walls, bodies, (4.0, -9.0, 1.0), known) == (look,)
    (behind,) = look_from(site, walls, bodies, (4.0, 9.0, 1.0), known)
    assert behind.seen == behind.missed == ()
    assert behind.hidden_area == pytest.approx(55.0)


def test_what_the_crew_declares_to_look_from_is_not_missed() -> None:
    canopy = Projection("c", "canopy", -1000.0, 2010.0, 3.0, 0.5, 2.0)
    site = replace(site_with(canopy, eyes=(standing(4.0, -9.0, 1.0, "crew"),)), crew_eye=CREW)
    walls = placed_walls(site)
    (look,) = look_from(site, walls, solids(site, walls), (4.0, -9.0, 1.0))
    assert look.missed_area == pytest.approx(0.0, abs=1e-6)
