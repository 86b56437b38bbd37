"""Numbers of invoices: the firm's pattern, no gap, none twice (the rule itself is the reference)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import InputError
from sightwash.book.numbering import check_pattern, next_number, number_text

PATTERNS = ("{year}-{number:04}", "INV {number}", "{year}/{month}-{number:03}", "R-{number:05}")
days = st.lists(st.dates(date(2026, 1, 1), date(2028, 12, 31)), min_size=1, max_size=60).map(sorted)


@pytest.mark.parametrize(
    ("pattern", "count", "text"),
    [
        ("{year}-{number:04}", 7, "2026-0007"),
        ("INV {number}", 418, "INV 418"),
        ("{year}/{month}-{number:02}", 3, "2026/07-03"),
    ],
)
def test_a_pattern_is_filled(pattern: str, count: int, text: str) -> None:
    assert number_text(pattern, count, date(2026, 7, 12)) == text


@given(st.sampled_from(PATTERNS), st.integers(1, 900), days)
def test_numbers_have_no_gap_and_none_is_used_twice(pattern: str, first: int, when: list[date]) -> None:
    given_out = [next_number(pattern, first, when[:at], day) for at, day in enumerate(when)]
    assert len(set(given_out)) == len(given_out)
    assert given_out[0] == number_text(pattern, first, when[0])
    for before, after, day_before, day in zip(given_out, given_out[1:], when, when[1:], strict=False):
        same = number_text(pattern, 1, day_before) == number_text(pattern, 1, day)
        count = int("".join(filter(str.isdigit, before.split("-")[-1])))
        assert after == number_text(pattern, count + 1 if same else 1, day)


def test_a_new_year_begins_at_one() -> None:
    used = [date(2026, 12, 30), date(2026, 12, 31)]
    assert next_number("{year}-{number:04}", 418, used, date(2027, 1, 2)) == "2027-0001"
    assert next_number("N{number}", 418, used, used[-1] + timedelta(2)) == "N420"


@pytest.mark.parametrize(
    "pattern",
    ["2026", "{number}{number}", "{year}{number}", "{month}-{number}", "{day}-{number}", "{number!r}", "#{number}",
     "{number:x}", "2{number}", "x" * 60 + "{number}", "{year}-{year}-{number}"],
)  # fmt: skip
def test_a_pattern_that_could_repeat_or_holds_something_else_is_refused(pattern: str) -> None:
    with pytest.raises(InputError) as caught:
        check_pattern(pattern, "invoice_numbers")
    assert caught.value.problems[0].code == "bad-pattern"
    assert caught.value.problems[0].key == "invoice_numbers"
