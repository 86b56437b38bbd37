"""The jet turned round: inverses of the wall height, which has its own checks."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science import jet, jet_fit, jet_reach

pytestmark = pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")


@settings(deadline=None, max_examples=20)
@given(st.floats(2e-3, 1e-2), st.floats(3e5, 2e6), st.floats(1.0, 5.0), st.floats(0.1, 3.0))
def test_a_mark_gives_back_its_clump_ratio(bore, pressure, standoff, ratio):
    mark = jet_reach.wall_height(bore, pressure, standoff, 1.4, clump_ratio=ratio)
    # A jet that hardly breaks up before its top says nothing about its clumps.
    assume(0.0 < mark < 0.9 * (1.4 + pressure / (998 * 9.80665)))
    assert jet_fit.field_clump_ratio(bore, pressure, standoff, mark, 1.4) == pytest.approx(ratio, rel=1e-3)


@settings(deadline=None, max_examples=20)
@given(st.floats(2e-3, 1e-2), st.floats(2e5, 2e6), st.floats(1.0, 5.0))
def test_a_height_gives_back_its_pressure(bore, pressure, standoff):
    mark = jet_reach.wall_height(bore, pressure, standoff, 1.4)
    assert jet_fit.pressure_for_mark(bore, mark, standoff, 1.4) == pytest.approx(pressure, rel=1e-3)


def test_near_a_wall_it_needs_little_more_than_the_closed_form_straight_up():
    straight = jet.straight_up_pressure(0.01, 8.0)
    assert straight < jet_fit.pressure_for_mark(0.01, 9.4, 0.5, 1.4) < 1.05 * straight


def test_a_field_mark_moves_the_band():
    ratio = jet_fit.field_clump_ratio(2.8e-3, 1.7e6, 3.0, 11.0, 1.4)
    band = jet_reach.reach_band(2.8e-3, 1.7e6, 3.0, 1.4, clump_ratio=ratio)
    assert band.high == pytest.approx(11.0, abs=0.01)


@pytest.mark.parametrize(("standoff", "mark"), [(0.3, 1.0), (3.0, 400.0)])
def test_marks_that_no_jet_leaves_are_refused(standoff, mark):
    with pytest.raises(OutOfRange, match="drag") as refusal:
        jet_fit.field_clump_ratio(2.8e-3, 1.7e6, standoff, mark, 1.4)
    assert refusal.value.parameter == "highest_mark"


def test_a_height_out_of_reach_is_refused_with_what_is_reached():
    with pytest.raises(OutOfRange, match="at most") as refusal:
        jet_fit.pressure_for_mark(2.8e-3, 60.0, 3.0, 1.4)
    assert refusal.value.parameter == "height"


def test_a_height_below_the_nozzle_needs_the_least_pressure_looked_at():
    assert jet_fit.pressure_for_mark(0.01, 0.01, 0.1, 1.4) == pytest.approx(1e3)


@pytest.mark.filterwarnings("default")
def test_what_was_not_measured_is_said():
    with pytest.warns(OutsidePublishedRange):
        jet_fit.pressure_for_mark(2.8e-3, 9.0, 3.0, 1.4)


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -1.0])
def test_bad_numbers_are_refused(bad):
    calls = (
        lambda: jet_fit.field_clump_ratio(bad, 1.7e6, 3.0, 9.0, 1.4),
        lambda: jet_fit.field_clump_ratio(2.8e-3, 1.7e6, bad, 9.0, 1.4),
        lambda: jet_fit.field_clump_ratio(2.8e-3, 1.7e6, 3.0, bad, 1.4),
        lambda: jet_fit.pressure_for_mark(2.8e-3, bad, 3.0, 1.4),
        lambda: jet_fit.pressure_for_mark(2.8e-3, 9.0, 3.0, 1.4, highest_pressure=bad),
    )
    for call in calls:
        with pytest.raises(OutOfRange):
            call()
