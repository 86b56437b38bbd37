"""The sun over Golden, Colorado, on 17 October 2003 at 12:30:30 local time (UTC-7).

Source: I. Reda and A. Andreas, Solar position algorithm for solar radiation applications, NREL/TP-560-34302
(2008), example in the appendix: 39.742476 N, 105.1786 W, 1830.14 m, 820 mbar, 11 degC, plane of slope 30, rotation
-10 (from south, east negative). Zenith 50.11162, azimuth 194.34024, incidence 25.18700 deg; transit, sunrise,
sunset in local hours. Mark: published, read in several public test suites that quote the report. The report's
zenith is with refraction.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest

from sightwash.science.sun import incidence_angle, refraction, sun_position, sun_times, utc_seconds

MOMENT = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))
LATITUDE, LONGITUDE = 39.742476, -105.1786


def apparent_zenith() -> float:
    zenith = float(sun_position(utc_seconds(MOMENT), LATITUDE, LONGITUDE).zenith)
    return zenith - refraction(90.0 - zenith, 82_000.0, 11.0)


def test_zenith_and_azimuth() -> None:
    place = sun_position(utc_seconds(MOMENT), LATITUDE, LONGITUDE)
    assert apparent_zenith() == pytest.approx(50.11162, abs=0.005)
    assert place.azimuth == pytest.approx(194.34024, abs=0.005)


def test_incidence() -> None:
    azimuth = float(sun_position(utc_seconds(MOMENT), LATITUDE, LONGITUDE).azimuth)
    assert incidence_angle(apparent_zenith(), azimuth, 30.0, 180.0 - 10.0) == pytest.approx(25.18700, abs=0.005)


def test_sunrise_transit_and_sunset() -> None:
    midnight = datetime(2003, 10, 17, tzinfo=MOMENT.tzinfo).timestamp()
    hours = [(moment - midnight) / 3600.0 for moment in sun_times(utc_seconds(MOMENT), LATITUDE, LONGITUDE)]
    assert hours == pytest.approx([6.212, 11.768, 17.314], abs=0.002)


def test_array_of_moments_and_julian_day() -> None:
    """Julian day 2452930.312847 is the report's own for the moment."""
    moments = np.array(["2003-10-17T19:30:30", "2003-10-17T19:30:30"], dtype="datetime64[s]")
    seconds = utc_seconds(moments)
    assert seconds / 86400.0 + 2440587.5 == pytest.approx(2452930.312847, abs=1e-6)
    assert utc_seconds(datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC)) == seconds[0]
    assert sun_position(seconds, LATITUDE, LONGITUDE).azimuth == pytest.approx(194.34024, abs=0.005)
