"""Who reaches it? Standing spots and their reach, ladders, what nobody reaches, what water must spare."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sightwash.basis.units import LENGTH, SPEED, show
from sightwash.office.questions.figures import Figure, Line, by_sources, figure, said
from sightwash.office.questions.panel import Panel, Section
from sightwash.office.questions.parts import names_for_ids, part_names
from sightwash.planning.standing import LookSpot, StandingSpot
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

VERDICT_WORDS = {"sure": "sure", "likely": "likely: watch that it arrives"}


def reach_panel(site: Site, plan: VisitPlan) -> Panel:
    """Return the answer to who reaches it."""
    names, in_names = part_names(site, plan), names_for_ids(site)
    decide = tuple(
        said(f"{names[standing.wall]}: {words}", standing.why, decide=True)
        for standing in plan.standing
        for words in (*standing.unreached, *standing.unseen)
    )
    sections = (
        *_walls(plan, names),
        Section("Ladders and looks", tuple(_looks(plan, names))),
        Section("Where drops drift", tuple(_drift(plan, in_names)), folded=True, open_wide=True),
        Section("Doors and fixtures to spare", tuple(_spared(plan, in_names)), folded=True, open_wide=True),
        Section("Cautions", tuple(_cautions(plan))),
    )
    caption = (
        "Numbered discs are places to stand, with the stretch of wall that each serves below. "
        "Tap a part of the wall for all six answers about it."
    )
    return Panel(tuple(_figures(plan)), tuple(s for s in sections if s.lines or s.rows), decide, caption)


def _figures(plan: VisitPlan) -> Iterator[Figure]:
    spots = [spot for standing in plan.standing for spot in standing.spots]
    looks = [look for standing in plan.standing for look in standing.looks]
    ladders = sum(look.kind == "ladder" for look in looks)
    whys = tuple(standing.why for standing in plan.standing)
    minutes = sum(standing.seconds for standing in plan.standing) / 60
    inputs = (("wind", show(plan.air.wind, SPEED, plan.units)), ("walls planned", str(len(plan.standing))))
    yield figure("Places to stand", str(len(spots)), whys, f"{minutes:.0f} min of moving and looking", inputs)
    sure = sum(spot.verdict == "sure" for spot in spots)
    likely = sum(spot.verdict == "likely" for spot in spots)
    rest = len(spots) - sure - likely
    band = f"{likely} likely, {rest} to be tested first" if spots else ""
    reach_whys = tuple({spot.why.sources: spot.why for spot in spots}.values())
    yield figure("Reach that is sure", f"{sure} of {len(spots)}", reach_whys, band, decide=rest > 0)
    yield figure("Places for a ladder", str(ladders), whys, f"{len(looks)} places to look from in all")


def _walls(plan: VisitPlan, names: dict[str, str]) -> Iterator[Section]:
    heads = ("", "along", "out", "must reach", "reach", "how sure", "tip")
    for standing in plan.standing:
        rows = tuple(_spot(plan, number, spot) for number, spot in enumerate(standing.spots, 1))
        note = "" if standing.gap == 0 else f"Moving and looking is within {standing.gap:.1%} of the least possible."
        count = f"{len(rows)} {'place' if len(rows) == 1 else 'places'}"
        yield Section(
            f"{names[standing.wall]}: {count}", heads=heads, rows=rows, numbers=(1, 2, 3), note=note, folded=True,
            open_wide=True,
        )  # fmt: skip


def _spot(plan: VisitPlan, number: int, spot: StandingSpot) -> tuple[str, ...]:
    along, out, needed, sure, likely, last = (
        show(value, LENGTH, plan.units) for value in (spot.s, spot.out, spot.needed, spot.sure, spot.likely, spot.last)
    )
    band = f"sure to {sure}, likely to {likely}" if spot.sure > 0 else f"likely to {likely}, last water {last}"
    return str(number), along, out, needed, band, VERDICT_WORDS.get(spot.verdict, "test it first"), spot.tip


def _looks(plan: VisitPlan, names: dict[str, str]) -> Iterator[Line]:
    """Yield what is looked at from where; places that say the same stand in one line, with where they are."""
    for standing in plan.standing:
        alike: dict[tuple[str, bool], list[LookSpot]] = {}
        for look in standing.looks:
            alike.setdefault((look.words, look.allowed), []).append(look)
        for (words, allowed), looks in alike.items():
            along = ", ".join(show(look.s, LENGTH, plan.units) for look in looks)
            at = f"at {along} along" if len(looks) == 1 else f"{len(looks)} places, at {along} along"
            yield said(f"{names[standing.wall]}, {at}: {words}", standing.why, decide=not allowed)


def _drift(plan: VisitPlan, in_names: Callable[[str], str]) -> Iterator[Line]:
    yield from (said(in_names(drift.words), drift.why) for drift in plan.drift if drift.reaches)


def _spared(plan: VisitPlan, in_names: Callable[[str], str]) -> Iterator[Line]:
    yield from (said(in_names(rule.words), rule.why) for rule in plan.doors)
    yield from (said(in_names(rule.words), rule.why) for rule in plan.fixtures)


def _cautions(plan: VisitPlan) -> Iterator[Line]:
    for caution in plan.cautions:
        start = "Stop: " if caution.stop else ""
        yield by_sources(f"{start}{caution.words}", caution.sources)
