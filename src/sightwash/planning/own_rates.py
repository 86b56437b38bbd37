"""The firm's own production rates, held against the works that exist and the units that each is counted in."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.planning.tables import starting_rates
from sightwash.site.rates import Rates

ALIKE: Final = (("ft2/h", "m2/h"), ("ft/h", "m/h"), ("1/h",), ("min",))
"""Units that measure the same thing."""


def require_known_rates(rates: Rates) -> None:
    """Raise InputError for a production rate of no known work, or in a unit that its work is not counted in."""
    problems = tuple(_problems(rates))
    if problems:
        raise InputError(problems)


def _problems(rates: Rates) -> Iterator[Problem]:
    known = starting_rates()
    for index, rate in enumerate(rates.production):
        key = f"production[{index}]"
        if rate.work not in known:
            near = difflib.get_close_matches(rate.work, known, 1)
            fix = f"write `{near[0]}`" if near else "take the rate out"
            message = f"no work is called {rate.work!r}"
            yield Problem("unknown-work", message, key=f"{key}.work", expected="one of: " + ", ".join(known), fix=fix)
            continue
        units = next(group for group in ALIKE if known[rate.work].unit in group)
        if rate.unit not in units:
            message = f"{rate.work} is not counted in {rate.unit}"
            fix = f"write the rate in {units[0]}"
            yield Problem("wrong-unit", message, key=f"{key}.unit", expected=" or ".join(units), fix=fix)
