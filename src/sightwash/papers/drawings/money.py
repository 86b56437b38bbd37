"""Two small charts of a price: where the money goes, and the price against the chance of losing money."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.papers.drawings.canvas import (
    GREY,
    HAIR,
    LIGHT,
    PALE,
    PAPER,
    THIN,
    Canvas,
    Pen,
    Point,
    box,
    disc,
    group,
    line,
    write,
)
from sightwash.papers.drawings.lettering import HEADING, SMALL, fitted
from sightwash.planning.price import Price
from sightwash.planning.price_risk import MoneyShare, PriceChance

WIDTH: Final = 460.0
TAPE: Final = 22.0
"""Height of the tape of money [pt]."""
ROW: Final = 11.0
FILLS: Final = (PAPER, PALE, LIGHT)
LEAST_NUMBER: Final = 10.0
PLOT: Final = (46.0, 40.0, 400.0, 150.0)
"""Left, top, width and height of the plot [pt]."""


def money_drawing(shares: Sequence[MoneyShare], currency: str) -> str:
    """Return where a price goes: a tape as long as the price, cut into its parts, each named below with its share.

    Parts that are too small for a number on the tape carry a tick above it; their number stands in the list.
    """
    top, left, room = 40.0, 6.0, WIDTH - 12.0
    height = top + TAPE + 26.0 + ROW * len(shares) + 8.0
    whole = sum((each.amount for each in shares), Decimal(0))
    words = "; ".join(f"{each.words} {each.amount:,.2f}" for each in shares)
    canvas = Canvas(WIDTH, height, "Where the money goes", f"{words}.")
    made = group(canvas.root, "money")
    write(made, (left, 16.0), f"Where {whole:,.2f} {currency} goes", HEADING, bold=True)
    x = left
    for number, each in enumerate(shares, 1):
        width = room * each.share
        box(made, (x, top), width, TAPE, THIN, FILLS[number % len(FILLS)])
        if width >= LEAST_NUMBER:
            write(made, (x + width / 2, top + TAPE / 2 + 2.5), str(number), SMALL, "middle")
        else:
            tick = [(x + width / 2, top - 3.0), (x + width / 2, top)]
            line(made, tick, HAIR)
        x += width
        y = top + TAPE + 18.0 + ROW * number
        write(made, (left + 14.0, y), str(number), SMALL, "end")
        write(made, (left + 20.0, y), fitted(each.words, 250.0, SMALL), SMALL)
        write(made, (left + 340.0, y), f"{each.amount:,.2f}", SMALL, "end")
        write(made, (left + 390.0, y), f"{each.share:.1%}", SMALL, "end")
    _tape_marks(made, left, room, top + TAPE, whole)
    return canvas.text()


def _tape_marks(made: Element, left: float, room: float, y: float, whole: Decimal) -> None:
    """Draw the tape's own marks: round amounts along its lower edge."""
    step = round_step(float(whole) / 5.0)
    for number in range(int(float(whole) // step) + 1):
        x = left + room * number * step / float(whole)
        line(made, [(x, y), (x, y + 4.0)], HAIR)
        write(made, (x, y + 12.0), f"{number * step:,.0f}", SMALL, "middle" if number else "start", ink=GREY)


def round_step(least: float) -> float:
    """Return the smallest of 1, 2, 5, 10 ... that is not below a number.

    >>> round_step(424.0), round_step(0.03), round_step(5.0)
    (500.0, 0.05, 5.0)
    """
    if least <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(least))
    return float(next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= least * (1 - 1e-9)))


def chance_words(chance: float) -> str:
    """Return a chance as it is shown: never a bare nought.

    >>> chance_words(0.1234), chance_words(0.0002)
    ('12.3%', 'under 0.1%')
    """
    return "under 0.1%" if chance < 0.001 else f"{chance:.1%}"


@dataclass(frozen=True, slots=True)
class _Plot:
    """Where a price and a chance lie on the sheet."""

    low: float
    high: float
    most: float

    def at(self, offered: float, chance: float) -> Point:
        left, top, width, height = PLOT
        share = (offered - self.low) / (self.high - self.low) if self.high > self.low else 0.5
        return left + width * share, top + height * (1.0 - chance / self.most)


def chance_drawing(price: Price, chances: Sequence[PriceChance]) -> str:
    """Return the chance of losing money against the price, with the planned price and the expected cost marked."""
    _, top, _, height = PLOT
    planned = f"planned {price.price:,.2f}: {chance_words(price.chance_of_loss)}"
    canvas = Canvas(WIDTH, top + height + 40.0, "Price against chance of loss", f"Chance of loss by price; {planned}.")
    made = group(canvas.root, "chances")
    write(made, (6.0, 16.0), "Price against the chance of losing money", HEADING, bold=True)
    highest = max((each.chance_of_loss for each in chances), default=0.0)
    plot = _Plot(float(chances[0].price), float(chances[-1].price), max(0.1, math.ceil(highest * 10) / 10))
    _grid(made, plot, price.currency)
    curve = [plot.at(float(each.price), each.chance_of_loss) for each in chances]
    line(made, curve, Pen(1.4))
    for words, offered, chance in (
        ("expected cost", price.expected_cost, None),
        (f"planned, {chance_words(price.chance_of_loss)}", price.price, price.chance_of_loss),
    ):
        _mark(made, plot, words, float(offered), chance)
    return canvas.text()


def _grid(made: Element, plot: _Plot, currency: str) -> None:
    left, top, width, height = PLOT
    for number in range(round(plot.most * 10) + 1):
        y = plot.at(plot.low, number / 10)[1]
        line(made, [(left, y), (left + width, y)], HAIR)
        write(made, (left - 4.0, y + 2.4), f"{number * 10} %", SMALL, "end")
    step = round_step((plot.high - plot.low) / 6.0)
    for number in range(math.ceil(plot.low / step), math.floor(plot.high / step) + 1):
        x = plot.at(number * step, 0.0)[0]
        line(made, [(x, top + height), (x, top + height + 4.0)], THIN)
        write(made, (x, top + height + 13.0), f"{number * step:,.0f}", SMALL, "middle")
    write(made, (left + width, top + height + 26.0), f"price before tax, {currency}", SMALL, "end", ink=GREY)


def _mark(made: Element, plot: _Plot, words: str, offered: float, chance: float | None) -> None:
    """Draw a marked price: an upright line with its words, and a disc on the curve."""
    if not plot.low <= offered <= plot.high:
        return
    left, top, width, height = PLOT
    x = plot.at(offered, 0.0)[0]
    line(made, [(x, top), (x, top + height)], Pen(0.6, dash="3 2"))
    near_end = x > left + width * 0.7
    write(made, (x - 3.0 if near_end else x + 3.0, top + 8.0), words, SMALL, "end" if near_end else "start", halo=True)
    if chance is not None:
        disc(made, plot.at(offered, chance), 2.4)
