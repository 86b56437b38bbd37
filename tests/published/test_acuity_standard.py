"""Visual acuity: the 20/20 letter is 5 arc minutes, 9 mm at 20 ft (published in course notes)."""

import pytest

from sightwash.basis.units import FOOT
from sightwash.science.noticeability import acuity_letter_height


def test_letter_at_twenty_feet():
    """Check 11 of the reference: 8.866 mm, printed 9 mm."""
    assert round(acuity_letter_height(20 * FOOT) * 1000) == 9
    assert acuity_letter_height(20 * FOOT) * 1000 == pytest.approx(8.866, abs=0.01)


def test_twice_the_stroke_is_twice_the_letter():
    """Howett, NBS Technical Note 1180: stroke width grows as the Snellen denominator; 20/40 needs twice 20/20."""
    normal, half = acuity_letter_height(6.096), acuity_letter_height(6.096, 2 / 60)
    assert half == pytest.approx(2 * normal, rel=1e-5)
