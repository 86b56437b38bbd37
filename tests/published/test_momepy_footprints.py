"""Every building that the package momepy ships, imported and held against geodesics on the ellipsoid.

Data: momepy 0.11, ``datasets/bubenec.gpkg``, table ``buildings``, 144 footprints in Prague in Web Mercator metres;
read where the package lies and never copied. Format: OGC 12-128r19, "GeoPackage Encoding Standard" 1.4, clause 2.1.3.
Measure of lengths, bearings, areas: geographiclib, Karney, C. F. F., "Algorithms for geodesics", Journal of Geodesy 87,
2013. Mark: independent program. The way back from the map to degrees is the map's own closed form (IOGP Guidance Note
7-2, method 1024), not the library that the importer uses.
"""

from __future__ import annotations

import importlib.util
import json
import math
import sqlite3
import struct
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
from geographiclib.geodesic import Geodesic

from sightwash.site.imports.geojson import site_from_geojson
from sightwash.site.model import Site
from sightwash.site.site_file import document_from, document_text
from sightwash.site.tree import parse

EARTH = Geodesic.WGS84
ENVELOPES = (0, 32, 48, 48, 64)
BUILDINGS = 144


@cache
def footprints() -> tuple[shapely.Polygon, ...]:
    """Return the package's buildings, read without importing it."""
    spec = importlib.util.find_spec("momepy")
    assert spec is not None
    assert spec.submodule_search_locations
    place = Path(spec.submodule_search_locations[0]) / "datasets" / "bubenec.gpkg"
    connection = sqlite3.connect(f"{place.as_uri()}?mode=ro&immutable=1", uri=True)
    try:
        systems = connection.execute(
            "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = 'buildings'"
        ).fetchall()
        rows = connection.execute("SELECT geom FROM buildings ORDER BY fid").fetchall()
    finally:
        connection.close()
    assert systems == [(3857,)]
    return tuple(_polygon(blob) for (blob,) in rows)


def _polygon(blob: bytes) -> shapely.Polygon:
    assert blob[:2] == b"GP"
    header = 8 + ENVELOPES[(blob[3] >> 1) & 7]
    assert struct.unpack("<i" if blob[3] & 1 else ">i", blob[4:8]) == (3857,)
    shape = shapely.from_wkb(blob[header:])
    assert isinstance(shape, shapely.Polygon)
    return shape


def degrees(x: float, y: float) -> tuple[float, float]:
    """Return (latitude, longitude) of a Web Mercator place, method 1024 in reverse."""
    return math.degrees(math.atan(math.sinh(y / 6378137.0))), math.degrees(x / 6378137.0)


def ground(shape: shapely.Polygon) -> float:
    """Return a footprint's area on the ellipsoid, yards taken off."""
    areas = []
    for ring in (shape.exterior, *shape.interiors):
        polygon = EARTH.Polygon()
        for x, y in ring.coords[:-1]:
            polygon.AddPoint(*degrees(x, y))
        areas.append(abs(polygon.Compute(False, True)[2]))
    return areas[0] - sum(areas[1:])


def imported(*shapes: shapely.Polygon) -> Site:
    text = json.dumps({"type": "GeometryCollection", "geometries": [shapely.geometry.mapping(s) for s in shapes]})
    return site_from_geojson(text, "bubenec.geojson", "EPSG:3857")


def off_by(angle: float, other: float) -> float:
    return abs((angle - other + 180.0) % 360.0 - 180.0)


def check_walls(site: Site, shapes: tuple[shapely.Polygon, ...]) -> int:
    """Hold every edge in the package against the wall that runs over it; return how many edges there were."""
    assert site.place.latitude is not None
    assert site.place.longitude is not None
    count = 0
    for number, shape in enumerate(shapes, 1):
        walls = [wall for wall in site.walls if wall.building == f"b{number}"]
        ends = np.array([(wall.start, wall.end) for wall in walls], dtype=float)
        run_over = np.zeros(len(walls))
        turned = shapely.orient_polygons(shape)
        for ring in (turned.exterior, *turned.interiors):
            for start, end in zip(ring.coords[:-1], ring.coords[1:], strict=True):
                line = EARTH.Inverse(*degrees(*start), *degrees(*end))
                middle = _on_site(site, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
                index = int(np.argmin([_distance(middle, *pair) for pair in ends]))
                east, north = ends[index][1] - ends[index][0]
                assert off_by(math.degrees(math.atan2(east, north)), line["azi1"]) <= 0.05
                run_over[index] += line["s12"]
                count += 1
        lengths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
        assert (np.abs(lengths - run_over) <= np.minimum(0.005, 0.001 * run_over)).all()
    return count


def _on_site(site: Site, place: tuple[float, float]) -> np.ndarray:
    """Return a place in site metres: distance and bearing from the site's origin, an independent way there."""
    line = EARTH.Inverse(site.place.latitude, site.place.longitude, *degrees(*place))
    bearing = math.radians(line["azi1"])
    return line["s12"] * np.array((math.sin(bearing), math.cos(bearing)))


def _distance(point: np.ndarray, start: np.ndarray, end: np.ndarray) -> float:
    return float(shapely.LineString((start, end)).distance(shapely.Point(point)))


def test_the_package_ships_what_the_test_expects() -> None:
    assert len(footprints()) == BUILDINGS
    assert sum(len(shape.interiors) for shape in footprints()) == 1


@pytest.mark.parametrize("number", range(BUILDINGS))
def test_every_building_alone(number: int) -> None:
    shape = footprints()[number]
    site = imported(shape)
    assert check_walls(site, (shape,)) == sum(len(ring.coords) - 1 for ring in (shape.exterior, *shape.interiors))
    (building,) = site.buildings
    area = shapely.Polygon(building.outline, building.holes).area
    assert area == pytest.approx(ground(shape), rel=1e-4)
    assert len(building.holes) == len(shape.interiors)
    assert document_from(parse(document_text(site), "again.json")) == site


def test_all_buildings_as_one_property() -> None:
    """All of them in one frame, 400 m across: 43 184 m2 of ground, where the map's own metres make 104 843."""
    shapes = footprints()
    site = imported(*shapes)
    assert check_walls(site, shapes) == 1662
    area = sum(shapely.Polygon(b.outline, b.holes).area for b in site.buildings)
    assert area == pytest.approx(sum(ground(shape) for shape in shapes), rel=1e-5)
    assert sum(shape.area for shape in shapes) > 2.4 * area


def test_party_walls_are_left_out_of_the_work() -> None:
    """Shapely's measure of the boundary that two buildings share on the map, against the walls left out."""
    shapes = footprints()
    site = imported(*shapes)
    left_out = sum(math.dist(w.start, w.end) for w in site.walls if w.excluded and w.start and w.end)
    whole = sum(math.dist(w.start, w.end) for w in site.walls if w.start and w.end)
    outside = shapely.union_all(shapes)
    scale = math.cos(math.radians(50.103))
    shared_on_map = (sum(shape.length for shape in shapes) - outside.length) * scale
    assert left_out == pytest.approx(shared_on_map, rel=0.1)
    assert 0.0 < left_out < whole
