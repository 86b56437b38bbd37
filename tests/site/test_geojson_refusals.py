"""What is refused as a footprint, and how it is told.

Outside reference: RFC 7946, "The GeoJSON Format", IETF, 2016 (published) for what a file may hold and mean.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import InputError, Problem
from sightwash.site.imports import geojson, polygons
from sightwash.site.imports.geojson import site_from_geojson
from sightwash.site.model import Site

Ring = list[list[float]]


def box(latitude: float, longitude: float, width: float, depth: float, right: float = 0.0) -> Ring:
    """Return a closed ring of [lon, lat] about a place, roughly of this size in metres."""
    up, across = 1 / 111000.0, 1 / (111000.0 * math.cos(math.radians(latitude)))
    corners = ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5), (-0.5, -0.5))
    return [[longitude + (right + x * width) * across, latitude + y * depth * up] for x, y in corners]


SHOP = box(33.45, -97.1, 30.0, 12.0)


def polygon(*ring_list: Any) -> dict[str, Any]:
    return {"type": "Polygon", "coordinates": list(ring_list)}


def feature(geometry: Any, **properties: Any) -> dict[str, Any]:
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def collection(*features: Any, **members: Any) -> dict[str, Any]:
    return {"type": "FeatureCollection", "features": list(features), **members}


def imported(tree: Any, crs: str | None = None) -> Site:
    return site_from_geojson(tree if isinstance(tree, str) else json.dumps(tree), "plans/My Shops.geojson", crs)


def refused(tree: Any, crs: str | None = None) -> Problem:
    """Return the first problem of an import that must fail, with what every problem carries."""
    with pytest.raises(InputError) as caught:
        imported(tree, crs)
    problem = caught.value.problems[0]
    assert problem.file == "plans/My Shops.geojson"
    assert problem.expected
    return problem


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("height", "tall"), ("height", "-4"), ("height", 400), ("height", 0), ("height", True), ("height", [4]),
        ("height", "12,5"), ("building:levels", "2;3"), ("building:levels", 60), ("building:levels", 0),
        ("building:levels", True), ("building:levels", {}),
    ],
)  # fmt: skip
def test_a_wrong_height_is_an_error_and_never_a_guess(key: str, value: Any) -> None:
    problem = refused(collection(feature(polygon(SHOP), **{key: value})))
    assert problem.code == "bad-height"
    assert problem.key == f"features[0].properties.{key}"
    assert problem.line == 1
    assert key in (problem.fix or "")


BOWTIE = [SHOP[0], SHOP[2], SHOP[1], SHOP[3], SHOP[0]]
FAR_YARD = box(33.45, -97.1, 8.0, 4.0, 40.0)
POINT = {"type": "Point", "coordinates": [-97.1, 33.45]}


@pytest.mark.parametrize(
    ("tree", "code", "key"),
    [
        (collection(), "empty", "features"),
        ({"type": "FeatureCollection"}, "empty", "features"),
        ({"type": "Polygon", "coordinates": []}, "empty", "coordinates"),
        ({"type": "Polygon"}, "empty", "coordinates"),
        ({"type": "MultiPolygon", "coordinates": []}, "empty", "coordinates"),
        (feature(None), "empty", None),
        ({"type": "GeometryCollection", "geometries": []}, "empty", "geometries"),
        (POINT, "wrong-geometry", None),
        (collection(feature(polygon(SHOP)), feature(POINT)), "wrong-geometry", "features[1].geometry"),
        (feature({"type": "LineString", "coordinates": SHOP}), "wrong-geometry", "geometry"),
        (feature(feature(polygon(SHOP))), "wrong-geometry", "geometry"),
        (feature([1]), "wrong-type", "geometry"),
        (collection(polygon(SHOP)), "wrong-type", "features[0]"),
        (collection(7), "wrong-type", "features[0]"),
        ({"type": "Topology"}, "wrong-type", "type"),
        ({"kind": "site"}, "wrong-type", "type"),
        ({"type": "Feature", "properties": [], "geometry": polygon(SHOP)}, "wrong-type", "properties"),
        (polygon(SHOP[:-1]), "unclosed-ring", "coordinates[0]"),
        (polygon(SHOP[:3]), "too-few-corners", "coordinates[0]"),
        (polygon("ring"), "too-few-corners", "coordinates[0]"),
        (polygon([*SHOP[:2], [1], *SHOP[2:]]), "bad-position", "coordinates[0][2]"),
        (polygon([*SHOP[:2], ["1", "2"], *SHOP[2:]]), "bad-position", "coordinates[0][2]"),
        (polygon([*SHOP[:2], [True, 2], *SHOP[2:]]), "bad-position", "coordinates[0][2]"),
        (polygon([*SHOP[:2], [10**300, 2], *SHOP[2:]]), "bad-position", "coordinates[0][2]"),
        (polygon([*SHOP[:2], None, *SHOP[2:]]), "bad-position", "coordinates[0][2]"),
        (polygon(BOWTIE), "self-crossing", "coordinates[0]"),
        (polygon(SHOP, FAR_YARD), "self-crossing", "coordinates[1]"),
        (polygon([SHOP[0]] * 5), "no-area", "coordinates[0]"),
        (polygon([SHOP[0], SHOP[1], SHOP[0], SHOP[0]]), "no-area", "coordinates[0]"),
        (polygon(box(33.45, -97.1, 0.9, 0.9)), "no-area", "coordinates[0]"),
        (collection(feature(polygon(SHOP)), feature(polygon(SHOP))), "overlap", "features[1].geometry.coordinates"),
        (polygon([[594000.0, 3701000.0], *SHOP[1:-1], [594000.0, 3701000.0]]), "outside-crs", "coordinates[0][0]"),
        (polygon(box(80.0, 20.0, 30, 10)), "too-far-north", "coordinates[0][0]"),
        (polygon(box(33.45, -97.1, 3100, 10)), "too-wide", None),
        (polygon(box(33.45, -97.1, 300000, 10)), "too-wide", None),
        (polygon(box(70.0, 20.0, 2900, 10)), "too-wide", None),
    ],
)  # fmt: skip
def test_what_is_no_footprint_is_refused_by_name(tree: Any, code: str, key: str | None) -> None:
    problem = refused(tree)
    assert (problem.code, problem.key) == (code, key)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"),
        ("  \n", "empty"),
        ("[1, 2]", "not-json"),
        ("kind: site", "not-json"),
        ('{"type": "Polygon", "coordinates": [[[0, 0],', "not-json"),
        ('{"type": "Polygon", "type": "Polygon"}', "doubled-key"),
        ('{"type": "Polygon", "coordinates": [[[NaN, 0], [1, 0], [1, 1], [0, 0]]]}', "not-finite"),
        ('{"type": "Polygon", "coordinates": [[[0, 0], [1e999, 0], [1, 1], [0, 0]]]}', "bad-position"),
        ('{"a": ' * 50 + "1" + "}" * 50, "too-deep"),
        ('{"a":' * 100_000, "too-deep"),
    ],
)
def test_what_is_no_json_is_refused(text: str, code: str) -> None:
    assert refused(text).code == code


def test_every_fault_of_a_file_is_told_with_its_line() -> None:
    text = json.dumps(collection(feature(POINT), feature(polygon(SHOP[:-1])), feature(None)), indent=1)
    with pytest.raises(InputError) as caught:
        imported(text)
    assert [problem.code for problem in caught.value.problems] == ["wrong-geometry", "unclosed-ring", "empty"]
    lines = text.splitlines()
    first, second, _ = (problem.line or 0 for problem in caught.value.problems)
    assert '"geometry"' in lines[first - 1]
    assert first < second


def test_a_huge_file_is_refused_before_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    text = json.dumps(polygon(SHOP))
    monkeypatch.setattr(geojson, "LARGEST_TEXT", len(text) - 1)
    assert refused(text).code == "too-large"
    monkeypatch.setattr(geojson, "LARGEST_TEXT", len(text))
    assert len(imported(text).walls) == 4
    text = text.replace('"Polygon"', '"Polygon", "name": "\u00e9"')
    monkeypatch.setattr(geojson, "LARGEST_TEXT", len(text))
    assert refused(text).code == "too-large", "bytes count, not letters"


def test_the_limit_is_20_megabytes() -> None:
    assert refused('{"a": "' + "x" * 20_000_000 + '"}').code == "too-large"


@pytest.mark.parametrize(("name", "most"), [("MOST_BUILDINGS", 1), ("MOST_CORNERS", 9)])
def test_a_town_is_refused(monkeypatch: pytest.MonkeyPatch, name: str, most: int) -> None:
    second = box(33.45, -97.1, 20.0, 10.0, 60.0)
    tree = collection(feature(polygon(SHOP)), feature(polygon(second)))
    assert len(imported(tree).buildings) == 2
    monkeypatch.setattr(polygons, name, most)
    assert refused(tree).code == "too-many"


# Coordinate systems.


@pytest.mark.parametrize(
    "name",
    [
        "urn:ogc:def:crs:OGC:1.3:CRS84",
        "urn:ogc:def:crs:OGC::CRS84",
        "OGC:CRS84",
        "EPSG:4326",
        "urn:ogc:def:crs:EPSG::4326",
    ],
)
def test_a_member_that_names_wgs_84_is_taken(name: str) -> None:
    """RFC 7946, appendix B.1: older files name their system in a `crs` member."""
    member = {"type": "name", "properties": {"name": name}}
    assert imported({**polygon(SHOP), "crs": member}).walls == imported(polygon(SHOP)).walls


@pytest.mark.parametrize(
    "member",
    [None, {}, 7, {"type": "link", "properties": {"href": "x"}}, {"type": "name", "properties": {"name": "EPSG:2278"}}],
)
@pytest.mark.parametrize("depth", ["collection", "feature", "geometry"])
def test_a_member_that_names_another_system_is_refused_unless_one_is_given(member: Any, depth: str) -> None:
    shape, said = polygon(SHOP), {"crs": member}
    tree = {
        "collection": {**collection(feature(shape)), **said},
        "feature": collection({**feature(shape), **said}),
        "geometry": collection(feature({**shape, **said})),
    }[depth]
    problem = refused(tree)
    assert problem.code == "other-crs"
    assert "--crs" in (problem.fix or "")
    assert imported(tree, "EPSG:4326").walls == imported(shape).walls


@pytest.mark.parametrize("crs", ["EPSG:0", "somewhere", "", "+init=epsg:4326", "EPSG:5703", "EPSG:4978", "a\0b", "{}"])
def test_an_unknown_system_is_refused(crs: str) -> None:
    problem = refused(polygon(SHOP), crs)
    assert (problem.code, problem.key) == ("unknown-crs", "--crs")


@pytest.mark.parametrize("crs", ["EPSG:2278", "EPSG:5514", "EPSG:32614"])
def test_degrees_given_as_a_map_system_are_refused(crs: str) -> None:
    assert refused(polygon(SHOP), crs).code in ("outside-crs", "no-area")


def test_a_place_outside_the_systems_area_is_refused() -> None:
    """EPSG:5514 is used in Czechia and Slovakia; these metres lie in the middle of the Atlantic."""
    ring = [[-9e6, -1e6], [-9e6 + 30, -1e6], [-9e6 + 30, -1e6 + 9], [-9e6, -1e6]]
    problem = refused(polygon(ring), "EPSG:5514")
    assert problem.code == "outside-crs"
    assert "EPSG:5514" in problem.message


junk = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from(["type", "coordinates", "features", "geometry", "properties", "crs"]), inner)
    ),
    max_leaves=12,
)


@settings(max_examples=200)
@given(junk, st.sampled_from(["Polygon", "MultiPolygon", "Feature", "FeatureCollection", "GeometryCollection"]))
def test_no_file_makes_it_stumble(value: Any, kind: str) -> None:
    key = {"Feature": "geometry", "FeatureCollection": "features", "GeometryCollection": "geometries"}
    with pytest.raises(InputError):
        imported({"type": kind, key.get(kind, "coordinates"): value})
