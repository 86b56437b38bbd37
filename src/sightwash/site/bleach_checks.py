"""What is wrong in the bleach on a rig although each value alone is right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sightwash.site.rig import Bleach, DayTemperature, MonthTemperature
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import Finding

COLDEST: Final = -30.0
"""Coldest storage for which the law of decay is worked out [degC]: -22 F."""
_RANGE: Final = "-22 F to 140 F: the law of decay is not worked out beyond"


def check_bleach(bleach: Bleach) -> Iterator[Finding]:
    """Yield what is wrong with the bleach on a rig."""
    gravity = bleach.specific_gravity
    if gravity is not None and not 1.0 <= gravity <= 1.3:
        yield Finding(
            "specific-gravity",
            f"{gravity:g} is no specific gravity of liquid bleach",
            ("bleach", "specific_gravity"),
            "1.00 to 1.30",
            "write `1.16` or leave it out",
        )
    if bleach.storage_temperature is not None and bleach.storage_temperature < COLDEST:
        yield _too_cold(("bleach", "storage_temperature"))
    yield from _months(bleach)
    yield from _days(bleach)
    if bleach.reading is not None and bleach.dated is not None and bleach.reading.date < bleach.dated:
        yield Finding(
            "reading-before-bleach",
            f"tested on {bleach.reading.date}, before the bleach of {bleach.dated} was made",
            ("bleach", "reading", "date"),
            "a day on or after `dated`",
            "mend one of the two dates, or leave the reading out",
        )


def _months(bleach: Bleach) -> Iterator[Finding]:
    seen: set[int] = set()
    for index, row in enumerate(bleach.storage_months):
        path: KeyPath = ("bleach", "storage_months", index)
        if not 1 <= row.month <= 12:
            message = f"{row.month} is no month"
            yield Finding("no-month", message, (*path, "month"), "1 to 12", "write `7` for July")
        if row.month in seen:
            yield Finding("doubled-month", f"month {row.month} stands twice", path, "each month once", "keep one")
        seen.add(row.month)
        yield from _low_and_high(row, path)


def _days(bleach: Bleach) -> Iterator[Finding]:
    seen = set()
    for index, row in enumerate(bleach.storage_days):
        path: KeyPath = ("bleach", "storage_days", index)
        if row.date in seen:
            yield Finding("doubled-day", f"{row.date} stands twice", path, "each day once", "keep one of them")
        seen.add(row.date)
        yield from _low_and_high(row, path)


def _low_and_high(row: MonthTemperature | DayTemperature, path: KeyPath) -> Iterator[Finding]:
    if row.low > row.high:
        yield Finding("low-above-high", "the low is above the high", (*path, "low"), "at most `high`", "swap the two")
    if row.low < COLDEST:
        yield _too_cold((*path, "low"))


def _too_cold(path: KeyPath) -> Finding:
    return Finding("out-of-range", "no stock is kept so cold", path, _RANGE, "write where the stock really stood")
