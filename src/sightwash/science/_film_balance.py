"""The temperature at which a wet film's heat balance closes, and the vapour over it; scalars only."""

from __future__ import annotations

from typing import Final

from sightwash.science.vapour import saturation_pressure

_VAPOUR_GAS_CONSTANT: Final = 461.5  # J/kg/K
_COLDEST: Final = -40.0
_HOTTEST: Final = 80.0
_MOST_STEPS: Final = 60
_CLOSE: Final = 1e-5  # K; each step about squares the error, so after one so small it is below 1e-10 K


def vapour_density(temperature: float) -> float:
    """Return the density of saturated vapour over water [kg/m3]."""
    return saturation_pressure(temperature) / (_VAPOUR_GAS_CONSTANT * (temperature + 273.15))


def balanced_temperature(
    start: float, store: float, gain: float, loss: float, latent: float, damp: float, last: float = 0.0
) -> float:
    """Return the root T of ``store (T - last) + loss T - gain + latent (rho(T) - damp)`` between -40 and 80 degC.

    The left side rises without end and bends upward, so Newton's steps come down to the root from above.
    """
    value = start
    for _ in range(_MOST_STEPS):
        density = vapour_density(value)
        rise = density * (17.27 * 237.3 / (value + 237.3) ** 2 - 1.0 / (value + 273.15))
        excess = store * (value - last) + loss * value - gain + latent * (density - damp)
        move = excess / (store + loss + latent * rise)
        value = min(max(value - move, _COLDEST), _HOTTEST)
        if -_CLOSE < move < _CLOSE:
            break
    return value
