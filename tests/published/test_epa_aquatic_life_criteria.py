"""Chlorine and the life in streams.

Source: US Environmental Protection Agency, national recommended aquatic life criteria, chlorine (1986): 19 and 11
ug/L in fresh water, 13 and 7.5 ug/L in salt water. Mark: published. The dilution is arithmetic on them.
"""

from __future__ import annotations

import pytest

from sightwash.science.dechlorination import dilution_factor
from sightwash.science.tables import figures


@pytest.mark.parametrize(
    ("row", "micrograms"), [("fresh-acute", 19.0), ("fresh-chronic", 11.0), ("salt-acute", 13.0), ("salt-chronic", 7.5)]
)
def test_criteria_as_printed(row: str, micrograms: float) -> None:
    figure = figures("discharge_criteria")[row]
    assert (figure.value * 1000.0, figure.unit) == (pytest.approx(micrograms, abs=1e-9), "mg/L")


def test_dilution_of_a_wash_mix_to_the_acute_criterion() -> None:
    limit = figures("discharge_criteria")["fresh-acute"].value
    assert dilution_factor(10_000.0, limit) == pytest.approx(526_316.0, abs=1.0)
    assert dilution_factor(50.0, limit) == pytest.approx(2_630.0, abs=2.0)
