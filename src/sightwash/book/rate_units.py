"""Rates in their units, and the logarithm of work an hour that learning works with."""

from __future__ import annotations

import math
from typing import Final

from sightwash.basis.units import convert
from sightwash.book.visit_records import VisitRecord
from sightwash.science.three_points import ends_of_lognormal

SHOWN: Final = {"ft2/h": ("m2", "ft2"), "m2/h": ("m2", "m2"), "ft/h": ("m", "ft"), "m/h": ("m", "m")}


def measured_in(unit: str) -> tuple[str, ...]:
    """Return what quantities of a rate's unit are measured in."""
    return (SHOWN[unit][0],) if unit in SHOWN else ("1",)


def logarithm(record: VisitRecord | None, unit: str, usual: float = 0.0) -> float:
    """Return the logarithm of work an hour in a rate's unit, of a record or else of a rate; minutes turned round."""
    if record is None:
        return math.log(60.0 / usual if unit == "min" else usual)
    inner, shown = SHOWN.get(unit, ("1", "1"))
    quantity = record.quantity if inner == shown else convert(record.quantity, inner, shown)
    return math.log(quantity / record.hours)


def rate_from(mean: float, deviation: float, unit: str) -> tuple[float, float, float]:
    """Return low, usual and high of a rate in its unit, from the logarithm of work an hour."""
    low, usual, high = ends_of_lognormal(mean, deviation)
    return (60.0 / high, 60.0 / usual, 60.0 / low) if unit == "min" else (low, usual, high)
