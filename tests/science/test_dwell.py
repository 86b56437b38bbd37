"""Rinsing before it dries: every spot of a stretch is looked at one by one (closed form, exact fractions)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.dwell import rinse_window, stretches

TIMES = st.integers(0, 3600)


def on_the_wall(treat: int, rinse: int, start: float, x: Fraction) -> Fraction:
    """Return how long the mix acts on the spot at share x of a stretch."""
    return Fraction(start) + rinse * x - treat * x


@given(TIMES, TIMES, st.integers(60, 900), st.integers(300, 4000))
def test_every_spot_acts_for_the_dwell_and_is_rinsed_wet(treat: int, rinse: int, dwell: int, wet: int) -> None:
    try:
        window = rinse_window(treat, rinse, dwell, wet)
    except OutOfRange:
        for start in range(treat, wet + 1, 10):
            spots = [on_the_wall(treat, rinse, start, Fraction(k, 8)) for k in range(9)]
            assert not all(dwell <= spot <= wet for spot in spots)
        return
    for start in (window.least, window.most):
        assert start >= treat
        for k in range(9):
            assert dwell - 1e-6 <= on_the_wall(treat, rinse, start, Fraction(k, 8)) <= wet + 1e-6
    too_soon = (
        on_the_wall(treat, rinse, window.least - 1.0, Fraction(0)),
        on_the_wall(treat, rinse, window.least - 1.0, Fraction(1)),
    )
    assert window.least - 1.0 < treat or min(too_soon) < dwell


@given(st.integers(1, 20_000), st.integers(1, 20_000), st.integers(60, 900), st.integers(301, 4000))
def test_so_many_stretches_do_and_each_has_a_window(treat: int, rinse: int, dwell: int, wet: int) -> None:
    assume(wet > dwell)
    count = stretches(treat, rinse, dwell, wet)
    window = rinse_window(treat / count, rinse / count, dwell, wet) if max(treat, rinse) / count <= wet else None
    assert treat / count <= wet / 2 + 1e-6
    if window is not None and count > 1:
        fewer = count - 1
        over = treat / fewer > wet / 2 or rinse / fewer > wet or abs(treat - rinse) / fewer > wet - dwell
        assert over


def test_a_film_that_dries_at_once_is_refused() -> None:
    with pytest.raises(OutOfRange) as refusal:
        stretches(600.0, 600.0, 600.0, 600.0)
    assert refusal.value.parameter == "wet"
    with pytest.raises(OutOfRange):
        rinse_window(3000.0, 600.0, 600.0, 1000.0)
