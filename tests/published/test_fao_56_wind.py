"""Wind brought down to two metres.

Source: R. G. Allen and others, "Crop evapotranspiration", FAO Irrigation and Drainage Paper 56, 1998, equation 47 and
Example 14, as worked in the reference of a public library of crop functions (3.2 m/s at 10 m: 2.39 m/s, 5.35 mph,
8.62 km/h) and in another's manual (5 m/s at 10 m: 3.74 m/s). Mark: published, read second-hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.weather import wind_at_two_metres


def test_example_14() -> None:
    assert round(wind_at_two_metres(3.2, 10.0), 2) == 2.39
    assert round(wind_at_two_metres(3.2, 10.0) * 3.6, 2) == pytest.approx(8.62, abs=0.005)
    assert round(wind_at_two_metres(3.2, 10.0) * 3600 / 1609.344, 2) == 5.35


def test_five_metres_a_second() -> None:
    assert round(wind_at_two_metres(5.0, 10.0), 2) == 3.74


def test_wind_measured_at_two_metres_stays_as_it_is() -> None:
    assert wind_at_two_metres(4.0, 2.0) == pytest.approx(4.0, rel=0.001)
