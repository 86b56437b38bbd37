"""Mixing, batches and injection: chlorine is conserved and every sum can be undone (closed form)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sightwash.basis.errors import OutOfRange
from sightwash.science.batch import batch, dilution_water, leftover_batch
from sightwash.science.dilution import (
    blended_strength,
    chlorine_mass,
    diluted_strength,
    powder_mass,
    stock_fraction,
    water_parts,
)
from sightwash.science.injection import (
    achievable_strength,
    draw_beside_motive_flow,
    draw_of_total_flow,
    mix_volume,
    stock_needed,
    stock_volume,
    strength_in_motive_flow,
    strength_in_total_flow,
)

STOCKS = st.floats(20_000.0, 199_000.0)
SHARES = st.floats(0.001, 1.0)
LITRES = st.floats(0.1, 2000.0)
GALLON = 3.785411784


@given(st.lists(st.tuples(st.floats(0.0, 200_000.0), LITRES), min_size=2, max_size=8))
def test_chlorine_is_conserved_through_a_chain_of_mixes(volumes: list[tuple[float, float]]) -> None:
    strength, litres = volumes[0]
    carried = chlorine_mass(strength, litres)
    for other, more in volumes[1:]:
        strength = min(blended_strength([strength, other], [litres, more]), 200_000.0)
        litres += more
        carried += chlorine_mass(other, more)
    assert chlorine_mass(strength, litres) == pytest.approx(carried, rel=1e-9, abs=1e-12)


@given(STOCKS, SHARES)
def test_dilution_undoes_itself(stock: float, share: float) -> None:
    target = stock * share
    assert diluted_strength(stock, water_parts(stock, target)) == pytest.approx(target, rel=1e-12)
    assert stock_fraction(stock, target) == pytest.approx(1.0 / (1.0 + water_parts(stock, target)), rel=1e-12)


@given(LITRES, STOCKS, st.floats(0.001, 0.9), st.floats(0.0, 0.09))
def test_batch_fills_the_tank_and_carries_the_chlorine(volume, stock, share, additive) -> None:
    parts = batch(volume, stock, stock * share, additive)
    assert sum(parts) == pytest.approx(volume, rel=1e-12)
    assert chlorine_mass(stock, parts.stock) == pytest.approx(volume * stock * share * 1e-6, rel=1e-12)


@given(LITRES, st.floats(0.0, 1.0), st.floats(0.0, 1.5), STOCKS, st.floats(0.001, 0.9))
def test_leftover_batch_has_the_target_strength(volume, part, times, stock, share) -> None:
    target, leftover = stock * share, volume * part
    left_strength = target * times
    assume(left_strength <= 200_000.0 and part * times <= 1.0)
    assume(part + (target - part * left_strength) / stock <= 1.0)
    added = leftover_batch(leftover, left_strength, volume, stock, target)
    litres = [leftover, added.stock, added.water]
    assert sum(litres) == pytest.approx(volume, rel=1e-9)
    assert blended_strength([left_strength, stock, 0.0], litres) == pytest.approx(target, rel=1e-9)


@given(LITRES, STOCKS, SHARES)
def test_water_on_a_mixed_tank(volume: float, strength: float, share: float) -> None:
    water = dilution_water(volume, strength, strength * share)
    assert blended_strength([strength, 0.0], [volume, water]) == pytest.approx(strength * share, rel=1e-9)


@given(STOCKS, st.floats(0.001, 0.99), st.floats(0.01, 2.0))
def test_draw_undoes_itself(stock: float, share: float, flow: float) -> None:
    target = stock * share
    total = draw_of_total_flow(stock, target, flow)
    assert strength_in_total_flow(stock, total, flow) == pytest.approx(target, rel=1e-9)
    assert stock_needed(target, total, flow) == pytest.approx(stock, rel=1e-9)
    assert achievable_strength(stock, total / flow) == pytest.approx(target, rel=1e-9)
    beside = draw_beside_motive_flow(stock, target, flow)
    assert strength_in_motive_flow(stock, beside, flow) == pytest.approx(target, rel=1e-9)
    assert strength_in_total_flow(stock, beside, flow + beside) == pytest.approx(target, rel=1e-9)


def test_injection_by_hand() -> None:
    """12.5 trade percent; 1 gal/min of 8 in all, then beside 8; 0.4 of 4; 8 % of the flow gives 1 %."""
    stock = 125_000.0
    assert strength_in_total_flow(stock, 1.0, 8.0) / 1e4 == pytest.approx(1.5625, abs=1e-9)
    assert strength_in_motive_flow(stock, 1.0, 8.0) / 1e4 == pytest.approx(1.3889, abs=5e-5)
    assert strength_in_total_flow(stock, 0.4, 4.0) / 1e4 == pytest.approx(1.25, abs=1e-9)
    assert draw_of_total_flow(stock, 10_000.0, 1.0) == pytest.approx(0.08, abs=1e-12)


@pytest.mark.parametrize(
    ("stock", "target", "parts"),
    [(12.5, 1.0, 11.5), (12.5, 0.5, 24.0), (12.5, 3.0, 3.167), (12.5, 4.0, 2.125), (10.0, 1.0, 9.0)],
)
def test_usual_dilutions_by_hand(stock: float, target: float, parts: float) -> None:
    assert water_parts(stock * 1e4, target * 1e4) == pytest.approx(parts, abs=5e-4)


@pytest.mark.parametrize(("millimetres", "square_feet"), [(0.1, 407.5), (0.2, 203.7), (0.3, 135.8)])
def test_a_gallon_spread_as_a_film(millimetres: float, square_feet: float) -> None:
    """231 cubic inches over the film's thickness, by hand."""
    film = millimetres / 1000.0
    assert mix_volume(square_feet * 0.3048**2, film, 1.0) / GALLON == pytest.approx(1.0, abs=5e-4)


