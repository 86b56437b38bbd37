"""Published check values that must come out of a whole plan, not only of the formula behind it.

- World Health Organization (2014), Annex G, Table G.1: 5 % to 0.05 % is 1 part of bleach, 99 of water (worked example).
- L. C. Adam and G. Gordon, Inorganic Chemistry 38(6), 1999: 125 g/L after 30 days at 80 F is 103.85 g/L (published law,
  worked out by another hand).
- Three-point estimate: Build 5/8/14 is 8.5, as printed in a library's documentation of the rule (worked example).
- 29 CFR 1910.333(c)(3): 10 ft from overhead lines up to 50 kV (published).
- 49 CFR 173.6(a)(1)(ii): 8 gal in one vessel (published).
- UFGS-02763A, section 3: 105 ft2 of marking a gallon (published); 18 lines of 18 ft, 4 in wide, are 1.03 gal (by hand).
- R. Gunn and G. D. Kinzer, Journal of Meteorology 6, 1949: a drop of 0.2 mm falls 0.70 to 0.72 m/s (measured).
- Jet on a plane at an angle, share into a 3 ft door from 4 ft at 45 degrees: 0.4281 square, 0.0431 along, 0.0141 away
  (closed form, integrated numerically by another hand).
- A building that the package momepy 0.11 ships (``datasets/bubenec.gpkg``), read where the package lies and never
  copied; lengths by geographiclib, Karney, Journal of Geodesy 87, 2013 (independent program).
"""

from __future__ import annotations

import importlib.util
import itertools
import json
import math
import sqlite3
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import shapely
from geographiclib.geodesic import Geodesic

from sightwash.papers.plan_document import output_schema, output_text, plan_document
from sightwash.planning.visit import VisitPlan, plan_visit
from sightwash.site.imports.geojson import site_from_geojson
from sightwash.site.site_file import document_from, plain, read_document
from sightwash.site.tree import parse

DEMO = Path(__file__).parents[2] / "examples" / "demo"
VISIT = date(2026, 7, 11)
FOOT = 0.3048
GALLON = 3.785411784
KINDS = ("site", "rig", "rates", "conditions")


def planned(**changes: dict[str, Any]) -> VisitPlan:
    """Return the plan of one plain wall with the demo's rig and rates, changed as a keyword says."""
    wall = {"id": "front", "start": [0, 0], "end": [60, 0], "height": 20, "material": "block"}
    bare: dict[str, Any] = {"kind": "site", "schema": 1, "id": "s", "name": "S", "walls": [wall]}
    documents = []
    for kind in KINDS:
        tree = bare if kind == "site" else plain(read_document(DEMO / f"{kind}.yaml"))
        documents.append(document_from(parse(json.dumps({**tree, **changes.get(kind, {})}), kind), kind))
    return plan_visit(*documents, VISIT)  # type: ignore[arg-type]


def bleach(strength: str, **more: Any) -> dict[str, Any]:
    return {"bleach": {"strength": strength, "specific_gravity": 1.16, **more}}


def test_a_mix_by_the_who_table() -> None:
    """At the wall 0.8 % (common practice for light growth): the parts of water follow the table's own rule."""
    (mix,) = planned(rig=bleach("5 trade %", dated="2026-07-11")).mixes.mixes
    assert mix.water_parts + 1 == pytest.approx((99 + 1) * 0.05 / 0.8)
    assert mix.water + mix.surfactant == pytest.approx(mix.stock * (5 / 0.8 - 1))


def test_the_strength_after_a_month() -> None:
    found = planned(rig=bleach("12.5 trade %", dated="2026-06-11", storage_temperature="80 F")).bleach
    assert found is not None
    assert found.high == pytest.approx(103_850, abs=10)
    assert found.low < found.likely < found.high


def test_a_task_by_three_points() -> None:
    rate = {"work": "walk-round", "low": 5, "usual": 8, "high": 14, "unit": "min"}
    task = next(t for t in planned(rates={"production": [rate]}).hours.tasks if t.work == "walk-round")
    assert task.mean / 60 == pytest.approx(8.5)


def line_over(out: float) -> VisitPlan:
    """Return the plan with a line at wall height along the wall, so far out."""
    line = {"id": "drop", "start": [-20, -out, 14], "end": [80, -out, 14], "kilovolts": 7.2}
    return planned(site={"overhead_lines": [line]})


def test_nobody_throws_near_a_line() -> None:
    """Every jet starts at arm's height under a line 14 ft up: within 10 ft of it nobody stands, and it is said."""
    for spot in (spot for standing in line_over(12).standing for spot in standing.spots):
        assert math.hypot(spot.out / FOOT - 12, 14 - 4.5) > 10
    assert any(caution.id == "power-line" and caution.stop for caution in line_over(12).cautions)
    assert all(not standing.spots for standing in line_over(3).standing)


def test_bleach_on_the_road() -> None:
    plan = planned(
        site={"walls": [{"id": "front", "start": [0, 0], "end": [1200, 0], "height": 20, "material": "block"}]},
        rig=bleach("12.5 trade %", dated="2026-07-11"),
    )
    assert plan.mixes.stock / GALLON > 8
    assert "carriage" in {caution.id for caution in plan.cautions}


