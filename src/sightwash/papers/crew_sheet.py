"""The crew sheet as plain text: stop-points on top, then each wall in walking order, then what to spare."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from sightwash.basis.units import LENGTH, PRESSURE, feet_and_inches, show
from sightwash.papers.night_words import drying_words, ground_words, ticket_words, wash_water_words
from sightwash.planning.standing import Standing
from sightwash.planning.tables import PERCENT
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

WIDTH = 92
MOST_STOPS = 5


def crew_sheet(site: Site, plan: VisitPlan) -> str:
    """Return the crew sheet of a plan; every line is the plan's."""
    lines = [f"CREW SHEET   {plan.name}   {plan.on:%A %d %B %Y}", ""]
    lines += _stops(plan)
    lines += _people(site)
    lines += _told(ticket_words(plan))
    lines += _told(drying_words(plan))
    for standing in plan.standing:
        lines += _wall(site, plan, standing)
    lines += _ground(plan)
    lines += _told(ground_words(plan))
    lines += _told(wash_water_words(plan))
    lines += _spare(plan)
    lines += ["", "CAUTIONS", *(line for caution in plan.cautions if not caution.stop for line in _item(caution.words))]
    return "\n".join(lines) + "\n"


def _item(words: str, mark: str = "- ") -> list[str]:
    indent = " " * len(mark)
    return textwrap.wrap(words, WIDTH, initial_indent=mark, subsequent_indent=indent, break_on_hyphens=False)


def _stops(plan: VisitPlan) -> Iterator[str]:
    stops = [caution for caution in plan.cautions if caution.stop][:MOST_STOPS]
    yield "STOP THE NIGHT IF" if stops else "No stop-point is known for this site. Look again before you start."
    for number, caution in enumerate(stops, 1):
        yield from _item(f"{caution.words} ({', '.join(caution.about[:4])})", f"{number}. ")
    yield ""


def _people(site: Site) -> Iterator[str]:
    for contact in site.contacts:
        yield f"{contact.name}{f', {contact.role}' if contact.role else ''}: {contact.phone or 'no number noted'}"
    if site.contacts:
        yield ""


def _told(section: list[str]) -> Iterator[str]:
    """Yield a section of the night's own tables, folded to the sheet's width."""
    if section:
        yield section[0]
        for line in section[1:]:
            yield from _item(line.strip(), "    " if line.startswith(" ") else "- ")
        yield ""


def _wall(site: Site, plan: VisitPlan, standing: Standing) -> Iterator[str]:
    wall = next(wall for wall in site.walls if wall.id == standing.wall)
    yield f"{wall.name or wall.id}".upper()
    for method in plan.methods:
        if method.wall == wall.id:
            yield from _item(_method_words(plan, method.id), "   ")
    for number, spot in enumerate(standing.spots, 1):
        stretch = f"{show(spot.left, LENGTH, plan.units)} to {show(spot.right, LENGTH, plan.units)}"
        sure = {"sure": "", "likely": " (likely: watch that it arrives)"}.get(spot.verdict, " (test first)")
        words = (
            f"stand {show(spot.out, LENGTH, plan.units)} out, {show(spot.s, LENGTH, plan.units)} along: "
            f"serves {stretch}, up to {show(spot.needed, LENGTH, plan.units)}{sure}; tip {spot.tip}"
        )
        yield from _item(words, f"{number}. ")
    for look in standing.looks:
        yield from _item(f"LOOK: {look.words}", "   ")
    for words in (*standing.unreached, *standing.unseen):
        yield from _item(f"NOT DONE FROM HERE: {words}", " ! ")
    for strip in plan.missed:
        if strip.wall == wall.id:
            height = feet_and_inches(strip.top - strip.bottom, 1)
            low = show(strip.bottom, LENGTH, plan.units)
            yield from _item(
                f"missed from close by: {height} high, from {low} up, over {strip.over or 'nothing'}", "   "
            )
    yield ""


def _method_words(plan: VisitPlan, method_id: str) -> str:
    method = next(method for method in plan.methods if method.id == method_id)
    words = [f"{method.target}: {method.agent}"]
    if method.strength:
        words.append(f"{method.strength / PERCENT:.2f} %, {method.passes} x, dwell {method.dwell / 60:.0f} min wet")
    words.append(f"never above {show(method.highest_pressure, PRESSURE, plan.units)} at the tip")
    for name, tip in (("treat", method.treat), ("rinse", method.rinse), ("power rinse", method.power_rinse)):
        if tip is not None:
            words.append(f"{name} {tip.tip} {show(tip.tip_pressure, PRESSURE, plan.units)}")
    return "; ".join(words)


def _ground(plan: VisitPlan) -> Iterator[str]:
    washed = [surface for surface in plan.ground if surface.washed]
    if washed:
        yield "GROUND"
    for surface in washed:
        parts = [f"{part.how} {show(part.length, LENGTH, plan.units)}" for part in surface.parts if part.length]
        gum = [f"gum: {g.door_spots} spots at {', '.join(g.doors)} by hand" for g in surface.gum if g.door_spots]
        yield from _item("; ".join([surface.name, "surface cleaner from the doors outward", *parts, *gum]))
    if washed and not plan.water.agreed:
        yield from _item("NO AGREED PLACE FOR WASH WATER: DO NOT WASH THE GROUND", " ! ")
    yield from (line for words in plan.water.drains for line in _item(words))
    yield ""


def _spare(plan: VisitPlan) -> Iterator[str]:
    yield "SPARE"
    spared = [drift.words for drift in plan.drift if drift.reaches]
    spared += [rule.words for rule in plan.doors]
    spared += [rule.words for rule in plan.fixtures]
    for words in spared:
        yield from _item(words)
