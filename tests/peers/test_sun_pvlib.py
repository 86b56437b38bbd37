"""Sun and sky against pvlib 0.16.1, an open library for solar resources. Mark: independent program.

Needs the peers' environment; elsewhere these tests are skipped.
"""

from __future__ import annotations

import numpy as np
import pytest

pvlib = pytest.importorskip("pvlib")
pd = pytest.importorskip("pandas")

from sightwash.science.irradiance import clear_sky, clear_sky_global, clear_sky_on_plane, plane_irradiance  # noqa: E402
from sightwash.science.sun import incidence_angle, sun_position, sun_times, utc_seconds  # noqa: E402
from sightwash.science.vapour import dew_point  # noqa: E402

pytestmark = pytest.mark.filterwarnings("ignore:DatetimeIndex.dayofyear is deprecated")  # inside the peer itself

PLACES = [(30.0, -90.0, 0.0), (39.74, -105.18, 1600.0), (41.0, -81.0, 200.0), (-33.9, 151.2, 0.0), (60.0, 25.0, 0.0)]
MOMENTS = pd.date_range("2024-01-01", "2024-12-31 23:00", freq="97min", tz="UTC")
SECONDS = utc_seconds(MOMENTS.tz_localize(None).to_numpy())


@pytest.mark.parametrize(("latitude", "longitude", "height"), PLACES)
def test_position(latitude: float, longitude: float, height: float) -> None:
    theirs = pvlib.solarposition.get_solarposition(MOMENTS, latitude, longitude, altitude=height)
    ours = sun_position(SECONDS, latitude, longitude)
    assert np.abs(ours.zenith - theirs["zenith"]).max() < 0.02
    turn = (ours.azimuth - theirs["azimuth"].to_numpy() + 180.0) % 360.0 - 180.0
    assert np.abs(turn * np.sin(np.radians(ours.zenith))).max() < 0.02


@pytest.mark.parametrize(("tilt", "facing"), [(90.0, 180.0), (90.0, 75.0), (30.0, 200.0), (135.0, 300.0)])
def test_incidence(tilt: float, facing: float) -> None:
    here = sun_position(SECONDS, 41.0, -81.0)
    theirs = pvlib.irradiance.aoi(tilt, facing, here.zenith, here.azimuth)
    assert incidence_angle(here.zenith, here.azimuth, tilt, facing) == pytest.approx(theirs, abs=1e-6)


def test_clear_sky_is_haurwitz_split_by_erbs() -> None:
    here = sun_position(SECONDS, 41.0, -81.0)
    zenith = pd.Series(here.zenith, index=MOMENTS)
    theirs = pvlib.clearsky.haurwitz(zenith)["ghi"]
    assert clear_sky_global(here.zenith) == pytest.approx(theirs.to_numpy(), abs=1e-6)
    split = pvlib.irradiance.erbs(theirs, zenith, MOMENTS)
    ours = clear_sky(here.zenith, here.distance, solar_constant=1366.1)
    up = here.zenith < 85.0
    assert ours.diffuse[up] == pytest.approx(split["dhi"].to_numpy()[up], rel=0.005, abs=0.5)
    assert ours.direct[up] == pytest.approx(split["dni"].to_numpy()[up], rel=0.005, abs=0.5)


def test_tilted_plane_under_an_isotropic_sky() -> None:
    theirs = pvlib.irradiance.get_total_irradiance(
        90.0, 180.0, 60.0, 200.0, 700.0, 450.0, 100.0, albedo=0.25, model="isotropic"
    )
    incidence = pvlib.irradiance.aoi(90.0, 180.0, 60.0, 200.0)
    ours = plane_irradiance(450.0, 700.0, 100.0, float(incidence), 90.0, 0.25)
    assert ours.total == pytest.approx(theirs["poa_global"], rel=1e-9)
    assert ours.ground == pytest.approx(theirs["poa_ground_diffuse"], rel=1e-9)


@pytest.mark.parametrize(
    ("place", "facing", "mean"),
    [(0, 180, 1.01), (0, 90, 1.12), (1, 180, 0.90), (1, 90, 0.96), (2, 180, 1.03), (2, 90, 1.13)],
)
def test_stated_error_against_a_model_that_knows_haze_and_height(place: int, facing: float, mean: float) -> None:
    """Ineichen's clear sky with the library's own turbidity; walls with more than 200 W/m2, sun above 10 degrees."""
    latitude, longitude, height = PLACES[place]
    site = pvlib.location.Location(latitude, longitude, altitude=height)
    sun, sky = site.get_solarposition(MOMENTS), site.get_clearsky(MOMENTS)
    theirs = pvlib.irradiance.get_total_irradiance(
        90.0, facing, sun["apparent_zenith"], sun["azimuth"], sky["dni"], sky["ghi"], sky["dhi"], albedo=0.2
    )["poa_global"].to_numpy()
    ours = clear_sky_on_plane(SECONDS, latitude, longitude, 90.0, float(facing)).total
    lit = (theirs > 200.0) & (sun["zenith"].to_numpy() < 80.0)
    assert np.mean(ours[lit] / theirs[lit]) == pytest.approx(mean, abs=0.02)


@pytest.mark.parametrize(("latitude", "longitude"), [place[:2] for place in PLACES])
def test_sunrise_noon_and_sunset(latitude: float, longitude: float) -> None:
    """At our moments the library's sun stands at the horizon, and on the meridian, within a minute's travel.

    The library's own rise and set are not used: they drift by a day's worth where the event falls past UTC midnight.
    """
    days = pd.date_range("2024-01-05", "2024-12-30", freq="23D", tz="UTC")
    moments = np.array([sun_times(day.timestamp(), latitude, longitude) for day in days])
    when = pd.to_datetime(moments.ravel(), unit="s", utc=True)
    theirs = pvlib.solarposition.get_solarposition(when, latitude, longitude)
    zenith = theirs["zenith"].to_numpy().reshape(moments.shape)
    azimuth = theirs["azimuth"].to_numpy().reshape(moments.shape)
    assert zenith[:, [0, 2]] == pytest.approx(90.833, abs=0.02)
    sideways = np.sin(np.radians(azimuth[:, 1])) * np.sin(np.radians(zenith[:, 1]))
    assert sideways == pytest.approx(0.0, abs=np.radians(0.02))


@pytest.mark.parametrize(("air", "humidity"), [(25.0, 0.5), (10.0, 0.9), (35.0, 0.2)])
def test_dew_point(air: float, humidity: float) -> None:
    assert dew_point(air, humidity) == pytest.approx(pvlib.atmosphere.tdew_from_rh(air, humidity * 100.0), abs=1e-6)
