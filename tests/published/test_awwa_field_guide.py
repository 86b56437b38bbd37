"""Neutralising chlorine in the field.

Source: American Water Works Association, Disinfection of Pipelines and Storage Facilities Field Guide: Table 7-2
(mg of agent per mg of chlorine at pH 7), Table 7-5 (pounds for 100 000 gal and kilograms for 100 m3 per 1 mg/L),
and its advice to take at least 20 % spare. Mark: published. The columns are typed here again from the guide, apart
from the package's table.
"""

from __future__ import annotations

import pytest

from sightwash.basis.units import GALLON, POUND
from sightwash.science.dechlorination import (
    neutraliser_mass,
    neutraliser_to_carry,
    neutralisers,
    stoichiometric_ratio,
)
from sightwash.science.dilution import chlorine_mass

PRINTED = {  # Table 7-2, Table 7-5 in lb, Table 7-5 in kg
    "sodium-thiosulfate": (1.9, 1.58, 0.19),
    "sodium-bisulfite": (1.61, 1.34, 0.16),
    "sodium-metabisulfite": (1.47, 1.23, 0.15),
    "sodium-sulfite": (1.96, 1.63, 0.20),
    "calcium-thiosulfate": (1.22, 1.02, 0.12),
    "ascorbic-acid": (2.5, 2.08, 0.25),
    "sodium-ascorbate": (2.8, 2.33, 0.28),
}


@pytest.mark.parametrize("agent", PRINTED)
def test_table_carries_the_printed_figures(agent: str) -> None:
    row = neutralisers()[agent]
    assert (row.field_ratio, row.pounds_printed, row.kilograms_printed) == PRINTED[agent]


def test_chlorine_in_a_hundred_thousand_gallons() -> None:
    assert chlorine_mass(1.0, 100_000.0 * GALLON) / POUND == pytest.approx(0.83454, abs=1e-5)


@pytest.mark.parametrize("agent", PRINTED)
def test_pounds_for_a_hundred_thousand_gallons(agent: str) -> None:
    ratio, pounds, _ = PRINTED[agent]
    found = neutraliser_mass(chlorine_mass(1.0, 100_000.0 * GALLON), ratio) / POUND
    assert found == pytest.approx(pounds, abs=0.011)


@pytest.mark.parametrize("agent", PRINTED)
def test_kilograms_for_a_hundred_cubic_metres(agent: str) -> None:
    ratio, _, kilograms = PRINTED[agent]
    assert neutraliser_mass(chlorine_mass(1.0, 100_000.0), ratio) == pytest.approx(kilograms, abs=0.0051)


@pytest.mark.parametrize("agent", ["sodium-bisulfite", "sodium-metabisulfite", "sodium-sulfite"])
def test_field_ratio_is_about_a_tenth_over_the_equation_s(agent: str) -> None:
    row = neutralisers()[agent]
    assert PRINTED[agent][0] / stoichiometric_ratio(row.molar_mass, row.moles) == pytest.approx(1.10, abs=0.01)


def test_a_wall_s_worth_of_chlorine() -> None:
    """20 gal at 10 g/L with thiosulfate at 1.9: 3.17 lb, by hand from the guide's ratio."""
    chlorine = chlorine_mass(10_000.0, 20.0 * GALLON)
    assert neutraliser_mass(chlorine, 1.9) / POUND == pytest.approx(3.17, abs=0.005)
    assert neutraliser_mass(chlorine, 1.61) / POUND == pytest.approx(2.69, abs=0.005)
    assert neutraliser_mass(chlorine, 2.5) / POUND == pytest.approx(4.17, abs=0.005)


def test_a_fifth_to_spare() -> None:
    assert neutraliser_to_carry(1.0, 1.61) == pytest.approx(1.61 * 1.2, abs=1e-12)
