"""Thirteen trials of one vaccine (Colditz and others, JAMA 271, 1994), log risk ratios (independent program).

Expected values are those on which two statistics programs agree in the tests of metafor (Viechtbauer): equal effects
-0.4303 with Q 152.2330; DerSimonian-Laird -0.7141, 95 % interval -1.0644 to -0.3638.
"""

import math

import pytest

from sightwash.science.pooling import between_variance, pooled_mean

# cases and non-cases among the vaccinated, then among the others
TRIALS = [
    (4, 119, 11, 128), (6, 300, 29, 274), (3, 228, 11, 209), (62, 13536, 248, 12619), (33, 5036, 47, 5761),
    (180, 1361, 372, 1079), (8, 2537, 10, 619), (505, 87886, 499, 87892), (29, 7470, 45, 7232), (17, 1699, 65, 1600),
    (186, 50448, 141, 27197), (5, 2493, 3, 2338), (27, 16886, 29, 17825),
]  # fmt: skip
VALUES = [math.log(a / (a + b) / (c / (c + d))) for a, b, c, d in TRIALS]
ERRORS = [math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)) for a, b, c, d in TRIALS]


def test_equal_effects():
    pooled = pooled_mean(VALUES, ERRORS)
    assert pooled.mean == pytest.approx(-0.4303, abs=5e-5)
    assert pooled.mean - 1.959964 * pooled.sd == pytest.approx(-0.5097, abs=5e-5)
    assert pooled.mean + 1.959964 * pooled.sd == pytest.approx(-0.3509, abs=5e-5)
    q = sum(((value - pooled.mean) / error) ** 2 for value, error in zip(VALUES, ERRORS, strict=True))
    assert q == pytest.approx(152.2330, abs=5e-5)


def test_random_effects():
    pooled = pooled_mean(VALUES, ERRORS, between_variance(VALUES, ERRORS))
    assert pooled.mean == pytest.approx(-0.7141, abs=5e-5)
    assert pooled.mean - 1.959964 * pooled.sd == pytest.approx(-1.0644, abs=5e-5)
    assert pooled.mean + 1.959964 * pooled.sd == pytest.approx(-0.3638, abs=5e-5)
