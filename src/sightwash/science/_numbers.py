"""Functions that take one number or an array of them: their types, roots, logarithms and refusals."""

from __future__ import annotations

import math
import sys
from typing import Final, TypeAlias, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sightwash.science import _limits

Array: TypeAlias = NDArray[np.float64]
Real = TypeVar("Real", float, NDArray[np.float64])

_LARGEST: Final = sys.float_info.max

WATER_DENSITY: Final = 998.0
"""Fresh water at 20 degC [kg/m3]."""
WATER_VISCOSITY: Final = 1.004e-6
"""Kinematic viscosity of fresh water at 20 degC [m2/s]."""
AIR_DENSITY: Final = 1.204
"""Dry air at 20 degC and 1013 hPa [kg/m3]."""
AIR_VISCOSITY: Final = 1.82e-5
"""Dynamic viscosity of air at 20 degC [kg/m/s]."""


def root(value: Real) -> Real:
    """Return the square root of a number or of each number."""
    return np.sqrt(value) if isinstance(value, np.ndarray) else math.sqrt(value)


def natural_log(value: Real) -> Real:
    """Return the natural logarithm of a number or of each number."""
    return np.log(value) if isinstance(value, np.ndarray) else math.log(value)


def exponential(value: Real) -> Real:
    """Return e raised to a number or to each number."""
    return np.exp(value) if isinstance(value, np.ndarray) else math.exp(value)


def power(value: Real, exponent: float) -> Real:
    """Return a number or each number, none below zero, raised to an exponent."""
    return np.power(value, exponent) if isinstance(value, np.ndarray) else math.pow(value, exponent)


def within(parameter: str, value: ArrayLike, low: float, high: float, unit: str) -> None:
    """Raise OutOfRange with the first number that is not finite or not from ``low`` to ``high``."""
    _limits.within(parameter, value, low, high, f"{low:g} to {high:g} {unit}".rstrip())


def above_zero(parameter: str, value: ArrayLike, unit: str) -> None:
    """Raise OutOfRange with the first number that is not finite or not above zero."""
    _limits.within(parameter, value, math.ulp(0.0), _LARGEST, f"a finite number above 0 {unit}".rstrip())


def not_negative(parameter: str, value: ArrayLike, unit: str) -> None:
    """Raise OutOfRange with the first number that is not finite or is below zero."""
    _limits.within(parameter, value, 0.0, _LARGEST, f"a finite number not below 0 {unit}".rstrip())


def finite(parameter: str, value: ArrayLike, unit: str) -> None:
    """Raise OutOfRange with the first number that is not finite."""
    _limits.within(parameter, value, -_LARGEST, _LARGEST, f"a finite number of {unit}")
