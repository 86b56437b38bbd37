"""From a first guess to the data, from the work to its surfaces, from a surface to each soiling on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sightwash.science.pooling import between_variance, pooled_mean, shrunk_mean
from sightwash.science.spread import Spread


@dataclass(frozen=True, slots=True)
class Cell:
    """One record as learning sees it: where, the logarithm of its rate, its weight, its visit."""

    surface: str
    soiling: str
    value: float
    weight: float
    visit: str


@dataclass(frozen=True, slots=True)
class Learned:
    """Mean and its error of the logarithm of a rate; ``visits`` counted as ``counted``."""

    surface: str
    soiling: str
    mean: float
    error: float
    visits: int
    counted: float


def learned_cells(cells: Sequence[Cell], guess: float, error: float, spread: float) -> list[Learned]:
    """Return the work as a whole, then its surfaces, then each soiling on them, each drawn toward the one above."""
    surfaces = sorted({cell.surface for cell in cells})
    by_surface = {name: [cell for cell in cells if cell.surface == name] for name in surfaces}
    within = {name: _group(own, spread, "soiling") for name, own in by_surface.items()}
    whole = _pooled([within[name][0] for name in surfaces])
    work = shrunk_mean(guess, error, whole[0].mean, whole[0].sd, 1)
    found = [_learned("", "", work, cells)]
    for name in surfaces:
        own = within[name][0]
        surface = shrunk_mean(work.mean, _apart(work.sd, whole[1]), own.mean, own.sd, 1)
        if name:
            found.append(_learned(name, "", surface, by_surface[name]))
        for soiling in sorted({cell.soiling for cell in by_surface[name]} - {""}):
            inner = [cell for cell in by_surface[name] if cell.soiling == soiling]
            mean = _mean(inner, spread)
            last = shrunk_mean(surface.mean, _apart(surface.sd, within[name][1]), mean.mean, mean.sd, 1)
            found.append(_learned(name, soiling, last, inner))
    return found


def _group(cells: Sequence[Cell], spread: float, key: str) -> tuple[Spread, float]:
    """Return the mean over the groups of a key with its error, and the variance between them."""
    names = sorted({str(getattr(cell, key)) for cell in cells})
    return _pooled([_mean([cell for cell in cells if getattr(cell, key) == name], spread) for name in names])


def _pooled(means: Sequence[Spread]) -> tuple[Spread, float]:
    values, errors = [mean.mean for mean in means], [mean.sd for mean in means]
    variance = between_variance(values, errors) if len(means) > 1 else 0.0
    return pooled_mean(values, errors, variance), variance


def _mean(cells: Sequence[Cell], spread: float) -> Spread:
    """Return the weighted mean of one cell and its error."""
    weight = math.fsum(cell.weight for cell in cells)
    return Spread(math.fsum(cell.weight * cell.value for cell in cells) / weight, spread / math.sqrt(weight))


def _apart(error: float, variance: float) -> float:
    return math.sqrt(error**2 + variance)


def _learned(surface: str, soiling: str, mean: Spread, cells: Sequence[Cell]) -> Learned:
    visits = len({cell.visit for cell in cells})
    return Learned(surface, soiling, mean.mean, mean.sd, visits, math.fsum(cell.weight for cell in cells))
