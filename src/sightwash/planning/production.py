"""Production rates in use: the firm's own where it has one, else the start that is theirs to replace."""

from __future__ import annotations

import csv
import difflib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.planning.tables import starting_rates
from sightwash.site.rates import ProductionRate, Rates

KINDS: Final = {"ft2/h": "area", "m2/h": "area", "ft/h": "length", "m/h": "length", "1/h": "count", "min": "count"}


@dataclass(frozen=True, slots=True)
class RateInUse:
    """Low, usual and high rate of one work in ``unit``, and whether it is the firm's own."""

    work: str
    words: str
    low: float
    usual: float
    high: float
    unit: str
    own: bool
    source: str


@dataclass(frozen=True, slots=True)
class Difficulty:
    """A factor on the time of some works, and whether it also bears on the firm's own rates."""

    id: str
    factor: float
    works: frozenset[str]
    own_rates: bool
    words: str
    source: str


@cache
def difficulties() -> dict[str, Difficulty]:
    """Return every known difficulty by name."""
    text = resources.files("sightwash").joinpath("data", "difficulties.csv").read_text(encoding="utf-8")
    return {
        row["difficulty"]: Difficulty(
            row["difficulty"], float(row["factor"]), frozenset(row["works"].split()), row["own_rates"] == "yes",
            row["words"], row["source"],
        )
        for row in csv.DictReader(text.splitlines())
    }  # fmt: skip


def rate_in_use(rates: Rates, work: str, surface: str = "", soiling: str = "") -> RateInUse:
    """Return the rate that a work is reckoned with: the firm's own that fits most closely, else the start."""
    start = starting_rates()[work]
    own = _own_rate(rates, work, surface, soiling)
    if own is None:
        return RateInUse(work, start.words, start.low, start.usual, start.high, start.unit, False, start.source)
    return RateInUse(work, start.words, own.low, own.usual, own.high, own.unit, True, "user-document")


def _own_rate(rates: Rates, work: str, surface: str, soiling: str) -> ProductionRate | None:
    """Return the own rate for this soiling on this surface, else for the surface, else for the work; None if none."""
    own = {(rate.surface or "", rate.soiling or ""): rate for rate in rates.production if rate.work == work}
    return next((own[key] for key in ((surface, soiling), (surface, ""), ("", "")) if key in own), None)


def check_production(rates: Rates) -> None:
    """Raise InputError where an own rate is zero or out of order, has a unit of another kind or an unknown work."""
    problems = list(_problems(rates))
    if problems:
        raise InputError(problems)


def _problems(rates: Rates) -> Iterator[Problem]:
    known = starting_rates()
    for index, rate in enumerate(rates.production):
        key = f"production[{index}]"
        if not 0 < rate.low <= rate.usual <= rate.high:
            words = f"{rate.low:g}, {rate.usual:g}, {rate.high:g} do not rise from above 0"
            fix = "sort the three figures"
            yield Problem("rate-order", words, key=f"{key}.low", expected="0 < low <= usual <= high", fix=fix)
        start = known.get(rate.work)
        if start is None:
            near = difflib.get_close_matches(rate.work, known, 1)
            fix = f"write `{near[0]}`" if near else "take the rate out"
            expected = "one of: " + ", ".join(known)
            yield Problem(
                "unknown-work", f"no work is called {rate.work!r}", key=f"{key}.work", expected=expected, fix=fix
            )
        elif KINDS[rate.unit] != KINDS[start.unit]:
            words = f"{rate.work} is not counted in {rate.unit}"
            alike = [unit for unit, kind in KINDS.items() if kind == KINDS[start.unit]]
            yield Problem(
                "wrong-unit", words, key=f"{key}.unit", expected=" or ".join(alike), fix=f"write `{start.unit}`"
            )
