"""International Residential Code R317.1, R404.1.6 and R703, and the UK damp-proof course [published, as quoted]."""

import pytest

from sightwash.science import splash


@pytest.mark.parametrize(
    ("rule", "inches"),
    [
        ("siding-ground", 6),
        ("siding-slab", 2),
        ("framing-foundation", 8),
        ("foundation-veneer", 4),
        ("foundation-other", 6),
        ("stucco-earth", 4),
        ("stucco-paved", 2),
    ],
)
def test_us_clearances(rule, inches):
    assert splash.published_clearance(rule) / 0.0254 == pytest.approx(inches)


def test_uk_damp_proof_course():
    assert splash.published_clearance("damp-course") == 0.150
