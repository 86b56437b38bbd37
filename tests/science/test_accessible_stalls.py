"""Counts of accessible stalls: they never fall, and refusals."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.accessible_stalls import accessible_stalls, module_width, outpatient_stalls, van_stalls


@given(st.integers(1, 5000))
def test_more_stalls_never_need_fewer_accessible_ones(total):
    """The table itself steps from 9 to 11 at 501."""
    assert (
        accessible_stalls(total)
        <= accessible_stalls(total + 1)
        <= accessible_stalls(total) + (2 if total == 500 else 1)
    )


@given(st.integers(501, 1000))
def test_two_percent_is_rounded_up_exactly(total):
    """Closed form in exact fractions: 2 percent of 550 is 11, not 12."""
    share = Fraction(total, 50)
    assert accessible_stalls(total) - 1 < share <= accessible_stalls(total)


@given(st.integers(1, 2000), st.sampled_from([10, 20]))
def test_outpatient_share_is_rounded_up_exactly(total, percent):
    assert outpatient_stalls(total, percent) - 1 < Fraction(total * percent, 100) <= outpatient_stalls(total, percent)


def test_no_accessible_stall_needs_no_van_stall():
    assert van_stalls(0) == 0


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: accessible_stalls(0), "total"),
        (lambda: outpatient_stalls(0), "total"),
        (lambda: outpatient_stalls(10, 0), "percent"),
        (lambda: van_stalls(-1), "accessible"),
        (lambda: module_width(-1, 0, 0), "car_stalls"),
        (lambda: module_width(0, -1, 0), "van_wide_stalls"),
        (lambda: module_width(2, 1, 1), "aisles"),
        (lambda: module_width(1, 0, 1, car_width=0.0), "car_width"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
