"""Three-point (PERT) estimates: printed worked examples (worked example).

Schematex documentation, three-point estimation: Build 5/8/14 is 8.5. A posted solution of a project-network exercise:
means and standard deviations of fourteen activities, printed to two decimals.
"""

import pytest

from sightwash.science.spread import sum_spread, three_point_shapes, three_point_spread

ACTIVITIES = [
    ((5, 5, 7), 5.33, 0.33), ((1, 2, 5), 2.33, 0.67), ((5, 5, 5), 5.00, 0.00), ((4, 8, 13), 8.17, 1.50),
    ((1, 10, 17), 9.67, 2.67), ((1, 5, 7), 4.67, 1.00), ((2, 6, 9), 5.83, 1.17), ((4, 4, 6), 4.33, 0.33),
    ((2, 7, 10), 6.67, 1.33), ((2, 4, 7), 4.17, 0.83), ((6, 10, 13), 9.83, 1.17), ((2, 6, 6), 5.33, 0.67),
    ((2, 2, 3), 2.17, 0.17), ((7, 7, 12), 7.83, 0.83),
]  # fmt: skip


def test_build():
    assert three_point_spread(5, 8, 14).mean == pytest.approx(8.5, abs=1e-12)


@pytest.mark.parametrize(("points", "mean", "sd"), ACTIVITIES)
def test_activities(points, mean, sd):
    assert three_point_spread(*points) == pytest.approx((mean, sd), abs=0.0051)


def test_reference_example():
    """Check 38 of the reference: (4, 6, 14) is 7.0, variance 2.7778; the shapes add up to 6 by definition."""
    spread = three_point_spread(4, 6, 14)
    assert spread.mean == pytest.approx(7.0, abs=1e-12)
    assert spread.sd**2 == pytest.approx(2.7778, abs=1e-4)
    assert sum(three_point_shapes(4, 6, 14)) == pytest.approx(6.0)


def test_variances_of_independent_activities_add():
    """The exercise's way for a path: the variance is the sum of the squares of its printed deviations (A, D, F, H)."""
    path = [ACTIVITIES[i] for i in (0, 3, 5, 7)]
    parts = [three_point_spread(*points) for points, _, _ in path]
    total = sum_spread([part.mean for part in parts], [part.sd for part in parts])
    assert total.mean == pytest.approx(sum(mean for _, mean, _ in path), abs=0.02)
    assert total.sd**2 == pytest.approx(sum(sd**2 for _, _, sd in path), abs=0.02)
