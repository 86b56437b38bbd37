"""How warm the bleach stood, day by day, from what is known of the place where it stood."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from sightwash.science.storage_history import day_temperatures
from sightwash.site.rig import Bleach

DAY: Final = 86_400.0
ASSUMED_STORAGE: Final = 32.2
"""Worst case taken for an unknown storage temperature [degC] (90 F)."""
PARTS: Final = 12
"""Parts of a day, each at its own temperature, where a lowest and a highest are known."""


@dataclass(frozen=True, slots=True)
class Storage:
    """Temperatures of the stock [degC] and how long each lasted [s], their mean, and where they come from."""

    temperatures: tuple[float, ...]
    durations: tuple[float, ...]
    mean: float
    words: str
    assumed: bool


def storage_from(bleach: Bleach, start: date, end: date) -> Storage:
    """Return how warm the stock stood from one day to another, the last day left out."""
    days = (end - start).days
    table = {row.date: (float(row.low), float(row.high)) for row in bleach.storage_days}
    months = {row.month: (float(row.low), float(row.high)) for row in bleach.storage_months}
    constant = bleach.storage_temperature
    otherwise = ASSUMED_STORAGE if constant is None else float(constant)
    if not table and not months:
        words = "stored at 90 F" if constant is None else f"kept at {constant * 1.8 + 32.0:.0f} F"
        return Storage((otherwise,), (days * DAY,), otherwise, words, constant is None)
    temperatures: list[float] = []
    counts = {"by day": 0, "by month": 0, "by one figure": 0}
    for number in range(days):
        day = start + timedelta(days=number)
        known = table.get(day) or months.get(day.month)
        counts["by day" if day in table else "by month" if known else "by one figure"] += 1
        low, high = known or (otherwise, otherwise)
        temperatures += [float(value) for value in day_temperatures(low, high, PARTS)]
    said = [f"{count} {'day' if count == 1 else 'days'} {how}" for how, count in counts.items() if count]
    assumed = constant is None and counts["by one figure"] > 0
    words = "temperature known " + ", ".join(said) + (" (90 F assumed)" if assumed else "")
    mean = sum(temperatures) / len(temperatures) if temperatures else otherwise
    return Storage(tuple(temperatures), (DAY / PARTS,) * len(temperatures), mean, words, assumed)
