"""Evaporation by Uno's formula.

Sources: P. J. Uno, ACI Materials Journal 95-M34 (1998), short form, read on pages that repeat it (published);
numbers worked out from it by another hand. The same formula in US units, E = (Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 1e-6
lb/ft2/h with degF and mph, read on pages that quote ACI 305 (published): an independent statement, rounded
differently.
"""

from __future__ import annotations

import itertools

import pytest

from sightwash.science.drying import drying_time
from sightwash.science.evaporation import uno_evaporation, uno_pressure_evaporation

HOUR = 3600.0
POUNDS = 0.204816
MPH = 0.44704


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@pytest.mark.parametrize(
    ("surface", "air", "humidity", "kmh", "rate"),
    [(25.0, 25.0, 0.50, 10.0, 0.4244), (30.0, 30.0, 0.40, 15.0, 0.9099), (30.0, 25.0, 0.50, 20.0, 1.188)],
)
def test_worked_sums(surface: float, air: float, humidity: float, kmh: float, rate: float) -> None:
    assert uno_evaporation(surface, air, humidity, kmh / 3.6) * HOUR == pytest.approx(rate, abs=0.001)


def test_warm_slab_in_the_wind() -> None:
    rate = uno_evaporation(celsius(87), celsius(80), 0.50, 12.0 * MPH) * HOUR
    assert rate == pytest.approx(1.138, abs=0.002)
    assert rate * POUNDS == pytest.approx(0.233, abs=0.0005)


def test_a_fifth_of_a_millimetre() -> None:
    assert drying_time(0.0002, uno_evaporation(25.0, 25.0, 0.50, 10.0 / 3.6)) / 60.0 == pytest.approx(28.3, abs=0.1)


@pytest.mark.parametrize(
    ("surface", "air", "humidity", "mph"),
    list(itertools.product((60.0, 75.0, 90.0), (60.0, 75.0, 90.0), (0.3, 0.5, 0.7), (5.0, 15.0))),
)
def test_form_in_us_units(surface: float, air: float, humidity: float, mph: float) -> None:
    us = (surface**2.5 - humidity * air**2.5) * (1.0 + 0.4 * mph) * 1e-6
    ours = uno_evaporation(celsius(surface), celsius(air), humidity, mph * MPH) * HOUR * POUNDS
    assert ours == pytest.approx(us, rel=0.06, abs=0.004)


@pytest.mark.parametrize("temperature", [15.0, 20.0, 25.0, 30.0, 35.0])
def test_pressure_form_is_near_the_short_form(temperature: float) -> None:
    """The pressure form's constants are from memory: this shows only that both stand for one formula."""
    pressure = uno_pressure_evaporation(temperature, temperature, 0.5, 3.0)
    assert pressure == pytest.approx(uno_evaporation(temperature, temperature, 0.5, 3.0), rel=0.06)
