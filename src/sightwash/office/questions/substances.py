"""With what? Methods, pressures, mixes in large type, the drying clock, where the wash water goes."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sightwash.basis.units import AREA, FLOW, LENGTH, MASS, PRESSURE, VOLUME, show
from sightwash.office.questions.figures import Figure, Line, by_sources, figure, said
from sightwash.office.questions.panel import Panel, Section
from sightwash.office.questions.parts import names_for_ids, part_names
from sightwash.office.questions.strip import Marks
from sightwash.planning.methods import SurfaceMethod
from sightwash.planning.mix_tickets import MixTicket
from sightwash.planning.tables import PERCENT
from sightwash.planning.tips import TipPoint
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


def substance_panel(site: Site, plan: VisitPlan) -> Panel:
    """Return the answer to with what."""
    names, in_names = part_names(site, plan), names_for_ids(site)
    order = {method.target: str(number) for number, method in enumerate(plan.methods, 1)}
    sections = (
        Section("Mixes", tuple(_tickets(plan, names)), large=True),
        Section(
            "Surface by surface",
            heads=("with", "where", "area", "at the wall", "stays on", "never above", "watch"),
            rows=tuple(_methods(plan, order, names)),
            numbers=(2, 3, 4, 5),
            note="The numbers are those on the strip.",
            folded=True,
            open_wide=True,
        ),
        Section("Tips", heads=_TIP_HEADS, rows=tuple(_tips(plan)), numbers=(2, 3, 4, 5), folded=True),
        Section("How long it stays wet", tuple(_drying(plan, names))),
        Section("Where the water goes", tuple(_wash_water(plan, in_names))),
        Section("To ask about the water", tuple(_water_asks(plan)), folded=True, open_wide=True),
        Section("Never together", tuple(_never(plan)), folded=True, open_wide=True),
        Section("Not on these surfaces", tuple(_wrong_surfaces(plan, in_names)), folded=True, open_wide=True),
        Section("Why these methods", tuple(_whys(plan, names)), folded=True),
    )
    caption = "A number is a surface of its own; the list below says what it gets. Tap a part for all six answers."
    marks = Marks(on_patches=order)
    shown = tuple(section for section in sections if section.lines or section.rows)
    return Panel(tuple(_figures(plan)), shown, tuple(_decide(plan)), caption, marks)


def _figures(plan: VisitPlan) -> Iterator[Figure]:
    if plan.bleach is not None:
        bleach = plan.bleach
        band = f"{bleach.low / PERCENT:.1f} to {bleach.high / PERCENT:.1f} %; a test on the day beats this"
        inputs = (("label", bleach.typed), ("age", f"{bleach.age / 86400:.0f} days"))
        yield figure("Bleach today", f"{bleach.likely / PERCENT:.1f} %", bleach.why, band, inputs)
    whys = tuple(why for mix in plan.mixes.mixes for why in mix.why)
    short = plan.mixes.short_of
    band = f"short of {show(short, VOLUME, plan.units)}" if short > 0 else ""
    yield figure("Bleach to carry", show(plan.mixes.stock, VOLUME, plan.units), whys, band, decide=short > 0)
    water = plan.water
    carried = f"{show(water.carried, VOLUME, plan.units)} carried, {water.refills} refills"
    uses = tuple((use.work, show(use.volume, VOLUME, plan.units)) for use in water.uses)
    yield figure("Water in all", show(water.total, VOLUME, plan.units), water.why, carried, uses)
    if water.neutraliser_mass > 0:
        mass = show(water.neutraliser_mass, MASS, plan.units)
        yield figure(f"{water.neutraliser.replace('-', ' ').capitalize()} to carry", mass, water.why, "at most")


def _decide(plan: VisitPlan) -> Iterator[Line]:
    yield from (said(words, decide=True) for words in (*plan.mixes.cannot, *plan.tickets.cannot))
    if not plan.drying.verdict.go:
        yield from (by_sources(reason.words, reason.sources, decide=True) for reason in plan.drying.verdict.stops)
    if not plan.water.agreed and any(surface.washed for surface in plan.ground):
        words = "No place for the wash water is agreed. The ground is not washed until there is one."
        yield said(words, plan.water.why, decide=True)


def _tickets(plan: VisitPlan, names: dict[str, str]) -> Iterator[Line]:
    for ticket in plan.tickets.tickets:
        words = f"{ticket.strength / PERCENT:.2f} % at the wall, {show(ticket.volume, VOLUME, plan.units)}"
        yield said(words, ticket.why, more=_poured(ticket, names))


def _poured(ticket: MixTicket, names: dict[str, str]) -> Iterator[str]:
    """Yield how a mix is poured and where it goes."""
    way = next((way for way in ticket.ways if way.by == ticket.chosen), None)
    if way is None:
        yield "It cannot be mixed with what is on the rig."
    else:
        times = f", {way.times} times" if way.times > 1 else ""
        steps = ", then ".join(f"{pour.what} {pour.words}" for pour in (way.each or way.last))
        yield f"By {way.by}{times}: {steps}."
        if way.each and way.last:
            yield f"The last: {', then '.join(f'{pour.what} {pour.words}' for pour in way.last)}."
    yield f"For {'; '.join(dict.fromkeys(names.get(each.target, each.target) for each in ticket.demand))}."


def _methods(plan: VisitPlan, order: dict[str, str], names: dict[str, str]) -> Iterator[tuple[str, ...]]:
    """Yield a row for each way of washing, with all surfaces that are washed so."""
    alike: dict[tuple[str, ...], list[SurfaceMethod]] = {}
    for method in plan.methods:
        alike.setdefault(_treatment(plan, method), []).append(method)
    for (what, *rest), methods in alike.items():
        where = "; ".join(f"{order[each.target]} {names.get(each.target, each.target)}" for each in methods)
        yield what, where, show(sum(each.area for each in methods), AREA, plan.units), *rest


def _treatment(plan: VisitPlan, method: SurfaceMethod) -> tuple[str, ...]:
    times = f", {method.passes} times" if method.passes > 1 else ""
    return (
        f"{method.agent}: {method.words}",
        f"{method.strength / PERCENT:.2f} %{times}" if method.strength else "none",
        f"{method.dwell / 60:.0f} min, wet" if method.dwell else "",
        show(method.highest_pressure, PRESSURE, plan.units),
        method.watch,
    )


_TIP_HEADS = ("tip", "for", "flow", "at the tip", "lost in the hose", "at the pump", "engine", "within the rig")


def _tips(plan: VisitPlan) -> Iterator[tuple[str, ...]]:
    seen: dict[tuple[str, str, int], TipPoint] = {}
    for tip in (*(t for m in plan.methods for t in (m.treat, m.rinse, m.power_rinse)), *plan.water.tips):
        if tip is not None:
            seen.setdefault((tip.tip, tip.use, round(tip.tip_pressure)), tip)
    for tip in seen.values():
        pressures = (show(p, PRESSURE, plan.units) for p in (tip.tip_pressure, tip.hose_loss, tip.pump_pressure))
        within = "yes" if tip.within else "no: test it first"
        yield tip.tip, tip.use, show(tip.flow, FLOW, plan.units), *pressures, f"{tip.engine_speed:.0%}", within


def _drying(plan: VisitPlan, names: dict[str, str]) -> Iterator[Line]:
    clock = plan.drying
    yield said(clock.verdict.words)
    yield from (by_sources(f"Look at: {reason.words}", reason.sources) for reason in clock.verdict.asks)
    for turn in clock.order:
        long = show(turn.section, LENGTH, plan.units)
        sections = "one section" if turn.sections == 1 else f"{turn.sections} sections of up to {long}"
        words = f"{turn.starts:%H:%M} to {turn.ends:%H:%M}, {names.get(turn.wall, turn.wall)}: {sections}; {turn.words}"
        yield said(words, turn.why, decide=not turn.fits)
    if clock.walk is not None:
        yield said(f"Walk: {clock.walk.words}", clock.walk.why)
    yield from (said(words) for words in clock.notes)


def _wash_water(plan: VisitPlan, in_names: Callable[[str], str]) -> Iterator[Line]:
    wash = plan.wash_water
    if wash.applied <= 0:
        return
    shares = (
        ("applied", wash.applied), ("evaporated", wash.evaporated), ("absorbed", wash.absorbed),
        ("to planting", wash.to_planting), ("captured", wash.captured), ("to drains", wash.to_drains),
    )  # fmt: skip
    words = ", ".join(f"{name} {show(volume, VOLUME, plan.units)}" for name, volume in shares)
    yield said(f"{words[0].upper()}{words[1:]}.", wash.why)
    yield from (said(in_names(f"{drain.drain}: {drain.words}")) for drain in wash.drains)
    yield from (said(in_names(f"{plant.plant}: {plant.words}")) for plant in wash.planting)
    yield from (said(in_names(f"{measure.what}: {measure.words}")) for measure in wash.measures)
    if wash.dose_words:
        yield said(f"Neutraliser: {wash.dose_words}")
    yield said(f"Agreed: {wash.allowed}" if wash.allowed else "Nothing is agreed; nothing may run off until it is.")


def _water_asks(plan: VisitPlan) -> Iterator[Line]:
    for each in plan.wash_water.questions if plan.wash_water.applied > 0 else ():
        yield by_sources(f"Ask {each.ask}: {each.question}", each.sources)


def _never(plan: VisitPlan) -> Iterator[Line]:
    yield from (said(f"{pair.what}: {pair.words}") for pair in plan.tickets.incompatible)


def _wrong_surfaces(plan: VisitPlan, in_names: Callable[[str], str]) -> Iterator[Line]:
    for wrong in plan.tickets.wrong_surfaces:
        where, why_not = in_names(", ".join(wrong.where)), wrong.why_not.rstrip(".")
        yield said(f"{wrong.material} at {where}: {why_not}. Instead: {wrong.instead.rstrip('.')}.")


def _whys(plan: VisitPlan, names: dict[str, str]) -> Iterator[Line]:
    for method in plan.methods:
        yield said(names.get(method.target, method.target), method.why)
