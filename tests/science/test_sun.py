"""The sun: facts of geometry and the calendar (closed form), properties, refusals.

Solstice and equinox moments: US Naval Observatory, Earth's seasons, 2024 (from memory: 20 March 03:06, 20 June 20:51,
22 September 12:44, 21 December 09:21 UTC); only the direction of the year rests on them here, to a few hundredths of a
degree. Positions against a published example stand in tests/published/test_nrel_spa.py.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.irradiance import (
    clear_sky,
    clear_sky_global,
    clear_sky_on_plane,
    diffuse_share,
    plane_irradiance,
)
from sightwash.science.sun import incidence_angle, refraction, sun_position, sun_times, utc_seconds

TIMES = st.floats(datetime(1950, 1, 1, tzinfo=UTC).timestamp(), datetime(2060, 1, 1, tzinfo=UTC).timestamp())
LATITUDES = st.floats(-60.0, 60.0)
LONGITUDES = st.floats(-180.0, 180.0)
ANGLES = st.floats(0.0, 360.0)


def moment(*parts: int) -> float:
    return datetime(*parts, tzinfo=UTC).timestamp()


@pytest.mark.parametrize(
    ("time", "declination"),
    [
        (moment(2024, 3, 20, 3, 6), 0.0),
        (moment(2024, 6, 20, 20, 51), 23.436),
        (moment(2024, 9, 22, 12, 44), 0.0),
        (moment(2024, 12, 21, 9, 21), -23.436),
    ],
)
def test_declination_at_the_turns_of_the_year(time: float, declination: float) -> None:
    assert sun_position(time, 0.0, 0.0).declination == pytest.approx(declination, abs=0.01)


@given(TIMES, LATITUDES, LONGITUDES)
def test_highest_sun_stands_on_the_meridian(time: float, latitude: float, longitude: float) -> None:
    noon = sun_times(time, latitude, longitude).noon
    place = sun_position(noon, latitude, longitude)
    assert float(place.hour_angle) == pytest.approx(0.0, abs=1e-4)
    assert float(place.zenith) == pytest.approx(abs(latitude - float(place.declination)), abs=1e-4)
    assert abs(noon - time) <= 43_200.0 + 60.0


@given(TIMES, LATITUDES, LONGITUDES)
def test_sun_stands_at_the_horizon_at_both_ends_of_the_day(time: float, latitude: float, longitude: float) -> None:
    day = sun_times(time, latitude, longitude)
    assert day.sunrise < day.noon < day.sunset
    for edge in (day.sunrise, day.sunset):
        assert float(sun_position(edge, latitude, longitude).zenith) == pytest.approx(90.833, abs=1e-3)
    assert float(sun_position(day.sunrise, latitude, longitude).azimuth) < 180.0
    assert float(sun_position(day.sunset, latitude, longitude).azimuth) > 180.0


@given(TIMES, LATITUDES, LONGITUDES)
def test_distance_is_that_of_the_orbit(time: float, latitude: float, longitude: float) -> None:
    """Eccentricity 0.0167 (closed form): distance between 1 - e and 1 + e of its mean."""
    assert 1.0 - 0.0169 < float(sun_position(time, latitude, longitude).distance) < 1.0 + 0.0169


@given(st.floats(0.0, 180.0), ANGLES, st.floats(0.0, 180.0), ANGLES)
def test_incidence_is_the_angle_between_two_directions(zenith, azimuth, tilt, facing) -> None:
    def direction(down: float, around: float) -> np.ndarray:
        down, around = math.radians(down), math.radians(around)
        return np.array([math.sin(down) * math.sin(around), math.sin(down) * math.cos(around), math.cos(down)])

    cosine = float(direction(zenith, azimuth) @ direction(tilt, facing))
    assert math.cos(math.radians(incidence_angle(zenith, azimuth, tilt, facing))) == pytest.approx(cosine, abs=1e-9)


@given(st.floats(0.0, 180.0), ANGLES, ANGLES)
def test_flat_plane_sees_the_sun_at_its_zenith_angle(zenith: float, azimuth: float, facing: float) -> None:
    assert incidence_angle(zenith, azimuth, 0.0, facing) == pytest.approx(zenith, abs=1e-5)


def test_arrays_and_numbers_agree() -> None:
    times = utc_seconds(np.arange("2024-07-04T00:00", "2024-07-05T00:00", 37, dtype="datetime64[m]"))
    walls = clear_sky_on_plane(times, 41.0, -81.0, 90.0, 200.0).total
    one_by_one = [float(clear_sky_on_plane(float(time), 41.0, -81.0, 90.0, 200.0).total) for time in times]
    assert walls == pytest.approx(one_by_one, rel=1e-12, abs=1e-12)


@given(st.floats(0.0, 180.0), st.floats(0.984, 1.016))
def test_clear_sky_adds_up(zenith: float, distance: float) -> None:
    sky = clear_sky(zenith, distance)
    assert sky.total >= 0.0
    assert sky.direct >= 0.0
    height = max(math.cos(math.radians(zenith)), 0.0)
    assert sky.direct * height + sky.diffuse == pytest.approx(float(sky.total), rel=1e-9, abs=1e-6)


@given(st.floats(0.0, 89.0), st.floats(0.0, 89.0))
def test_higher_sun_is_never_weaker(one: float, other: float) -> None:
    high, low = sorted((one, other))
    assert clear_sky_global(high) >= clear_sky_global(low) - 1e-9


@pytest.mark.parametrize(("clearness", "share"), [(0.0, 1.0), (0.1, 0.991), (0.22, 0.9802), (0.9, 0.165)])
def test_diffuse_share_by_hand(clearness: float, share: float) -> None:
    assert diffuse_share(clearness) == pytest.approx(share, abs=1e-4)


def test_diffuse_share_is_nearly_whole_at_its_joints() -> None:
    """The published pieces meet within 0.001 at 0.22 and within 0.01 at 0.80."""
    assert diffuse_share(0.22) == pytest.approx(float(diffuse_share(0.2201)), abs=1e-3)
    assert diffuse_share(0.80) == pytest.approx(float(diffuse_share(0.8001)), abs=1e-2)


def test_flat_plane_takes_the_global_irradiance() -> None:
    here = sun_position(moment(2024, 7, 4, 17, 0), 41.0, -81.0)
    sky = clear_sky(float(here.zenith), float(here.distance))
    flat = clear_sky_on_plane(moment(2024, 7, 4, 17, 0), 41.0, -81.0, 0.0, 180.0)
    assert float(flat.total) == pytest.approx(float(sky.total), rel=1e-9)


def test_north_wall_at_winter_noon_has_no_direct_sun() -> None:
    wall = clear_sky_on_plane(moment(2024, 12, 21, 17, 20), 41.0, -81.0, 90.0, 0.0)
    assert wall.direct == 0.0
    assert wall.total > 0.0


def test_night_is_dark() -> None:
    wall = clear_sky_on_plane(moment(2024, 12, 21, 5, 0), 41.0, -81.0, 90.0, 180.0)
    assert float(wall.total) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("elevation", "arcminutes"), [(0.0, 29.0), (45.0, 1.0), (90.0, 0.0), (-5.0, 0.0)])
def test_refraction_by_the_usual_table(elevation: float, arcminutes: float) -> None:
    """Horizontal refraction of about 29 to 34 arcminutes and 1 arcminute at 45 degrees: common practice, no source."""
    assert refraction(elevation) * 60.0 == pytest.approx(arcminutes, abs=1.0)


@pytest.mark.parametrize(
    ("parameter", "call"),
    [
        ("when", lambda: utc_seconds(datetime(2024, 7, 4, 12, 0))),
        ("time", lambda: sun_position(-3e9, 40.0, 0.0)),
        ("time", lambda: sun_position(math.nan, 40.0, 0.0)),
        ("latitude", lambda: sun_position(0.0, 91.0, 0.0)),
        ("longitude", lambda: sun_position(0.0, 40.0, 181.0)),
        ("latitude", lambda: sun_times(moment(2024, 6, 20, 12, 0), 80.0, 0.0)),
        ("horizon", lambda: sun_times(moment(2024, 6, 20, 12, 0), 40.0, 0.0, 0.0)),
        ("tilt", lambda: incidence_angle(30.0, 180.0, 200.0, 180.0)),
        ("pressure", lambda: refraction(10.0, 1013.0)),
        ("solar_constant", lambda: clear_sky(30.0, 1.0, 1.361)),
        ("distance", lambda: clear_sky(30.0, 0.0)),
        ("clearness", lambda: diffuse_share(-0.1)),
        ("reflectance", lambda: plane_irradiance(800.0, 900.0, 100.0, 60.0, 90.0, 20.0)),
        ("direct", lambda: plane_irradiance(800.0, -900.0, 100.0, 60.0, 90.0)),
    ],
)
def test_refused(parameter: str, call) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
