"""Imported footprints against the printed examples of map projections.

Sources, seen as quoted in several independent test suites, not in the documents themselves:

- International Association of Oil & Gas Producers, Geomatics Guidance Note 7 part 2, "Coordinate Conversions and
  Transformations including Formulas": method 1024 (Popular Visualisation Pseudo Mercator) and method 9802 (Lambert
  Conic Conformal, two standard parallels, in US survey feet). Mark: worked example.
- Snyder, J. P., "Map Projections - A Working Manual", US Geological Survey Professional Paper 1395, 1987, p. 296.
  Mark: worked example.
- Geodesics: Karney, C. F. F., "Algorithms for geodesics", Journal of Geodesy 87, 2013, in his own geographiclib.
  Mark: independent program.
"""

from __future__ import annotations

import json
import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from sightwash.site.imports.geojson import site_from_geojson

US_SURVEY_FOOT = 1200.0 / 3937.0
CLARKE_1866 = (6378206.4, 1.0 / 294.978698214)
GRS_80 = (6378137.0, 1.0 / 298.257222101)


def dms(degrees: float, minutes: float = 0.0, seconds: float = 0.0) -> float:
    return degrees + minutes / 60.0 + seconds / 3600.0


def lambert(
    longitude: float, latitude: float, parallels: tuple[float, float], origin: tuple[float, float],
    ellipsoid: tuple[float, float],
) -> tuple[float, float]:  # fmt: skip
    """Return easting and northing in metres from the origin (lon, lat): Snyder 1987, equations 14-15, 15-1 to 15-10."""
    axis, flattening = ellipsoid
    e = math.sqrt(flattening * (2.0 - flattening))

    def m(phi: float) -> float:
        return math.cos(phi) / math.sqrt(1.0 - (e * math.sin(phi)) ** 2)

    def t(phi: float) -> float:
        sine = e * math.sin(phi)
        return math.tan(math.pi / 4 - phi / 2) / ((1.0 - sine) / (1.0 + sine)) ** (e / 2)

    first, second = (math.radians(value) for value in parallels)
    n = (math.log(m(first)) - math.log(m(second))) / (math.log(t(first)) - math.log(t(second)))
    big_f = m(first) / (n * t(first) ** n)
    rho, rho_0 = (axis * big_f * t(math.radians(value)) ** n for value in (latitude, origin[1]))
    theta = n * math.radians(longitude - origin[0])
    return rho * math.sin(theta), rho_0 - rho * math.cos(theta)


def square(east: float, north: float, half: float) -> str:
    ring = [(east - half, north - half), (east + half, north - half), (east + half, north + half),
            (east - half, north + half), (east - half, north - half)]  # fmt: skip
    return json.dumps({"type": "Polygon", "coordinates": [ring]})


def test_snyder_lambert_example() -> None:
    x, y = lambert(-75.0, 35.0, (33.0, 45.0), (-96.0, 23.0), CLARKE_1866)
    assert x == pytest.approx(1894410.9, abs=0.05)
    assert y == pytest.approx(1564649.5, abs=0.05)


def test_guidance_note_lambert_example_in_survey_feet() -> None:
    x, y = lambert(-96.0, 28.5, (dms(28, 23), dms(30, 17)), (-99.0, dms(27, 50)), CLARKE_1866)
    assert x / US_SURVEY_FOOT + 2000000.0 == pytest.approx(2963503.91, abs=0.005)
    assert y / US_SURVEY_FOOT == pytest.approx(254759.80, abs=0.005)


def test_footprint_at_the_printed_place_in_survey_feet() -> None:
    """Coarse: the datum of 1927 lies less than 100 m from WGS 84 here, a figure from memory."""
    place = site_from_geojson(square(2963503.91, 254759.80, 100.0), "t.geojson", "EPSG:32040").place
    assert place.latitude is not None
    assert place.longitude is not None
    moved = Geodesic.WGS84.Inverse(28.5, -96.0, place.latitude, place.longitude)
    assert moved["s12"] < 100.0


@pytest.mark.parametrize(("latitude", "longitude"), [(28.5, -96.0), (29.4, -98.5), (28.0, -101.5)])
def test_footprint_in_state_plane_survey_feet(latitude: float, longitude: float) -> None:
    """Texas South Central in US survey feet on the 1983 datum; corners set out by geodesics, projected as above."""
    corners, lengths = [(latitude, longitude)], (80.0, 25.0, 80.0)
    for bearing, length in zip((100.0, 10.0, 280.0), lengths, strict=True):
        end = Geodesic.WGS84.Direct(*corners[-1], bearing, length)
        corners.append((end["lat2"], end["lon2"]))
    ring = []
    for lat, lon in (*corners, corners[0]):
        x, y = lambert(lon, lat, (dms(28, 23), dms(30, 17)), (-99.0, dms(27, 50)), GRS_80)
        ring.append((x / US_SURVEY_FOOT + 600000.0 / US_SURVEY_FOOT, y / US_SURVEY_FOOT + 4000000.0 / US_SURVEY_FOOT))
    text = json.dumps({"type": "Polygon", "coordinates": [ring]})
    site = site_from_geojson(text, "t.geojson", "EPSG:2278")
    found = sorted(math.dist(wall.start, wall.end) for wall in site.walls if wall.start and wall.end)
    assert found == pytest.approx([25.0, 25.0, 80.0, 80.0], abs=0.005)
    south = next(wall for wall in site.walls if wall.id.startswith("b1-south"))
    assert south.start is not None
    assert south.end is not None
    east, north = np.subtract(south.end, south.start)
    assert math.degrees(math.atan2(east, north)) == pytest.approx(100.0, abs=0.05)


def test_web_mercator_example() -> None:
    """Method 1024: 24 deg 22' 54.433" N, 100 deg 20' W is E -11 169 055.58, N 2 800 000.00."""
    site = site_from_geojson(square(-11169055.58, 2800000.00, 50.0), "t.geojson", "EPSG:3857")
    assert site.place.latitude == pytest.approx(dms(24, 22, 54.433), abs=1e-6)
    assert site.place.longitude == pytest.approx(-dms(100, 20), abs=1e-6)


def test_web_mercator_stretch_is_undone() -> None:
    """Closed form: metres on the map are a sphere's over its cosine; on the ground the ellipsoid's two radii count."""
    site = site_from_geojson(square(-11169055.58, 2800000.00, 50.0), "t.geojson", "EPSG:3857")
    e2 = (1.0 / 298.257223563) * (2.0 - 1.0 / 298.257223563)
    sine = math.sin(math.radians(dms(24, 22, 54.433)))
    across = math.sqrt(1.0 - sine**2) / math.sqrt(1.0 - e2 * sine**2)
    up = math.sqrt(1.0 - sine**2) * (1.0 - e2) / (1.0 - e2 * sine**2) ** 1.5
    lengths = {wall.id: math.dist(wall.start, wall.end) for wall in site.walls if wall.start and wall.end}
    assert lengths["b1-south-1"] == pytest.approx(100.0 * across, abs=0.002)
    assert lengths["b1-east-1"] == pytest.approx(100.0 * up, abs=0.002)
