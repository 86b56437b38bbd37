"""What is wrong in a rig, in rates and in conditions although each value alone is right."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from sightwash.site.bleach_checks import check_bleach
from sightwash.site.conditions import Conditions
from sightwash.site.element_ids import doubled_ids
from sightwash.site.rates import ProductionRate, Rates
from sightwash.site.rig import Rig
from sightwash.site.tree import KeyPath
from sightwash.site.wall_checks import Finding

SLOWEST_ENGINE: Final = 0.2
"""Share of its full speed below which no pump engine runs [-]."""

MOST_NIGHTS: Final = 7
MOST_MACHINES: Final = 6


def check_rig(rig: Rig) -> tuple[Finding, ...]:
    """Return everything that is wrong in a rig."""
    return (*doubled_ids(rig), *_pump(rig), *_tips(rig), *_bleach(rig), *_crew(rig))


def _pump(rig: Rig) -> Iterator[Finding]:
    if not 1 <= rig.machine.count <= MOST_MACHINES:
        message = f"{rig.machine.count} machines"
        yield Finding("machines-out-of-range", message, ("machine", "count"), f"1 to {MOST_MACHINES}", "write `1`")
    if rig.injector is not None and rig.injector.draw >= rig.injector.total:
        yield Finding(
            "injector-draw",
            "draws as much as the whole flow",
            ("injector", "draw"),
            "less than the total flow at the nozzle",
            "write both figures of the bucket test",
        )
    if rig.machine.unloader is not None and rig.machine.unloader > 1.15 * rig.machine.pressure:
        yield Finding(
            "unloader-too-high",
            "the unloader opens above the machine's pressure",
            ("machine", "unloader"),
            "at most 15 % above `machine.pressure`",
            "set it lower",
        )
    if rig.machine.engine_speed < SLOWEST_ENGINE:
        yield Finding(
            "engine-speed",
            f"no engine runs at {rig.machine.engine_speed:.0%} of its full speed",
            ("machine", "engine_speed"),
            f"{SLOWEST_ENGINE:.0%} to 100 %",
            "leave it out for full speed",
        )


def _tips(rig: Rig) -> Iterator[Finding]:
    for index, tip in enumerate(rig.tips):
        if not 0.5 <= tip.size <= 100:
            yield Finding(
                "tip-size",
                f"a tip of size {tip.size:g} does not exist",
                ("tips", index, "size"),
                "a size number from 0.5 to 100 (gal/min at 4000 psi)",
                "write `4` for a 2504 tip",
            )
        if tip.fan > 120:
            yield Finding(
                "fan-angle", "no tip spreads so wide", ("tips", index, "fan"), "0 to 120 deg", "write `25` for a 2504"
            )


def _bleach(rig: Rig) -> Iterator[Finding]:
    if rig.bleach is not None:
        yield from check_bleach(rig.bleach)
    if rig.proportioner is not None and rig.proportioner.highest_share <= 0.0:
        path: KeyPath = ("proportioner", "highest_share")
        message = "a panel that takes no stock blends nothing"
        yield Finding("no-share", message, path, "above 0 %", "write the share with the stock valve fully open")


def _crew(rig: Rig) -> Iterator[Finding]:
    if rig.crew.people < 1:
        yield Finding("no-crew", "nobody is on the crew", ("crew", "people"), "1 or more people", "write `2`")
    if not 1.0 <= rig.crew.longest_shift <= 24.0:
        yield Finding(
            "shift-length",
            f"a shift of {rig.crew.longest_shift:g} hours",
            ("crew", "longest_shift"),
            "hours, 1 to 24",
            "write `10`",
        )


def check_rates(rates: Rates) -> tuple[Finding, ...]:
    """Return everything that is wrong in a set of rates."""
    found: list[Finding] = []
    seen: set[tuple[str, str | None, str | None]] = set()
    for index, rate in enumerate(rates.production):
        found += _production(rate, ("production", index), seen)
        seen.add((rate.work, rate.surface, rate.soiling))
    if rates.labour.wage <= 0:
        message = "an hour of work costs nothing"
        found.append(Finding("no-wage", message, ("labour", "wage"), "a wage above 0", "write what an hour costs"))
    if rates.rounding < Decimal("0.01") or rates.rounding % Decimal("0.01"):
        message = f"a price cannot be rounded to {rates.rounding}"
        found.append(Finding("rounding", message, ("rounding",), "whole cents, 0.01 or more", "write `5` or `0.01`"))
    return tuple(found)


def _production(
    rate: ProductionRate, path: KeyPath, seen: set[tuple[str, str | None, str | None]]
) -> Iterator[Finding]:
    if rate.soiling is not None and rate.surface is None:
        message = f"{rate.soiling} on which surface?"
        yield Finding("missing-key", message, (*path, "soiling"), "`surface` beside it", "add `surface`")
    if (rate.work, rate.surface, rate.soiling) in seen:
        message = f"{rate.work} has two rates"
        yield Finding("doubled-work", message, (*path, "work"), "one rate for each work", "keep one of them")
    if not 0 < rate.low <= rate.usual <= rate.high:
        yield Finding(
            "rate-order",
            f"{rate.low:g}, {rate.usual:g}, {rate.high:g} do not rise from above 0",
            (*path, "low"),
            "0 < low <= usual <= high",
            "sort the three figures",
        )


def check_conditions(conditions: Conditions) -> tuple[Finding, ...]:
    """Return everything that is wrong in a set of conditions."""
    found: list[Finding] = []
    weather = conditions.weather
    if weather.gust is not None and weather.wind_speed is not None and weather.gust < weather.wind_speed:
        message = "the gusts are slower than the wind"
        found.append(
            Finding(
                "gust-below-wind", message, ("weather", "gust"), "at least `wind_speed`", "swap them or leave it out"
            )
        )
    if conditions.start is not None and conditions.start == conditions.end:
        message = "the hours end when they begin"
        found.append(Finding("no-hours", message, ("end",), "another time than `start`", "leave `end` out"))
    if not 1 <= conditions.nights <= MOST_NIGHTS:
        message = f"{conditions.nights} nights"
        found.append(Finding("nights-out-of-range", message, ("nights",), f"1 to {MOST_NIGHTS}", "write `1`"))
    seen, day = conditions.owner_visit, conditions.date
    if seen is not None and day is not None and seen.date() < day:
        message = "the owner looks before the work begins"
        found.append(Finding("promise-order", message, ("owner_visit",), f"after {day}", "mend the day"))
    return tuple(found)
