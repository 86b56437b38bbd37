"""Length and time of ground work: closed forms and what must hold between them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import convert
from sightwash.science.ground_time import overlapped_path, time_before, wide_trim_time
from sightwash.science.passes import back_and_forth, shortest_path


@given(st.floats(0, 1e4), st.floats(0.2, 1.0))
def test_without_overlap_it_is_the_lower_bound(area, width):
    """Closed form: the tube formula."""
    assert overlapped_path(area, width) == pytest.approx(shortest_path(area, width), rel=1e-12, abs=1e-12)


@given(st.integers(20, 60), st.floats(10.0, 100.0), st.floats(0.0, 0.3))
def test_many_whole_passes_come_near_to_it(count, long, overlap):
    """Closed form: n passes over a strip as wide as they cover; the first pass overlaps nothing."""
    width = 0.5
    across = width * (1.0 + (count - 1) * (1.0 - overlap))
    path = back_and_forth(long + 30.0, across, width, overlap)
    reckoned = overlapped_path((long + 30.0) * across, width, overlap)
    assert path.passes == count
    assert path.length == pytest.approx(reckoned, rel=0.03)


def test_a_foot_of_trim_along_a_hundred_feet():
    """Worked by hand: 100 ft2 less the shroud's inch is 91.667 ft2; at 400 ft2/h 13.75 min, at 1,300 4.231 min."""
    wand, cleaner = convert(400, "ft2/h", "m2/s"), convert(1300, "ft2/h", "m2/s")
    extra = wide_trim_time(convert(100, "ft", "m"), convert(1, "ft", "m"), wand, cleaner, convert(1, "in", "m"))
    assert extra / 60.0 == pytest.approx(13.75 - 4.231, abs=0.001)
    assert wide_trim_time(30.0, 0.0254, wand, cleaner) == 0.0


@given(st.floats(0, 1), st.floats(1, 1000), st.floats(0, 1e5))
def test_parts_of_a_path_share_its_time(share, length, time):
    part = share * length
    assert time_before(part, length, time) + time_before(length - part, length, time) == pytest.approx(time, abs=1e-6)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: overlapped_path(-1.0, 0.5), "area"),
        (lambda: overlapped_path(1.0, 0.0), "head_width"),
        (lambda: overlapped_path(1.0, 0.5, 1.0), "overlap"),
        (lambda: wide_trim_time(-1.0, 0.1, 0.01, 0.02), "length"),
        (lambda: wide_trim_time(1.0, 0.01, 0.01, 0.02), "width"),
        (lambda: wide_trim_time(1.0, 0.1, 0.0, 0.02), "wand_rate"),
        (lambda: wide_trim_time(1.0, 0.1, 0.01, math.inf), "cleaner_rate"),
        (lambda: wide_trim_time(1.0, 0.1, 0.01, 0.02, -0.1), "shroud_gap"),
        (lambda: time_before(2.0, 1.0, 1.0), "part"),
        (lambda: time_before(0.0, 0.0, 1.0), "length"),
        (lambda: time_before(0.0, 1.0, -1.0), "time"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
