"""What does it cost? One price first; what it is made of, its spread and the chance of loss behind it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from sightwash.office.bridge.offers import scope_words
from sightwash.office.questions.figures import Figure, Line, figure, said
from sightwash.office.questions.panel import Panel, Section
from sightwash.office.questions.parts import part_names
from sightwash.office.questions.strip import Marks
from sightwash.papers.drawings.money import chance_drawing, chance_words, money_drawing
from sightwash.papers.offers import offered_quantity
from sightwash.planning.night import NightPlan
from sightwash.planning.options import Option
from sightwash.planning.visit import VisitPlan
from sightwash.site.model import Site


def money(amount: Decimal, currency: str) -> str:
    """Return an amount with its currency, thousands marked."""
    return f"{amount:,.2f} {currency}"


def cost_panel(site: Site, plan: VisitPlan) -> Panel:
    """Return the answer to what it costs."""
    price = plan.price
    names = part_names(site, plan)
    marks = Marks(on_parts={each.part: f"{each.amount:,.0f}" for each in price.scope})
    lines = tuple((c.words, c.quantity, f"{c.rate:,.2f}", f"{c.amount:,.2f}") for c in price.costs)
    sums = (
        ("cost", "", "", f"{price.cost:,.2f}"),
        (f"margin {price.margin} and rounding", "", "", f"{price.margin_amount:,.2f}"),
        ("price before tax", "", "", f"{price.price:,.2f}"),
        *((tax.name, tax.rate, "", f"{tax.amount:,.2f}") for tax in price.taxes),
        ("price with tax", "", "", f"{price.total:,.2f}"),
    )
    scope = tuple((names.get(each.part, each.words), f"{each.amount:,.2f}") for each in price.scope)
    extras = tuple((e.words, offered_quantity(e.quantity, e.unit, plan.units), f"{e.price:,.2f}") for e in plan.add_ons)
    sections = (
        Section("Part by part", heads=("part", f"price, {price.currency}"), rows=scope, numbers=(1,)),
        Section(
            "What it is made of", heads=("", "quantity", "rate", "amount"), rows=(*lines, *sums), numbers=(1, 2, 3)
        ),
        Section("Offered beside it", heads=("", "quantity", "price"), rows=extras, numbers=(1, 2)),
        Section("Not in it", tuple(said(each.words, each.why) for each in plan.exclusions)),
        Section("Not known yet", tuple(_gaps(plan)), folded=True),
    )
    caption = f"The price before tax of each wall, {price.currency}. Tap a part for all six answers."
    shown = tuple(section for section in sections if section.lines or section.rows)
    return Panel(tuple(_figures(plan)), shown, tuple(_decide(plan)), caption, marks)


def _figures(plan: VisitPlan) -> Iterator[Figure]:
    price = plan.price
    inputs = (
        ("cost", money(price.cost, price.currency)),
        ("margin of the price", price.margin),
        ("the same as a markup on cost", price.markup),
    )
    with_tax = f"{money(price.total, price.currency)} with tax" if price.taxes else "no tax"
    yield figure("Price before tax", money(price.price, price.currency), price.why, with_tax, inputs)
    spread = f"{price.price_low:,.2f} to {price.price_high:,.2f}"
    whys = (*price.why, plan.hours.why)
    yield figure("Were the night quick or slow", spread, whys, "P10 and P95 of the hours, all else as planned")
    parts = (
        ("expected cost, without what is set aside", money(price.expected_cost, price.currency)),
        ("of which goes with the hours", money(price.by_hours, price.currency)),
    )
    words = "Chance that the cost exceeds the price"
    yield figure(words, chance_words(price.chance_of_loss), whys, "", parts, decide=price.chance_of_loss > 0.2)


def _decide(plan: VisitPlan) -> Iterator[Line]:
    if plan.price.minimum_applied:
        yield said("The work alone would cost less than your minimum charge; the minimum is asked.", decide=True)


def _gaps(plan: VisitPlan) -> Iterator[Line]:
    for gap in plan.gaps:
        yield said(f"{gap.key}: {gap.missing}. It changes {gap.changes}. Taken: {gap.taken}.")


def options_table(options: tuple[Option, ...]) -> Section:
    """Return the options side by side: a row for each scope, a column for each number of visits a year."""
    scopes = list(dict.fromkeys(each.scope for each in options))
    counts = sorted({each.visits_a_year for each in options})
    by_place = {(each.scope, each.visits_a_year): each for each in options}
    heads = ["what", "first visit"]
    for count in counts[1:]:
        heads += [f"{count} a year: each later", f"{count} a year: in all"]
    rows = []
    for scope in scopes:
        once = by_place[scope, counts[0]]
        row = [scope_words(scope), f"{once.visits[0]:,.2f}"]
        for count in counts[1:]:
            each = by_place.get((scope, count))
            row += ["", ""] if each is None else [f"{each.visits[-1]:,.2f}", f"{each.year:,.2f}"]
        rows.append(tuple(row))
    note = f"As planned: {options[0].words.partition(': ')[2]}." if options else ""
    return Section("Options", heads=tuple(heads), rows=tuple(rows), numbers=tuple(range(1, len(heads))), note=note)


def option_sections(plan: VisitPlan, night: NightPlan) -> tuple[Section, ...]:
    """Return the options, other prices with their chance of loss, and what a discount costs."""
    step = max(len(night.chances) // 9, 1)
    chances = tuple(
        (f"{c.price:,.2f}", f"{c.profit:,.2f}", f"{c.margin:.1%}", chance_words(c.chance_of_loss))
        for place, c in enumerate(night.chances)
        if place % step == 0 or c.price == plan.price.price
    )
    discounts = tuple(
        (
            f"{each.discount:.0%}",
            f"{each.given:,.2f}",
            "all and more" if each.profit_lost is None else f"{each.profit_lost:.0%}",
            "cannot" if each.more_work is None else f"{each.more_work:.0%} more work",
            chance_words(each.chance_of_loss),
        )
        for each in night.discounts
    )
    whys = tuple({why.rule: why for each in night.options for why in each.why}.values())
    return (
        options_table(night.options),
        Section("Another price", heads=("price", "left over", "margin", "chance of loss"), rows=chances,
                numbers=(0, 1, 2, 3), folded=True),
        Section("A discount", heads=("discount", "gives away", "of the profit", "made up by", "chance of loss"),
                rows=discounts, numbers=(0, 1, 2, 4), folded=True),
        Section("Why these options", tuple(said(why.rule.capitalize(), why) for why in whys), folded=True),
    )  # fmt: skip


def money_drawings(plan: VisitPlan, night: NightPlan) -> tuple[str, str]:
    """Return where the money goes, and the price against the chance of loss, as drawings."""
    return money_drawing(night.shares, plan.price.currency), chance_drawing(plan.price, night.chances)
