"""What visits used up and how often they treated: gallons a unit and passes, by work, surface and soiling."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from sightwash.basis.sources import Why
from sightwash.basis.units import FOOT, GALLON
from sightwash.book.visit_records import VisitRecord
from sightwash.science.robust import huber_mean, median_deviation
from sightwash.science.shrinkage import shrunk_groups

LEAST_SPREAD: Final = 0.15
"""Spread of the logarithm of gallons taken where too few nights show one [-]; a judgement."""
PASS_SPREAD: Final = 0.5
SHOWN: Final = {"m2": ("gal/ft2", FOOT**2), "m": ("gal/ft", FOOT), "1": ("gal each", 1.0)}
Key = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class LearnedUse:
    """Gallons for each unit of a work on a surface: the visits' own mean and what is left after shrinking."""

    work: str
    surface: str
    soiling: str
    unit: str
    visits: int
    own: float
    after: float
    litres: float
    why: Why


@dataclass(frozen=True, slots=True)
class LearnedPasses:
    """Treatments that a soiling on a surface took: the visits' own mean and what is left after shrinking."""

    surface: str
    soiling: str
    visits: int
    own: float
    after: float
    why: Why


def learned_use(records: Sequence[VisitRecord]) -> tuple[LearnedUse, ...]:
    """Return gallons a unit by work, surface and soiling; unlike surfaces of one work are drawn together."""
    found: list[LearnedUse] = []
    for work in sorted({each.work for each in records}):
        own = [each for each in records if each.work == work and each.gallons]
        values, after = _shrunk(own, lambda each: math.log((each.gallons or 1.0) / each.quantity), LEAST_SPREAD)
        for key, mean in values.items():
            unit, size = SHOWN[own[0].measure]
            litres = math.exp(after[key]) * GALLON
            found.append(
                LearnedUse(
                    *key, unit, _visits(own, key), math.exp(mean) * size, math.exp(after[key]) * size, litres, _why()
                )
            )
    return tuple(found)


def learned_passes(records: Sequence[VisitRecord]) -> tuple[LearnedPasses, ...]:
    """Return treatments by surface and soiling."""
    own = [each for each in records if each.passes is not None]
    merged = [(each, ("", each.surface, each.soiling)) for each in own]
    values, after = _shrunk(own, lambda each: float(each.passes or 1), PASS_SPREAD, merged=True)
    return tuple(
        LearnedPasses(
            key[1], key[2], len({each.visit for each, other in merged if other == key}), mean, after[key], _why()
        )
        for key, mean in values.items()
    )


def _shrunk(
    records: Sequence[VisitRecord], value: Callable[[VisitRecord], float], least: float, merged: bool = False
) -> tuple[dict[Key, float], dict[Key, float]]:
    """Return for each group its robust mean and the mean drawn toward those of the others."""
    groups: dict[Key, list[float]] = {}
    for each in sorted(records, key=_key):
        key = _key(each)
        groups.setdefault(("", *key[1:]) if merged else key, []).append(value(each))
    if not groups:
        return {}, {}
    spread = {key: max(median_deviation(own), least) for key, own in groups.items()}
    means = {key: huber_mean(own, spread[key]) for key, own in groups.items()}
    errors = [spread[key] / math.sqrt(len(own)) for key, own in groups.items()]
    shrunk = shrunk_groups(list(means.values()), errors) if len(groups) > 1 else None
    return means, dict(zip(groups, shrunk.values, strict=True)) if shrunk else dict(means)


def _key(record: VisitRecord) -> Key:
    return record.work, record.surface, record.soiling


def _visits(records: Sequence[VisitRecord], key: Key) -> int:
    return len({each.visit for each in records if _key(each) == key})


def _why() -> Why:
    rule = "mean of the visits, wild ones counting less, drawn toward the other surfaces of the work"
    return Why(rule, ("huber-1964", "morris-1983"))
