"""Friction factors: the laminar closed form, limits and properties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science import friction

GPM = 3.785411784 / 60


@given(st.floats(1.0, 1500.0))
def test_laminar_flow_has_64_over_reynolds(reynolds):
    # Closed form: Hagen and Poiseuille.
    assert friction.churchill_friction(reynolds, 0.0) == pytest.approx(64.0 / reynolds, rel=1e-3)


def test_blasius_at_ten_thousand():
    # Blasius 1913: 0.3164 Re^-0.25 for smooth pipes, 0.03164 at Re 1e4; the laws agree to 3 %.
    assert friction.churchill_friction(1e4, 0.0) == pytest.approx(0.03164, rel=0.03)


@given(st.floats(5e3, 1e7), st.floats(1e-6, 0.04))
def test_turbulent_friction_falls_with_reynolds_and_rises_with_roughness(reynolds, roughness):
    here = friction.churchill_friction(reynolds, roughness)
    assert friction.churchill_friction(1.2 * reynolds, roughness) < here
    assert friction.churchill_friction(reynolds, 1.2 * roughness) > here


@given(st.floats(1e4, 1e7), st.floats(1e-6, 1e-2))
def test_two_laws_of_turbulent_flow_agree(reynolds, roughness):
    # Independent forms of one curve: Colebrook's, each within a few percent.
    churchill = friction.churchill_friction(reynolds, roughness)
    assert friction.swamee_jain_friction(reynolds, roughness) == pytest.approx(churchill, rel=0.03)


def test_the_trade_form_of_speed():
    # Pipe friction reference page: ft/s = 0.4085 gpm / in^2.
    assert friction.flow_speed(5.5 * GPM, 0.375 * 0.0254) / 0.3048 == pytest.approx(0.4085 * 5.5 / 0.375**2, rel=1e-4)


def test_arrays_give_what_single_numbers_give():
    reynolds = np.array([500.0, 5e3, 2.5e4, 1e6])
    one_by_one = [friction.churchill_friction(float(r), 1e-4) for r in reynolds]
    assert friction.churchill_friction(reynolds, 1e-4) == pytest.approx(one_by_one)
    turbulent = np.array([1.3e4, 5e4])
    coiled = [friction.coiled_friction(0.02, float(r), 0.01, 0.5) for r in turbulent]
    assert friction.coiled_friction(np.full(2, 0.02), turbulent, 0.01, 0.5) == pytest.approx(coiled)


def test_a_reel_costs_more_than_straight_hose_and_less_the_wider_it_is():
    narrow = friction.coiled_friction(0.02, 3e4, 0.01, 0.3)
    wide = friction.coiled_friction(0.02, 3e4, 0.01, 3.0)
    assert 0.02 < wide < narrow


def test_beyond_the_published_range_is_said():
    with pytest.warns(OutsidePublishedRange):
        friction.swamee_jain_friction(3e3, 1e-4)
    with pytest.warns(OutsidePublishedRange):
        friction.coiled_friction(0.02, 2e5, 0.01, 0.5)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: friction.flow_speed(bad, 0.01),
        lambda: friction.reynolds_number(0.3, 0.01, bad),
        lambda: friction.churchill_friction(bad, 1e-4),
        lambda: friction.churchill_friction(1e5, bad),
        lambda: friction.swamee_jain_friction(bad, 1e-4),
        lambda: friction.coiled_friction(0.02, bad, 0.01, 0.5),
        lambda: friction.coiled_friction(0.02, 5e4, 0.01, bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
