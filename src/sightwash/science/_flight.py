"""Flight of a jet that keeps together, then falls apart into clumps with drag by the square of their speed.

The first stage is a parabola as long as the jet keeps together. In the second, seen from the moving air, the
path is known from its length s, slope p and horizontal speed u with drag length l::

    u = u0 exp(-s / l)
    F(p) = F(p0) - (g l / u0^2) (exp(2 s / l) - 1),   F(p) = p sqrt(1 + p^2) + asinh(p)
    dx = ds / sqrt(1 + p^2),   dy = p dx,   dt = dx / u

So there is no equation to step through, only sums along s, here by Gauss's rule on fixed panels that crowd
towards the top of the path, where it turns. All paths of a call are summed at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sightwash.basis.errors import NumericalFailure
from sightwash.basis.units import STANDARD_GRAVITY as G
from sightwash.science._numbers import Array

Indices: TypeAlias = NDArray[np.intp]

_PANELS: Final = 20
_TO_TOP: Final = 1.0 - np.linspace(1.0, 0.0, _PANELS + 1) ** 3
_FROM_TOP: Final = np.linspace(0.0, 1.0, _PANELS + 1) ** 3
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(3)


@dataclass(frozen=True, slots=True)
class Flight:
    """Points along paths, one path to a row: launch, break-up, then the panels' ends."""

    x: Array
    """Distance from the nozzle [m]."""
    y: Array
    """Height above the ground [m]."""
    time: Array
    """Time since launch [s]."""
    across: Array
    """Horizontal speed over the ground [m/s]."""
    upward: Array
    """Vertical speed [m/s]."""

    def heights_at(self, distance: float) -> Array:
        """Return the height of each path where it first comes to a distance; NaN if the ground comes first."""
        beyond = self.x[:, 1:] >= distance
        rows = np.flatnonzero(beyond.any(axis=1))
        heights = np.full(len(beyond), np.nan)
        if rows.size:
            panel = beyond[rows].argmax(axis=1)
            share = _crossing(self._cubic(self.x, self.across, rows, panel), distance, 0.0)
            found = _value(self._cubic(self.y, self.upward, rows, panel), share)
            heights[rows] = np.where(found >= 0.0, found, np.nan)
        return heights

    def landings(self) -> tuple[Array, Array]:
        """Return the distance and the time at which each path meets the ground."""
        panel = (self.y[:, 1:] < 0.0).argmax(axis=1)
        rows = np.arange(len(panel))
        share = _crossing(self._cubic(self.y, self.upward, rows, panel), 0.0, 1.0)
        start, end = self.time[rows, panel], self.time[rows, panel + 1]
        return _value(self._cubic(self.x, self.across, rows, panel), share), start + share * (end - start)

    def farthest(self) -> Array:
        """Return the greatest distance of each path while above the ground."""
        farthest: Array = np.where(self.y >= 0.0, self.x, -np.inf).max(axis=1)
        return farthest

    def _cubic(self, place: Array, speed: Array, rows: Indices, panel: Indices) -> Array:
        """Return the coefficients of a cubic in the share of one panel's time, for each of some paths."""
        step = self.time[rows, panel + 1] - self.time[rows, panel]
        start, end = place[rows, panel], place[rows, panel + 1]
        first, last = speed[rows, panel] * step, speed[rows, panel + 1] * step
        rise = end - start
        return np.stack([start, first, 3.0 * rise - 2.0 * first - last, first + last - 2.0 * rise])


def _value(cubic: Array, share: Array) -> Array:
    value: Array = cubic[0] + share * (cubic[1] + share * (cubic[2] + share * cubic[3]))
    return value


def _crossing(cubic: Array, target: float, start: float) -> Array:
    """Return the share at which each cubic passes a target, from the end whose tangent does not overshoot."""
    share = np.full(cubic.shape[1], start)
    for _ in range(60):
        slope = cubic[1] + share * (2.0 * cubic[2] + share * 3.0 * cubic[3])
        slope = np.where(slope == 0.0, 1.0, slope)
        better = np.clip(share + (target - _value(cubic, share)) / slope, 0.0, 1.0)
        if np.abs(better - share).max() <= 1e-12:
            break
        share = better
    return share


def flights(
    speed: float, angles: Array, launch_height: float, wind: float, breakup_length: Array, drag_length: Array
) -> Flight:
    """Return the paths of jets that leave at one speed, each with its angle [rad] and its two lengths [m].

    ``wind`` blows along the jet [m/s]; below zero it is a head wind.
    """
    across, upward = speed * np.cos(angles), speed * np.sin(angles)
    time = _breakup_time(across, upward, breakup_length)
    turned = upward - G * time
    height = launch_height + time * (upward + turned) / 2.0
    air = across - wind
    stage = _Clumps(np.maximum(np.abs(air), 1e-9 * speed), turned, drag_length)
    edges, x, y, later = stage.path(height)
    u, v = stage.speeds(edges)
    sign = np.where(air < 0.0, -1.0, 1.0)[:, None]
    launch = np.zeros_like(angles)
    return Flight(
        np.column_stack([launch, (across * time)[:, None] + sign * x + wind * later]),
        np.column_stack([launch + launch_height, height[:, None] + y]),
        np.column_stack([launch, time[:, None] + later]),
        np.column_stack([across, sign * u + wind]),
        np.column_stack([upward, v]),
    )


