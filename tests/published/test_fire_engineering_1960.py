"""Fire Engineering, August 1960, Questions and answers, citing Fire Service Hydraulics p. 171 [published].

S = p/2 + 26 ft for 3/4 in above 30 psi, and 5 ft more for each further 1/8 in; worked case: 1 in at 50 psi is 61 ft.
"""

import math

import pytest

from sightwash.basis.errors import OutOfRange, OutsidePublishedRange
from sightwash.science import stream_rules

PSI = 6894.757293
FT, INCH = 0.3048, 0.0254


def test_the_worked_case():
    assert stream_rules.effective_stream_range(INCH, 50 * PSI) / FT == pytest.approx(61.0, abs=1e-6)


@pytest.mark.parametrize(("inches", "psi", "feet"), [(0.75, 30, 41), (0.75, 50, 51), (1.125, 40, 61), (1.25, 80, 86)])
def test_the_rule_by_hand(inches, psi, feet):
    assert stream_rules.effective_stream_range(inches * INCH, psi * PSI) / FT == pytest.approx(feet, abs=1e-6)


@pytest.mark.parametrize(("inches", "psi"), [(0.125, 50), (1.0, 20), (1.0, 250)])
def test_beyond_its_nozzles_and_pressures_it_says_so(inches, psi):
    with pytest.warns(OutsidePublishedRange):
        stream_rules.effective_stream_range(inches * INCH, psi * PSI)


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -1.0])
def test_bad_numbers_are_refused(bad):
    with pytest.raises(OutOfRange):
        stream_rules.effective_stream_range(bad, 50 * PSI)
    with pytest.raises(OutOfRange):
        stream_rules.effective_stream_range(INCH, bad)
