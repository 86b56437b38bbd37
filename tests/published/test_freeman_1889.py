"""J. R. Freeman, Experiments relating to hydraulics of fire streams, Trans. ASCE 21, 1889 [from memory].

No stored page showed the table, so no check rests on it alone: the jet is checked by Theobald and Trettel, the flow
by the orifice law, the horizontal rule by Fire Engineering of 1960. These rows only show that memory agrees.
"""

import numpy as np
import pytest

from sightwash.science import jet, orifice, stream_rules

PSI = 6894.757293
GPM = 3.785411784 / 60
FT, INCH = 0.3048, 0.0254
BORES = np.array([0.75, 0.875, 1.0, 1.125, 1.25, 1.375])
PRESSURES = [20, 30, 40, 50, 60, 70, 80, 90, 100]
VERTICAL = [
    [33, 34, 35, 36, 37, 38], [48, 49, 51, 52, 53, 55], [60, 62, 64, 65, 67, 69], [67, 71, 73, 75, 77, 79],
    [72, 77, 79, 83, 85, 87], [76, 81, 85, 88, 91, 92], [79, 85, 89, 92, 95, 97], [81, 88, 92, 96, 99, 100],
    [83, 90, 96, 99, 101, 103],
]  # fmt: skip
HORIZONTAL = [
    [29, 33, 37, 38, 40, 42], [37, 42, 47, 50, 54, 56], [44, 49, 55, 59, 63, 66], [50, 55, 61, 66, 70, 73],
    [54, 61, 67, 72, 76, 79], [58, 66, 72, 77, 81, 84], [62, 70, 76, 81, 85, 88], [65, 74, 80, 85, 90, 92],
    [68, 76, 83, 89, 93, 96],
]  # fmt: skip
DISCHARGE = [
    [73, 100, 132, 168, 209, 256], [90, 123, 161, 206, 256, 313], [104, 142, 186, 238, 296, 362],
    [116, 159, 208, 266, 331, 404], [127, 174, 228, 291, 363, 442], [137, 188, 246, 314, 392, 478],
    [147, 201, 263, 336, 419, 511], [156, 213, 279, 356, 444, 542], [164, 224, 295, 376, 468, 572],
]  # fmt: skip


def errors(table, model, rows=slice(None)):
    cells = [
        model(bore, psi) / value - 1
        for psi, row in list(zip(PRESSURES, table, strict=True))[rows]
        for bore, value in zip(BORES, row, strict=True)
    ]
    return np.array(cells)


@pytest.mark.filterwarnings("ignore::sightwash.basis.errors.OutsidePublishedRange")
def test_effective_heights():
    def model(bore, psi):
        ratios = (jet.EFFECTIVE_BREAKUP, jet.EFFECTIVE_CLUMP)
        return jet.straight_up_height(bore * INCH, psi * PSI, *ratios) / FT

    found = errors(VERTICAL, model)
    assert np.sqrt(np.mean(found**2)) < 0.06
    assert np.abs(found).max() < 0.14


def test_discharge_implies_a_coefficient_near_one():
    found = errors(DISCHARGE, lambda bore, psi: orifice.orifice_flow(bore * INCH, psi * PSI, 0.993) / GPM)
    assert np.abs(found).max() < 0.025


def test_effective_ranges_by_the_rule_of_1960():
    found = errors(
        HORIZONTAL,
        lambda bore, psi: stream_rules.effective_stream_range(bore * INCH, psi * PSI) / FT,
        slice(1, None),
    )
    assert np.sqrt(np.mean(found**2)) < 0.07
    assert np.abs(found).max() < 0.19
