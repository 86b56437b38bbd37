"""A footprint in GeoJSON as a starting site: what is taken, and that lengths and bearings stay true.

Outside references: RFC 7946, "The GeoJSON Format", IETF, 2016 (published) for what a file means; geographiclib,
Karney, "Algorithms for geodesics", Journal of Geodesy 87, 2013 (independent program) for lengths, bearings and areas.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.sources import source
from sightwash.site.imports import facts, rings
from sightwash.site.imports.geojson import site_from_geojson
from sightwash.site.model import Site
from sightwash.site.site_file import document_from, document_text
from sightwash.site.tree import parse
from sightwash.site.walls import Wall

EARTH = Geodesic.WGS84
Corner = tuple[float, float]
Ring = list[list[float]]


def ring_about(latitude: float, longitude: float, corners: Sequence[Corner], turn: float = 0.0) -> Ring:
    """Return a closed ring of [lon, lat]: corners are metres (right, ahead), ahead lies at the bearing ``turn``."""
    ring = []
    for right, ahead in (*corners, corners[0]):
        bearing = math.degrees(math.atan2(right, ahead)) + turn
        place = EARTH.Direct(latitude, longitude, bearing, math.hypot(right, ahead))
        ring.append([place["lon2"], place["lat2"]])
    return ring


def oblong(width: float, depth: float, right: float = 0.0, ahead: float = 0.0) -> list[Corner]:
    """Return a rectangle's corners about (right, ahead), counter-clockwise from its back left."""
    half, deep = width / 2.0, depth / 2.0
    return [(right + x, ahead + y) for x, y in ((-half, -deep), (half, -deep), (half, deep), (-half, deep))]


SHOP = ring_about(33.45, -97.1, oblong(30.0, 12.0))


def polygon(*ring_list: Any) -> dict[str, Any]:
    return {"type": "Polygon", "coordinates": list(ring_list)}


def feature(geometry: Any, **properties: Any) -> dict[str, Any]:
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def collection(*features: Any, **members: Any) -> dict[str, Any]:
    return {"type": "FeatureCollection", "features": list(features), **members}


def imported(tree: Any, crs: str | None = None, units: str = "us") -> Site:
    return site_from_geojson(tree if isinstance(tree, str) else json.dumps(tree), "plans/My Shops.geojson", crs, units)


def ends(wall: Wall) -> np.ndarray:
    assert wall.start is not None
    assert wall.end is not None
    return np.array((wall.start, wall.end), dtype=float)


def length(wall: Wall) -> float:
    return float(np.hypot(*np.subtract(*ends(wall))))


def bearing(wall: Wall) -> float:
    east, north = ends(wall)[1] - ends(wall)[0]
    return math.degrees(math.atan2(east, north)) % 360.0


def off_by(angle: float, other: float) -> float:
    return abs((angle - other + 180.0) % 360.0 - 180.0)


# What a file may be.


@pytest.mark.parametrize(
    "tree",
    [
        polygon(SHOP),
        feature(polygon(SHOP)),
        collection(feature(polygon(SHOP))),
        {"type": "MultiPolygon", "coordinates": [[SHOP]]},
        {"type": "GeometryCollection", "geometries": [polygon(SHOP)]},
        feature({"type": "GeometryCollection", "geometries": [{"type": "MultiPolygon", "coordinates": [[SHOP]]}]}),
        polygon([[*position, 212.5] for position in SHOP]),
        {"type": "Feature", "properties": None, "geometry": polygon(SHOP), "id": 7, "bbox": [0, 0, 1, 1]},
    ],
)
def test_every_form_gives_the_same_building(tree: Any) -> None:
    site = imported(tree)
    assert [wall.id for wall in site.walls] == ["b1-south-1", "b1-east-1", "b1-north-1", "b1-west-1"]
    assert [length(wall) for wall in site.walls] == pytest.approx([30.0, 12.0, 30.0, 12.0], abs=1e-4)
    assert [bearing(wall) for wall in site.walls] == pytest.approx([90.0, 0.0, 270.0, 180.0], abs=0.01)
    assert (site.id, site.name, site.units) == ("my-shops", "My Shops", "us")


def test_a_byte_order_mark_is_no_fault() -> None:
    assert imported("\ufeff" + json.dumps(polygon(SHOP))) == imported(polygon(SHOP))


def test_what_the_file_does_not_say_stays_open() -> None:
    site = imported(polygon(SHOP))
    assert site.place.time_zone is None
    assert all(wall.height is None for wall in site.walls)
    assert site.buildings[0].height is None
    assert site.place.north == 0.0
    assert "left open" in (site.note or "")


