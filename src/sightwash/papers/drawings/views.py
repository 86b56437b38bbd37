"""What a site and its plan say of each wall, gathered for drawing, and the words for it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sightwash.basis.errors import InputError, Problem
from sightwash.papers.drawings.lettering import band_words, far_words, length_words, plain_words
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.missed import MissedStrip, Remedy
from sightwash.planning.sight import WallSight
from sightwash.planning.standing import LookSpot, Standing
from sightwash.planning.takeoff import WallPatch, WallTakeoff
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site
from sightwash.site.shapes import PlacedWall, placed_walls
from sightwash.site.walls import Wall

SAME_CORNER: Final = 0.3
"""Two walls whose ends are nearer than this meet at a corner [m]."""


@dataclass(frozen=True, slots=True)
class StripView:
    """A missed strip with its letter, the planned places to look at it from, and whether some stays unseen."""

    letter: str
    strip: MissedStrip
    looks: tuple[LookSpot, ...]
    open: bool


@dataclass(frozen=True, slots=True, eq=False)
class WallView:
    """One wall with everything that a drawing of it shows.

    ``sight_known`` is False where the wall has no place in the plan from which eyes could see it.
    """

    placed: PlacedWall
    sight: WallSight
    takeoff: WallTakeoff
    by_hand: tuple[WallPatch, ...]
    strips: tuple[StripView, ...]
    standing: Standing | None
    sight_known: bool

    @property
    def wall(self) -> Wall:
        """The wall as it was measured."""
        return self.placed.wall

    @property
    def name(self) -> str:
        """The wall's name, or its id."""
        return plain_words(self.wall.name or "") or self.wall.id


def wall_views(site: Site, plan: VisitPlan) -> tuple[WallView, ...]:
    """Return every wall of a plan, in the site's order."""
    sights = {sight.wall: sight for sight in plan.sight}
    takeoffs = {takeoff.wall: takeoff for takeoff in plan.walls}
    standings = {standing.wall: standing for standing in plan.standing}
    hands = {method.target for method in plan.methods if is_hand_work(method)}
    return tuple(
        WallView(
            placed,
            sights[placed.wall.id],
            takeoffs[placed.wall.id],
            tuple(patch for patch in takeoffs[placed.wall.id].patches if patch.id in hands),
            tuple(_strips(plan, placed.wall.id)),
            standings.get(placed.wall.id),
            placed.measured_place or all(eye.kind == "crew" for eye in site.eyes),
        )
        for placed in placed_walls(site)
    )


def _strips(plan: VisitPlan, wall_id: str) -> Iterator[StripView]:
    letters = strip_letters(plan)
    standing = next((each for each in plan.standing if each.wall == wall_id), None)
    for strip in plan.missed:
        if strip.wall == wall_id:
            looks = tuple(look for look in standing.looks if strip.id in looked_at(look)) if standing else ()
            unseen = standing is not None and strip.id in standing.open_strips
            yield StripView(letters[strip.id], strip, looks, unseen or not any(look.allowed for look in looks))


def looked_at(look: LookSpot) -> list[str]:
    """Return the ids of the strips that a look spot shows some of."""
    return sorted({look.strip, *(piece.split("/")[0] for piece in look.covers)})


def look_letters(view: WallView, look: LookSpot) -> str:
    """Return the letters of the strips that a look spot shows some of."""
    seen = looked_at(look)
    return ", ".join(strip.letter for strip in view.strips if strip.strip.id in seen)


def place_words(view: WallView, look: LookSpot, units: str) -> str:
    """Return the letters of what a place shows and where it is; of a ladder for hand work alone, only that."""
    letters = look_letters(view, look)
    if letters:
        return f"{letters}: {short_look(look, units)}"
    return short_look(look, units).replace("look from a ladder", "hand work from a ladder")


def short_look(look: LookSpot, units: str) -> str:
    """Return a planned place to look from in a few words."""
    out = far_words(look.out, units)
    if look.kind == "ladder":
        return f"look from a ladder {out} out, step at {length_words(look.step, units)}"
    if look.kind == "eye point":
        return f"look from a public eye {out} back" if look.out > 0.0 else "look from a public eye"
    return f"look from {out} back"


def is_hand_work(method: SurfaceMethod) -> bool:
    """Whether a method throws nothing at the wall but a rinse: brushed, lifted or cleaned by hand."""
    return method.strength <= 0.0 and method.power_rinse is None


