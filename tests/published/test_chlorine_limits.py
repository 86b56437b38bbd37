"""Chlorine in the air people breathe.

Sources: OSHA 29 CFR 1910.1000 Table Z-1: ceiling 1 ppm, 3 mg/m3; NIOSH, documentation for immediately dangerous
concentrations, chlorine (1994): 0.5 ppm (1.45 mg/m3) ceiling, 10 ppm IDLH, ACGIH 1993-94 0.5 and 1 ppm. Mark:
published.
"""

from __future__ import annotations

import pytest

from sightwash.science.hazards import chlorine_in_air
from sightwash.science.tables import figures


@pytest.mark.parametrize(("ppm", "milligrams", "digits"), [(0.5, 1.45, 0.005), (1.0, 3.0, 0.5)])
def test_both_units_as_printed(ppm: float, milligrams: float, digits: float) -> None:
    assert chlorine_in_air(ppm) == pytest.approx(milligrams, abs=digits)


@pytest.mark.parametrize(
    ("row", "ppm"),
    [("osha-ceiling", 1.0), ("niosh-ceiling", 0.5), ("niosh-idlh", 10.0), ("acgih-1993-mean", 0.5)],
)
def test_limits_as_printed(row: str, ppm: float) -> None:
    assert (figures("chlorine_limits")[row].value, figures("chlorine_limits")[row].status) == (ppm, "published")
