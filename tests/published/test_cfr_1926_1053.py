"""29 CFR 1926.1053: ladders are tested at 75.5 degrees; the foot is out a quarter of the working length (published)."""

import pytest

from sightwash.science.clearances import ladder_angle


def test_a_quarter_of_the_working_length_is_the_test_angle():
    assert round(ladder_angle(0.25), 1) == 75.5
    assert ladder_angle(0.25) == pytest.approx(75.522, abs=1e-3)
