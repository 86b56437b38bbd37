"""Eight schools (Rubin 1981), as treated in Bayesian Data Analysis, section 5.5 (published).

The book prints a pooled effect of 7.9 with variance 17.4, which come from Rubin's own figures; the rounded figures in
the book's table give 7.7 and 16.6, as reviewers of the book have reported.
"""

import pytest

from sightwash.science.pooling import between_variance, pooled_mean, shrunk_mean

RUBIN = ([28.39, 7.94, -2.75, 6.82, -0.64, 0.63, 18.01, 12.16], [14.9, 10.2, 16.3, 11.0, 9.4, 11.4, 10.4, 17.6])
ROUNDED = ([28, 8, -3, 7, -1, 1, 18, 12], [15, 10, 16, 11, 9, 11, 10, 18])


@pytest.mark.parametrize(("data", "mean", "variance"), [(RUBIN, 7.9, 17.4), (ROUNDED, 7.7, 16.6)])
def test_pooled_effect(data, mean, variance):
    pooled = pooled_mean(*data)
    assert round(pooled.mean, 1) == mean
    assert round(pooled.sd**2, 1) == variance


def test_reference_digits():
    """Check 39 of the reference (computed there from the rounded figures): 7.6856 +- 4.0719; school A 14.241."""
    pooled = pooled_mean(*ROUNDED)
    assert pooled == pytest.approx((7.6856, 4.0719), abs=1e-3)
    middle = pooled_mean(*ROUNDED, 100.0).mean
    assert shrunk_mean(middle, 10.0, 28.0, 15.0, 1).mean == pytest.approx(14.241, abs=1e-3)


def test_the_schools_differ_by_no_more_than_chance():
    assert between_variance(*ROUNDED) == 0.0
