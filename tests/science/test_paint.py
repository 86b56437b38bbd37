"""Paint: conservation of volume and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.paint import (
    bead_mass,
    coverage_of_film,
    dry_film,
    line_length_of_volume,
    paint_volume,
    wet_film_of_coverage,
)


@given(st.floats(1e-5, 1e-2), st.floats(0.02, 1.0), st.floats(0.1, 1000.0), st.integers(1, 3))
def test_paint_is_its_film_times_its_area(film, width, length, coats):
    """Closed form: volume in m3 is length times width times thickness, a coat."""
    coverage = coverage_of_film(film)
    assert wet_film_of_coverage(coverage) == pytest.approx(film)
    assert paint_volume(length, width, coverage, coats) / 1000 == pytest.approx(coats * length * width * film)
    assert paint_volume(line_length_of_volume(width, coverage), width, coverage) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: coverage_of_film(0.0), "wet_film"),
        (lambda: wet_film_of_coverage(-1.0), "coverage"),
        (lambda: dry_film(1e-4, 1.1), "solids"),
        (lambda: dry_film(math.nan, 0.5), "wet_film"),
        (lambda: line_length_of_volume(0.0), "line_width"),
        (lambda: line_length_of_volume(0.1, 0.0), "coverage"),
        (lambda: paint_volume(-1.0, 0.1), "line_length"),
        (lambda: paint_volume(1.0, 0.0), "line_width"),
        (lambda: paint_volume(1.0, 0.1, 0.0), "coverage"),
        (lambda: paint_volume(1.0, 0.1, coats=0), "coats"),
        (lambda: bead_mass(-1.0), "volume"),
        (lambda: bead_mass(1.0, -1.0), "bead_rate"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
