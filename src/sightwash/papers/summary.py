"""A plan as plain text tables, for the terminal: what is seen, what is done, how long, what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from sightwash.basis.units import AREA, FLOW, FOOT, LENGTH, MASS, PRESSURE, VOLUME, show
from sightwash.papers.night_words import drying_words, ground_words, ticket_words, wash_water_words
from sightwash.planning.missed import MissedStrip
from sightwash.planning.tables import PERCENT
from sightwash.planning.tips import TipPoint
from sightwash.planning.visit import VisitPlan

WIDTH = 100


def summary(plan: VisitPlan) -> str:
    """Return the whole plan as text."""
    parts = [
        _heading(plan),
        _sight(plan),
        _missed(plan),
        _walls(plan),
        _ground(plan),
        _mixes(plan),
        _tips(plan),
        _standing(plan),
        _spared(plan),
        ticket_words(plan),
        drying_words(plan),
        wash_water_words(plan),
        ground_words(plan),
        _hours(plan),
        _price(plan),
        _offers(plan),
        _cautions(plan),
        _gaps(plan),
    ]
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> list[str]:
    """Return aligned columns under a rule; columns in ``right`` are set flush right."""
    widths = [max(len(row[i]) for row in (heads, *rows)) for i in range(len(heads))]

    def line(cells: Sequence[str]) -> str:
        set_cells = [
            c.rjust(w) if i in right else c.ljust(w) for i, (c, w) in enumerate(zip(cells, widths, strict=True))
        ]
        return "  ".join(set_cells).rstrip()

    return [line(heads), "  ".join("-" * width for width in widths), *(line(row) for row in rows)]


def money(amount: Decimal, currency: str) -> str:
    """Return an amount with its currency and thousands marked."""
    return f"{amount:,.2f} {currency}"


def _heading(plan: VisitPlan) -> list[str]:
    price = plan.price
    hours = plan.hours
    first = (
        f"Price {money(price.price, price.currency)} before tax, {money(price.total, price.currency)} with tax;"
        f" {hours.labour_p50 / 3600:.1f} labour hours (8 of 10 nights under {hours.labour_p80 / 3600:.1f}),"
        f" about {hours.elapsed_p50 / 3600:.1f} h on site with {hours.people} people."
    )
    return [f"{plan.name}: visit on {plan.on:%A %d %B %Y}", first]


def _sight(plan: VisitPlan) -> list[str]:
    rows = [
        [
            s.wall,
            *(show(a, AREA, plan.units) for a in (s.area, s.covered_area, s.public_area, s.crew_area, s.missed_area)),
        ]
        for s in plan.sight
    ]
    return [
        "WHO SEES IT?",
        *table(("wall", "area", "covered", "public sees", "crew sees", "missed"), rows, range(1, 6)),
    ]


def _missed(plan: VisitPlan) -> list[str]:
    lines: list[str] = []
    for strip in plan.missed:
        lines.append(
            f"{strip.id}: {show(strip.bottom, LENGTH, plan.units)} to {show(strip.top, LENGTH, plan.units)} up, "
            f"{show(strip.right - strip.left, LENGTH, plan.units)} long, over {strip.over or 'nothing of its own'}; "
            f"seen by {_noticed(strip)}"
        )
        lines += [f"    {remedy.words}" for remedy in strip.remedies]
    lines += [
        f"{line.patch}: {line.missed / line.public:.0%} of what the public sees of it is missed from close by"
        for line in plan.soiled_and_missed
        if line.public > 0 and line.missed > 0.02 * line.public
    ]
    return ["MISSED BEFORE PLANNING", *lines] if lines else []


def _noticed(strip: MissedStrip) -> str:
    """Return who notices a strip, the most first, with the time in view."""
    return (
        ", ".join(f"{n.eye} ({n.seconds:.0f} s in view)" for n in strip.notices) or "everyone: no public eye is given"
    )


def _walls(plan: VisitPlan) -> list[str]:
    rows = [
        [
            m.target,
            show(m.area, AREA, plan.units),
            m.agent,
            f"{m.strength / PERCENT:.2f} %" if m.strength else "-",
            str(m.passes),
            f"{m.dwell / 60:.0f} min" if m.dwell else "-",
            show(m.highest_pressure, PRESSURE, plan.units),
            _tip(m.treat),
            _tip(m.rinse),
            _tip(m.power_rinse),
        ]
        for m in plan.methods
    ]
    heads = ("surface", "area", "agent", "at wall", "times", "dwell", "highest", "treat", "rinse", "power rinse")
    return ["WITH WHAT? (walls)", *table(heads, rows, (1, 3, 4, 5, 6))] if rows else []


def _tip(tip: TipPoint | None) -> str:
    return "-" if tip is None else f"{tip.tip}{'' if tip.within else ' (?)'}"


def _ground(plan: VisitPlan) -> list[str]:
    rows: list[list[str]] = []
    for surface in plan.ground:
        if not surface.washed:
            rows.append([surface.surface, "not washed", show(surface.area, AREA, plan.units), ""])
        for part in surface.parts:
            length = show(part.length, LENGTH, plan.units) if part.length else ""
            rows.append([surface.surface, part.how, show(part.area, AREA, plan.units), length])
        rows += [
            [surface.surface, f"gum: {gum.open_spots:.0f} in the open, {gum.door_spots} at doors by hand", "", ""]
            for gum in surface.gum
        ]
    return ["WITH WHAT? (ground)", *table(("surface", "how", "area", "length"), rows, (2, 3))] if rows else []


def _mixes(plan: VisitPlan) -> list[str]:
    lines: list[str] = []
    if plan.bleach is not None:
        b = plan.bleach
        lines.append(
            f"Bleach labelled {b.typed}, {b.age / 86400:.0f} days old: {b.likely / PERCENT:.1f} % today "
            f"({b.low / PERCENT:.1f} to {b.high / PERCENT:.1f}); a test on the day beats this."
        )
    rows = [
        [
            f"{m.strength / PERCENT:.2f} %",
            *(show(v, VOLUME, plan.units) for v in (m.volume, m.stock, m.water)),
            f"{m.surfactant / 3.785411784 * 128:.0f} fl oz" if plan.units == "us" else f"{m.surfactant * 1000:.0f} mL",
            m.by,
            f"{m.strength_low / PERCENT:.2f} to {m.strength_high / PERCENT:.2f} %",
        ]
        for m in plan.mixes.mixes
    ]
    if rows:
        lines += table(("mix", "volume", "bleach", "water", "surfactant", "by", "may come out"), rows, (0, 1, 2, 3, 4))
    lines += [f"Cannot: {words}" for words in plan.mixes.cannot]
    if plan.mixes.short_of > 0:
        lines.append(f"Short of {show(plan.mixes.short_of, VOLUME, plan.units)} of bleach.")
    return ["MIXES", *lines] if lines else []


def _tips(plan: VisitPlan) -> list[str]:
    seen: dict[tuple[str, str, int], TipPoint] = {}
    for tip in (*(t for m in plan.methods for t in (m.treat, m.rinse, m.power_rinse)), *plan.water.tips):
        if tip is not None:
            seen.setdefault((tip.tip, tip.use, round(tip.tip_pressure)), tip)
    rows = [
        [
            tip.tip,
            tip.use,
            f"{tip.engine_speed:.0%}",
            show(tip.flow, FLOW, plan.units),
            *(show(p, PRESSURE, plan.units) for p in (tip.tip_pressure, tip.hose_loss, tip.pump_pressure)),
        ]
        for tip in seen.values()
    ]
    w = plan.water
    lines = (
        table(("tip", "use", "engine", "flow", "at tip", "lost in hose", "at pump"), rows, range(2, 7)) if rows else []
    )
    lines.append(
        f"Water in all {show(w.total, VOLUME, plan.units)}, {show(w.carried, VOLUME, plan.units)} carried, "
        f"{w.refills} refills; "
        f"{w.neutraliser} to carry {show(w.neutraliser_mass, MASS, plan.units)} at most."
    )
    lines += list(w.drains)
    lines.append(
        w.discharge if w.discharge else "No agreed place for wash water: the ground is not washed until there is one."
    )
    return ["WATER", *lines]


def _standing(plan: VisitPlan) -> list[str]:
    rows = [
        [
            spot.id,
            show(spot.s, LENGTH, plan.units),
            show(spot.out, LENGTH, plan.units),
            show(spot.needed, LENGTH, plan.units),
            *(show(v, LENGTH, plan.units) for v in (spot.sure, spot.likely, spot.last)),
            spot.verdict,
            spot.tip,
        ]
        for standing in plan.standing
        for spot in standing.spots
    ]
    heads = ("spot", "along", "out", "must reach", "sure", "likely", "last water", "verdict", "tip")
    lines = table(heads, rows, range(1, 7)) if rows else []
    for standing in plan.standing:
        lines += [f"{standing.wall}: {look.words}" for look in standing.looks]
        lines += [f"{standing.wall}: {words}" for words in (*standing.unreached, *standing.unseen)]
        if standing.spots or standing.looks:
            gap = "the least possible" if standing.gap == 0 else f"within {standing.gap:.1%} of the least"
            lines.append(f"{standing.wall}: {standing.seconds / 60:.0f} min of moving and looking, {gap}")
    return ["WHO REACHES IT?", *lines] if lines else []


def _spared(plan: VisitPlan) -> list[str]:
    lines = [drift.words for drift in plan.drift if drift.reaches]
    lines += [rule.words for rule in plan.doors]
    lines += [rule.words for rule in plan.fixtures]
    return ["WHAT WATER MUST SPARE", *lines] if lines else []


def _hours(plan: VisitPlan) -> list[str]:
    rows = [
        [
            t.words,
            t.part,
            _quantity(t.quantity, t.unit),
            f"{t.low / 3600:.2f}",
            f"{t.usual / 3600:.2f}",
            f"{t.high / 3600:.2f}",
            str(t.workers),
            "yours to replace" if t.starting_rate else "your own",
        ]
        for t in plan.hours.tasks
    ]
    h = plan.hours
    heads = ("task", "where", "quantity", "low h", "usual h", "high h", "people", "rate")
    levels = ", ".join(f"{name} {value / 3600:.1f}" for name, value in _levels(plan))
    return ["HOW LONG?", *table(heads, rows, range(2, 7)), f"Labour hours: {levels} (mean {h.labour_mean / 3600:.1f})."]


def _levels(plan: VisitPlan) -> Iterator[tuple[str, float]]:
    h = plan.hours
    yield from (("P10", h.labour_p10), ("P50", h.labour_p50), ("P80", h.labour_p80), ("P95", h.labour_p95))


def _quantity(quantity: float, unit: str) -> str:
    return f"{quantity:,.0f}" + ("" if unit == "1" else f" {unit}")


def _price(plan: VisitPlan) -> list[str]:
    p = plan.price
    rows = [[line.words, line.quantity, f"{line.rate:,.2f}", f"{line.amount:,.2f}"] for line in p.costs]
    rows += [
        ["cost", "", "", f"{p.cost:,.2f}"],
        [f"margin {p.margin} and rounding", "", "", f"{p.margin_amount:,.2f}"],
        ["PRICE", "", "", f"{p.price:,.2f}"],
        *([tax.name, tax.rate, "", f"{tax.amount:,.2f}"] for tax in p.taxes),
        ["TOTAL", "", "", f"{p.total:,.2f}"],
    ]
    spread = (
        f"Were the night quick or slow (P10, P95 hours), the price would be {p.price_low:,.2f} or {p.price_high:,.2f}; "
        f"chance that the cost exceeds the price: {p.chance_of_loss:.1%}."
    )
    scope = [[line.words, f"{line.amount:,.2f}"] for line in p.scope]
    return [
        f"WHAT DOES IT COST? ({p.currency})",
        *table(("cost", "quantity", "rate", "amount"), rows, (1, 2, 3)),
        spread,
        "",
        *table(("scope", "price"), scope, (1,)),
    ]


def _offers(plan: VisitPlan) -> list[str]:
    lines = [
        f"+ {a.words}: {money(a.price, plan.price.currency)} ({_offered(a.quantity, a.unit, plan.units)})"
        for a in plan.add_ons
    ]
    lines += [f"- {exclusion.words}" for exclusion in plan.exclusions]
    return ["OFFERED BESIDE, AND NOT INCLUDED", *lines] if lines else []


def _offered(quantity: float, unit: str, system: str) -> str:
    if unit == "m":
        return f"{quantity / FOOT:.0f} ft" if system == "us" else f"{quantity:.0f} m"
    return show(quantity, AREA, system) if unit == "m2" else f"{quantity:.0f}"


def _cautions(plan: VisitPlan) -> list[str]:
    lines = [f"{'STOP ' if caution.stop else '  -  '}{caution.words}" for caution in plan.cautions]
    return ["CAUTIONS", *lines]


def _gaps(plan: VisitPlan) -> list[str]:
    lines = [
        f"{gap.key}: {gap.missing}; changes {gap.changes}; taken: {gap.taken}" for gap in plan.gaps if not gap.safety
    ]
    return ["NOT KNOWN YET", *lines] if lines else []
