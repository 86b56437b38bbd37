"""Hazen-Williams and the fire-service form: properties, refusals, and agreement with Darcy's law."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science import hose, hose_laws

GPM = 3.785411784 / 60
INCH = 0.0254


@given(st.floats(0.2, 2.0))
def test_hazen_williams_scales_by_its_powers(flow):
    one = hose_laws.hazen_williams_loss(flow, 30, 0.04)
    assert hose_laws.hazen_williams_loss(flow / 2, 30, 0.04) == pytest.approx(one / 2**1.85)
    assert hose_laws.hazen_williams_loss(flow, 30, 0.08) == pytest.approx(one / 2**4.87)


def test_hazen_williams_for_plastic_lands_on_darcy_in_its_own_range():
    # Independent laws: C 150 against Darcy and Churchill for 3/4 in at 5 gal/min.
    darcy = hose.darcy_loss(5 * GPM, 30.48, 0.75 * INCH)
    assert hose_laws.hazen_williams_loss(5 * GPM, 30.48, 0.75 * INCH, 150) == pytest.approx(darcy, rel=0.1)


def test_above_10_feet_a_second_it_says_so():
    with pytest.warns(OutsidePublishedRange, match="10 ft/s"):
        hose_laws.hazen_williams_loss(np.array([0.01, 0.5]), 30, 0.0127)


@given(st.floats(0.5, 20.0), st.floats(1, 100))
def test_fire_form_goes_by_the_square_of_flow(flow, coefficient):
    one = hose_laws.fire_service_loss(flow, 30, coefficient)
    assert hose_laws.fire_service_loss(2 * flow, 30, coefficient) == pytest.approx(4 * one)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: hose_laws.hazen_williams_loss(bad, 30, 0.02),
        lambda: hose_laws.hazen_williams_loss(0.1, 30, 0.02, bad),
        lambda: hose_laws.hazen_williams_loss(0.1, bad, 0.02),
        lambda: hose_laws.fire_service_loss(bad, 30, 24),
        lambda: hose_laws.fire_service_loss(1.0, 30, bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()


def test_a_hose_that_is_not_in_the_table_is_refused():
    with pytest.raises(OutOfRange, match=r"1\.75"):
        hose_laws.fire_service_coefficient(0.375 * INCH)
