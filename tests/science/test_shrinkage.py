"""Groups drawn toward their mean (closed forms; printed cases stand in tests/published)."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.pooling import between_variance, pooled_mean
from sightwash.science.shrinkage import shrunk_groups

GROUPS = st.lists(st.tuples(st.floats(-50, 50), st.floats(0.5, 10)), min_size=1, max_size=9)


@given(GROUPS)
def test_each_lies_between_itself_and_the_common_mean(groups: list[tuple[float, float]]) -> None:
    values, errors = [g[0] for g in groups], [g[1] for g in groups]
    variance = between_variance(values, errors) if len(groups) > 1 else 0.0
    middle = pooled_mean(values, errors, variance).mean
    found = shrunk_groups(values, errors)
    for value, shrunk, kept in zip(values, found.values, found.kept, strict=True):
        assert 0.0 <= kept <= 1.0
        assert min(value, middle) - 1e-9 <= shrunk <= max(value, middle) + 1e-9


@given(GROUPS)
def test_the_unsure_are_drawn_most(groups: list[tuple[float, float]]) -> None:
    found = shrunk_groups([g[0] for g in groups], [g[1] for g in groups])
    order = sorted(zip([g[1] for g in groups], found.kept, strict=True))
    assert all(a[1] >= b[1] - 1e-12 for a, b in itertools.pairwise(order))


def test_groups_that_differ_by_chance_alone_become_one() -> None:
    assert shrunk_groups([1.0, 1.1, 0.9], [1.0, 1.0, 1.0]).values == pytest.approx((1.0, 1.0, 1.0))


def test_lists_must_match() -> None:
    with pytest.raises(OutOfRange) as refusal:
        shrunk_groups([1.0], [1.0, 2.0])
    assert refusal.value.parameter == "errors"
