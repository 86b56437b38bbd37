"""Money: rounding to the cent, rounding up, and sharing.

Checked against: closed forms (parts sum to the whole, each within a cent of its exact part) computed with
``fractions.Fraction`` (independent of decimal arithmetic), and the rule of rounding half up.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sightwash.basis.money import CENT, ZERO, round_up_to, share, to_cents

amounts = st.integers(0, 10**9).map(lambda cents: Decimal(cents) / 100)
weights = st.lists(
    st.one_of(st.floats(0, 1e6, allow_subnormal=False), st.integers(0, 5).map(Decimal)), min_size=1, max_size=12
).filter(any)


@given(amounts, weights)
@example(Decimal("100.00"), [1.0, 1.0, 1.0])
@example(Decimal("0.01"), [1e-300, 1e6])
@example(Decimal("999999999.99"), [1 / 3, 1 / 3, 1 / 3, 1e-9])
def test_shares_sum_to_the_total_to_the_cent(total: Decimal, parts: list[float | Decimal]) -> None:
    shared = share(total, parts)
    assert sum(shared, ZERO) == total
    assert len(shared) == len(parts)
    whole = sum(Fraction(str(weight)) for weight in parts)
    for amount, weight in zip(shared, parts, strict=True):
        assert amount >= 0
        assert amount == amount.quantize(CENT)
        assert abs(Fraction(amount) - Fraction(total) * Fraction(str(weight)) / whole) < Fraction(1, 100)
        assert amount == 0 or weight != 0


@given(amounts, weights)
def test_a_credit_is_shared_as_its_opposite(total: Decimal, parts: list[float | Decimal]) -> None:
    assert share(-total, parts) == tuple(-amount for amount in share(total, parts))


@given(amounts, st.integers(1, 12))
def test_equal_weights_differ_by_a_cent_at_most_and_the_first_gets_it(total: Decimal, count: int) -> None:
    shared = share(total, [1] * count)
    assert max(shared) - min(shared) <= CENT
    assert list(shared) == sorted(shared, reverse=True)


@pytest.mark.parametrize("parts", [[], [0.0], [0, 0], [-1.0, 2.0], [float("nan"), 1.0], [float("inf"), 1.0]])
def test_weights_that_share_nothing_are_refused(parts: list[float]) -> None:
    with pytest.raises(ValueError, match="weights"):
        share(Decimal("10.00"), parts)


@given(amounts, st.sampled_from(["0.01", "0.05", "0.25", "1", "5", "10", "25", "100"]).map(Decimal))
def test_rounding_up_gives_the_smallest_multiple_that_is_not_below(amount: Decimal, step: Decimal) -> None:
    rounded = round_up_to(amount, step)
    assert rounded % step == 0
    assert amount <= rounded < amount + step
    assert round_up_to(rounded, step) == rounded


@pytest.mark.parametrize("step", ["0", "-5", "0.001", "0.0125", "Infinity", "NaN"])
def test_a_step_that_is_no_whole_cents_is_refused(step: str) -> None:
    with pytest.raises(ValueError, match="step"):
        round_up_to(Decimal(10), Decimal(step))


@pytest.mark.parametrize(("amount", "cents"), [
    (1.005, "1.01"), (2.675, "2.68"), ("0.005", "0.01"), ("0.004999", "0.00"), (-1.005, "-1.01"),
    (Decimal("812.345"), "812.35"),
    (7, "7.00"), (0.1 + 0.2, "0.30"),
])  # fmt: skip
def test_halves_go_up_from_the_shortest_text_of_a_float(amount: Decimal | float | int | str, cents: str) -> None:
    assert str(to_cents(amount)) == cents


@given(st.integers(-(10**9), 10**9), st.integers(0, 9999))
def test_rounding_to_cents_agrees_with_fractions(whole: int, parts: int) -> None:
    exact = Fraction(whole * 10_000 + parts, 10_000)
    half_up = (abs(exact) * 100 + Fraction(1, 2)).__floor__()
    expected = Decimal(half_up if exact >= 0 else -half_up) / 100
    assert to_cents(Decimal(whole * 10_000 + parts) / 10_000) == expected
