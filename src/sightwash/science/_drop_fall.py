"""Fall of a sphere in air under the drag law of Clift and Gauvin, in a steady wind."""

from __future__ import annotations

import math
from typing import Final, TypeAlias

from sightwash.basis.errors import NumericalFailure
from sightwash.basis.units import STANDARD_GRAVITY
from sightwash.science._numbers import Real, power
from sightwash.science._roots import bracketed_root

Landing: TypeAlias = tuple[float, float, float]

_STEP: Final = 0.05
_STEPS: Final = 20_000


def drag_by_reynolds(reynolds: Real) -> Real:
    """Return Cd Re, which is finite at rest."""
    swing = power(reynolds, 0.94)
    return 24.0 * (1.0 + 0.152 * power(reynolds, 0.677)) + 0.417 * reynolds * swing / (swing + 5070.0)


class FallingDrop:
    """A drop's state is (distance, depth fallen, speed downwind, speed of fall)."""

    def __init__(self, diameter: float, wind: float, density: float, air_density: float, air_viscosity: float) -> None:
        self.wind = wind
        self.weight = STANDARD_GRAVITY * (1.0 - air_density / density)
        self.reynolds = air_density * diameter / air_viscosity
        self.stokes = 0.75 * air_viscosity / (density * diameter**2)

    def drag(self, speed: float) -> float:
        """Return drag over mass and speed [1/s]."""
        return self.stokes * drag_by_reynolds(self.reynolds * speed)

    def change(self, u: float, v: float) -> tuple[float, float]:
        """Return the accelerations downwind and down."""
        drag = self.drag(math.hypot(u - self.wind, v))
        return -drag * (u - self.wind), self.weight - drag * v

    def step(self, state: tuple[float, float, float, float], h: float) -> tuple[float, float, float, float]:
        """Return the state a time ``h`` later by the fourth-order rule of Runge and Kutta."""
        x, y, u, v = state
        a1, b1 = self.change(u, v)
        u2, v2 = u + h / 2 * a1, v + h / 2 * b1
        a2, b2 = self.change(u2, v2)
        u3, v3 = u + h / 2 * a2, v + h / 2 * b2
        a3, b3 = self.change(u3, v3)
        u4, v4 = u + h * a3, v + h * b3
        a4, b4 = self.change(u4, v4)
        return (
            x + h / 6 * (u + 2 * u2 + 2 * u3 + u4),
            y + h / 6 * (v + 2 * v2 + 2 * v3 + v4),
            u + h / 6 * (a1 + 2 * a2 + 2 * a3 + a4),
            v + h / 6 * (b1 + 2 * b2 + 2 * b3 + b4),
        )


def steady_speed(diameter: float, density: float, air_density: float, air_viscosity: float) -> float:
    """Return the speed at which a sphere's drag equals its weight."""
    drop = FallingDrop(diameter, 0.0, density, air_density, air_viscosity)
    stokes = drop.weight / drop.drag(0.0)
    return bracketed_root(lambda v: drop.drag(v) * v - drop.weight, 0.0, stokes)


def landing(drop: FallingDrop, height: float, wind: float, steady: float) -> Landing:
    """Return distance, time and speed of fall where a drop lands.

    Once the drop is steady, the rest of its way is straight.
    """
    state, time = (0.0, 0.0, 0.0, 0.0), 0.0
    # Against a strong wind drag is stiffer than at the steady fall, so the step is the shorter of the two.
    step = _STEP * min(steady / STANDARD_GRAVITY, 2.0 / drop.drag(max(wind, steady)))
    for _ in range(_STEPS):
        after = drop.step(state, step)
        if after[1] >= height:
            return _last_step(drop, state, time, height, step)
        state, time = after, time + step
        if abs(state[2] - wind) <= 1e-9 * max(wind, 1e-9) and abs(state[3] - steady) <= 1e-9 * steady:
            rest = (height - state[1]) / steady
            return (state[0] + wind * rest, time + rest, steady)
    raise NumericalFailure(f"a drop's path was not found in {_STEPS} steps")


def _last_step(
    drop: FallingDrop, state: tuple[float, float, float, float], time: float, height: float, step: float
) -> Landing:
    part = bracketed_root(lambda h: drop.step(state, h)[1] - height, 0.0, step)
    end = drop.step(state, part)
    return (end[0], time + part, end[3])
