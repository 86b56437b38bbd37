"""Twenty-four determinations of copper in wholemeal flour (published).

Venables and Ripley, "Modern Applied Statistics with S", 4th edition 2002, section 5.5, figures as the tests of
statsmodels hold them: mean 4.2804, median 3.385, MAD 0.52632; Huber's joint location and scale with k = 1.5:
3.20549 and 0.67365.
"""

import pytest

from sightwash.science.robust import huber_mean, median_deviation

COPPER = [
    2.90, 3.10, 3.40, 3.40, 3.70, 3.70, 2.80, 2.50, 2.40, 2.40, 2.70, 2.20,
    5.28, 3.37, 3.03, 3.03, 28.95, 3.77, 3.40, 2.20, 3.50, 3.60, 3.70, 3.70,
]  # fmt: skip


def test_data():
    assert sum(COPPER) / len(COPPER) == pytest.approx(4.2804, abs=5e-5)


def test_median_deviation():
    assert median_deviation(COPPER) == pytest.approx(0.52632, abs=5e-6)


def test_location_at_the_joint_scale():
    assert huber_mean(COPPER, 0.67365, 1.5) == pytest.approx(3.20549, abs=1e-5)
