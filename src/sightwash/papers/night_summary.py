"""The night and the offer as plain text: clock times, options, prices and their risk."""

from __future__ import annotations

import textwrap

from sightwash.papers.clock_list import clock_list
from sightwash.papers.summary import WIDTH, money, table
from sightwash.planning.night import NightPlan
from sightwash.planning.options import Option
from sightwash.planning.visit import VisitPlan

MOST_CHANCES = 9
"""Lines of the table of prices against their chance of loss."""


def night_summary(plan: VisitPlan, night: NightPlan) -> str:
    """Return the timeline, the options, and what other prices would mean."""
    parts = [clock_list(night.timeline, plan.units).rstrip("\n").split("\n"), _options(plan, night), _risk(plan, night)]
    return "\n" + "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _options(plan: VisitPlan, night: NightPlan) -> list[str]:
    rows = [_option(option) for option in night.options]
    heads = ("option", "first visit", "each later one", "marking", "a year", "hours", "later", "chance of loss")
    scopes = [f"{option.id}: {option.words}" for option in night.options if option.visits_a_year == 1]
    return [
        f"OPTIONS, before tax ({plan.price.currency})",
        *table(heads, rows, range(1, 8)),
        *(line for words in scopes for line in _folded(words)),
    ]


def _option(option: Option) -> list[str]:
    later = "" if option.repeat is None else f"{option.repeat:,.2f}"
    hours = "" if option.repeat_hours is None else f"{option.repeat_hours / 3600:.1f}"
    return [
        option.id, f"{option.first:,.2f}", later, f"{option.marking:,.2f}" if option.marking else "",
        f"{option.year:,.2f}", f"{option.first_hours / 3600:.1f}", hours, f"{option.chance_of_loss:.1%}",
    ]  # fmt: skip


def _risk(plan: VisitPlan, night: NightPlan) -> list[str]:
    step = max(len(night.chances) // MOST_CHANCES, 1)
    shown = [each for k, each in enumerate(night.chances) if k % step == 0 or each.price == plan.price.price]
    chances = [
        [f"{each.price:,.2f}", f"{each.profit:,.2f}", f"{each.margin:.1%}", f"{each.chance_of_loss:.1%}"]
        for each in shown
    ]
    discounts = [
        f"A discount of {each.discount:.0%} gives away {money(each.given, plan.price.currency)}"
        f"{'' if each.profit_lost is None else f', {each.profit_lost:.0%} of the profit'}"
        + ("." if each.more_work is None else f"; {each.more_work:.0%} more work at that price makes up for it.")
        for each in night.discounts
    ]
    return ["ANOTHER PRICE", *table(("price", "left over", "margin", "chance of loss"), chances, range(4)), *discounts]


def _folded(words: str) -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent="- ", subsequent_indent="  ", break_on_hyphens=False)
