"""Who reaches it? Standing spots and their reach, ladders, what nobody reaches, what water must spare."""

from __future__ import annotations

from collections.abc import Iterator

from sightwash.basis.units import LENGTH, SPEED, show
from sightwash.office.questions.figures import Figure, Line, by_sources, figure, said
from sightwash.office.questions.panel import Panel, Section
from sightwash.office.questions.parts import part_names
from sightwash.planning.standing import StandingSpot
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site

VERDICT_WORDS = {"sure": "sure", "likely": "likely: watch that it arrives"}


def reach_panel(site: Site, plan: VisitPlan) -> Panel:
    """Return the answer to who reaches it."""
    names = part_names(site, plan)
    decide = tuple(
        said(f"{names[standing.wall]}: {words}", standing.why, decide=True)
        for standing in plan.standing
        for words in (*standing.unreached, *standing.unseen)
    )
    sections = (
        *_walls(plan, names),
        Section("Ladders and looks", tuple(_looks(plan, names))),
        Section("What water must spare", tuple(_spared(plan))),
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
        yield Section(names[standing.wall], heads=heads, rows=rows, numbers=(1, 2, 3), note=note)


def _spot(plan: VisitPlan, number: int, spot: StandingSpot) -> tuple[str, ...]:
    along, out, needed, sure, likely, last = (
        show(value, LENGTH, plan.units) for value in (spot.s, spot.out, spot.needed, spot.sure, spot.likely, spot.last)
    )
    band = f"sure to {sure}, likely to {likely}" if spot.sure > 0 else f"likely to {likely}, last water {last}"
    return str(number), along, out, needed, band, VERDICT_WORDS.get(spot.verdict, "test it first"), spot.tip


def _looks(plan: VisitPlan, names: dict[str, str]) -> Iterator[Line]:
    for standing in plan.standing:
        for look in standing.looks:
            yield said(f"{names[standing.wall]}: {look.words}", standing.why, decide=not look.allowed)


def _spared(plan: VisitPlan) -> Iterator[Line]:
    yield from (said(drift.words, drift.why) for drift in plan.drift if drift.reaches)
    yield from (said(rule.words, rule.why) for rule in plan.doors)
    yield from (said(rule.words, rule.why) for rule in plan.fixtures)


def _cautions(plan: VisitPlan) -> Iterator[Line]:
    for caution in plan.cautions:
        start = "Stop: " if caution.stop else ""
        yield by_sources(f"{start}{caution.words}", caution.sources)
