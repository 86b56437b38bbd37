"""City of Portsmouth VA, off-street parking table, 9 ft stalls 18 ft long (published).

The printed values are cut, not rounded: 19.09 ft is printed 19.0, 20.09 ft 20.0.
"""

import math

import pytest

from sightwash.science.stalls import stall_curb_length, stall_depth


@pytest.mark.parametrize(("angle", "curb", "depth"), [(45.0, 12.7, 19.0), (60.0, 10.4, 20.0), (90.0, 9.0, 18.0)])
def test_curb_and_depth(angle, curb, depth):
    assert round(stall_curb_length(9.0, angle), 1) == curb
    assert math.floor(10 * stall_depth(9.0, 18.0, angle) + 1e-9) / 10 == depth
