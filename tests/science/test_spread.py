"""Three-point estimates against scipy.stats.beta; sums against a covariance matrix (numpy)."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from sightwash.basis.errors import OutOfRange
from sightwash.science.spread import sum_spread, three_point_shapes, three_point_spread

POINTS = st.tuples(st.floats(0, 50), st.floats(0, 50), st.floats(0, 50)).map(sorted)


@given(POINTS)
def test_mean_is_that_of_the_beta_distribution(points):
    """Independent program: scipy.stats.beta."""
    low, usual, high = points
    if high - low < 1e-3:
        return
    shapes = three_point_shapes(low, usual, high)
    program = beta(*shapes, loc=low, scale=high - low)
    assert three_point_spread(low, usual, high).mean == pytest.approx(program.mean(), rel=1e-9)
    mode = low + (high - low) * (shapes.alpha - 1) / (shapes.alpha + shapes.beta - 2)
    assert mode == pytest.approx(usual, abs=1e-9)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 50)), max_size=8), st.floats(0, 1))
def test_sum_is_the_quadratic_form_of_the_covariance(parts, correlation):
    """Independent program: numpy's matrix product over the full covariance matrix."""
    means, sds = [part[0] for part in parts], [part[1] for part in parts]
    matrix = np.full((len(sds), len(sds)), correlation)
    np.fill_diagonal(matrix, 1.0)
    found = sum_spread(means, sds, correlation)
    assert found.mean == pytest.approx(sum(means))
    assert found.sd == pytest.approx(math.sqrt(max(0.0, np.array(sds) @ matrix @ np.array(sds))), abs=1e-6)
    assert sum_spread(means, sds).sd <= found.sd + 1e-9 <= sum_spread(means, sds, 1.0).sd + 2e-9


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: three_point_spread(2.0, 1.0, 3.0), "usual"),
        (lambda: three_point_spread(1.0, 4.0, 3.0), "high"),
        (lambda: three_point_spread(math.nan, 1.0, 3.0), "low"),
        (lambda: three_point_shapes(1.0, 1.0, 1.0), "high"),
        (lambda: sum_spread([1.0], []), "sds"),
        (lambda: sum_spread([1.0], [-1.0]), "sds"),
        (lambda: sum_spread([math.inf], [1.0]), "means"),
        (lambda: sum_spread([1.0], [1.0], 1.1), "correlation"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