def test_paint_for_stalls() -> None:
    """17 stalls of 9 x 18 ft: 18 lines x 18 ft x 1/3 ft at 105 ft2 a gallon are 1.03 gal, at 31.00 a gallon 31.89."""
    row = {"id": "row", "at": [0, -40], "toward": 90, "count": 17, "width": 9, "length": 18, "state": "faded"}
    with_paint = planned(site={"stalls": [row]}, rates={"rounding": "0.01", "overhead": "0 %", "margin": "0 %"})
    (add_on,) = with_paint.add_ons
    hours = 18 * 18 / 2000
    wage = 24.00 * 1.22
    assert float(add_on.price) == pytest.approx(hours * wage + 18 * 18 / 3 / 105 * 31.00, abs=0.02)


def test_drift_of_fines() -> None:
    """0.2 mm from the highest water: wind x height / 0.71 m/s, whatever the wall."""
    plan = planned(conditions={"weather": {"air_temperature": "70 F", "humidity": "50 %", "wind_speed": "10 mph"}})
    fines = next(drift for drift in plan.drift if drift.drop == 0.0002)
    assert 4.4704 * fines.height / 0.72 <= fines.distance <= 4.4704 * fines.height / 0.70
    longest = 4.4704 * 20 * FOOT / 0.71 / FOOT
    assert longest == pytest.approx(127, abs=2)


def test_the_share_of_water_at_a_door() -> None:
    door = {"id": "door", "left": 20, "width": 3, "height": 7}
    wall = {"id": "front", "start": [0, 0], "end": [60, 0], "height": 20, "doors": [door]}
    (rule,) = planned(site={"walls": [wall]}).doors
    assert rule.along_against_square == pytest.approx(0.0431 / 0.4281, abs=2e-4)
    assert rule.away_against_square == pytest.approx(0.0141 / 0.4281, abs=2e-4)
    assert rule.first_bearing == pytest.approx(90, abs=2)


def footprint(number: int) -> shapely.Polygon:
    """Return one of the package's buildings in the map's own metres (GeoPackage 1.4, clause 2.1.3)."""
    spec = importlib.util.find_spec("momepy")
    assert spec is not None
    assert spec.submodule_search_locations
    place = Path(spec.submodule_search_locations[0]) / "datasets" / "bubenec.gpkg"
    connection = sqlite3.connect(f"{place.as_uri()}?mode=ro&immutable=1", uri=True)
    try:
        blob = connection.execute("SELECT geom FROM buildings ORDER BY fid LIMIT 1 OFFSET ?", (number,)).fetchone()[0]
    finally:
        connection.close()
    header = 8 + (0, 32, 48, 48, 64)[(blob[3] >> 1) & 7]
    shape = shapely.from_wkb(blob[header:])
    assert isinstance(shape, shapely.Polygon)
    return shape


def perimeter(shape: shapely.Polygon) -> float:
    """Return the length of the outline on the ellipsoid [m]; back from the map by its closed form (IOGP 7-2, 1024)."""
    radius = 6_378_137.0
    corners = [
        (math.degrees(2 * math.atan(math.exp(y / radius)) - math.pi / 2), math.degrees(x / radius))
        for x, y in shape.exterior.coords
    ]
    return sum(Geodesic.WGS84.Inverse(*a, *b)["s12"] for a, b in itertools.pairwise(corners))


def test_a_real_building_is_planned_to_the_end() -> None:
    """Imported, walls 4 m high, an eye at 30 m: area = length on the ellipsoid x 4 m, and a document that fits."""
    shape = footprint(3)
    text = json.dumps({"type": "GeometryCollection", "geometries": [shapely.geometry.mapping(shape)]})
    tree = plain(site_from_geojson(text, "bubenec.geojson", "EPSG:3857", "metric"))
    for part in (*tree["walls"], *tree["buildings"]):
        part["height"] = "4 m"
    low, right = min(y for _, y in corners(tree)), max(x for x, _ in corners(tree))
    tree["eyes"] = [
        {"id": "street", "kind": "walk", "path": [["-20 m", f"{low - 30} m"], [f"{right} m", f"{low - 30} m"]]}
    ]
    site = document_from(parse(json.dumps(tree), "site.json"), "site")
    others = [read_document(DEMO / f"{kind}.yaml") for kind in KINDS[1:]]
    plan = plan_visit(site, *others, VISIT)  # type: ignore[arg-type]
    gross = sum(takeoff.gross for takeoff in plan.walls)
    assert gross == pytest.approx(4 * perimeter(shape), rel=1e-3)
    assert plan.price.price > 0
    assert any(sight.public_area > 0 for sight in plan.sight)
    assert any(sight.hidden_area > 0.99 * sight.area for sight in plan.sight), "the back is seen from no street"
    document = json.loads(output_text("plan", plan_document(plan, site, *others)))  # type: ignore[arg-type]
    jsonschema.Draft202012Validator(output_schema("plan")).validate(document)


def corners(tree: dict[str, Any]) -> list[tuple[float, float]]:
    """Return the corners of a building's outline [m]."""
    return [(float(str(x).split()[0]), float(str(y).split()[0])) for x, y in tree["buildings"][0]["outline"]]
