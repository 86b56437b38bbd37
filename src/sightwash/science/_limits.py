"""Refusal of numbers outside the range in which a formula holds; values may be arrays."""

from __future__ import annotations

import sys
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from sightwash.basis.errors import OutOfRange

_LARGEST: Final = sys.float_info.max
_SMALLEST: Final = sys.float_info.min

STRONGEST: Final = 200_000.0
"""No sodium hypochlorite solution of trade holds more available chlorine than this [mg/L]."""


def within(parameter: str, value: ArrayLike, low: float, high: float, expected: str) -> None:
    """Raise OutOfRange naming the first number that is not finite or not between ``low`` and ``high``."""
    if isinstance(value, float) and low <= value <= high:
        return
    values = np.asarray(value, dtype=np.float64)
    bad = values[~((values >= low) & (values <= high))]
    if bad.size:
        raise OutOfRange(parameter, float(bad.flat[0]), expected)


def above_zero(parameter: str, value: ArrayLike, unit: str) -> None:
    """Raise OutOfRange unless every number is finite and above zero."""
    within(parameter, value, _SMALLEST, _LARGEST, f"a finite number above 0 {unit}")


def not_negative(parameter: str, value: ArrayLike, unit: str) -> None:
    """Raise OutOfRange unless every number is finite and not below zero."""
    within(parameter, value, 0.0, _LARGEST, f"a finite number, 0 {unit} or more")


def strength_within(parameter: str, value: ArrayLike) -> None:
    """Raise OutOfRange unless every strength is one that a hypochlorite solution can have."""
    within(parameter, value, 0.0, STRONGEST, f"0 to {STRONGEST:,.0f} mg/L of available chlorine")


def strength_above_zero(parameter: str, value: ArrayLike) -> None:
    """Raise OutOfRange unless every strength is above zero and one that a hypochlorite solution can have."""
    within(parameter, value, _SMALLEST, STRONGEST, f"above 0 and up to {STRONGEST:,.0f} mg/L of available chlorine")


def share_within(parameter: str, value: ArrayLike) -> None:
    """Raise OutOfRange unless every number is a share from 0 to 1."""
    within(parameter, value, 0.0, 1.0, "a share from 0 to 1")


def target_within(target: float, stock: float) -> None:
    """Raise OutOfRange unless a stock can be weakened to the target."""
    strength_above_zero("stock", stock)
    strength_above_zero("target", target)
    if target > stock:
        expected = f"above 0 and not above the stock's {stock:,.0f} mg/L"
        raise OutOfRange("target", target, expected, "use stronger stock or ask for a weaker mix")
