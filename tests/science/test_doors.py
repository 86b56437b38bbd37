"""Where a jet's water runs: conservation laws and numeric integration (scipy), symmetries, allowed bearings."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from sightwash.basis.errors import OutOfRange
from sightwash.science.doors import (
    allowed_bearings,
    door_half_share,
    opening_azimuths,
    opening_share,
    plane_jet_share,
    round_jet_share,
)

JETS = st.floats(5.0, 90.0)
TURNS = st.floats(-360.0, 360.0)


def density(jet_angle, azimuth):
    """Flow a radian of azimuth, as in the literature; integrated here by another program's quadrature."""
    p = math.radians(jet_angle)
    return math.sin(p) ** 3 / (2 * math.pi * (1 - math.cos(p) * math.cos(azimuth)) ** 2)


@settings(max_examples=60, deadline=None)
@given(st.floats(15.0, 90.0), st.floats(-180.0, 180.0), st.floats(0.0, 360.0))
def test_share_is_the_integral_of_the_density(jet_angle, start, span):
    """Independent program: scipy.integrate.quad."""
    low, high = math.radians(start), math.radians(start + span)
    breaks = [turn for turn in (0.0, 2 * math.pi) if low < turn < high]
    expected = quad(lambda t: density(jet_angle, t), low, high, points=breaks or None, limit=200)[0]
    assert round_jet_share(jet_angle, start, start + span) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("jet_angle", [10.0, 30.0, 45.0, 75.0, 90.0])
def test_mass_and_momentum_are_kept(jet_angle):
    """Closed form: all the water leaves, and its mean direction carries the jet's momentum along the floor, cos p."""
    assert round_jet_share(jet_angle, -17.0, 343.0) == pytest.approx(1.0, abs=1e-12)
    step = 0.05
    mean = sum(
        round_jet_share(jet_angle, i * step, (i + 1) * step) * math.cos(math.radians((i + 0.5) * step))
        for i in range(7200)
    )
    assert mean == pytest.approx(math.cos(math.radians(jet_angle)), abs=1e-6)


@given(JETS, TURNS)
def test_door_share_symmetries(jet_angle, bearing):
    assert door_half_share(jet_angle, bearing) + door_half_share(jet_angle, 180.0 - bearing) == pytest.approx(1.0)
    assert door_half_share(jet_angle, bearing) == pytest.approx(door_half_share(jet_angle, -bearing), abs=1e-12)
    assert door_half_share(jet_angle, bearing + 360.0) == pytest.approx(door_half_share(jet_angle, bearing), abs=1e-9)


@given(JETS)
def test_along_the_door_and_straight_down_send_half(angle):
    assert door_half_share(angle, 90.0) == pytest.approx(0.5, abs=1e-12)
    assert door_half_share(90.0, angle) == pytest.approx(0.5, abs=1e-12)


def test_backward_half_closed_form():
    """Check 36 of the reference: (p - sin p cos p) / pi, 0.090845 at 45 degrees; plane jet 0.146447."""
    for jet_angle in (5.0, 20.0, 45.0, 70.0, 90.0):
        p = math.radians(jet_angle)
        expected = (p - math.sin(p) * math.cos(p)) / math.pi
        assert round_jet_share(jet_angle, 90.0, 270.0) == pytest.approx(expected, abs=1e-12)
        assert door_half_share(jet_angle, 180.0) == pytest.approx(expected, abs=1e-12)
    assert round_jet_share(45.0, 90.0, 270.0) == pytest.approx(0.090845, abs=1e-6)
    assert 1.0 - plane_jet_share(45.0) == pytest.approx(0.146447, abs=1e-6)


@pytest.mark.parametrize(
    ("offset", "jet_angle", "shares"),
    [
        (0.0, 30.0, (0.6347, 0.1211, 0.0158, 0.0057, 0.0042)),
        (0.0, 45.0, (0.4281, 0.1747, 0.0431, 0.0185, 0.0141)),
        (0.0, 60.0, (0.2847, 0.1798, 0.0766, 0.0413, 0.0334)),
        (-3.0, 45.0, (0.1610, 0.0373, 0.0142, 0.0096, 0.0110)),
        (-6.0, 45.0, (0.0379, 0.0106, 0.0053, 0.0046, 0.0068)),
    ],
)
def test_share_into_a_three_foot_opening(offset, jet_angle, shares):
    """Check 37 of the reference and its table (computed there by numeric integration): spot 4 ft out."""
    found = [opening_share(jet_angle, bearing, 3.0, 4.0, offset) for bearing in (0.0, 45.0, 90.0, 135.0, 180.0)]
    assert found == pytest.approx(shares, abs=6e-5)


@given(JETS, TURNS, st.floats(0.3, 5.0), st.floats(0.3, 10.0), st.floats(-10.0, 10.0))
def test_opening_is_part_of_the_wall_and_mirrors(jet_angle, bearing, width, stand_off, offset):
    share = opening_share(jet_angle, bearing, width, stand_off, offset)
    assert 0.0 <= share <= door_half_share(jet_angle, bearing) + 1e-12
    assert share == pytest.approx(opening_share(jet_angle, -bearing, width, stand_off, -offset), abs=1e-12)


@given(JETS, st.floats(0.3, 5.0), st.floats(0.3, 10.0), st.floats(-10.0, 10.0), st.floats(0.02, 0.9))
def test_allowed_bearings_are_exactly_those_under_the_limit(jet_angle, width, stand_off, offset, fraction):
    sides = opening_azimuths(width, stand_off, offset)
    middle = (sides.start + sides.end) / 2
    shares = {turn: opening_share(jet_angle, middle + turn, width, stand_off, offset) for turn in range(360)}
    limit = fraction * max(shares.values())
    found = allowed_bearings(jet_angle, width, stand_off, offset, fraction)
    if found is None:
        assert min(shares.values()) > limit * (1 - 1e-9)
        return
    least = found.start - middle
    assert found.end - middle == pytest.approx(360.0 - least)
    for turn, share in shares.items():
        if least + 1e-6 < turn < 360.0 - least - 1e-6:
            assert share <= limit * (1 + 1e-6)
        elif turn < least - 1e-6 or turn > 360.0 - least + 1e-6:
            assert share >= limit * (1 - 1e-6)


def test_straight_down_allows_all_or_nothing():
    assert allowed_bearings(90.0, 1.0, 1.0, fraction=0.5) is None
    whole = allowed_bearings(45.0, 1.0, 1.0, fraction=1.0)
    assert whole is not None
    assert whole.end - whole.start == pytest.approx(360.0, abs=1e-4)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: plane_jet_share(0.0), "jet_angle"),
        (lambda: round_jet_share(91.0, 0.0, 1.0), "jet_angle"),
        (lambda: round_jet_share(45.0, 1.0, 0.0), "end"),
        (lambda: round_jet_share(45.0, 0.0, 361.0), "end"),
        (lambda: round_jet_share(45.0, math.nan, 1.0), "start"),
        (lambda: opening_azimuths(0.0, 1.0), "width"),
        (lambda: opening_azimuths(1.0, 0.0), "stand_off"),
        (lambda: opening_azimuths(1.0, 1.0, math.inf), "offset"),
        (lambda: opening_share(45.0, math.nan, 1.0, 1.0), "bearing"),
        (lambda: allowed_bearings(45.0, 1.0, 1.0, fraction=0.0), "fraction"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