def _breakup_time(across: Array, upward: Array, length: Array) -> Array:
    """Return when a parabola has a given length: Newton's steps from before, safe as no step can pass 0 or t_max."""
    speed = np.hypot(across, upward)
    earliest = 2.0 * length / (speed + np.sqrt(speed**2 + 2.0 * G * length))
    latest = 2.0 * (speed + np.sqrt(2.0 * G * length)) / G
    time: Array = earliest
    for _ in range(60):
        falling = upward - G * time
        excess = (_arc(across, upward) - _arc(across, falling)) / (2.0 * G) - length
        step = excess / np.maximum(np.hypot(across, falling), 1e-9 * speed)
        time = np.clip(time - step, earliest, latest)
        if np.all(np.abs(step) <= 1e-13 * latest):
            return time
    raise NumericalFailure("the time at which a jet breaks up was not found in 60 steps")


def _arc(across: Array, upward: Array) -> Array:
    """Return 2 g times the length of a parabola from the speed ``upward`` to its top."""
    arc: Array = upward * np.hypot(across, upward) + across**2 * np.arcsinh(upward / across)
    return arc


class _Clumps:
    """The second stage, seen from the moving air; a row for each path."""

    def __init__(self, across: Array, upward: Array, drag_length: Array) -> None:
        slope = upward / across
        self.u0, self.length = across[:, None], drag_length[:, None]
        self.f0 = (slope * np.hypot(1.0, slope) + np.arcsinh(slope))[:, None]
        self.weight = G * self.length / self.u0**2
        self.top = self.length / 2.0 * np.log1p(np.maximum(self.f0, 0.0) / self.weight)

    def slopes(self, s: Array) -> Array:
        """Return dy/dx at path lengths ``s`` by Newton's steps on F(p)."""
        f = self.f0 - self.weight * np.expm1(np.minimum(2.0 * s / self.length, 600.0))
        p: Array = f / np.sqrt(4.0 + np.abs(f))
        for _ in range(3):
            r = np.sqrt(1.0 + p * p)
            p = p - (p * r + np.arcsinh(p) - f) / (2.0 * r)
        return p

    def speeds(self, s: Array) -> tuple[Array, Array]:
        """Return horizontal speed through the air and vertical speed at path lengths ``s``."""
        u = self.u0 * np.exp(-s / self.length)
        return u, u * self.slopes(s)

    def sums(self, edges: Array) -> tuple[Array, Array, Array]:
        """Return distance through the air, rise and time from the first edge to each edge."""
        half = np.diff(edges, axis=1) / 2.0
        s = ((edges[:, :-1] + half)[:, :, None] + half[:, :, None] * _POINTS).reshape(len(edges), -1)
        p = self.slopes(s)
        dx = 1.0 / np.sqrt(1.0 + p * p)
        dt = dx / (self.u0 * np.exp(-s / self.length))
        return _running(dx, half), _running(p * dx, half), _running(dt, half)

    def path(self, height: Array) -> tuple[Array, Array, Array, Array]:
        """Return panel edges, distance, rise and time until every path is below the ground."""
        up = self.top * _TO_TOP
        x, y, t = self.sums(up)
        fall = np.maximum(height + y[:, -1], 0.0)[:, None] + 0.05
        u_top, drag = self.u0 * np.exp(-self.top / self.length), self.length
        drift = drag * np.log1p(u_top * (np.sqrt(2.0 * fall / G) + fall / np.sqrt(G * drag)) / drag)
        reach = fall + drift
        for _ in range(40):
            down = self.top + reach * _FROM_TOP
            more = self.sums(down)
            low = (height + y[:, -1] + more[1][:, -1] < 0.0)[:, None]
            if low.all():
                edges = np.column_stack([up, down[:, 1:]])
                return edges, _joined(x, more[0]), _joined(y, more[1]), _joined(t, more[2])
            reach = np.where(low, reach, 1.5 * reach)
        raise NumericalFailure("a jet's path did not come down to the ground")


def _joined(first: Array, more: Array) -> Array:
    """Return running sums continued by others that start from zero."""
    return np.column_stack([first, first[:, -1:] + more[:, 1:]])


def _running(values: Array, half: Array) -> Array:
    """Return the running Gauss sums of ``values``, three points to a panel, from zero."""
    panels = half * (values.reshape(*half.shape, 3) @ _WEIGHTS)
    return np.column_stack([np.zeros(len(half)), np.cumsum(panels, axis=1)])
