"""The root of a function between two points, without importing a solver package at half a second."""

from __future__ import annotations

import sys
from collections.abc import Callable

from sightwash.basis.errors import NumericalFailure


def bracketed_root(function: Callable[[float], float], low: float, high: float, tolerance: float = 0.0) -> float:
    """Return where ``function``, of unlike signs at ``low`` and ``high``, is zero.

    Chandrupatla's method: a parabola through the last three points where it can be trusted, else halving
    (T. R. Chandrupatla, Advances in Engineering Software 28, 1997, 145-149).
    """
    x1, x2 = low, high
    f1, f2 = function(x1), function(x2)
    if (f1 > 0.0) == (f2 > 0.0) and f1 != 0.0 and f2 != 0.0:
        raise NumericalFailure(f"no change of sign between {low} and {high}")
    share = 0.5
    for _ in range(200):
        x = x1 + share * (x2 - x1)
        f = function(x)
        if (f > 0.0) == (f1 > 0.0):
            x3, f3 = x1, f1
        else:
            x3, f3, x2, f2 = x2, f2, x1, f1
        x1, f1 = x, f
        best, least = (x1, f1) if abs(f1) < abs(f2) else (x2, f2)
        width = (2.0 * sys.float_info.epsilon * abs(best) + 0.5 * tolerance) / abs(x2 - x1)
        if width > 0.5 or least == 0.0:
            return best
        share = min(max(_next_share(x1, x2, x3, f1, f2, f3), width), 1.0 - width)
    raise NumericalFailure(f"no root found between {low} and {high} in 200 steps")


def _next_share(x1: float, x2: float, x3: float, f1: float, f2: float, f3: float) -> float:
    """Return where between x1 and x2 to look next: by inverse parabola if it is tame, else halfway."""
    xi, phi = (x1 - x2) / (x3 - x2), (f1 - f2) / (f3 - f2)
    if phi**2 < xi and (1.0 - phi) ** 2 < 1.0 - xi:
        return f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
    return 0.5
