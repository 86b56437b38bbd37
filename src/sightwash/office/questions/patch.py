"""One part of a property, all six questions at once: what a tap on the strip opens."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from sightwash.basis.units import AREA, FLOW, LENGTH, PRESSURE, VOLUME, show
from sightwash.book.done_record import DoneRecord
from sightwash.office.questions.cost import money
from sightwash.office.questions.figures import Line, said
from sightwash.office.questions.parts import carrier_of, part_names
from sightwash.planning.ground import GroundTakeoff
from sightwash.planning.standing import Standing, StandingSpot
from sightwash.planning.tables import PERCENT
from sightwash.planning.takeoff import WallPatch
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Answer:
    """One question about a part, answered in sentences."""

    slug: str
    question: str
    lines: tuple[Line, ...]


def part_answers(
    site: Site, plan: VisitPlan, part: str, done: DoneRecord | None, prices: bool
) -> tuple[str, tuple[Answer, ...]] | None:
    """Return the name of a part and its six answers; None for a part that the plan does not know."""
    name = part_names(site, plan).get(part)
    if name is None:
        return None
    cost = tuple(_cost(plan, part)) if prices else (said("Prices are shown to planners and the owner."),)
    answers = (
        Answer("who-sees-it", "Who sees it?", tuple(_seen(plan, part))),
        Answer("who-reaches-it", "Who reaches it?", tuple(_reached(plan, part))),
        Answer("with-what", "With what?", tuple(_treated(plan, part))),
        Answer("how-long", "How long?", tuple(_lasting(plan, part))),
        Answer("what-does-it-cost", "What does it cost?", cost),
        Answer("is-it-done", "Is it done?", tuple(_completed(plan, part, done))),
    )
    return name, answers


def _patch(plan: VisitPlan, part: str) -> WallPatch | None:
    return next((patch for takeoff in plan.walls for patch in takeoff.patches if patch.id == part), None)


def _ground(plan: VisitPlan, part: str) -> GroundTakeoff | None:
    return next((surface for surface in plan.ground if surface.surface == part), None)


def _seen(plan: VisitPlan, part: str) -> Iterator[Line]:
    units = plan.units
    line = next((each for each in plan.soiled_and_missed if each.patch == part), None)
    if line is not None and line.area > 0:
        words = f"The public sees {show(line.public, AREA, units)} of its {show(line.area, AREA, units)}"
        missed = f"; {show(line.missed, AREA, units)} of that is missed from close by" if line.missed > 0.01 else ""
        yield said(f"{words}{missed}.", decide=line.missed > 0.02 * line.area)
        return
    sight = next((each for each in plan.sight if each.wall == carrier_of(plan, part)), None)
    if sight is None:
        yield said("It is ground: everybody who walks over it sees it.")
        return
    words = f"The public sees {show(sight.public_area, AREA, units)} of the wall's {show(sight.area, AREA, units)}"
    yield said(f"{words}; {show(sight.missed_area, AREA, units)} is missed from close by.", sight.why)
    for strip in plan.missed:
        if strip.wall == sight.wall:
            eyes = ", ".join(strip.seen_by) or "everyone"
            yield said(f"Missed strip {strip.id}: seen by {eyes}.", strip.why)


def _reached(plan: VisitPlan, part: str) -> Iterator[Line]:
    units, wall = plan.units, carrier_of(plan, part)
    standing = next((each for each in plan.standing if each.wall == wall), None)
    if standing is None:
        yield said("From the ground, on foot." if _ground(plan, part) else "Nobody: the wall is excluded.")
        return
    whole = part == wall
    for number, spot in enumerate(standing.spots, 1):
        if whole or spot in _serving(plan, standing, part):
            yield said(_spot_words(number, spot, units), spot.why)
    ladders = Counter(
        look.words
        for look in standing.looks
        if look.kind == "ladder" and (whole or any(piece.split("/")[0] == part for piece in look.covers))
    )
    for words, count in ladders.items():
        places = f" At {count} places." if count > 1 else ""
        yield said(f"{words[:1].upper()}{words[1:]}.{places}", standing.why)
    for words in standing.unreached:
        yield said(f"Not reached on this wall: {words}.", standing.why, decide=True)


def _serving(plan: VisitPlan, standing: Standing, part: str) -> tuple[StandingSpot, ...]:
    """Return the spots that serve a part by name; where it goes with what is above it, those beside which it lies."""
    named = tuple(spot for spot in standing.spots if any(piece.split("/")[0] == part for piece in spot.covers))
    patch = _patch(plan, part)
    if named or patch is None:
        return named
    return tuple(spot for spot in standing.spots if spot.left < patch.right and patch.left < spot.right)


def _spot_words(number: int, spot: StandingSpot, units: str) -> str:
    out, along = show(spot.out, LENGTH, units), show(spot.s, LENGTH, units)
    return (
        f"Spot {number}: stand {out} out, {along} along; water must reach {show(spot.needed, LENGTH, units)}, "
        f"likely to {show(spot.likely, LENGTH, units)} with {spot.tip}."
    )


def _treated(plan: VisitPlan, part: str) -> Iterator[Line]:
    units = plan.units
    targets = [part]
    if part == carrier_of(plan, part):
        targets = [method.target for method in plan.methods if method.wall == part]
    for method in plan.methods:
        if method.target not in targets:
            continue
        words = f"{method.agent}: {method.words}"
        if method.strength:
            words += (
                f"; {method.strength / PERCENT:.2f} % at the wall, {method.passes} x, {method.dwell / 60:.0f} min wet"
            )
        words += f"; never above {show(method.highest_pressure, PRESSURE, units)} at the tip"
        tips = [
            f"{name} with {tip.tip} at {show(tip.tip_pressure, PRESSURE, units)}, {show(tip.flow, FLOW, units)}"
            for name, tip in (("treat", method.treat), ("rinse", method.rinse), ("power rinse", method.power_rinse))
            if tip is not None
        ]
        mix = f"; {show(method.mix_volume, VOLUME, units)} of mix" if method.mix_volume else ""
        yield said(f"{words}{mix}{'; ' if tips else ''}{', '.join(tips)}. {method.watch.capitalize()}.", method.why)
    surface = _ground(plan, part)
    if surface is not None:
        ways = ", ".join(f"{each.how} {show(each.area, AREA, units)}" for each in surface.parts)
        yield said(f"{ways}." if surface.washed else "It is not washed.")


def _lasting(plan: VisitPlan, part: str) -> Iterator[Line]:
    carrier = carrier_of(plan, part)
    tasks = [task for task in plan.hours.tasks if task.part == carrier]
    if not tasks:
        yield said("No work is planned here.")
        return
    low, usual, high = (
        sum(getattr(task, key) * task.workers for task in tasks) / HOUR for key in ("low", "usual", "high")
    )
    whole = "" if carrier == part else " for the whole wall; hours are reckoned by wall"
    yield said(f"{usual:.1f} h usual, {low:.1f} to {high:.1f} h{whole}.", tuple(task.why for task in tasks))
    yield said("; ".join(f"{task.words} {task.usual / HOUR:.1f} h" for task in tasks) + ".")


def _cost(plan: VisitPlan, part: str) -> Iterator[Line]:
    carrier = carrier_of(plan, part)
    scope = next((each for each in plan.price.scope if each.part == carrier), None)
    if scope is None:
        yield said("It bears no part of the price.")
        return
    whole = "" if carrier == part else " for the whole wall"
    share = scope.amount / plan.price.price if plan.price.price else 0
    words = f"{money(scope.amount, plan.price.currency)} before tax{whole}, {share:.0%} of the price"
    yield said(f"{words}: the price is shared over the parts by their hours.", plan.price.why)


def _completed(plan: VisitPlan, part: str, done: DoneRecord | None) -> Iterator[Line]:
    carrier = carrier_of(plan, part)
    if done is None:
        yield said("Nothing is written down yet.")
        return
    tick = next((each for each in done.parts if each.part == carrier), None)
    if tick is None:
        yield said("Not ticked yet.")
    else:
        note = f": {tick.note}" if tick.note else ""
        yield said(f"{tick.how.capitalize()}{note}.", decide=tick.how == "not done")
    strips = {strip.id for strip in plan.missed if strip.wall == carrier}
    for look in done.misses:
        if look.miss in strips:
            clean = "clean" if look.clean else "not clean"
            yield said(f"{look.miss}: {look.looked_by} looked from {look.stood}, {clean}.", decide=not look.clean)
