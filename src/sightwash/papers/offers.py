"""Extras and repeat visits as rows of a table."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.basis.units import AREA, FOOT, show
from sightwash.papers.job import Job
from sightwash.papers.scope_lines import capital
from sightwash.planning.options import Option, Scope


def extra_rows(job: Job) -> list[list[str]]:
    """Return what is offered beside the price: words, quantity, price before tax."""
    units = job.plan.units
    return [
        [capital(extra.words), offered_quantity(extra.quantity, extra.unit, units), job.money(extra.price)]
        for extra in job.plan.add_ons
    ]


def offered_quantity(quantity: float, unit: str, units: str) -> str:
    """Return the quantity of something offered in the reader's units.

    >>> offered_quantity(48.768, "m", "us"), offered_quantity(12.0, "1", "us")
    ('160 ft', '12')
    """
    if unit == "m":
        return f"{quantity / FOOT:,.0f} ft" if units == "us" else f"{quantity:,.0f} m"
    return show(quantity, AREA, units) if unit == "m2" else f"{quantity:,.0f}"


def option_rows(job: Job) -> list[list[str]]:
    """Return scope, visits, first price, later price and price of a year, for every option that differs."""
    options = job.night.options if job.night else ()
    by_scope: dict[Scope, list[Option]] = {}
    for option in options:
        by_scope.setdefault(option.scope, []).append(option)
    base = next(iter(by_scope.values()), [])
    kept = [same for same in by_scope.values() if same is base or _prices(same) != _prices(base)]
    return [row for same in kept for row in _rows(job, same)]


def _prices(options: list[Option]) -> list[object]:
    return [(option.visits_a_year, option.visits) for option in options]


def _rows(job: Job, options: list[Option]) -> Iterator[list[str]]:
    words = job.words("agreement")
    for number, option in enumerate(options):
        count = option.visits_a_year
        yield [
            _scope_name(option.scope, words) if number == 0 else "",
            words.get(f"visits_{count}", words["visits_n"].format(count=count)),
            job.money(option.visits[0]),
            job.money(option.visits[1]) if count > 1 else "",
            job.money(option.year),
        ]


def _scope_name(scope: Scope, words: dict[str, str]) -> str:
    if not scope.gum:
        return words["option_no_gum"]
    if not scope.canopy_tops:
        return words["option_no_tops"]
    return words["option_marking"] if scope.marking else words["option_base"]
