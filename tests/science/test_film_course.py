"""A film minute by minute, held against limits in closed form and against another solver of the same balance.

Closed forms: without stored heat the film settles at once (``slow_wet_time``); with endless heat it keeps the wall's
temperature and evaporates at one rate. Independent program: scipy's ``solve_ivp`` (LSODA) on the balance written out
here.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sightwash.basis.errors import OutOfRange
from sightwash.science.drying import slow_wet_time
from sightwash.science.film_course import film_life, relaxed_temperature

AIRS = st.floats(5.0, 40.0)
DAMPS = st.floats(0.1, 0.95)
WINDS = st.floats(0.0, 8.0)
SUNS = st.floats(0.0, 700.0)
STORES = st.floats(0.0, 60_000.0)


def vapour(temperature: float) -> float:
    """Density of saturated vapour after FAO-56, equation 11, and the gas law [kg/m3]."""
    return 610.8 * math.exp(17.27 * temperature / (temperature + 237.3)) / (461.5 * (temperature + 273.15))


@pytest.mark.parametrize(
    ("wall", "store", "air", "damp", "wind", "sun"),
    [(27.0, 4e4, 27.0, 0.5, 2.0, 0.0), (55.0, 4e4, 33.0, 0.45, 2.7, 380.0), (8.0, 6e3, 7.0, 0.75, 1.3, 0.0)],
)
def test_against_another_solver(wall: float, store: float, air: float, damp: float, wind: float, sun: float) -> None:
    film, convection = 0.0002, 5.7 + 3.8 * wind
    transfer = convection / (1.19 * 1006.0 * 0.908)

    def course(_time: float, state: np.ndarray) -> list[float]:
        rate = transfer * (vapour(state[0]) - damp * vapour(air))
        gain = sun + (convection + 5.7) * (air - state[0]) - 2.45e6 * rate
        return [gain / (store + 4186.0 * 1000.0 * film), -rate]

    def gone(_time: float, state: np.ndarray) -> float:
        return float(state[1])

    gone.terminal = True  # type: ignore[attr-defined]
    theirs = solve_ivp(course, (0.0, 86_400.0), [wall, 1000.0 * film], "LSODA", events=gone, rtol=1e-9, atol=1e-9)
    ours = film_life(film, wall, store, air, damp, wind, sun)
    assert ours.time == pytest.approx(float(theirs.t_events[0][0]), rel=0.03)


@given(AIRS, DAMPS, WINDS)
def test_without_stored_heat_a_thin_film_is_the_slow_bound(air: float, damp: float, wind: float) -> None:
    """Within the heat of the film's own water, which the slow bound leaves out."""
    film = 1e-5
    slow = slow_wet_time(film, air, damp, wind)
    assert film_life(film, air, 0.0, air, damp, wind).time == pytest.approx(slow, rel=0.02, abs=3.0)


def test_endless_heat_keeps_the_wall_s_temperature() -> None:
    rate = (5.7 + 3.8 * 2.0) / (1.19 * 1006.0 * 0.908) * (vapour(40.0) - 0.5 * vapour(25.0))
    assert film_life(0.0002, 40.0, 1e12, 25.0, 0.5, 2.0).time == pytest.approx(0.2 / rate, rel=1e-4)


@settings(max_examples=60)
@given(AIRS, DAMPS, WINDS, STORES, SUNS, SUNS, st.floats(0.0, 30.0), st.floats(0.0, 30.0))
def test_more_sun_and_a_warmer_wall_never_dry_later(
    air: float, damp: float, wind: float, store: float, sun_a: float, sun_b: float, rise_a: float, rise_b: float
) -> None:
    (shade, cool), (sun, warm) = (min(sun_a, sun_b), min(rise_a, rise_b)), (max(sun_a, sun_b), max(rise_a, rise_b))
    in_shade = film_life(0.0002, air + cool, store, air, damp, wind, shade).time
    in_sun = film_life(0.0002, air + warm, store, air, damp, wind, sun).time
    assert in_sun <= in_shade * (1.0 + 1e-6)


def test_dew_never_dries() -> None:
    assert film_life(0.0002, 5.0, 1e4, 15.0, 1.0, 1.0).time == math.inf


def test_no_film_is_gone_at_once() -> None:
    assert film_life(0.0, 20.0, 1e4, 20.0, 0.5, 1.0).time == 0.0


@given(st.floats(-10.0, 60.0), st.floats(-10.0, 60.0), st.floats(0.0, 1e4), st.floats(0.0, 1e4))
def test_relaxing_in_two_steps_is_relaxing_in_one(start: float, target: float, a: float, b: float) -> None:
    twice = relaxed_temperature(relaxed_temperature(start, target, a, 2000.0), target, b, 2000.0)
    assert twice == pytest.approx(relaxed_temperature(start, target, a + b, 2000.0), abs=1e-9)


def test_refusals() -> None:
    for bad in (
        {"film": 0.01}, {"wall_temperature": 200.0}, {"heat_capacity": -1.0}, {"relative_humidity": 1.2},
        {"absorbed_sun": 2000.0}, {"air_temperature": math.nan},
    ):  # fmt: skip
        usual = {
            "film": 0.0002, "wall_temperature": 20.0, "heat_capacity": 1e4, "air_temperature": 20.0,
            "relative_humidity": 0.5, "wind": 1.0,
        }  # fmt: skip
        with pytest.raises(OutOfRange):
            film_life(**{**usual, **bad})
    with pytest.raises(OutOfRange):
        relaxed_temperature(20.0, 30.0, -1.0, 100.0)