def test_place_is_the_middle_of_the_footprint() -> None:
    place = imported(polygon(SHOP)).place
    assert (place.latitude, place.longitude) == pytest.approx((33.45, -97.1), abs=1e-6)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_written_document_reads_back_the_same(units: str) -> None:
    yard = ring_about(33.45, -97.1, oblong(8.0, 4.0))
    site = imported(feature(polygon(SHOP, yard), name="North row", height="16 ft"), units=units)
    assert site.units == units
    assert document_from(parse(document_text(site), "again.json")) == site


def test_quantities_carry_their_unit_and_a_hundredth_of_a_millimetre() -> None:
    corner = json.loads(document_text(imported(polygon(SHOP))))["walls"][0]["start"]
    assert [text.split()[1] for text in corner] == ["m", "m"]
    assert [len(text.split()[0].split(".")[1]) for text in corner] == [5, 5]


# Names and heights.


def test_several_features_are_several_buildings() -> None:
    second = ring_about(33.45, -97.1, oblong(20.0, 10.0, 60.0, 5.0))
    site = imported(
        collection(feature(polygon(SHOP), name="West\u0007 row"), feature(polygon(second)), name="The yard")
    )
    assert site.name == "The yard"
    assert [building.name for building in site.buildings] == ["West row", None]
    assert [wall.building for wall in site.walls] == ["b1"] * 4 + ["b2"] * 4
    assert [wall.name for wall in site.walls][::4] == ["South wall 1, West row", "South wall 1, building 2"]
    assert not any(wall.excluded for wall in site.walls)


def test_parts_of_one_feature_are_buildings_with_names_of_their_own() -> None:
    second = ring_about(33.45, -97.1, oblong(20.0, 10.0, 60.0))
    shape = {"type": "MultiPolygon", "coordinates": [[SHOP], [second]]}
    site = imported(feature(shape, name="Row", height=5))
    assert [building.name for building in site.buildings] == ["Row, part 1", "Row, part 2"]
    assert [building.height for building in site.buildings] == [5.0, 5.0]


@pytest.mark.parametrize(
    ("said", "metres"),
    [(4.5, 4.5), (5, 5.0), ("6", 6.0), ("6.25 m", 6.25), ("20 ft", 6.096), ("12'6\"", 3.81), ("12 ft 6 in", 3.81)],
)
@pytest.mark.parametrize("units", ["us", "metric"])
def test_height_is_metres_or_carries_its_unit(said: Any, metres: float, units: str) -> None:
    """A bare number is in metres, as the open street map's own key `height` has it (common practice, no source)."""
    site = imported(feature(polygon(SHOP), height=said), units=units)
    assert site.buildings[0].height == pytest.approx(metres)
    assert [wall.height for wall in site.walls] == pytest.approx([metres] * 4)
    assert all("Height from the file" in (wall.note or "") for wall in site.walls)


def test_storeys_give_a_height_that_is_marked_as_a_guess() -> None:
    site = imported(feature(polygon(SHOP), **{"building:levels": "2"}))
    assert site.buildings[0].height == pytest.approx(2 * 12 * 0.3048)
    for wall in site.walls:
        assert "guessed" in (wall.note or "")
        assert "12 ft" in (wall.note or "")
    assert "guessed" in (site.note or "")
    assert source("storey-height").status == "common practice, no source"


def test_storey_height_is_the_callers_to_choose() -> None:
    text = json.dumps(feature(polygon(SHOP), **{"building:levels": 2}))
    site = site_from_geojson(text, "t.geojson", units="metric", storey_height=4.2)
    assert site.walls[0].height == pytest.approx(8.4)
    assert "4.2 m" in (site.walls[0].note or "")


def test_a_height_goes_before_a_count_of_storeys() -> None:
    site = imported(feature(polygon(SHOP), height="5 m", **{"building:levels": "9"}))
    assert site.walls[0].height == 5.0
    assert "guessed" not in (site.note or "")


# Orientation, yards, neighbours.


@pytest.mark.parametrize("flip_outline", [False, True])
@pytest.mark.parametrize("flip_yard", [False, True])
@pytest.mark.parametrize("start", [0, 1, 2, 3])
def test_winding_and_first_corner_make_no_difference(flip_outline: bool, flip_yard: bool, start: int) -> None:
    outline = ring_about(33.45, -97.1, [(-15, -6), (15, -6), (15, 6), (0, 6), (-15, 9)])[:-1]
    yard = ring_about(33.45, -97.1, oblong(8.0, 4.0))
    shape = shapely.Polygon(outline, [yard])
    outline = outline[start:] + outline[:start]
    outline.append(outline[0])
    other = polygon(outline[::-1] if flip_outline else outline, yard[::-1] if flip_yard else yard)
    assert imported(other).walls == imported(shapely.geometry.mapping(shape)).walls


