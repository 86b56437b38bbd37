"""The nozzles and pressures over which the reach of jets was measured."""

from __future__ import annotations

import warnings
from typing import Final

from sightwash.basis.errors import OutsidePublishedRange
from sightwash.science._numbers import above_zero

_BORES: Final = (4.85e-3, 25.4e-3)
_PRESSURES: Final = (1.03e5, 6.2e5)


def unmeasured(bore: float, pressure: float) -> bool:
    """Return whether a jet lies outside what was measured; a thousandth is let pass for conversion of units."""
    above_zero("bore", bore, "m")
    above_zero("pressure", pressure, "Pa")
    pairs = ((bore, _BORES), (pressure, _PRESSURES))
    return not all(low * 0.999 <= value <= high * 1.001 for value, (low, high) in pairs)


def warn_if_unmeasured(bore: float, pressure: float) -> None:
    """Warn the caller's caller of a jet outside what was measured."""
    if unmeasured(bore, pressure):
        message = "jet beyond the bores of 4.85 to 25.4 mm and pressures of 1.03 to 6.2 bar that were measured"
        warnings.warn(message, OutsidePublishedRange, stacklevel=3)
