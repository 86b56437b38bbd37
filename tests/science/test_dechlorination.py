"""Neutralising: stoichiometry from molar masses (closed form), proportions, and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.basis.sources import STATUSES, register
from sightwash.science.dechlorination import (
    dilution_factor,
    neutraliser_mass,
    neutraliser_to_carry,
    neutralisers,
    stoichiometric_ratio,
)

# by hand from standard atomic weights: S 32.06, O 15.999, Na 22.990, H 1.008, C 12.011, Ca 40.078, Cl 35.453
BY_HAND = {
    "sulfur-dioxide": 0.9035,
    "sodium-bisulfite": 1.4676,
    "sodium-metabisulfite": 1.3406,
    "sodium-sulfite": 1.7776,
    "sodium-thiosulfate": 0.875,
    "calcium-thiosulfate": 0.537,
    "ascorbic-acid": 2.4839,
    "sodium-ascorbate": 2.7939,
    "hydrogen-peroxide": 0.4797,
}


@pytest.mark.parametrize("agent", BY_HAND)
def test_ratios_by_hand(agent: str) -> None:
    row = neutralisers()[agent]
    assert stoichiometric_ratio(row.molar_mass, row.moles) == pytest.approx(BY_HAND[agent], abs=5e-4)


def test_thiosulfate_one_to_one() -> None:
    assert stoichiometric_ratio(neutralisers()["sodium-thiosulfate"].molar_mass, 1.0) == pytest.approx(3.5, abs=5e-3)


def test_every_row_has_a_known_source_and_status() -> None:
    assert set(neutralisers()) == set(BY_HAND)
    for row in neutralisers().values():
        assert row.source in register()
        assert row.status in STATUSES


@given(st.floats(0.0, 100.0), st.floats(0.1, 5.0), st.floats(0.0, 1.0))
def test_spare_is_a_share_on_top(chlorine: float, ratio: float, spare: float) -> None:
    dose = neutraliser_mass(chlorine, ratio)
    assert neutraliser_to_carry(chlorine, ratio, spare) == pytest.approx(dose + spare * dose, rel=1e-12)


@pytest.mark.parametrize(
    ("parameter", "call"),
    [
        ("chlorine", lambda: neutraliser_mass(-0.1, 1.6)),
        ("ratio", lambda: neutraliser_mass(0.1, 0.0)),
        ("ratio", lambda: neutraliser_mass(0.1, math.nan)),
        ("spare", lambda: neutraliser_to_carry(0.1, 1.6, -0.2)),
        ("criterion", lambda: dilution_factor(10_000.0, 0.0)),
        ("strength", lambda: dilution_factor(300_000.0, 0.019)),
        ("moles", lambda: stoichiometric_ratio(100.0, 0.0)),
        ("molar_mass", lambda: stoichiometric_ratio(-1.0, 1.0)),
    ],
)
def test_refused(parameter: str, call) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
