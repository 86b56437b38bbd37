"""How much each night counts: one that was slow at everything counts less, and so does one work that went wrong."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

from sightwash.science.robust import huber_weight

BEND: Final = 1.345
CLIPPED: Final = 0.7101645
"""Mean square of a standard normal number clipped at BEND [-]."""
GUESSED_NIGHTS: Final = 4.0
"""Nights that the guessed spread counts for when it is measured [-]; a judgement."""
MOST_ROUNDS: Final = 200


@dataclass(frozen=True, slots=True)
class Night:
    """One record as the weights see it: its visit, its work, its cell, the logarithm of its rate."""

    visit: str
    work: str
    cell: tuple[str, str]
    value: float


@dataclass(frozen=True, slots=True)
class VisitWeight:
    """How far a visit was off what is usual, in deviations (below zero: slow), and what it counts for."""

    visit: str
    records: int
    off: float
    counts: float
    words: str


@dataclass(frozen=True, slots=True)
class NightWeights:
    """The weight of each record, the spread of each work from night to night, and the visits."""

    weights: tuple[float, ...]
    spreads: dict[str, float]
    visits: tuple[VisitWeight, ...]


def night_weights(nights: Sequence[Night], guessed: Mapping[str, float]) -> NightWeights:
    """Return the weights, settled in rounds from the median of each cell."""
    cells: dict[tuple[str, tuple[str, str]], list[int]] = {}
    visits: dict[str, list[int]] = {}
    for k, night in enumerate(nights):
        cells.setdefault((night.work, night.cell), []).append(k)
        visits.setdefault(night.visit, []).append(k)
    middles = {key: median(nights[k].value for k in own) for key, own in cells.items()}
    spreads = dict(guessed)
    weights = [1.0] * len(nights)
    off = dict.fromkeys(visits, 0.0)
    for _ in range(MOST_ROUNDS):
        residuals = [(night.value - middles[night.work, night.cell]) / spreads[night.work] for night in nights]
        off = {visit: median(residuals[k] for k in own) for visit, own in visits.items()}
        moved = [
            huber_weight(off[night.visit], 1.0, BEND) * huber_weight(residual - off[night.visit], 1.0, BEND)
            for night, residual in zip(nights, residuals, strict=True)
        ]
        change = max((abs(a - b) for a, b in zip(weights, moved, strict=True)), default=0.0)
        weights = moved
        middles = {
            key: math.fsum(weights[k] * nights[k].value for k in own) / math.fsum(weights[k] for k in own)
            for key, own in cells.items()
        }
        spreads = {work: _spread(work, nights, weights, middles, guess) for work, guess in guessed.items()}
        if change < 1e-10:
            break
    return NightWeights(
        tuple(weights), spreads, tuple(_visit(visit, off[visit], len(own)) for visit, own in visits.items())
    )


def _spread(
    work: str,
    nights: Sequence[Night],
    weights: Sequence[float],
    middles: Mapping[tuple[str, tuple[str, str]], float],
    guess: float,
) -> float:
    """Return the deviation from night to night: the guess counts for a few nights, wild nights only up to the bend."""
    own = [k for k, night in enumerate(nights) if night.work == work]
    freedom = max(len(own) - len({nights[k].cell for k in own}), 0)
    squares = math.fsum((weights[k] * (nights[k].value - middles[work, nights[k].cell])) ** 2 for k in own)
    return math.sqrt((GUESSED_NIGHTS * guess**2 + squares / CLIPPED) / (GUESSED_NIGHTS + freedom))


def _visit(visit: str, off: float, records: int) -> VisitWeight:
    counts = huber_weight(off, 1.0, BEND)
    side = "slow" if off < 0 else "quick"
    words = f"{side} by {abs(off):.1f} deviations: counts for {counts:.0%}" if counts < 1 else "counts in full"
    return VisitWeight(visit, records, off, counts, words)
