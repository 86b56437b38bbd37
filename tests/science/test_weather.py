"""Weather by closed forms: parts of the sun add up, cloud only takes, dew point and humidity undo one another."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.irradiance import clear_sky
from sightwash.science.vapour import dew_point
from sightwash.science.weather import cloudy_sky, humidity_of_dew_point, sun_through_cloud, wind_at_two_metres

SHARES = st.floats(0.0, 1.0)
ZENITHS = st.floats(0.0, 88.5)


@given(ZENITHS, SHARES)
def test_global_is_diffuse_and_direct(zenith: float, cloud: float) -> None:
    sky = cloudy_sky(zenith, 1.0, cloud)
    assert sky.total == pytest.approx(sky.diffuse + sky.direct * math.cos(math.radians(zenith)), rel=1e-9, abs=1e-9)
    assert min(sky) >= 0.0


@given(ZENITHS, SHARES, SHARES)
def test_more_cloud_never_brings_more_sun(zenith: float, a: float, b: float) -> None:
    less, more = sorted((a, b))
    assert cloudy_sky(zenith, 1.0, more).total <= cloudy_sky(zenith, 1.0, less).total + 1e-9
    assert cloudy_sky(zenith, 1.0, more).direct <= cloudy_sky(zenith, 1.0, less).direct + 1e-6


@given(ZENITHS)
def test_no_cloud_is_the_clear_sky(zenith: float) -> None:
    assert cloudy_sky(zenith, 1.0, 0.0) == pytest.approx(tuple(clear_sky(zenith, 1.0)), rel=1e-9)


def test_low_sun_is_all_diffuse() -> None:
    assert cloudy_sky(89.5, 1.0, 0.0).direct == 0.0
    assert cloudy_sky(120.0, 1.0, 0.0).total < 1e-6


@given(st.floats(-5.0, 45.0), st.floats(0.1, 1.0))
def test_humidity_undoes_the_dew_point(temperature: float, humidity: float) -> None:
    assert humidity_of_dew_point(temperature, dew_point(temperature, humidity)) == pytest.approx(humidity, rel=1e-6)


def test_refusals() -> None:
    with pytest.raises(OutOfRange):
        humidity_of_dew_point(20.0, 21.0)
    with pytest.raises(OutOfRange):
        sun_through_cloud(1.1)
    with pytest.raises(OutOfRange):
        wind_at_two_metres(-1.0)
    with pytest.raises(OutOfRange):
        wind_at_two_metres(3.0, 0.1)
