"""The timeline: who does what at which time of the night, the bound that no plan can beat, and what to relax."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Final

from sightwash.basis.sources import Why
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.hours import Hours
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.night_entries import NightSpan, TimelineEntry, night_spans, placed_pieces, timeline_entries
from sightwash.planning.night_model import NightModel, breaks_short, night_model
from sightwash.planning.night_pieces import NightWork
from sightwash.planning.night_rules import NightRules, check_rules, clock, night_rules
from sightwash.planning.night_water import Refills, plan_refills
from sightwash.planning.night_work import night_work
from sightwash.planning.promise import Promise, Readiness, plan_readiness
from sightwash.planning.relaxations import Relaxation, lacking, plan_relaxations
from sightwash.planning.scheduling import NoSchedule, Schedule, solve_schedule
from sightwash.planning.standing import Standing
from sightwash.planning.water import WaterPlan
from sightwash.site.conditions import Conditions
from sightwash.site.model import Site
from sightwash.site.rates import Rates
from sightwash.site.rig import Rig
from sightwash.site.shapes import placed_walls

LIMIT: Final = 6.0
"""Deterministic work of the solver for the timeline itself."""
NO_BREAK: Final = "no time was found for the break that so long a night wants: end sooner, or rest in turns"


@dataclass(frozen=True, slots=True)
class Timeline:
    """Clock times for each person, in order; ``holds`` says whether the stated rules are kept.

    Where they cannot be, ``asks`` says what must be agreed for this timeline, ``relaxations`` what else was tried. The
    finish is that of the mean hours; ``bound`` is a finish that no plan under the same rules can beat, ``gap`` what
    lies between as a share of the time on site.
    """

    holds: bool
    asks: tuple[str, ...]
    reasons: tuple[str, ...]
    people: int
    machines: int
    nights: tuple[NightSpan, ...]
    entries: tuple[TimelineEntry, ...]
    finish: datetime | None
    bound: datetime | None
    gap: float | None
    proven: bool
    refills: int
    relaxations: tuple[Relaxation, ...]
    readiness: Readiness | None
    notes: tuple[str, ...]
    why: tuple[Why, ...]


def plan_timeline(
    site: Site,
    rig: Rig,
    rates: Rates,
    conditions: Conditions,
    on: date,
    methods: tuple[SurfaceMethod, ...],
    ground: tuple[GroundTakeoff, ...],
    standings: tuple[Standing, ...],
    hours: Hours,
    water: WaterPlan,
    promise: Promise | None = None,
    machines: int | None = None,
    nights: int | None = None,
    limit: float = LIMIT,
) -> Timeline:
    """Return the timeline of a visit; where the nights do not hold the work, what to relax and by how much.

    ``machines`` and ``nights`` are those of the documents unless they are given; so is the promise.
    """
    rules = _rules(night_rules(site, rig, rates, conditions, on), machines, nights)
    if promise is None and conditions.owner_visit is not None:
        promise = Promise(conditions.owner_visit)
    check_rules(rules)
    work = night_work(site, placed_walls(site), methods, ground, standings, hours, water)
    refills = plan_refills(site, rates, water, work.pieces)
    if not work.pieces:
        return _empty(rules, "there is nothing to do")
    model = night_model(work, rules, refills)
    lacks = lacking(model, rules)
    answer = NoSchedule(True) if lacks > 0 else solve_schedule(model.problem, limit)
    if isinstance(answer, Schedule):
        return _timeline(*_rested(rules, work, model, answer, refills, limit), work, refills, hours, promise)
    reasons = (_reason(rules, model, lacks, answer.proven),)
    tried = plan_relaxations(work, rules, refills)
    relaxations = tuple(each.relaxation for each in tried)
    best = next((each for each in tried if each.model is not None and each.schedule is not None), None)
    if best is None or best.model is None or best.schedule is None:
        return replace(_empty(rules, *reasons), relaxations=relaxations, refills=refills.count)
    better = solve_schedule(best.model.problem, limit)
    schedule = better if isinstance(better, Schedule) and better.value <= best.schedule.value else best.schedule
    rested = _rested(best.rules, work, best.model, schedule, refills, limit)
    planned = _timeline(*rested, work, refills, hours, promise)
    return replace(planned, holds=False, asks=best.relaxation.asks, reasons=reasons, relaxations=relaxations)


def _rules(stated: NightRules, machines: int | None, nights: int | None) -> NightRules:
    return replace(
        stated,
        machines=stated.machines if machines is None else machines,
        nights=stated.nights if nights is None else nights,
    )


def _reason(rules: NightRules, model: NightModel, lacks: int, proven: bool) -> str:
    night = model.nights[0]
    window = (
        f"{clock(rules, model.nights, 0):%H:%M} to {clock(rules, model.nights, night.length):%H:%M} ({night.bound_by})"
    )
    if lacks > 0:
        quiet = ", outside the quiet hours" if rules.quiet is not None else ""
        return f"by counting, the work is at least {lacks} min longer than the night holds: {window}{quiet}"
    if proven:
        return f"no order of the work fits the night {window} with doors, quiet hours and drying times kept"
    return f"no order was found within the solver's limit that fits the night {window}"


def _rested(
    rules: NightRules, work: NightWork, model: NightModel, schedule: Schedule, refills: Refills, limit: float
) -> tuple[NightRules, NightModel, Schedule]:
    """Return the same, with a further break where the last night turned out longer than may be worked without."""
    while breaks_short(model, rules, schedule.value):
        more = replace(rules, breaks=sum(piece.id.startswith(f"break-{rules.nights}-") for piece in model.pieces) + 1)
        with_break = night_model(work, more, refills)
        answer = solve_schedule(with_break.problem, limit)
        if not isinstance(answer, Schedule):
            break
        rules, model, schedule = more, with_break, answer
    return rules, model, schedule


def _timeline(
    rules: NightRules,
    model: NightModel,
    schedule: Schedule,
    work: NightWork,
    refills: Refills,
    hours: Hours,
    promise: Promise | None,
) -> Timeline:
    placed = placed_pieces(rules, model, schedule)
    nights = night_spans(rules, model, placed)
    finish = clock(rules, model.nights, schedule.value)
    on_site = sum(night.on_site for night in nights) / 60.0
    gap = (schedule.value - schedule.bound) / on_site if on_site > 0 else 0.0
    unrested = breaks_short(model, rules, schedule.value)
    notes = (*work.notes, *((NO_BREAK,) if unrested else ()))
    return Timeline(
        True, (), (), rules.people, rules.machines, nights, timeline_entries(rules, model, placed), finish,
        clock(rules, model.nights, schedule.bound), gap, schedule.proven, refills.count, (),
        plan_readiness(rules, model, placed, hours, promise), notes, _whys(rules, refills),
    )  # fmt: skip


def _empty(rules: NightRules, *reasons: str) -> Timeline:
    return Timeline(
        False, (), reasons, rules.people, rules.machines, (), (), None, None, None, False, 0, (), None, (), ()
    )


def _whys(rules: NightRules, refills: Refills) -> tuple[Why, ...]:
    order = "walk, plants, then wall by wall from the top down, then the ground, glass last, look again, break down"
    start = "" if rules.start_given else f"; no start is given: {rules.start:%H:%M} is taken"
    return (
        Why(f"{order}{start}", ("practice-night", "practice-crew")),
        Why("stretches short enough to be rinsed before they dry", ("rinse-before-dry", "uno-1998")),
        Why("nothing at a door while it is in use; no machine in the quiet hours", ("practice-doors", "user-document")),
        Why("a break for all before the sixth hour; the drive counts into the longest shift", ("practice-breaks",)),
        Why("soonest finish by a solver under a deterministic limit", ("cp-sat", "count-of-hours")),
        Why("dark from sunset to sunrise", ("noaa-solar",)),
        refills.why,
    )