@given(LITRES, st.floats(0.0, 0.003), st.floats(0.0, 4.0), STOCKS, SHARES)
def test_stock_for_an_area_dilutes_to_its_mix(area, film, passes, stock, share) -> None:
    needed = stock_volume(area, film, passes, stock, stock * share)
    whole = needed * (1.0 + water_parts(stock, stock * share))
    assert whole == pytest.approx(mix_volume(area, film, passes), rel=1e-9, abs=1e-12)


def test_tank_dosing_by_hand() -> None:
    """5 000 gal to 100 mg/L takes 4.00 gal of 125 g/L or 8.33 gal of 60 g/L; a gallon in 10 000 gives 12.5 mg/L."""
    assert batch(5_000.0, 125_000.0, 100.0).stock == pytest.approx(4.0, abs=1e-9)
    assert batch(5_000.0, 60_000.0, 100.0).stock == pytest.approx(8.33, abs=0.005)
    assert diluted_strength(125_000.0, 9_999.0) == pytest.approx(12.5, abs=1e-9)


def refusals() -> Iterator[tuple[str, object]]:
    yield "target", lambda: water_parts(50_000.0, 60_000.0)
    yield "target", lambda: water_parts(50_000.0, 0.0)
    yield "target", lambda: stock_fraction(50_000.0, math.nan)
    yield "stock", lambda: water_parts(250_000.0, 10_000.0)
    yield "parts", lambda: diluted_strength(50_000.0, -1.0)
    yield "volumes", lambda: blended_strength([1.0, 2.0], [1.0])
    yield "volumes", lambda: blended_strength([1.0, 2.0], [1.0, -1.0])
    yield "sum of volumes", lambda: blended_strength([1.0], [0.0])
    yield "volume", lambda: chlorine_mass(1000.0, -1.0)
    yield "additive_share", lambda: batch(100.0, 20_000.0, 19_000.0, 0.10)
    yield "volume", lambda: batch(0.0, 20_000.0, 19_000.0)
    yield "volume", lambda: leftover_batch(90.0, 20_000.0, 100.0, 125_000.0, 10_000.0)
    yield "leftover", lambda: leftover_batch(95.0, 0.0, 100.0, 125_000.0, 10_000.0)
    yield "leftover", lambda: leftover_batch(101.0, 0.0, 100.0, 125_000.0, 10_000.0)
    yield "available", lambda: powder_mass(1.0, 5_000.0, 0.0)
    yield "draw", lambda: strength_in_total_flow(125_000.0, 2.0, 1.0)
    yield "motive_flow", lambda: strength_in_motive_flow(125_000.0, 1.0, 0.0)
    yield "target", lambda: draw_beside_motive_flow(125_000.0, 125_000.0, 1.0)
    yield "draw_share", lambda: achievable_strength(125_000.0, 1.1)
    yield "stock needed", lambda: stock_needed(20_000.0, 0.01, 1.0)
    yield "film", lambda: mix_volume(1.0, 0.01, 1.0)


@pytest.mark.parametrize(("parameter", "call"), list(refusals()))
def test_refused(parameter: str, call) -> None:
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert refusal.value.parameter == parameter
