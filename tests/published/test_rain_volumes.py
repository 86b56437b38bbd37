"""The Math Forum, Ask Dr. Math, 1995: 1 in of rain on 1 acre is 27,154.29 gal [worked example].

Also 17,378,743 gal on a square mile (sciencing.com) and 623 gal on 1000 ft2 (biologyinsights.com) [published].
"""

import pytest

from sightwash.science import volumes

GAL = 3.785411784
INCH = 0.0254
FT2 = 0.3048**2


def test_an_inch_on_an_acre():
    assert volumes.rain_volume(INCH, 43560 * FT2) / GAL == pytest.approx(27154.29, abs=0.01)


def test_an_inch_on_a_square_mile():
    assert volumes.rain_volume(INCH, 640 * 43560 * FT2) / GAL == pytest.approx(17378743, abs=1)


def test_an_inch_on_a_thousand_square_feet():
    assert volumes.rain_volume(INCH, 1000 * FT2) / GAL == pytest.approx(623, abs=0.5)