def strip_letters(plan: VisitPlan) -> dict[str, str]:
    """Return a letter for every missed strip, by its id: A to Z, then AA."""
    return {strip.id: _letter(index) for index, strip in enumerate(plan.missed)}


def _letter(index: int) -> str:
    rest, last = divmod(index, 26)
    return (_letter(rest - 1) if rest else "") + chr(ord("A") + last)


def wall_view(site: Site, plan: VisitPlan, wall_id: str) -> WallView:
    """Return one wall of a plan; InputError if the plan holds no such wall."""
    views = {view.wall.id: view for view in wall_views(site, plan)}
    if wall_id not in views:
        raise _unknown("wall", wall_id, tuple(views))
    return views[wall_id]


def strip_view(site: Site, plan: VisitPlan, strip_id: str) -> tuple[WallView, StripView]:
    """Return one missed strip with its wall; InputError if the plan holds no such strip."""
    for view in wall_views(site, plan):
        for strip in view.strips:
            if strip.strip.id == strip_id:
                return view, strip
    raise _unknown("missed strip", strip_id, tuple(strip.id for strip in plan.missed))


def _unknown(what: str, given: str, known: tuple[str, ...]) -> InputError:
    names = ", ".join(known) or "none"
    return InputError(
        Problem("unknown-id", f"the plan has no {what} {given!r}", expected=f"one of: {names}", fix="give one of these")
    )


def size_words(view: WallView, units: str) -> str:
    """Return a wall's length and height in words."""
    tops = sorted({round(z, 3) for _, z in view.placed.outline.exterior.coords[:-1]} - {0.0})
    rise = round(view.placed.ground_at(view.placed.length), 3)
    heights = [top for top in tops if top != rise] or tops
    words = length_words(heights[0], units)
    if len(heights) > 1:
        words += f" to {length_words(heights[-1], units)}"
    return f"{length_words(view.placed.length, units)} long, {words} high"


def strip_height_words(view: WallView, strip: MissedStrip, units: str) -> str:
    """Return how high a strip is and how far above the ground before it: ``61 in high, from 10 ft 8 in up``."""
    ground = view.placed.ground_at((strip.left + strip.right) / 2)
    up = length_words(strip.bottom - ground, units)
    return f"{band_words(strip.top - strip.bottom, units)} high, from {up} up"


def look_words(strip: StripView, units: str) -> str:
    """Return the planned places to look at a strip from in a few words, or that there is none."""
    if not strip.looks:
        return "no allowed place to look from"
    words = list(dict.fromkeys(short_look(look, units) for look in strip.looks))
    more = f" and {len(words) - 2} more" if len(words) > 2 else ""
    return ", ".join(words[:2]) + more + (", some stays unseen" if strip.open else "")


def short_remedy(remedy: Remedy, units: str) -> str:
    """Return one remedy in a few words."""
    if remedy.kind == "ladder":
        words = f"ladder, step at {length_words(remedy.step, units)}"
    else:
        share = "all" if remedy.share >= 1.0 else f"{remedy.share:.0%}"
        words = f"{length_words(remedy.distance, units)} back: {share}"
    return words if remedy.allowed else f"{words} (not allowed)"


def walking_order(views: tuple[WallView, ...]) -> tuple[tuple[WallView, ...], ...]:
    """Return the walls as runs that meet at their corners, each run in the order in which one walks along it."""
    left = list(views)
    runs: list[tuple[WallView, ...]] = []
    while left:
        run = [left.pop(0)]
        while (after := _meeting(run[-1], left)) is not None:
            run.append(after)
            left.remove(after)
        while not _meets(run[-1], run[0]) and (before := _meeting(run[0], left, backwards=True)) is not None:
            run.insert(0, before)
            left.remove(before)
        runs.append(tuple(run))
    return tuple(runs)


def _meets(first: WallView, second: WallView) -> bool:
    measured = first.placed.measured_place and second.placed.measured_place
    return measured and math.dist(first.placed.end, second.placed.start) <= SAME_CORNER


def _meeting(view: WallView, others: list[WallView], backwards: bool = False) -> WallView | None:
    """Return the wall that begins where this one ends, or ends where it begins."""
    pairs = ((other, _meets(other, view) if backwards else _meets(view, other)) for other in others)
    return next((other for other, meets in pairs if meets), None)
