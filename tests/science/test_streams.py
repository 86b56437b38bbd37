"""Streams: energy and momentum laws, thrust rule, and the reference's table of jets."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.basis.units import convert
from sightwash.science.streams import rating_stream, stream_of_bore, stream_of_pressure, stream_ratio


@given(st.floats(0.01, 5.0), st.floats(0.001, 0.05))
def test_both_ways_to_a_stream_agree(flow, bore):
    """Closed form: force is pressure times twice the area of the stream."""
    by_bore = stream_of_bore(flow, bore)
    by_pressure = stream_of_pressure(flow, by_bore.pressure)
    assert by_pressure == pytest.approx(by_bore, rel=1e-9)
    assert by_bore.force == pytest.approx(2 * by_bore.pressure * math.pi * bore**2 / 4, rel=1e-9)


@pytest.mark.parametrize(
    ("psi", "gpm", "speed", "force", "pounds"),
    [
        (3000, 4.0, 203.6, 51.28, 11.53),
        (3500, 5.5, 219.9, 76.16, 17.12),
        (60, 4.0, 28.8, 7.25, 1.63),
    ],
)
def test_washer_jets(psi, gpm, speed, force, pounds):
    """Check 34 and table 5.2 of the reference (computed there); thrust rule 0.0526 gpm sqrt(psi), common practice."""
    jet = stream_of_pressure(convert(gpm, "gal/min", "L/s"), convert(psi, "psi", "Pa"))
    assert jet.speed == pytest.approx(speed, rel=1e-3)
    assert jet.force == pytest.approx(force, rel=1e-3)
    assert convert(jet.force, "N", "lbf") == pytest.approx(pounds, abs=0.006)
    assert convert(jet.force, "N", "lbf") == pytest.approx(0.0526 * gpm * math.sqrt(psi), rel=1e-3)


@pytest.mark.parametrize(
    ("psi", "rating", "force", "pressure"),
    [(3000, "IPX6", 2.27, 225), (3000, "IPX5", 37, 928), (3000, "IPX9", 1.5, 2.3), (60, "IPX5", 5.2, 18.6)],
)
def test_a_jet_against_the_tests(psi, rating, force, pressure):
    """Reference 5.2 (computed there): a 3000 psi, 4 gpm jet and a 60 psi one as multiples of test streams."""
    ratio = stream_ratio(convert(4.0, "gal/min", "L/s"), convert(psi, "psi", "Pa"), rating)
    assert ratio.force == pytest.approx(force, rel=0.03)
    assert ratio.pressure == pytest.approx(pressure, rel=0.01)


@pytest.mark.parametrize(
    ("call", "parameter"),
    [
        (lambda: stream_of_bore(0.0, 0.01), "flow"),
        (lambda: stream_of_bore(1.0, 0.0), "bore"),
        (lambda: stream_of_bore(1.0, 0.01, 0.0), "density"),
        (lambda: stream_of_pressure(math.nan, 1.0), "flow"),
        (lambda: stream_of_pressure(1.0, 0.0), "pressure"),
        (lambda: rating_stream("IPX4"), "rating"),
        (lambda: stream_ratio(1.0, 1.0, "IP65"), "rating"),
    ],
)
def test_refusals_name_the_argument(call, parameter):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
