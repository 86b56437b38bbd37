"""The night and the offer behind a plan: who does what when, the options, and the chance of losing money.

Kept apart from ``plan_visit``, whose answer comes at once: the timeline is solved and every option planned anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sightwash.planning.options import Option, plan_options
from sightwash.planning.price_risk import DiscountCost, MoneyShare, PriceChance, discount_costs, money_shares
from sightwash.planning.price_risk import price_chances as chances_of
from sightwash.planning.promise import Promise
from sightwash.planning.timeline import Timeline, plan_timeline
from sightwash.planning.visit import Progress, VisitPlan
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig

LIMITS: Final = {"quick": 0.5, "proven": 60.0}
"""Deterministic work allowed to the solver of the timeline."""


@dataclass(frozen=True, slots=True)
class NightPlan:
    """The timeline of a plan, its options, prices with their chance of loss, discounts, and where the money goes."""

    timeline: Timeline
    options: tuple[Option, ...]
    chances: tuple[PriceChance, ...]
    discounts: tuple[DiscountCost, ...]
    shares: tuple[MoneyShare, ...]


def plan_night(
    site: Site,
    rig: Rig,
    rates: Rates,
    conditions: Conditions,
    plan: VisitPlan,
    nights: int | None = None,
    machines: int | None = None,
    promise: Promise | None = None,
    progress: Progress = lambda _step, _share: None,
) -> NightPlan:
    """Return the night and the offer of a plan; nights, machines and the promise are the documents' unless given."""
    progress("who does what when", 0.92)
    timeline = plan_timeline(
        site, rig, rates, conditions, plan.on, plan.methods, plan.ground, plan.standing, plan.hours, plan.water,
        promise, machines, nights, LIMITS[plan.effort],
    )  # fmt: skip
    progress("options", 0.97)
    return NightPlan(
        timeline,
        plan_options(site, rig, rates, conditions, plan.on, plan.ground, plan.standing, dark=plan.air.dark),
        chances_of(plan.price, plan.hours),
        discount_costs(plan.price, plan.hours),
        money_shares(plan.price),
    )
