"""Networks of tasks: Clark's formula for the larger of two normal numbers and the longest path (closed forms)."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sightwash.basis.errors import OutOfRange
from sightwash.science.networks import network_finishes


def test_mean_of_the_later_of_two_tasks() -> None:
    """Clark 1961: E max = m1 Phi(a) + m2 Phi(-a) + t phi(a), t2 = s1^2 + s2^2, a = (m1 - m2) / t."""
    (m1, s1), (m2, s2) = (10.0, 2.0), (9.0, 3.0)
    draws = np.random.default_rng(3).normal([[m1], [m2], [0.0]], [[s1], [s2], [0.0]], (3, 400_000))
    ends = network_finishes(draws, [[], [], [(0, 0.0), (1, 0.0)]], [0.0] * 3)[2]
    t = math.hypot(s1, s2)
    a = (m1 - m2) / t
    exact = m1 * stats.norm.cdf(a) + m2 * stats.norm.cdf(-a) + t * stats.norm.pdf(a)
    assert ends.mean() == pytest.approx(exact, abs=4 * t / math.sqrt(400_000))


def test_mean_of_the_later_of_two_exponential_tasks_is_one_and_a_half() -> None:
    """Closed form: of two independent exponential times with mean 1 the later ends at 1.5 on average."""
    draws = np.random.default_rng(4).exponential(1.0, (2, 400_000))
    finishes = network_finishes(np.vstack([draws, np.zeros(400_000)]), [[], [], [(0, 0.0), (1, 0.0)]], [0.0] * 3)
    assert finishes[2].mean() == pytest.approx(1.5, abs=0.01)


@settings(max_examples=50)
@given(st.lists(st.floats(0, 10), min_size=1, max_size=8), st.data())
def test_ends_are_those_of_the_longest_path(times: list[float], data: st.DataObject) -> None:
    before = [
        [(j, 0.5) for j in range(k) if data.draw(st.booleans(), label=f"{j} before {k}")] for k in range(len(times))
    ]
    found = network_finishes(np.array(times)[:, None], before, [0.0] * len(times))[:, 0]

    def longest(k: int) -> float:
        return times[k] + max((longest(j) + wait for j, wait in before[k]), default=0.0)

    assert found == pytest.approx([longest(k) for k in range(len(times))])


def test_a_task_waits_for_its_release() -> None:
    assert network_finishes(np.array([[1.0]]), [[]], [5.0]).tolist() == [[6.0]]


@pytest.mark.parametrize(
    ("before", "releases", "parameter"),
    [([[(0, 0.0)]], [0.0], "before"), ([], [0.0], "before"), ([[]], [math.nan], "releases")],
)
def test_refusals(before, releases, parameter) -> None:
    with pytest.raises(OutOfRange) as refusal:
        network_finishes(np.array([[1.0]]), before, releases)
    assert refusal.value.parameter == parameter
