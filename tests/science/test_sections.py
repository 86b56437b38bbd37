"""Sections walked through: every part of the stretch is followed from its treating to its rinsing (closed form)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.sections import longest_section, section_time

TIMES = st.floats(60.0, 7200.0)
SPEEDS = st.floats(0.003, 0.1)


def wet_for(length: float, start: float, treat: float, rinse: float) -> tuple[float, float]:
    """Shortest and longest time between treating and rinsing along a stretch whose rinse begins at ``start``."""
    places = np.linspace(0.0, length, 201)
    times = start + places / rinse - places / treat
    return float(times.min()), float(times.max())


@given(TIMES, TIMES, SPEEDS, SPEEDS)
def test_every_part_dwells_and_none_dries(wet: float, dwell: float, treat: float, rinse: float) -> None:
    length = longest_section(wet, dwell, treat, rinse)
    assume(0.0 < length < 1e6)
    start = section_time(length, dwell, treat, rinse) - length / rinse
    shortest, longest = wet_for(length, start, treat, rinse)
    assert start >= length / treat - 1e-6, "the rinse begins when the treating is over"
    assert shortest >= dwell - 1e-6 * max(dwell, 1.0)
    assert longest <= wet * (1.0 + 1e-9) + 1e-6


@given(TIMES, TIMES, SPEEDS, SPEEDS)
def test_a_longer_one_would_dry(wet: float, dwell: float, treat: float, rinse: float) -> None:
    length = 1.01 * longest_section(wet, dwell, treat, rinse)
    assume(1e-6 < length < 1e6)  # on less than a micrometre 1 % is below the rounding of the times
    start = section_time(length, dwell, treat, rinse) - length / rinse
    assert wet_for(length, start, treat, rinse)[1] > wet


@given(TIMES, TIMES, TIMES, SPEEDS, SPEEDS)
def test_a_film_that_stays_longer_never_shortens_the_section(
    a: float, b: float, dwell: float, treat: float, rinse: float
) -> None:
    assert longest_section(min(a, b), dwell, treat, rinse) <= longest_section(max(a, b), dwell, treat, rinse) + 1e-9


def test_a_film_that_dries_before_its_dwell_allows_nothing() -> None:
    assert longest_section(599.0, 600.0, 0.02, 0.03) == 0.0


def test_refusals() -> None:
    for arguments in ((-1.0, 600.0, 0.02, 0.03), (600.0, -1.0, 0.02, 0.03), (600.0, 60.0, 0.0, 0.03)):
        with pytest.raises(OutOfRange):
            longest_section(*arguments)
    with pytest.raises(OutOfRange):
        section_time(-1.0, 600.0, 0.02, 0.03)