def test_walls_have_the_building_on_their_left() -> None:
    yard = ring_about(33.45, -97.1, oblong(8.0, 4.0))
    site = imported(polygon(SHOP, yard))
    (building,) = site.buildings
    solid = shapely.Polygon(building.outline, building.holes)
    assert solid.area == pytest.approx(30.0 * 12.0 - 8.0 * 4.0, abs=0.01)
    assert len(site.walls) == 8
    for wall in site.walls:
        start, end = ends(wall)
        east, north = 0.1 * (end - start) / np.hypot(*(end - start))
        x, y = (start + end) / 2
        assert solid.contains(shapely.Point(x - north, y + east))
        assert not solid.intersects(shapely.Point(x + north, y - east))


def test_yard_walls_face_the_yard() -> None:
    yard = ring_about(33.45, -97.1, oblong(8.0, 4.0))
    walls = {wall.id: wall for wall in imported(polygon(SHOP, yard)).walls}
    south = walls["b1-yard1-south-1"]
    assert length(south) == pytest.approx(8.0, abs=1e-4)
    assert ends(south)[:, 1] == pytest.approx([2.0, 2.0], abs=1e-3), (
        "the yard's north edge is the wall that faces south"
    )
    assert "yard 1" in (south.name or "")


def test_a_party_wall_is_left_out_and_a_part_of_one_is_told() -> None:
    """Two shops, 30 m and 20 m wide, back to side: 12 m of wall meet 10 m."""
    second = ring_about(33.45, -97.1, oblong(20.0, 10.0, 25.0, 1.0))
    walls = {wall.id: wall for wall in imported(collection(feature(polygon(SHOP)), feature(polygon(second)))).walls}
    assert [name for name, wall in walls.items() if wall.excluded] == ["b2-west-1"]
    assert "b1" in (walls["b2-west-1"].excluded or "")
    assert walls["b1-east-1"].note == "32 ft 9.5 in of it stand against b2."


def test_a_wall_that_rises_above_its_neighbour_stays_in() -> None:
    second = ring_about(33.45, -97.1, oblong(20.0, 12.0, 25.0))
    features = [feature(polygon(SHOP), height=6), feature(polygon(second), height=4)]
    walls = {wall.id: wall for wall in imported(collection(*features)).walls}
    assert [name for name, wall in walls.items() if wall.excluded] == ["b2-west-1"]
    assert "stand against b2" in (walls["b1-east-1"].note or "")


def test_a_party_wall_with_a_gap_of_a_foot_is_none() -> None:
    second = ring_about(33.45, -97.1, oblong(20.0, 12.0, 25.3))
    site = imported(collection(feature(polygon(SHOP)), feature(polygon(second))))
    assert not any(wall.excluded or wall.note for wall in site.walls)


# Needless corners.


def test_corners_on_a_straight_run_and_repeated_corners_are_dropped() -> None:
    corners = [(-15, -6), (-5, -6.0005), (-5, -6.0005), (5, -6), (15, -6), (15, 6), (15, 6), (-15, 6), (-15, 0)]
    site = imported(polygon(ring_about(33.45, -97.1, corners)))
    assert [length(wall) for wall in site.walls] == pytest.approx([30.0, 12.0, 30.0, 12.0], abs=1e-4)
    assert "dropped: 5" in (site.note or "")


@pytest.mark.parametrize("offset", [0.011, -0.02])
def test_a_corner_that_turns_the_wall_stays(offset: float) -> None:
    corners = [(-15, -6), (0, -6 + offset), (15, -6), (15, 6), (-15, 6)]
    assert len(imported(polygon(ring_about(33.45, -97.1, corners))).walls) == 5


def test_a_jog_shorter_than_a_wall_carries_none_and_is_told() -> None:
    corners = [(-15, -6), (15, -6), (15, 6), (0, 6), (0, 6.03), (-15, 6.03)]
    site = imported(polygon(ring_about(33.45, -97.1, corners)))
    assert len(site.buildings[0].outline) == 6
    assert len(site.walls) == 5
    assert "carry no wall: 1" in (site.note or "")


# Lengths and bearings, at random places.


def test_a_footprint_across_the_180th_meridian() -> None:
    ring = ring_about(-16.8, 180.0, oblong(30.0, 12.0))
    assert {position[0] > 0 for position in ring} == {True, False}
    site = imported(polygon(ring))
    assert [length(wall) for wall in site.walls] == pytest.approx([30.0, 12.0, 30.0, 12.0], abs=1e-4)
    assert abs(site.place.longitude or 0.0) == 180.0


