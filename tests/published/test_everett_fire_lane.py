"""Fire lane words of one city: 18 in letters with a 3 in stroke.

Source: City of Everett WA, fire lane marking standard (published; local to that city, no default of ours).
"""

import pytest

from sightwash.basis.units import convert
from sightwash.science.marks import letter_area, letter_strokes


def test_stroke_of_an_eighteen_inch_letter():
    height = convert(18, "in", "m")
    stroke = letter_area("I", height) / letter_strokes("I", height)
    assert convert(stroke, "m", "in") == pytest.approx(3.0, abs=1e-9)
