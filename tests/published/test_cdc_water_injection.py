"""US CDC, High-pressure water injection injury management, archived copy of 2009 [published].

Serious injection injury should be considered for any device above 100 psi.
"""

import pytest

from sightwash.basis.sources import source
from sightwash.science import impact


def test_pressure_of_the_warning():
    assert impact.INJECTION_PRESSURE.value / 6894.757293 == pytest.approx(100.0)
    assert source(impact.INJECTION_PRESSURE.source).year == "2009"
