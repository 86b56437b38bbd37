"""Sun through cloud.

Source: F. Kasten and G. Czeplak, "Solar and terrestrial radiation dependent on the amount and type of cloud", Solar
Energy 24(2), 1980, 177-189: a fully covered sky still passes a quarter, and the ratio 1 - 0.75 (N/8)^3.4. Figures at
0, 1, 7 and 8 eighths as printed in the notes of two public programs that cite it. Mark: published, read second-hand.
"""

from __future__ import annotations

import pytest

from sightwash.science.weather import cloudy_sky, sun_through_cloud


@pytest.mark.parametrize(("eighths", "printed", "digits"), [(0, 1.0, 3), (1, 0.999, 3), (7, 0.52, 2), (8, 0.25, 2)])
def test_ratio_by_eighths(eighths: int, printed: float, digits: int) -> None:
    assert round(sun_through_cloud(eighths / 8), digits) == printed


def test_overcast_sky_is_almost_all_diffuse() -> None:
    """Erbs, Klein and Duffie 1982, equation 1: at a clearness below 0.22 more than 98 % of the sun is diffuse."""
    sky = cloudy_sky(40.0, 1.0, 1.0)
    assert sky.diffuse / sky.total > 0.97
