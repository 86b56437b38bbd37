"""The night's own tables as text: mix tickets, drying clock, wash water, ground paths, gum, marks."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.basis.units import FOOT, LENGTH, VOLUME, show
from sightwash.planning.ground_path import GroundPath
from sightwash.planning.mix_tickets import MixTicket
from sightwash.planning.tables import PERCENT
from sightwash.planning.visit import VisitPlan


def ticket_words(plan: VisitPlan) -> list[str]:
    """Return what to pour for each mix, in order, and what must not meet bleach."""
    tickets = plan.tickets
    lines = [line for ticket in tickets.tickets for line in _ticket(plan, ticket)]
    if tickets.load is not None:
        lines.append(f"load: {tickets.load.load_words}")
    lines += [
        f"{wrong.material} at {', '.join(wrong.where)}: {wrong.why_not}; instead: {wrong.instead}"
        for wrong in tickets.wrong_surfaces
    ]
    lines += [f"never with bleach: {pair.what}: {pair.words}" for pair in tickets.incompatible]
    return ["MIX TICKETS", *lines] if lines else []


def _ticket(plan: VisitPlan, ticket: MixTicket) -> Iterator[str]:
    targets = ", ".join(demand.target for demand in ticket.demand)
    yield f"{ticket.strength / PERCENT:.2f} % at the wall, {show(ticket.volume, VOLUME, plan.units)}, for {targets}"
    for way in ticket.ways:
        if way.by != ticket.chosen:
            continue
        poured = "; ".join(f"{pour.order}. {pour.what} {pour.words}" for pour in (way.each or way.last))
        times = f" x {way.times}, then the last: " if way.times else ": "
        last = "; ".join(f"{pour.order}. {pour.what} {pour.words}" for pour in way.last) if way.times else ""
        yield f"    {way.by}: {way.words}"
        yield f"    pour{times if way.times else ': '}{poured}{' | ' + last if last else ''}"
    yield from (f"    cannot: {words}" for words in ticket.cannot)


def drying_words(plan: VisitPlan) -> list[str]:
    """Return the verdict on the window, the order of walls with their section lengths, and when the walk is dry."""
    clock = plan.drying
    lines = [f"verdict: {clock.verdict.words}"]
    lines += [f"stop: {reason.words}" for reason in clock.verdict.stops]
    lines += [f"look at: {reason.words}" for reason in clock.verdict.asks]
    for turn in clock.order:
        section = show(turn.section, LENGTH, plan.units)
        sections = "1 section" if turn.sections == 1 else f"{turn.sections} sections of up to {section}"
        lines.append(f"{turn.starts:%H:%M} to {turn.ends:%H:%M}  {turn.wall}: {sections}; {turn.words}")
    if clock.walk is not None:
        lines.append(f"walk: {clock.walk.words}")
    lines += list(clock.notes)
    return ["HOW LONG IT STAYS WET", *lines]


def wash_water_words(plan: VisitPlan) -> list[str]:
    """Return where the wash water goes, what is done about it, and what to ask."""
    wash = plan.wash_water
    if wash.applied <= 0:
        return []
    volumes = (wash.applied, wash.evaporated, wash.absorbed, wash.to_planting, wash.captured, wash.to_drains)
    names = ("applied", "evaporated", "absorbed", "to planting", "captured", "to drains")
    lines = [", ".join(f"{name} {show(v, VOLUME, plan.units)}" for name, v in zip(names, volumes, strict=True))]
    lines += [f"{drain.drain}: {drain.words}" for drain in wash.drains]
    lines += [f"{plant.plant}: {plant.words}" for plant in wash.planting]
    lines += [f"{measure.what}: {measure.words}" for measure in wash.measures]
    lines.append(f"neutraliser: {wash.dose_words}")
    lines += [f"ask {question.ask}: {question.question}" for question in wash.questions]
    lines.append(f"agreed: {wash.allowed}" if wash.allowed else "agreed: nothing; nothing may run off until it is")
    return ["WHERE THE WATER GOES", *(line for line in lines if line)]


def ground_words(plan: VisitPlan) -> list[str]:
    """Return the cleaner's path on each surface, the trim's cost, gum at doors, marks and accessible stalls."""
    lines = [line for path in plan.ground_paths for line in _path(plan, path)]
    lines += [
        f"gum {spot.id}{f' at {spot.door}' if spot.door else ''}: {spot.how}, {spot.time / 60:.0f} min; {spot.words}"
        for spot in plan.gum_spots
    ]
    lines += [f"marks: {mark.words}" for mark in plan.marking.lines]
    lines += list(plan.marking.notes)
    if plan.access is not None and (plan.access.short or plan.access.vans_short):
        lines.append(plan.access.words)
    return ["ON THE GROUND", *lines] if lines else []


def _path(plan: VisitPlan, path: GroundPath) -> Iterator[str]:
    feet = plan.units == "us"
    length = f"{path.length / FOOT:,.0f} ft" if feet else f"{path.length:,.0f} m"
    yield (
        f"{path.name}: {path.passes} passes, {path.turns} turns, {length} of path, "
        f"{path.over:.1%} over the least; {path.time / 60:.0f} min"
    )
    yield f"    {path.push.condition}"
    yield f"    {path.hose.words}"
    yield from (f"    {door.words}" for door in path.doors if not door.within)
    if path.trim is not None:
        yield f"    {path.trim.words}"
    yield from (f"    {note}" for note in path.notes)
