"""Simulated sums of tasks that share a cause, held against exact sums.

Sources: moments of correlated lognormals and sums of fully dependent numbers (closed form); the distribution of the
sum of two tasks with a shared cause by quadrature over the cause and one task (closed form, integrated by SciPy);
the covariance matrix of the logarithms handed to NumPy's own multivariate normal (independent program).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from sightwash.basis.errors import OutOfRange
from sightwash.science.simulation import (
    correlated_sum_spread,
    dependent_sum_quantile,
    levels,
    simulated_sums,
    task_draws,
)

MUS, SIGMAS, WORKERS = [0.3, 1.1, -0.4, 2.0], [0.25, 0.4, 0.6, 0.15], [1.0, 2.0, 1.0, 2.0]
TASKS = st.lists(st.tuples(st.floats(-2, 3), st.floats(0, 1), st.floats(0.1, 4)), min_size=1, max_size=6)
Z80 = 0.8416212335729143


def test_independent_tasks_have_the_sum_of_their_means_and_variances() -> None:
    means = [math.exp(m + s * s / 2) for m, s in zip(MUS, SIGMAS, strict=True)]
    variances = [mean**2 * (math.exp(s * s) - 1) for mean, s in zip(means, SIGMAS, strict=True)]
    exact_mean = sum(w * mean for w, mean in zip(WORKERS, means, strict=True))
    exact_sd = math.sqrt(sum(w * w * v for w, v in zip(WORKERS, variances, strict=True)))
    assert correlated_sum_spread(MUS, SIGMAS, WORKERS, 0.0) == pytest.approx((exact_mean, exact_sd), rel=1e-12)
    (total,) = simulated_sums(MUS, SIGMAS, [WORKERS], 0.0, 200_000)
    assert total.mean() == pytest.approx(exact_mean, abs=4 * exact_sd / math.sqrt(200_000))
    assert total.std() == pytest.approx(exact_sd, rel=0.01)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.8, 0.95])
def test_fully_dependent_tasks_have_quantiles_that_add(share: float) -> None:
    z = float(stats.norm.ppf(share))
    exact = sum(w * math.exp(m + s * z) for m, s, w in zip(MUS, SIGMAS, WORKERS, strict=True))
    assert dependent_sum_quantile(MUS, SIGMAS, WORKERS, share) == pytest.approx(exact, rel=1e-12)
    (total,) = simulated_sums(MUS, SIGMAS, [WORKERS], 1.0, 200_000)
    assert np.quantile(total, share) == pytest.approx(exact, rel=0.006)


def share_below(x: float, mus: list[float], sigmas: list[float], c: float) -> float:
    """Return P(T1 + T2 < x) by quadrature: given the cause and the first task, the second is one normal."""

    def inner(e: float, z: float) -> float:
        first = math.exp(mus[0] + sigmas[0] * (math.sqrt(c) * z + math.sqrt(1 - c) * e))
        if first >= x:
            return 0.0
        rest = (math.log(x - first) - mus[1]) / sigmas[1]
        second = stats.norm.cdf((rest - math.sqrt(c) * z) / math.sqrt(1 - c))
        return float(second * stats.norm.pdf(e) * stats.norm.pdf(z))

    nodes, weights = np.polynomial.legendre.leggauss(60)
    grid, by = 8 * nodes, 8 * weights
    return float(
        sum(wz * we * inner(e, z) for z, wz in zip(grid, by, strict=True) for e, we in zip(grid, by, strict=True))
    )


@pytest.mark.parametrize("share", [0.1, 0.5, 0.8, 0.95])
def test_two_tasks_with_a_shared_cause_follow_the_exact_distribution(share: float) -> None:
    mus, sigmas = [1.0, 0.5], [0.4, 0.7]
    (total,) = simulated_sums(mus, sigmas, [[1.0, 1.0]], 0.5, 400_000)
    x = float(np.quantile(total, share))
    assert share_below(x, mus, sigmas, 0.5) == pytest.approx(share, abs=4 * math.sqrt(share * (1 - share) / 400_000))


def test_quadrature_integrates_to_one() -> None:
    assert share_below(1e6, [1.0, 0.5], [0.4, 0.7], 0.5) == pytest.approx(1.0, abs=1e-6)
    assert integrate.quad(stats.norm.pdf, -8, 8)[0] == pytest.approx(1.0, abs=1e-12)


def test_moments_agree_with_numpys_own_multivariate_normal() -> None:
    covariance = 0.5 * np.outer(SIGMAS, SIGMAS) + 0.5 * np.diag(np.square(SIGMAS))
    drawn = np.exp(np.random.default_rng(5).multivariate_normal(MUS, covariance, 400_000)) @ np.array(WORKERS)
    exact = correlated_sum_spread(MUS, SIGMAS, WORKERS, 0.5)
    assert drawn.mean() == pytest.approx(exact.mean, rel=0.003)
    assert drawn.std() == pytest.approx(exact.sd, rel=0.01)
    (ours,) = simulated_sums(MUS, SIGMAS, [WORKERS], 0.5, 400_000)
    assert np.quantile(ours, [0.1, 0.5, 0.8, 0.95]) == pytest.approx(
        np.quantile(drawn, [0.1, 0.5, 0.8, 0.95]), rel=0.01
    )


def test_logarithms_have_the_correlation_that_was_asked_for() -> None:
    logs = np.log(task_draws(MUS, SIGMAS, 0.3, 200_000))
    found = np.corrcoef(logs)
    assert found[np.triu_indices(4, 1)] == pytest.approx(np.full(6, 0.3), abs=0.01)


@settings(max_examples=30)
@given(TASKS, st.floats(0, 1), st.integers(0, 1000))
def test_same_seed_same_numbers_and_sums_are_those_of_the_rows(
    tasks: list[tuple[float, float, float]], c: float, seed: int
) -> None:
    mus, sigmas, weights = ([t[k] for t in tasks] for k in range(3))
    rows = task_draws(mus, sigmas, c, 50, seed)
    assert np.array_equal(rows, task_draws(mus, sigmas, c, 50, seed))
    (total,) = simulated_sums(mus, sigmas, [weights], c, 50, seed)
    assert total == pytest.approx(np.array(weights) @ rows)
    longer = task_draws([*mus, 0.0], [*sigmas, 0.5], c, 50, seed)
    assert np.array_equal(longer[:-1], rows)


@settings(max_examples=50)
@given(TASKS, st.floats(0, 1))
def test_dependence_widens_the_sum_and_leaves_its_mean(tasks: list[tuple[float, float, float]], c: float) -> None:
    mus, sigmas, weights = ([t[k] for t in tasks] for k in range(3))
    apart, some, all_late = (correlated_sum_spread(mus, sigmas, weights, each) for each in (0.0, c, 1.0))
    assert apart.mean == pytest.approx(some.mean)
    assert apart.sd <= some.sd * (1 + 1e-9) + 1e-9
    assert some.sd <= all_late.sd * (1 + 1e-9) + 1e-9


def test_levels_of_a_normal_sample() -> None:
    """Quantiles of the standard normal: 0.8416 at 80 % (closed form)."""
    found = levels(stats.norm.ppf((np.arange(100_000) + 0.5) / 100_000))
    assert found.p80 == pytest.approx(Z80, abs=1e-4)
    assert found.p10 == pytest.approx(-1.2815515655446004, abs=1e-4)
    assert found.p50 == pytest.approx(0.0, abs=1e-4)
    assert found.p95 == pytest.approx(1.6448536269514722, abs=1e-4)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: task_draws([1.0], [1.0, 2.0]), "sigmas"),
        (lambda: task_draws([1.0], [-1.0]), "sigmas"),
        (lambda: task_draws([math.nan], [1.0]), "mus"),
        (lambda: task_draws([1.0], [1.0], 1.1), "correlation"),
        (lambda: task_draws([1.0], [1.0], 0.5, 0), "draws"),
        (lambda: task_draws([1.0], [1.0], 0.5, 1, -1), "seed"),
        (lambda: simulated_sums([1.0], [1.0], [[1.0, 2.0]]), "weights"),
        (lambda: correlated_sum_spread([1.0], [1.0], []), "weights"),
        (lambda: dependent_sum_quantile([1.0], [1.0], [-1.0], 0.5), "weights"),
        (lambda: dependent_sum_quantile([1.0], [1.0], [1.0], 1.0), "share"),
        (lambda: levels(np.array([])), "values"),
    ],
)
def test_refusals_name_the_argument(call, parameter) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
