"""Round scales for a page, and the scale bar and north arrow that go with them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element

from sightwash.basis.units import FOOT, INCH
from sightwash.papers.drawings.canvas import INK, MEDIUM, PAPER, THIN, Point, box, group, line, number, write
from sightwash.papers.drawings.lettering import SMALL

PAGE: Final = (720.0, 540.0)
"""A letter sheet on its side, less half an inch all round [pt]."""
POINTS_PER_INCH: Final = 72.0
_FEET_TO_THE_INCH: Final = (
    1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 25, 30, 35, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400,
    500, 600, 800, 1000, 1500, 2000, 3000, 5000,
)  # fmt: skip
_ONE_TO: Final = (
    10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 600, 750, 1000, 1250, 1500, 2000, 2500,
    3000, 4000, 5000, 7500, 10000, 15000, 20000, 40000, 60000,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Scale:
    """Points on paper for a metre on site, and the scale in words."""

    points: float
    words: str


def scales(units: str) -> tuple[Scale, ...]:
    """Return the round scales of a system of units, the largest drawing first.

    >>> scales("us")[10].words, round(scales("us")[10].points, 3)
    ('1 in = 12 ft', 19.685)
    >>> scales("metric")[9].words, round(scales("metric")[9].points, 3)
    ('1:100', 28.346)
    """
    if units == "us":
        return tuple(Scale(POINTS_PER_INCH / (feet * FOOT), f"1 in = {feet:g} ft") for feet in _FEET_TO_THE_INCH)
    return tuple(Scale(POINTS_PER_INCH / INCH / over, f"1:{over}") for over in _ONE_TO)


def largest_scale(units: str, fits: Callable[[Scale], bool], largest: float = 1e9, smallest: float = 0.0) -> Scale:
    """Return the largest round scale that fits, within limits in points a metre; else the smallest allowed one."""
    steps = scales(units)
    allowed = [step for step in steps if smallest <= step.points <= largest] or [steps[-1]]
    return next((step for step in allowed if fits(step)), allowed[-1])


def scale_bar(parent: Element, right: float, baseline: float, scale: Scale, units: str) -> float:
    """Draw a scale bar that ends at ``right``; return its left end."""
    unit, name = (FOOT, "ft") if units == "us" else (1.0, "m")
    step = _bar_step(scale.points * unit)
    each = step * scale.points * unit
    left = right - 4 * each - 12.0
    made = group(parent, "scale-bar", f"scale {scale.words}", step=number(step), unit=name)
    for part in range(4):
        box(made, (left + part * each, baseline - 5.0), each, 3.0, THIN, INK if part % 2 == 0 else PAPER)
    for part in (0, 2, 4):
        words = f"{part * step:g}" + (f" {name}" if part == 4 else "")
        write(made, (left + part * each, baseline - 7.5), words, SMALL, "middle")
    write(made, (left + 2 * each, baseline + 6.0), f"{scale.words} on a letter sheet", SMALL, "middle")
    return left - 6.0


def _bar_step(points: float) -> float:
    """Return the round length whose four steps make a bar of a hand's breadth at most."""
    steps = [factor * 10.0**power for power in range(-2, 5) for factor in (1.0, 2.0, 2.5, 5.0)]
    return max((step for step in steps if 4 * step * points <= 130.0), default=steps[0])


def north_arrow(parent: Element, centre: Point, north: float) -> None:
    """Draw an arrow to true north; ``north`` is the compass bearing of the sheet's upward direction."""
    x, y = centre
    made = group(parent, "north-arrow", f"north; up on this sheet bears {north:g} degrees", bearing=number(north))
    made.set("transform", f"rotate({number(-north)} {number(x)} {number(y)})")
    line(made, [(x, y + 8.0), (x, y - 6.0)], MEDIUM)
    line(made, [(x - 3.5, y + 1.0), (x, y - 7.0), (x, y + 1.0)], THIN, closed=True, fill=INK)
    line(made, [(x + 3.5, y + 1.0), (x, y - 7.0), (x, y + 1.0)], THIN, closed=True, fill=PAPER)
    write(made, (x, y - 8.5), "N", SMALL, "middle", bold=True)
