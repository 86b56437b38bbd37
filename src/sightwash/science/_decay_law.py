"""The rate law of hypochlorite's loss, shared by the modules that use it; constants as printed in its source."""

from __future__ import annotations

import warnings
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.science._limits import within
from sightwash.science.strength import CHLORINE_MOLAR_MASS

_GAS_CONSTANT: Final = 8.314462618
PUBLISHED_TEMPERATURES: Final = (15.0, 55.0)
PUBLISHED_IONIC_STRENGTHS: Final = (1.0, 6.0)
PUBLISHED_STRENGTHS: Final = (0.7 * CHLORINE_MOLAR_MASS * 1000.0, 3.0 * CHLORINE_MOLAR_MASS * 1000.0)


def moles(strength: float) -> float:
    """Return moles of hypochlorite per litre for a strength in mg/L."""
    return strength / (CHLORINE_MOLAR_MASS * 1000.0)


def rate_constants(temperatures: NDArray[np.float64], mu: float) -> NDArray[np.float64]:
    """Return the rate constant at each temperature, refusing temperatures at which stock is no liquid."""
    within("temperature", temperatures, -30.0, 100.0, "-30 to 100 degC")
    kelvin = temperatures + 273.15
    arrhenius = np.exp(-1.018e5 / (_GAS_CONSTANT * kelvin) - 56.5 / _GAS_CONSTANT)
    return np.asarray(10.0 ** (0.149 * mu) * 2.083e10 * kelvin * arrhenius)


def warn_outside(name: str, value: float, bounds: tuple[float, float], unit: str, level: int) -> None:
    """Warn, ``level`` calls up, when a value lies outside the range in which the law was measured."""
    low, high = bounds
    if not low <= value <= high:
        message = f"{name} {value:g} {unit} is outside {low:g} to {high:g} {unit}, where the law was measured"
        warnings.warn(message, OutsidePublishedRange, stacklevel=level)