latitudes = st.floats(-70.0, 70.0)
longitudes = st.floats(-180.0, 180.0)
sizes = st.tuples(st.floats(3.0, 250.0), st.floats(3.0, 120.0))


@settings(max_examples=150)
@given(latitudes, longitudes, sizes, st.floats(0.0, 360.0), st.booleans())
def test_a_rectangle_anywhere_keeps_its_lengths_and_bearings(
    latitude: float, longitude: float, size: tuple[float, float], turn: float, flip: bool
) -> None:
    ring = ring_about(latitude, longitude, oblong(*size), turn)
    site = imported(polygon(ring[::-1] if flip else ring))
    assert len(site.walls) == 4
    wanted = [EARTH.Inverse(start[1], start[0], end[1], end[0]) for start, end in pairwise(ring)]
    for wall in site.walls:
        line = min(wanted, key=lambda line: off_by(line["azi1"], bearing(wall)))
        assert off_by(line["azi1"], bearing(wall)) <= 0.05
        assert length(wall) == pytest.approx(line["s12"], abs=min(0.005, 0.001 * line["s12"]))
    area = EARTH.Polygon()
    for east, north in ring[:-1]:
        area.AddPoint(north, east)
    outline = shapely.Polygon(site.buildings[0].outline)
    assert outline.exterior.is_ccw
    assert outline.area == pytest.approx(area.Compute(False, True)[2], rel=1e-4)


@settings(max_examples=60)
@given(st.floats(-60.0, 60.0), longitudes, st.floats(0.0, 360.0), st.floats(100.0, 1300.0))
def test_far_buildings_of_a_wide_property_keep_their_bearings(
    latitude: float, longitude: float, toward: float, apart: float
) -> None:
    shapes = []
    for way in (toward, toward + 180.0):
        place = EARTH.Direct(latitude, longitude, way, apart)
        shapes.append(ring_about(place["lat2"], place["lon2"], oblong(40.0, 15.0), turn=20.0))
    site = imported(collection(*(feature(polygon(ring)) for ring in shapes)))
    assert len(site.walls) == 8
    for number, ring in enumerate(shapes, 1):
        for wall in (wall for wall in site.walls if wall.building == f"b{number}"):
            lines = [EARTH.Inverse(a[1], a[0], b[1], b[0]) for a, b in pairwise(ring)]
            line = min(lines, key=lambda line: off_by(line["azi1"], bearing(wall)))
            assert off_by(line["azi1"], bearing(wall)) <= 0.05
            assert length(wall) == pytest.approx(line["s12"], abs=0.005)


@settings(max_examples=60)
@given(latitudes, longitudes, st.lists(st.floats(4.0, 40.0), min_size=3, max_size=12), st.booleans(), st.booleans())
def test_a_yard_in_a_many_cornered_building_always_faces_in(
    latitude: float, longitude: float, reach: list[float], flip: bool, flip_yard: bool
) -> None:
    corners = [
        (far * math.sin(2 * math.pi * i / len(reach)), far * math.cos(2 * math.pi * i / len(reach)))
        for i, far in enumerate(reach)
    ]
    outline, yard = (ring_about(latitude, longitude, [(x * k, y * k) for x, y in corners]) for k in (1.0, 0.3))
    site = imported(polygon(outline[::-1] if flip else outline, yard[::-1] if flip_yard else yard))
    (building,) = site.buildings
    assert shapely.LinearRing(building.outline).is_ccw
    assert not shapely.LinearRing(building.holes[0]).is_ccw
    assert len({wall.id for wall in site.walls}) == len(site.walls)
    around = {False: 0.0, True: 0.0}
    for wall in site.walls:
        around["yard" in wall.id] += length(wall)
    assert around[True] == pytest.approx(0.3 * around[False], rel=1e-3)


@pytest.mark.parametrize(
    ("way", "side"),
    [((1, 0), "south"), ((0, 1), "east"), ((-1, 0), "north"), ((0, -1), "west"), ((1, 1), "south-east")],
)
def test_a_wall_faces_the_side_on_its_right(way: Corner, side: str) -> None:
    assert rings.facing(np.zeros(2), np.array(way, dtype=float)) == side


def test_names_are_cleaned_for_paper() -> None:
    assert facts.plain_name("  A\n\t\u200eB\ud800 ") == "A B"
    assert facts.plain_name(12) == "12"
    assert facts.plain_name(True) is None
    assert facts.plain_name("x" * 500) == "x" * facts.LONGEST_NAME
