"""Plants watered with chlorine.

Sources: Sensitivity of five container-grown nursery species to chlorine in overhead irrigation water, abstract
(2.5 mg/L for four species, 5 mg/L for Physocarpus, six weeks); Response of potted plants and vegetable seedlings
to chlorinated water, abstract (steps 2, 8, 18, 37, 77 mg/L). Mark: published.
"""

from __future__ import annotations

import pytest

from sightwash.science.hazards import plant_excess
from sightwash.science.tables import figures

PRINTED = {
    2.0: ("geranium", "begonia"), 2.5: ("spiraea", "hydrangea", "weigela", "willow"), 5.0: ("ninebark",),
    8.0: ("pepper", "tomato"), 18.0: ("kalanchoe", "lettuce", "tradescantia"),
    37.0: ("broccoli", "marigold", "petunia"), 77.0: ("english-ivy", "impatiens"),
}  # fmt: skip


@pytest.mark.parametrize("milligrams", PRINTED)
def test_thresholds_as_printed(milligrams: float) -> None:
    assert {figures("plant_tolerance")[plant].value for plant in PRINTED[milligrams]} == {milligrams}


def test_wash_mix_is_four_thousand_times_the_threshold() -> None:
    assert plant_excess(10_000.0, figures("plant_tolerance")["harmless-woody"].value) == pytest.approx(4000.0, abs=1e-9)
