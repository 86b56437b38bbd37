"""Wet-bulb temperatures.

Sources: a collection of engineering exam problems: 21.5 degC dry and 15 degC wet is 50 % (worked example, from a
chart); a page on humidity charts: 75 degF dry and 62.5 degF wet is about 50 % (worked example, from a chart); R.
Stull, Journal of Applied Meteorology and Climatology 50 (2011): 20 degC and 50 % give 13.7 degC (from memory).
"""

from __future__ import annotations

import pytest

from sightwash.science.vapour import saturation_pressure, vapour_pressure_from_wet_bulb, wet_bulb


@pytest.mark.parametrize(("dry", "wet"), [(21.5, 15.0), ((75.0 - 32.0) / 1.8, (62.5 - 32.0) / 1.8)])
def test_chart_readings(dry: float, wet: float) -> None:
    assert wet_bulb(dry, 0.50) == pytest.approx(wet, abs=0.15)
    assert vapour_pressure_from_wet_bulb(dry, wet) / saturation_pressure(dry) == pytest.approx(0.50, abs=0.01)


def test_stull_s_example() -> None:
    """His equation is a fit with a mean error of nearly 0.3 K, as the abstract says (published)."""
    assert wet_bulb(20.0, 0.50) == pytest.approx(13.7, abs=0.3)
