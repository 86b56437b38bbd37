"""Three statements on stored hypochlorite by others.

Sources: a supplier's handout, Sodium hypochlorite stability (excerpt): the shelf life of 12.5 % falls about three-
fold from 25 to 35 degC. G. Gordon and others, Journal AWWA 85(9) (1993), abstract: halving the strength does more
than cooling from 24 to 10 degC. AWWA B300 (2011), storage appendix: diluting 2 M liquor 2, 4 and 10 times cuts the
formation of perchlorate 7, 36 and 270 times. Mark: published.
"""

from __future__ import annotations

import warnings

import pytest

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.science.hypochlorite import decay_constant, ionic_strength, strength_from_molarity


def loss_rate(strength: float, temperature: float) -> float:
    """Return k a^2 up to a constant factor."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", OutsidePublishedRange)
        return decay_constant(temperature, ionic_strength(strength)) * strength**2


def test_ten_degrees_warmer_is_three_to_four_times_faster() -> None:
    assert decay_constant(35.0, 3.6) / decay_constant(25.0, 3.6) == pytest.approx(3.918, abs=0.01)
    assert 3.0 <= decay_constant(35.0, 3.6) / decay_constant(25.0, 3.6) < 4.0


def test_halving_strong_liquor_does_more_than_cooling() -> None:
    """The statement is of 2 M liquor with its own salt; with equal salt it holds from about 145 g/L up."""
    cooling = loss_rate(150_000.0, 24.0) / loss_rate(150_000.0, 10.0)
    halving = loss_rate(150_000.0, 24.0) / loss_rate(75_000.0, 24.0)
    assert halving > cooling


@pytest.mark.parametrize(("times", "cut"), [(2, 7.0), (4, 36.0), (10, 270.0)])
def test_salty_setting_explains_the_appendix_s_dilutions(times: int, cut: float) -> None:
    """Perchlorate forms as a^2 10^(0.0788 mu) (exponent from memory); the salty factor then gives the printed cuts."""
    mu = ionic_strength(strength_from_molarity(2.0), salt_factor=3.1, caustic=0.0)
    assert times**2 * 10 ** (0.0788 * mu * (1.0 - 1.0 / times)) == pytest.approx(cut, rel=0.04)
